"""The printed clocks of many joints at once: their records and readings held against their cement cards.

Joints that share readings, card, size and pressure column are one question, asked of arrays; the readings
are prepared once for all of them.
"""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, tzinfo

import numpy as np

from lineproof.book.sizes import Size
from lineproof.job.card_rows import CURE, HANDLING, CardTime
from lineproof.job.cards import EDGE_PA, CementCard
from lineproof.job.clock_card import CardWaits, longest_waits
from lineproof.job.people import within
from lineproof.job.progress import (
    FORECAST,
    Disturbance,
    Progress,
    SiteAir,
    Temperature,
)
from lineproof.plan.joint_histories import Asked, Histories, instant, now_of
from lineproof.sums.cure_answer import Clocks, CureClock
from lineproof.sums.cure_clock import MAX_GAP, History, JointTimes, clocks
from lineproof.sums.waits import Floats

Cell = tuple[int, int, bool]
"""Row and column of a table, and whether the humidity is not known."""


@dataclass(frozen=True, slots=True)
class Ran:
    """What the clock of one joint says.

    Parameters
    ----------
    clock : CureClock
    row : CardTime or None
        The printed row and factors it rests on.
    start : datetime or None
        The latest of what the clock started from, disturbances among it.
    kept : tuple of Disturbance
        Those that started it again.
    ready : datetime or None
        Not before this moment by the wall clock, where that lies ahead.
    foretold : bool
        The forecast made ``ready`` later.
    """

    clock: CureClock
    row: CardTime | None
    start: datetime | None
    kept: tuple[Disturbance, ...]
    ready: datetime | None
    foretold: bool


class JointClocks:
    """Asks the clocks of joints by one progress.

    Parameters
    ----------
    progress : Progress
    zone : tzinfo
        Of the site; moments are told in it.
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]
    weather : SiteAir or None
        What the air was where readings of a joint have a hole; that of the progress unless said.
    """

    def __init__(
        self,
        progress: Progress,
        zone: tzinfo,
        dampest: float | None = None,
        weather: SiteAir | None = None,
    ) -> None:
        self.progress = progress
        self.zone = zone
        self.dampest = dampest
        air = progress.air if weather is None else weather
        self.air = air
        self._ahead = tuple(t for t in progress.forecast if t.at > progress.now and t.standing == FORECAST)
        self._waits: dict[Hashable, CardWaits] = {}
        self._cards: dict[Hashable, tuple[CementCard, ...]] = {}
        self._tops: dict[Hashable, list[float]] = {}
        self._rows: dict[Hashable, CardTime | None] = {}
        self._histories = Histories(progress, dampest, air)

    def run(self, kind: str, asked: Sequence[Asked]) -> list[Ran]:
        """Clocks of joints for one kind of wait.

        Parameters
        ----------
        kind : str
            ``"handling"`` or ``"cure"``.
        asked : sequence of Asked

        Returns
        -------
        list of Ran
            In the order asked.

        Notes
        -----
        A joint that was moved once its hands-off time was over is not disturbed by that, for either clock;
        anything else starts both again.
        """
        self._histories.say(asked)
        kept = self._kept(asked)
        last = [_latest(a, events) for a, events in zip(asked, kept, strict=True)]
        tables = [self.waits_of(kind, a) for a in asked]
        told, rows = self._clocks(asked, tables, last)
        ready = [_ahead(clock, now_of(a)) for a, clock in zip(asked, told, strict=True)]
        later = self._foretold(asked, tables, last, ready)
        found = []
        for i, a in enumerate(asked):
            when = later[i] if later[i] is not None else ready[i]
            behind = self.progress.now - (a.joint.now or self.progress.now)
            found.append(
                Ran(
                    told[i], rows[i], last[i], tuple(kept[i]),
                    None if when is None else self.moment(when) + behind, later[i] is not None,
                )
            )  # fmt: skip
        return found

    def moment(self, at: float) -> datetime:
        """An instant in the zone of the site.

        Parameters
        ----------
        at : float
            Since the beginning of 1970, UTC. [s]

        Returns
        -------
        datetime
        """
        return datetime.fromtimestamp(at, tz=self.zone)

    def _kept(self, asked: Sequence[Asked]) -> list[list[Disturbance]]:
        """Disturbances that start the clocks again, each asked with those before it."""
        kept: list[list[Disturbance]] = [[] for _ in asked]
        open_ = [(i, 0) for i, a in enumerate(asked) if a.joint.disturbances]
        while open_:
            moved: list[tuple[int, int]] = []
            for i, k in open_:
                events = asked[i].joint.disturbances
                while k < len(events) and (events[k].kind != "moved" or asked[i].start is None):
                    kept[i].append(events[k])
                    k += 1
                if k < len(events):
                    moved.append((i, k))
            some = [asked[i] for i, _ in moved]
            last = [_latest(asked[i], kept[i]) for i, _ in moved]
            then, _ = self._clocks(some, [self.waits_of(HANDLING, a) for a in some], last)
            for (i, k), clock in zip(moved, then, strict=True):
                event = asked[i].joint.disturbances[k]
                # Moving it once its hands-off time is over is what the time is for.
                if clock.reached_at is None or clock.reached_at > event.earliest.timestamp():
                    kept[i].append(event)
            open_ = [(i, k + 1) for i, k in moved]
        return kept

    def waits_of(self, kind: str, asked: Asked) -> CardWaits:
        """The table of waits of a joint; one for all joints that share it."""
        size = asked.size
        pressure = asked.pressure if kind == CURE else None
        cards = self._versions(asked)
        key = (kind, id(cards), size, tuple(self._column(card, size, pressure) for card in cards))
        known = self._waits.get(key)
        if known is None:
            # Nobody records whether a factor such as a loose fit holds: it is taken to hold.
            also = {f.when for c in cards for f in c.factors if f.lengthens(kind) and f.humidity_over is None}
            known = self._waits[key] = longest_waits(cards, kind, size, pressure_Pa=pressure, also=also)
        return known

    def _versions(self, asked: Asked) -> tuple[CementCard, ...]:
        """The versions of its card that a joint may rest on: the longest of them governs."""
        making = self.progress.makings.get(asked.joint.id)
        sealed = self.progress.cards_used.get(asked.card.id, ())
        by_then = sum(making is not None and s.at <= making.latest for s in sealed)
        key = (asked.card.id, making and making.cards, by_then)
        known = self._cards.get(key)
        if known is None:
            known = self._cards[key] = self.progress.cards_for(asked.joint.id, asked.card)
        return known

    def _column(self, card: CementCard, size: Size, pressure: float | None) -> int | None:
        """Which printed column of pressure holds it: all joints of one column are one table."""
        if pressure is None:
            return None
        tops = self._tops.get((id(card), size))
        if tops is None:
            rows = [r for r in card.rows if r.kind == CURE and within(size, r.size_lo, r.size_hi)]
            limits = {r.pressure_max for r in rows if r.pressure_max is not None}
            tops = self._tops[id(card), size] = sorted(limit + EDGE_PA for limit in limits)
        return bisect_left(tops, pressure)

    def _clocks(
        self,
        asked: Sequence[Asked],
        tables: Sequence[CardWaits],
        last: Sequence[datetime | None],
        ahead: tuple[Temperature, ...] = (),
    ) -> tuple[list[CureClock], list[CardTime | None]]:
        told: list[CureClock | None] = [None] * len(asked)
        rows: list[CardTime | None] = [None] * len(asked)
        for places in self.alike(asked, tables):
            self._group(asked, tables, last, ahead, places, told, rows)
        return [clock for clock in told if clock is not None], rows

    def alike(self, asked: Sequence[Asked], tables: Sequence[CardWaits]) -> list[list[int]]:
        """Places of the joints that share a table and readings: one question, asked of arrays."""
        groups: dict[tuple[int, int, int], list[int]] = {}
        for i, a in enumerate(asked):
            shared = a.joint.readings.parts[0]
            groups.setdefault((id(tables[i]), id(shared), id(self._histories.damp_of(a))), []).append(i)
        return list(groups.values())

    def of_alike(
        self,
        asked: Sequence[Asked],
        table: CardWaits,
        last: Sequence[datetime | None],
        places: Sequence[int],
        ahead: tuple[Temperature, ...] = (),
        *,
        whole: bool = False,
    ) -> tuple[History, Clocks, list[Cell]]:
        """Clocks of joints that share a table and readings, as arrays.

        Parameters
        ----------
        asked : sequence of Asked
        table : CardWaits
        last : sequence of datetime or None
            From when the clock of each of those asked runs.
        places : sequence of int
            Which of them. [-]
        ahead : tuple of Temperature
            A forecast that is held against them.
        whole : bool
            With what was read at the first joint alone.

        Returns
        -------
        tuple
            The readings, the clocks, and the cell of the table that each clock stands in.
        """
        first = asked[places[0]]
        joints = [asked[i].joint for i in places]
        made = JointTimes(
            assembled=_floats([instant(j.assembled) for j in joints]),
            temperature=_floats([self._first_temperature(asked[i]) for i in places]),
            started=_floats([instant(last[i]) for i in places]),
            humidity=_floats([self._first_humidity(asked[i]) for i in places]),
        )
        now = ahead[-1].at.timestamp() if ahead else _floats([now_of(asked[i]) for i in places])
        history = self._histories.whole(first, ahead) if whole else self._histories.shared(first, ahead)
        found = clocks(history, table.waits, made, now=now)
        rows, columns = table.waits.cold_cells(found.coldest), table.waits.damp_cells(found.dampest)
        cells = zip(rows.tolist(), columns.tolist(), np.isnan(found.dampest).tolist(), strict=True)
        return history, found, list(cells)

    def _group(
        self,
        asked: Sequence[Asked],
        tables: Sequence[CardWaits],
        last: Sequence[datetime | None],
        ahead: tuple[Temperature, ...],
        places: Sequence[int],
        told: list[CureClock | None],
        rows: list[CardTime | None],
        *,
        whole: bool = False,
    ) -> None:
        """Clocks of joints that share readings, card, size and column, put where they belong."""
        table = tables[places[0]]
        history, found, cells = self.of_alike(asked, table, last, places, ahead, whole=whole)
        for i, clock, cell in zip(places, found.joints(), cells, strict=True):
            own = asked[i].joint.readings
            if not whole and own.base is not None:
                worst = self._beside(asked[i], history, table, clock)
                if worst is None:
                    self._group(asked, tables, last, ahead, [i], told, rows, whole=True)
                    continue
                clock = replace(clock, coldest=min(worst, clock.coldest or worst))
            told[i] = clock
            rows[i] = self.rests_on(table, clock, cell)

    def _beside(self, asked: Asked, base: History, table: CardWaits, clock: CureClock) -> float | None:
        """The coldest that was read at a joint alone, where that changes nothing of its clock.

        None where it may: the clock is not whole by the shared readings, it was colder by a band, or it was
        read where these leave a hole. [K]
        """
        own, made = asked.joint.readings, instant(asked.joint.assembled)
        first = self._first_temperature(asked)
        if clock.reached_at is None or made is None or first is None:
            return None
        (held, cold), (late, late_cold) = own.held.arrays(), own.late.arrays()
        begins = float(base.cold.begins(base.cold.interval(np.array([made])))[0])
        end = clock.reached_at + MAX_GAP
        among = (held >= made) & (held <= end)
        if not base.cold.credited[base.cold.interval(held[among])].all():
            return None
        also = (late >= min(begins, made - MAX_GAP)) & (late <= end)
        met = np.concatenate([[first], cold[among], late_cold[also]])
        cells = table.waits.cold_cells(met)
        return None if (cells > cells[0]).any() else float(met.min())

    def rests_on(self, table: CardWaits, clock: CureClock, cell: Cell) -> CardTime | None:
        """The row of a table that a clock rests on, by the cell it stands in; None if nothing was met."""
        if clock.coldest is None:
            return None
        key = (id(table), cell)
        if key not in self._rows:
            self._rows[key] = table.rests_on(clock.coldest, clock.dampest)
        return self._rows[key]

    def _foretold(
        self,
        asked: Sequence[Asked],
        tables: Sequence[CardWaits],
        last: Sequence[datetime | None],
        ready: Sequence[float | None],
    ) -> list[float | None]:
        """Where the forecast makes it later than ``ready``: that moment."""
        later: list[float | None] = [None] * len(asked)
        open_ = [i for i, when in enumerate(ready) if when is not None] if self._ahead else []
        some = [asked[i] for i in open_]
        then, _ = self._clocks(some, [tables[i] for i in open_], [last[i] for i in open_], self._ahead)
        for i, clock in zip(open_, then, strict=True):
            by = clock.reached_at if clock.reached_at is not None else clock.earliest_if
            now = ready[i]
            if by is not None and now is not None and by > now and not clock.cannot_tell:
                later[i] = by
        return later

    def _first_temperature(self, asked: Asked) -> float | None:
        """What the joint had when it was made, the coldest that one person alone says.

        None where one of these lies outside the card: which of them holds is then not known.
        """
        joint = asked.joint
        making = self.progress.makings.get(joint.id)
        said = making.temperatures if making is not None else ()
        if len(said) > 1 and not all(asked.card.covers(asked.size, t) for t in said):
            return None
        return _first(joint.temperature, joint.readings.ever, min)

    def _first_humidity(self, asked: Asked) -> float | None:
        told = [h for h in (asked.joint.humidity, self.dampest) if h is not None]
        return _first(max(told, default=None), self._histories.damp_of(asked).ever, max)


def _floats(told: Sequence[float | None]) -> Floats:
    return np.array([np.nan if value is None else value for value in told], dtype=np.float64)


def _ahead(clock: CureClock, now: float) -> float | None:
    """Not before when, where that still lies ahead: it is only an answer while it does."""
    when = clock.earliest_if
    return None if clock.reached_at is not None or when is None or when <= now else when


def _first(told: float | None, ever: float | None, worse: Callable[[float, float], float]) -> float | None:
    """What it met when it was made, no better than what may have been at any time; None if not read."""
    return told if told is None or ever is None else worse(told, ever)


def _latest(asked: Asked, kept: Sequence[Disturbance]) -> datetime | None:
    start = asked.start
    return None if start is None else max([start, *(d.at for d in kept)])
