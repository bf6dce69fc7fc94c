"""Cleaner, primer and cement of the order list, by card: volume, can size, cans that may be used.

A can should be used up within its life once opened, and before it expires. Both hang on how fast it is used:
without the number of working days that cannot be told, and the can size is left open.
"""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date, timedelta
from typing import TYPE_CHECKING

from lineproof.book import cement as cement_book
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading
from lineproof.job.cards import CementCard
from lineproof.job.settings import Settings, matches
from lineproof.job.stock import Can
from lineproof.plan.joint_needs import Missing, lacks, would_help
from lineproof.plan.order_model import CanSize, CanState, CanUse, CementNeed
from lineproof.plan.order_rows import Code, Group, Note, OrderRow, Unit, What, order_row

if TYPE_CHECKING:
    from lineproof.plan.joint_model import JointPlan
    from lineproof.plan.work import Work

DAY = 86_400.0
"""[s]"""
SHIFT = 8 * 3_600.0
"""Hours in which cans are used on a working day: own assumption. [s]"""
COUNTED = (CanState.MAY, CanState.AT_START)
IN_DOUBT = (CanState.NO_DATE, CanState.NO_LAST_USE)
SAME = 1e-12
"""Volumes closer than this are one (float noise). [m3]"""


@dataclass(slots=True)
class Take:
    """What the joints of one card, or all joints, take: added up joint by joint."""

    joints: int = 0
    known: int = 0
    two_at_once: bool = False
    lines: dict[str, float] = field(default_factory=dict)
    where: dict[str, None] = field(default_factory=dict)

    def add(self, line: str, volume: float | None, *, both: bool) -> None:
        """One more joint.

        Parameters
        ----------
        line : str
        volume : float or None
            With allowance. [m3]
        both : bool
            Pipe end and socket are coated at the same time.
        """
        self.joints += 1
        self.where[line] = None
        self.two_at_once = self.two_at_once or both
        if volume is not None:
            self.known += 1
            self.lines[line] = self.lines.get(line, 0.0) + volume


def cement_needs(
    work: Work, joint_plans: Iterable[JointPlan], *, days: int | None, refused_lots: Collection[str]
) -> tuple[CementNeed, ...]:
    """Cement by card, primer, cleaner.

    Parameters
    ----------
    work : Work
    joint_plans : iterable of JointPlan
    days : int or None
        Working days from the first joint to the last; None if not planned yet.
    refused_lots : collection of str
        Lots that may not be used.

    Returns
    -------
    tuple of CementNeed
        Cards in the order in which the joints first need them, then primer, then cleaner.
    """
    settings = work.job.settings
    by_card: dict[str, Take] = {}
    primer, cleaner = Take(), Take()
    pairs = _Pairs(work.book)
    for plan in joint_plans:
        line, wet = plan.place.line, plan.needs.wet
        both = pairs.of(plan.place.size)
        by_card.setdefault(plan.card, Take()).add(line, wet.volume, both=both)
        if wet.primer_volume != 0.0:
            primer.add(line, wet.primer_volume, both=both)
        cleaner.add(line, None, both=both)
    use = _Use(settings, days, frozenset(refused_lots))
    needs = [use.need("cement", card, take, settings.card(card)) for card, take in by_card.items()]
    if primer.joints:
        needs.append(use.need("primer", "", primer, None))
    if cleaner.joints:
        needs.append(use.need("cleaner", "", cleaner, None))
    return tuple(needs)


class _Pairs:
    """Whether two people coat a joint of a size at the same time: then two cans are open."""

    def __init__(self, book: Book) -> None:
        self.book = book
        self._known: dict[Size, bool] = {}

    def of(self, size: Size) -> bool:
        """By the crew table; above its sizes yes."""
        if size not in self._known:
            crew = cement_book.crew(self.book, size, Reading())
            self._known[size] = crew is None or crew.fewest >= 2
        return self._known[size]


@dataclass(frozen=True, slots=True)
class _Use:
    settings: Settings
    days: int | None
    refused: frozenset[str]

    @property
    def last_use(self) -> date | None:
        """Day of the last joint: the days are taken as following one another."""
        start = self.settings.conditions.start
        if start is None or not self.days:
            return None
        return start + timedelta(days=self.days - 1)

    def need(self, kind: str, card_id: str, take: Take, card: CementCard | None) -> CementNeed:
        """What one card's joints, or all joints for primer and cleaner, need."""
        by_line = dict(take.lines)
        volume = sum(by_line.values()) if take.known else None
        missing: list[Missing] = []
        if kind == "cement" and not card_id:
            missing.append(lacks("cement-card-of-line"))
        if take.known < take.joints:
            missing.append(lacks(f"{kind}-volume", card=card_id, joints=take.joints - take.known))
        last = self.last_use
        if last is None:
            missing.append(would_help("day-of-last-joint"))
        cans = self.cans(kind, card_id, tuple(take.where), last)
        missing += [lacks("can-expiry", can=c.can, lot=c.lot) for c in cans if c.state is CanState.NO_DATE]
        if not self.settings.cans:
            missing.append(lacks("cans-in-the-store"))
        open_at_once = self.open_at_once(take, missing)
        day_volume = volume / self.days if volume is not None and self.days else None
        contents = sorted({*(card.containers if card else ()), *(() if card else (c.volume for c in cans))})
        if card and not contents:
            contents = sorted({c.volume for c in cans})
        if volume and not contents:
            missing.append(lacks("can-sizes", kind=kind, card=card_id))
        life = card.open_life if card else None
        if volume and life is None:
            missing.append(would_help("open-life", kind=kind, card=card_id))
        sizes = tuple(
            can_size(volume, v, days=self.days, life=life, open_at_once=open_at_once)
            for v in contents
            if volume is not None
        )
        chosen = choose(sizes)
        return CementNeed(
            kind=kind, card=card_id, body=card.body if card else "", joints=take.joints,
            joints_known=take.known, volume=volume, by_line=by_line, sizes=sizes,
            chosen=None if chosen is None else chosen.volume,
            cans_to_order=self.to_order(chosen, volume, by_line, cans),
            open_at_once=open_at_once, day_volume=day_volume, last_use=last, cans=cans,
            missing=tuple(missing),
        )  # fmt: skip

    def open_at_once(self, take: Take, missing: list[Missing]) -> int | None:
        """One can a crew, two where pipe end and socket are coated at the same time."""
        crews = [
            c
            for c in self.settings.crews
            if not c.lines or any(matches(p, line) for p in c.lines for line in take.where)
        ]
        if not crews:
            missing.append(would_help("crews"))
            return None
        return len(crews) * (2 if take.two_at_once else 1)

    def cans(self, kind: str, card: str, lines: tuple[str, ...], last: date | None) -> tuple[CanUse, ...]:
        """The cans in the store for this need, each with whether it may be counted."""
        return tuple(
            CanUse(c.id, c.lot, c.volume, c.count, c.ordered, c.expires, self.state(c, lines, last))
            for c in self.settings.cans
            if c.kind == kind and (kind != "cement" or c.card == card)
        )

    def state(self, can: Can, lines: tuple[str, ...], last: date | None) -> CanState:
        """Whether a can may be counted."""
        if can.lot and can.lot in self.refused:
            return CanState.LOT_REFUSED
        if can.lines and not any(matches(p, n) for p in can.lines for n in lines):
            return CanState.NO_LINE
        if can.expires is None:
            return CanState.NO_DATE
        by = last or self.settings.conditions.start
        if by is not None and can.expires < by:
            return CanState.EXPIRED
        if last is not None:
            return CanState.MAY
        return CanState.AT_START if by is not None else CanState.NO_LAST_USE

    def to_order(
        self,
        chosen: CanSize | None,
        volume: float | None,
        by_line: Mapping[str, float],
        cans: Iterable[CanUse],
    ) -> int | None:
        """Cans of the chosen size for what is neither here nor on order; None while cans are in doubt."""
        if chosen is None or volume is None:
            return None
        listed = list(cans)
        may = {c.can for c in listed if c.state in COUNTED}
        short = volume - served(by_line, self.settings.cans, may, ordered=True)
        if short <= SAME:
            return 0
        if not self.settings.cans or any(c.state in IN_DOUBT for c in listed):
            return None
        return max(1, math.ceil(chosen.cans * short / volume - 1e-9))


def can_size(
    volume: float, content: float, *, days: int | None, life: float | None, open_at_once: int | None
) -> CanSize:
    """How many cans of one size serve, and whether an opened one is used up in its life.

    Parameters
    ----------
    volume : float
        For all joints. [m3]
    content : float
        Of one can. [m3]
    days : int or None
        Working days, the use spread evenly over them.
    life : float or None
        Of an opened can; under a day it counts against a working day of eight hours. [s]
    open_at_once : int or None
        Cans open at the same time share the use.

    Returns
    -------
    CanSize
        A can that outlives its life is thrown away with what is in it, so more are opened.
    """
    plain = math.ceil(volume / content - 1e-9) if volume > SAME else 0
    if not days or life is None or open_at_once is None or not volume:
        return CanSize(content, plain, None)
    lasts = math.floor(life / DAY + 1e-9) if life >= DAY else min(1.0, life / SHIFT)
    lasts = min(float(days), lasts)
    used = volume / days * lasts / open_at_once
    if content <= used + SAME:
        return CanSize(content, plain, True)
    return CanSize(content, max(plain, math.ceil(days / lasts - 1e-9) * open_at_once), False)


def choose(sizes: tuple[CanSize, ...]) -> CanSize | None:
    """The largest can that is used up in time; if none is, the smallest; None while it cannot be told.

    Parameters
    ----------
    sizes : tuple of CanSize
        Smallest first.

    Returns
    -------
    CanSize or None
        With one size only there is nothing to choose.
    """
    if len(sizes) == 1:
        return sizes[0]
    if not sizes or any(s.used_up is None for s in sizes):
        return None
    good = [s for s in sizes if s.used_up]
    return good[-1] if good else sizes[0]


def served(
    need: Mapping[str, float], cans: Iterable[Can], usable: Collection[str], *, ordered: bool = False
) -> float:
    """How much of a need the usable cans can serve: cans meant for the fewest lines are used first.

    Parameters
    ----------
    need : mapping
        By line. [m3]
    cans : iterable of Can
    usable : collection of str
        Ids of the cans that may be counted.
    ordered : bool
        Count what is on order too.

    Returns
    -------
    float
        Never more than the need. [m3]
    """
    left = dict(need)
    total = 0.0
    counted = [c for c in cans if c.id in usable]
    ranked = sorted(
        ((c, [n for n in need if not c.lines or any(matches(p, n) for p in c.lines)]) for c in counted),
        key=lambda pair: len(pair[1]),
    )
    for can, lines in ranked:
        content = can.volume * (can.count + (can.ordered if ordered else 0))
        for line in lines:
            if content <= 0.0:
                break
            taken = min(content, left[line])
            left[line] -= taken
            content -= taken
            total += taken
    return total


def cement_rows(needs: Iterable[CementNeed], settings: Settings) -> list[OrderRow]:
    """One row, by volume, for each card, for primer and for cleaner.

    Parameters
    ----------
    needs : iterable of CementNeed
    settings : Settings

    Returns
    -------
    list of OrderRow
        Only cans that may be used count as in the yard; None while others are in doubt and would matter.
    """
    rows = []
    for n in needs:
        counted = [c for c in n.cans if c.state in COUNTED]
        unsure = tuple(c.can for c in n.cans if c.state in IN_DOUBT)
        early = tuple(c.can for c in n.cans if c.state is CanState.AT_START)
        refused = tuple(c.can for c in n.cans if c.state in (CanState.EXPIRED, CanState.LOT_REFUSED))
        notes = []
        if unsure:
            notes.append(Note(Code.UNSURE_CANS, unsure, len(unsure)))
        if early:
            notes.append(Note(Code.LAST_USE_UNKNOWN, early, len(early)))
        if refused:
            notes.append(Note(Code.CANS_REFUSED, refused, len(refused)))
        if 0 < n.joints_known < n.joints:
            notes.append(Note(Code.AT_LEAST, number=n.joints - n.joints_known))
        if n.open_at_once is not None:
            notes.append(Note(Code.OPEN_AT_ONCE, number=n.open_at_once))
        if any(z.volume == n.chosen and z.used_up is False for z in n.sizes):
            notes.append(Note(Code.NOT_USED_UP))
        if n.kind == "cleaner":
            notes.append(Note(Code.CLEANER))
        covered = served(n.by_line, settings.cans, {c.can for c in counted})
        doubt = (bool(unsure) or not settings.cans) and (n.volume is None or covered < n.volume - SAME)
        rows.append(
            order_row(
                Group.CEMENT,
                What(kind=n.kind, id=n.card, volume=n.chosen, detail=n.body),
                unit=Unit.VOLUME,
                needed=n.volume,
                in_yard=None if doubt else sum(c.volume * c.count for c in counted),
                ordered=sum(c.volume * c.ordered for c in counted),
                covered=None if doubt else covered,
                by_line=n.by_line,
                missing=n.missing,
                notes=notes,
            )
        )
    return rows
