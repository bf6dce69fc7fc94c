"""The content of a cement card as it was typed, its seal, and the card that it comes to again.

A card that is used goes into the logbook as it stands, so that nobody can make a wait shorter afterwards by
typing the card anew.
"""

from __future__ import annotations

import hashlib
import json
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date, datetime
from functools import cache
from typing import TYPE_CHECKING, Any, ClassVar

from lineproof.floor.errors import BadInput
from lineproof.job.cards import CementCard

if TYPE_CHECKING:
    from pydantic import TypeAdapter

NUMBER = "number"
"""An entry holds no float: ``times = 1.5`` is kept as ``{"number": "1.5"}``."""


@dataclass(frozen=True, slots=True)
class SealedCard:
    """A version of a card as it was sealed.

    Parameters
    ----------
    seal : str
        SHA-256 of its content.
    at : datetime
        When it was sealed.
    card : CementCard
    """

    seal: str
    at: datetime
    card: CementCard


@dataclass(frozen=True, slots=True)
class _Read:
    """Read by pydantic: a key that is not known is refused, here and inside."""

    __pydantic_config__: ClassVar[dict[str, str]] = {"extra": "forbid"}

    card: CementCard


def told_of(text: str, card: str) -> dict[str, Any]:
    """The content of a card as it is typed in job.toml.

    Parameters
    ----------
    text : str
        A job.toml that reads.
    card : str
        Id of the card.

    Returns
    -------
    dict
        Texts, whole numbers, lists and tables; dates as text, other numbers under ``NUMBER``.

    Raises
    ------
    BadInput
        There is no such card.
    """
    for table in tomllib.loads(text).get("cards", ()):
        if table.get("id") == card:
            kept: dict[str, Any] = _kept(table)
            return kept
    raise BadInput(f"job.toml has no cement card {card!r}", next="name one of its cards")


def seal_of(told: Mapping[str, Any]) -> str:
    """The seal of a card's content.

    Parameters
    ----------
    told : mapping
        As ``told_of`` gives it.

    Returns
    -------
    str
        SHA-256 of its canonical JSON (sorted keys, no blanks, UTF-8), 64 hex figures.
    """
    plain = json.dumps(told, sort_keys=True, separators=(",", ":"), ensure_ascii=False)
    return hashlib.sha256(plain.encode("utf-8")).hexdigest()


def card_from(told: Mapping[str, Any]) -> CementCard | None:
    """The card that a sealed content comes to.

    Parameters
    ----------
    told : mapping
        As it was sealed.

    Returns
    -------
    CementCard or None
        None where this release cannot read it, such as one that a newer release wrote.
    """
    from pydantic import ValidationError

    try:
        return _reader().validate_python({"card": _typed(told)}).card
    except (ValidationError, ValueError, TypeError):
        return None


@cache
def _reader() -> TypeAdapter[_Read]:
    from pydantic import TypeAdapter

    return TypeAdapter(_Read)


def _kept(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {str(key): _kept(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_kept(inner) for inner in value]
    if isinstance(value, float):
        return {NUMBER: repr(value)}
    return value.isoformat() if isinstance(value, date) else value


def _typed(value: Any) -> Any:
    if isinstance(value, Mapping):
        if set(value) == {NUMBER}:
            return float(str(value[NUMBER]))
        return {key: _typed(inner) for key, inner in value.items()}
    return [_typed(inner) for inner in value] if isinstance(value, list | tuple) else value
