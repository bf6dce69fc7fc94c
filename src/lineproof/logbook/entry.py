"""The envelope of an entry: exact bytes, what they say, and the seal that ties them to the entry before."""

from __future__ import annotations

import hashlib
import json
import re
import uuid
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import UTC, datetime
from decimal import Decimal
from typing import Any, NoReturn

from lineproof.floor.errors import BadInput

VERSION = 1
"""Of the envelope. The fields of :data:`PROMISED` stay in every later one."""

NOTHING_BEFORE = "0" * 64
"""What the first entry of a writer names as the seal before it."""

LARGEST = 1024 * 1024
"""An entry larger than this is a file, and belongs on the shelf of files. [bytes]"""

LARGEST_WHOLE = 2**53 - 1  # what every reader of JSON can hold exactly
DEEPEST = 32

PROMISED = ("version", "kind", "kind_version", "id", "job", "writer", "sequence", "previous", "wall")
_FURTHER = ("zone", "monotonic", "boot", "synchronised", "who", "device", "software", "tables", "body")
FIELDS = frozenset(PROMISED + _FURTHER)
SYNCHRONISED = ("yes", "no", "unknown")

_UUID = re.compile(r"[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}")
_SEAL = re.compile(r"[0-9a-f]{64}")
_DECIMAL = re.compile(r"-?(?:0|[1-9]\d{0,17})(?:\.\d{1,12})?", re.ASCII)
_MOMENT = re.compile(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d\.\d{6}Z", re.ASCII)
_WORD = re.compile(r"[a-z][a-z_]{0,39}", re.ASCII)

_encode = json.JSONEncoder(
    sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False, check_circular=False
).encode


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """One entry, as read from its bytes.

    Parameters
    ----------
    version, kind_version : int
        Of the envelope and of the kind. [-]
    kind : str
        What sort of entry, a key of ``kinds.KINDS`` unless a newer release wrote it.
    id, job, writer : str
        UUIDs of the entry, the job and the chain it stands in.
    sequence : int
        Place in that chain, from 1. [-]
    previous : str
        Seal of the entry before in that chain; :data:`NOTHING_BEFORE` for the first.
    wall : datetime
        The wall clock when it was written, UTC.
    zone : str
        IANA name or offset that the writer saw.
    monotonic : Decimal
        Seconds since the device started. [s]
    boot : str
        Which start of the device that was.
    synchronised : str
        Whether the clock was set by a time server: yes, no or unknown.
    who : str
        UUID of the person.
    device, software : str
        What it was written on and with.
    tables : mapping
        Table name to edition, of what the writer showed or judged with.
    body : mapping
        What happened; the kind says which fields.
    raw : bytes
        The bytes as written.
    seal : str
        SHA-256 of the 32 bytes of ``previous`` followed by ``raw``.
    """

    version: int
    kind: str
    kind_version: int
    id: str
    job: str
    writer: str
    sequence: int
    previous: str
    wall: datetime
    zone: str = ""
    monotonic: Decimal = Decimal(0)
    boot: str = ""
    synchronised: str = "unknown"
    who: str = ""
    device: str = ""
    software: str = ""
    tables: Mapping[str, str] = field(default_factory=dict)
    body: Mapping[str, Any] = field(default_factory=dict)
    raw: bytes
    seal: str

    @property
    def newer(self) -> bool:
        """Whether a newer release wrote the envelope: kept and forwarded, but its body is not understood."""
        return self.version > VERSION


def seal_of(previous: str, raw: bytes) -> str:
    """The seal of an entry.

    Parameters
    ----------
    previous : str
        Seal of the writer's entry before, 64 hex figures.
    raw : bytes
        The bytes of the entry.

    Returns
    -------
    str
        SHA-256 over the 32 bytes that ``previous`` stands for, then the bytes; 64 hex figures.
    """
    return hashlib.sha256(bytes.fromhex(previous) + raw).hexdigest()


def canonical(value: object) -> bytes:
    """The one way a value is written: sorted keys, tight separators, UTF-8, no floats.

    Parameters
    ----------
    value : object
        Mappings with text keys, lists, texts, whole numbers, true, false and none.

    Returns
    -------
    bytes
        JSON.

    Raises
    ------
    BadInput
        There is something else in it, such as a float.
    """
    _plain(value, 0)
    try:
        return _encode(value).encode("utf-8")
    except UnicodeEncodeError as error:
        raise BadInput("a text holds half a character", next="type it again") from error


def _plain(value: object, depth: int) -> None:
    kind = type(value)
    if kind is str or value is None or kind is bool:
        return
    if kind is int:
        if not -LARGEST_WHOLE <= value <= LARGEST_WHOLE:  # type: ignore[operator]  # its type was just asked
            raise BadInput("a whole number is too large", allowed=f"up to {LARGEST_WHOLE}")
    elif depth > DEEPEST:
        raise BadInput("the entry is nested too deep", allowed=f"{DEEPEST} levels")
    elif isinstance(value, dict | Mapping):
        for key, inner in value.items():
            if type(key) is not str:
                raise BadInput(f"{key!r} is not a field name", allowed="a text")
            _plain(inner, depth + 1)
    elif isinstance(value, list | tuple):
        for inner in value:
            _plain(inner, depth + 1)
    else:
        raise BadInput(
            f"an entry cannot hold {value!r}" if kind is float else f"an entry cannot hold a {kind.__name__}",
            allowed="texts, whole numbers, and other numbers as a decimal text such as '295.37'",
        )


def moment_text(when: datetime) -> str:
    """A moment as entries write it: UTC, microseconds, Z.

    Parameters
    ----------
    when : datetime
        With its offset.

    Returns
    -------
    str
        Such as ``2026-11-22T09:38:00.000000Z``.

    Raises
    ------
    BadInput
        It has no offset.
    """
    if when.tzinfo is None:
        raise BadInput(f"the time {when.isoformat()} has no offset", next="say which zone it is in")
    return when.astimezone(UTC).replace(tzinfo=None).isoformat(timespec="microseconds") + "Z"


def moment(text: str) -> datetime:
    """Read a moment as entries write it.

    Parameters
    ----------
    text : str
        Such as ``2026-11-22T09:38:00.000000Z``.

    Returns
    -------
    datetime
        UTC.

    Raises
    ------
    BadInput
        It is written in another way.
    """
    if not _MOMENT.fullmatch(text):
        raise BadInput(f"{text[:40]!r} is not a time", allowed="UTC such as 2026-11-22T09:38:00.000000Z")
    try:
        return datetime.fromisoformat(text)
    except ValueError as error:
        raise BadInput(f"there is no time {text}", allowed="a day and hour of the calendar") from error


def is_uuid(text: object) -> bool:
    """Whether a value is a UUID in its plain form."""
    return isinstance(text, str) and _UUID.fullmatch(text) is not None


def is_seal(text: object) -> bool:
    """Whether a value is 64 hex figures."""
    return isinstance(text, str) and _SEAL.fullmatch(text) is not None


def is_decimal(text: object) -> bool:
    """Whether a value is a decimal number written as text."""
    return isinstance(text, str) and _DECIMAL.fullmatch(text) is not None


def is_moment(text: object) -> bool:
    """Whether a value is a moment as entries write it."""
    try:
        return isinstance(text, str) and moment(text) is not None
    except BadInput:
        return False


def new_id() -> str:
    """A fresh UUID."""
    return str(uuid.uuid4())


def make(fields: Mapping[str, Any]) -> Entry:
    """Write an entry: its fields become bytes, and the bytes are read back.

    Parameters
    ----------
    fields : mapping
        Every field of the envelope, as it is written.

    Returns
    -------
    Entry

    Raises
    ------
    BadInput
        A field is missing or is not what it should be.
    """
    return _entry(fields, canonical(fields))


def parse(raw: bytes) -> Entry:
    """Read an entry from its bytes.

    An envelope or a kind of a newer release is read as far as :data:`PROMISED` goes, so that it can be kept
    and handed on.

    Parameters
    ----------
    raw : bytes
        As written.

    Returns
    -------
    Entry
        With the same bytes.

    Raises
    ------
    BadInput
        These are not the bytes of an entry.
    """
    if len(raw) > LARGEST:
        _bad(f"it holds {len(raw)} bytes", f"up to {LARGEST}")
    try:
        told = json.loads(raw.decode("utf-8"), parse_float=_no_float, parse_constant=_no_float)
    except BadInput:
        raise
    except (ValueError, RecursionError):
        _bad("it is not JSON in UTF-8", "the bytes as they were written")
    if not isinstance(told, dict):
        _bad("it is not a set of fields", "the bytes as they were written")
    if canonical(told) != raw:  # also finds a field that stands twice
        _bad("its bytes were written anew", "the bytes as they were written: sorted fields, no blanks")
    return _entry(told, raw)


def _no_float(text: str) -> NoReturn:
    _bad(f"it holds the number {text[:20]}", "whole numbers, or decimals as text")


def _bad(given: str, allowed: str) -> NoReturn:
    raise BadInput(f"this is not an entry of a logbook: {given}", allowed=allowed)


def _entry(told: Mapping[str, Any], raw: bytes) -> Entry:
    lacking = [name for name in PROMISED if name not in told]
    if lacking:
        _bad(f"{', '.join(lacking)} is missing", "every field of the envelope")
    for name in ("version", "kind_version", "sequence"):
        if type(told[name]) is not int or told[name] < 1:
            _bad(f"{name} is {_said(told[name])}", "a whole number from 1")
    if type(told["kind"]) is not str or not _WORD.fullmatch(told["kind"]):
        _bad(f"its kind is {_said(told['kind'])}", "a word in small letters")
    for name in ("id", "job", "writer"):
        if not is_uuid(told[name]):
            _bad(f"{name} is {_said(told[name])}", "a UUID")
    if not is_seal(told["previous"]):
        _bad(f"previous is {_said(told['previous'])}", "64 hex figures")
    if (told["sequence"] == 1) != (told["previous"] == NOTHING_BEFORE):
        _bad("the first of a chain names an entry before it, or a later one names none", "one of the two")
    if type(told["wall"]) is not str or not is_moment(told["wall"]):
        _bad(f"wall is {_said(told['wall'])}", "UTC such as 2026-11-22T09:38:00.000000Z")
    if told["version"] > VERSION:
        further: dict[str, Any] = {}
    else:
        further = _further(told)
    return Entry(
        **{name: told[name] for name in PROMISED if name != "wall"},
        wall=moment(told["wall"]),
        **further,
        raw=raw,
        seal=seal_of(told["previous"], raw),
    )


def _further(told: Mapping[str, Any]) -> dict[str, Any]:
    if told.keys() != FIELDS:
        odd = sorted(told.keys() ^ FIELDS)
        _bad(f"{', '.join(odd)[:80]} is missing or not a field of it", "exactly the fields of the envelope")
    for name in ("zone", "boot", "device", "software"):
        if type(told[name]) is not str or not 0 < len(told[name]) <= 200:
            _bad(f"{name} is {_said(told[name])}", "a text of up to 200 letters")
    if not is_decimal(told["monotonic"]):
        _bad(f"monotonic is {_said(told['monotonic'])}", "seconds as a decimal text")
    if told["synchronised"] not in SYNCHRONISED:
        _bad(f"synchronised is {_said(told['synchronised'])}", ", ".join(SYNCHRONISED))
    if not is_uuid(told["who"]):
        _bad(f"who is {_said(told['who'])}", "the UUID of a person")
    tables = told["tables"]
    if not isinstance(tables, Mapping) or not all(isinstance(v, str) for v in tables.values()):
        _bad("tables is not a list of names and editions", "a text for each table")
    if not isinstance(told["body"], Mapping):
        _bad("its body is not a set of fields", "the fields of its kind")
    return {name: told[name] for name in _FURTHER} | {"monotonic": Decimal(told["monotonic"])}


def _said(value: object) -> str:
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."
