"""Which cans may serve a line on a day, and why not the others. Values only; a check gives the verdict."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import date, timedelta

from lineproof.book.sizes import Size
from lineproof.job.cards import CementCard
from lineproof.job.duty import Chemicals, LineDuty
from lineproof.job.settings import Settings
from lineproof.job.stock import Can

EATS_SILICA = (Chemicals.HYPOCHLORITE, Chemicals.CAUSTIC)
"""What attacks silica in the cement (common practice, no source): the cement's maker must say it is fit."""

REFUSED = ("material", "silica", "expired", "expires-before-use", "size", "steps", "other-card")
"""Reasons a can is refused, in the order they are told."""

CANNOT_TELL = (
    "no-card", "chemical-unknown", "thickener-unknown", "expiry-unknown", "day-unknown", "size-unknown",
    "card-not-read-back",
)  # fmt: skip
"""What keeps a can from being called right, in the order it is told."""


@dataclass(frozen=True, slots=True)
class CanFit:
    """One lot of cans held against a line.

    Parameters
    ----------
    can : Can
    card : CementCard or None
        What its container says; None for primer and cleaner, or if no card is typed.
    refused : tuple of str
        Reasons it may not be used, out of :data:`REFUSED`.
    unknown : tuple of str
        What nobody said, out of :data:`CANNOT_TELL`.
    """

    can: Can
    card: CementCard | None
    refused: tuple[str, ...] = ()
    unknown: tuple[str, ...] = ()

    @property
    def fits(self) -> bool:
        """Nothing speaks against it and nothing is left open."""
        return not self.refused and not self.unknown


def day_of_use(settings: Settings, days: int) -> date | None:
    """The planned day of use: so many days after the first day of joining; None if that was not said.

    Parameters
    ----------
    settings : Settings
    days : int
        Calendar days after the first. [day]

    Returns
    -------
    date or None
        The day.
    """
    start = settings.conditions.start
    return None if start is None else start + timedelta(days=days)


def cans_for(
    settings: Settings,
    line: str,
    day: date | None,
    *,
    material: str,
    sizes: Collection[Size] = (),
    kind: str = "cement",
) -> tuple[CanFit, ...]:
    """The cans meant for a line, those that do not fit with their reasons.

    Parameters
    ----------
    settings : Settings
    line : str
    day : date or None
        The last day they are meant to be used; a can may be used up to the date on it, that day included.
    material : str
        Of the line's pipe.
    sizes : collection of Size
        Sizes of the joints they are meant for; empty leaves the size out.
    kind : str
        ``"cement"``, ``"primer"`` or ``"cleaner"``.

    Returns
    -------
    tuple of CanFit
        In file order.
    """
    duty = settings.duty(line)
    return tuple(_fit(settings, can, duty, day, material, sizes) for can in settings.cans_for(line, kind))


def _fit(
    settings: Settings,
    can: Can,
    duty: LineDuty | None,
    day: date | None,
    material: str,
    sizes: Collection[Size],
) -> CanFit:
    refused: set[str] = set()
    unknown: set[str] = set()
    _date(can, settings.conditions.start, day, refused, unknown)
    card = settings.card(can.card) if can.card else None
    if can.kind == "cement":
        if card is None:
            unknown.add("no-card")
        else:
            _card(card, material, sizes, refused, unknown)
            _chemical(card, duty, refused, unknown)
            procedure = settings.procedure(duty.procedure) if duty else None
            if procedure is not None and card.steps and card.steps != procedure.steps:
                refused.add("steps")
            if duty is not None and duty.cement and duty.cement != card.id:
                refused.add("other-card")
    return CanFit(
        can, card, tuple(r for r in REFUSED if r in refused), tuple(u for u in CANNOT_TELL if u in unknown)
    )


def _date(can: Can, start: date | None, day: date | None, refused: set[str], unknown: set[str]) -> None:
    first = start or day
    if can.expires is None:
        unknown.add("expiry-unknown")
    elif day is None and start is None:
        unknown.add("day-unknown")
    elif first is not None and can.expires < first:
        refused.add("expired")
    elif day is not None and can.expires < day:
        refused.add("expires-before-use")


def _card(
    card: CementCard, material: str, sizes: Collection[Size], refused: set[str], unknown: set[str]
) -> None:
    if card.material != material:
        refused.add("material")
    if not card.read_back:
        unknown.add("card-not-read-back")
    suits = {card.suits(size) for size in sizes}
    if False in suits:
        refused.add("size")
    if None in suits:
        unknown.add("size-unknown")


def _chemical(card: CementCard, duty: LineDuty | None, refused: set[str], unknown: set[str]) -> None:
    chemical = duty.chemical if duty else None
    if chemical is None:
        unknown.add("chemical-unknown")
    elif chemical.name in EATS_SILICA:
        if card.thickener == "silica":
            refused.add("silica")
        elif not card.thickener:
            unknown.add("thickener-unknown")
