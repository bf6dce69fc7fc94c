"""Temperatures and humidities from the logbook: which of them earn credit, and which only make it worse.

A reading earns credit if it was told in time, by a device whose clock can be held against now and did not
jump, and nobody alone corrected it. Everything else only makes it colder or damper.

A logger's file holds times of the logger's own clock, and is read out hours after them. Its rows earn credit
only if all of this holds; where it does not, they only make it colder:

- the one who entered it says that the logger's clock was right when it was read out (``clock_checked``): it
  agreed with the time of the site within two minutes;
- it was entered within a day of its last row, or a second person stands behind it (``second``): what is
  dug out later is not proof by one person's word;
- no row is later than the entry itself by more than two minutes: a logger that knows tomorrow has a wrong
  clock, and then all its rows do;
- it hung on the joints named (``of=joint``) from ``from`` to ``to``; rows outside are not of these joints;
- the clock of the device it was entered on can be held against now, as for any entry.

What a logger did while nobody looked, such as a clock set twice, no rule can see; that is why a person
answers for it. A file that one person alone corrected is read as corrected and as it was, all of it only to
make it colder.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import timedelta
from operator import is_
from typing import Any

import numpy as np

from lineproof.checks.raising import READ_WITHIN
from lineproof.job.logger_csv import LoggerRows
from lineproof.job.progress import NO_AIR, NO_SERIES, Series, SiteAir
from lineproof.logbook.alone import told, worst_of
from lineproof.logbook.clock_frames import ClockFrames
from lineproof.logbook.clocks import Stamp, elapsed
from lineproof.logbook.entry import moment
from lineproof.logbook.kinds import TOLERATED
from lineproof.logbook.logger_files import LoggerFiles
from lineproof.logbook.state import Event, JointState, State
from lineproof.sums.readings import Readings
from lineproof.sums.waits import Floats

PROMPT = timedelta(days=1)
"""A logger's file is entered within this after its last row (own rule)."""

LATELY = timedelta(days=1)
"""How long a hot reading counts whose clock cannot be held against ours (own rule)."""

_NOT_OF_JOINTS = ("air", "can", "water")


def by_two(event: Event) -> bool:
    """Whether somebody else than the writer confirmed when it was written."""
    return any(person != event.entry.who for person in event.confirmed_by)


def alone(event: Event) -> bool:
    """Whether one person alone corrected something in it."""
    return any(was.second in ("", was.who) for was in event.was)


class ReadingsOf:
    """What was read at joints and on the site; joints with the same entries get the same series.

    Parameters
    ----------
    state : State
    now : Stamp
        The moment judged.
    files : LoggerFiles or None
        Loggers' files that are on this machine.
    air : SiteAir
        By weather.csv as it was imported: what it has seen of the humidity is of the site.
    frames : ClockFrames or None
        Where clocks jumped; by the state unless said.
    before : ReadingsOf or None
        What was read a moment before by the same clock, none of which jumped: what is the same now is the
        very same series.
    """

    def __init__(
        self,
        state: State,
        now: Stamp,
        files: LoggerFiles | None = None,
        air: SiteAir = NO_AIR,
        frames: ClockFrames | None = None,
        before: ReadingsOf | None = None,
    ) -> None:
        self._before = before
        self._ahead = False
        self._now = now
        self._frames = ClockFrames(state) if frames is None else frames
        self._files = files
        self._cold: dict[tuple[str, ...], tuple[Series, tuple[str, ...]]] = {}
        self._damp: dict[tuple[str, ...], Series] = {}
        self._air = air
        self._hot = max((h for e in state.others if (h := self._hot_of(e)) is not None), default=None)
        self._made = [event for joint in state.joints.values() for event in joint.made]
        self._damps = [event for event in state.others if event.kind == "humidity" and event.sound]
        self._site, self.site = self._site_before() or self._read_site()

    def done(self) -> None:
        """Nothing more is read: let go of what was read before."""
        self._before = None

    def _site_before(self) -> tuple[_Gathered, Series] | None:
        """What was read of the site before, if nothing of it can be otherwise now."""
        old = self._before
        if old is None or old._ahead or old._air is not self._air:
            return None
        same = _is(old._made, self._made) and _is(old._damps, self._damps)
        return (old._site, old.site) if same else None

    def _read_site(self) -> tuple[_Gathered, Series]:
        site = _Gathered()
        for event in self._made:
            # Of another joint's record only what can be placed in time tells of the site.
            if elapsed(event.stamp, self._now) is not None:
                self._put(site, event, worst_of(event, "humidity", higher=True))
        for event in self._damps:
            self._put(site, event, worst_of(event, "humidity", higher=True), max)
        if len(self._air.damp.times):
            site.add(*self._air.damp.arrays(), held=True)
        return site, site.series()

    def temperatures(self, joint: JointState) -> tuple[Series, tuple[str, ...]]:
        """Temperatures of a joint's surface, and its loggers' files that cannot be read, each with why.

        Parameters
        ----------
        joint : JointState

        Returns
        -------
        Series, tuple of str
        """
        if not joint.readings:
            return NO_SERIES, ()
        key = tuple(event.entry.seal for event in joint.readings)
        known = self._cold.get(key)
        if known is None:
            shared = tuple(event for event in joint.readings if _of_many(event))
            if 0 < len(shared) < len(joint.readings):
                own = [event for event in joint.readings if not _of_many(event)]
                known = self._beside(shared, own)
            else:
                known = self._temperatures(joint.readings)
            known = self._cold[key] = self._same(key, known)
        return known

    def _same(
        self, key: tuple[str, ...], known: tuple[Series, tuple[str, ...]]
    ) -> tuple[Series, tuple[str, ...]]:
        """The series that was read before, if it is the same."""
        old = None if self._before is None else self._before._cold.get(key)
        return old if old is not None and old[1] == known[1] and _alike(old[0], known[0]) else known

    def _beside(self, shared: tuple[Event, ...], own: Iterable[Event]) -> tuple[Series, tuple[str, ...]]:
        """What many joints share, and beside it what was read at this one alone."""
        key = tuple(event.entry.seal for event in shared)
        known = self._cold.get(key)
        if known is None:
            known = self._cold[key] = self._same(key, self._temperatures(shared))
        base, unread = known
        mine, more = self._temperatures(own)
        ever = [worst for worst in (base.ever, mine.ever) if worst is not None]
        return replace(mine, ever=min(ever, default=None), base=base), unread + more

    def humidities(self, joint: JointState) -> Series | None:
        """Relative humidities at a joint, those of the site among them; None if none names it.

        Parameters
        ----------
        joint : JointState

        Returns
        -------
        Series or None
        """
        damp = joint.of("humidity")
        if not damp:
            return None
        key = tuple(event.entry.seal for event in damp)
        known = self._damp.get(key)
        if known is None:
            found = self._site.copy()
            for event in damp:
                self._put(found, event, worst_of(event, "humidity", higher=True), max)
            known = found.series()
            old = None if self._before is None else self._before._damp.get(key)
            self._damp[key] = known = old if old is not None and _alike(old, known) else known
        return known

    def _temperatures(self, events: Iterable[Event]) -> tuple[Series, tuple[str, ...]]:
        found = _Gathered()
        found.warm(self._hot)
        unread: list[str] = []
        for event in events:
            if not event.sound:
                continue
            of = event.body.get("of")
            if event.kind == "reading_file":
                unread += self._file(found, event)
            elif {"joint", "pipe"} & set(told(event, "of")):
                found.warm(self._hot_of(event))
                self._put(found, event, worst_of(event, "temperature", higher=False), min, good=of == "joint")
        return found.series(), tuple(unread)

    def _hot_of(self, event: Event) -> float | None:
        """What a pipe may be as hot as now by one reading: corrected or not, its clock ahead or not known."""
        if event.kind != "reading" or not event.sound or not {"joint", "pipe"} & set(told(event, "of")):
            return None
        last = max(event.at, event.stamp.wall)
        if self._now.wall - last > LATELY:
            return None
        if self._now.wall - last > READ_WITHIN and elapsed(event.stamp, self._now) is not None:
            return None
        return worst_of(event, "temperature", higher=True)

    def _put(
        self,
        found: _Gathered,
        event: Event,
        value: float | None,
        worse: Callable[[Iterable[float]], float] | None = None,
        *,
        good: bool = True,
    ) -> None:
        self._ahead = self._ahead or event.at > self._now.wall
        if value is None or event.at > self._now.wall:
            return
        if elapsed(event.stamp, self._now) is None:
            # A clock that cannot be held against ours: it may have been this bad from the beginning.
            if worse is not None:
                found.ever = value if found.ever is None else worse((found.ever, value))
            return
        held = good and not event.late and not event.was and not self._jumped(event)
        found.add(np.array([event.at.timestamp()]), np.array([value]), held=held)
        for at in told(event, "at")[1:]:
            # Where one person alone moved it in time, it was as bad at both moments.
            was = event.stamp.wall if at is None else moment(at)
            found.add(np.array([was.timestamp()]), np.array([value]), held=False)

    def _file(self, found: _Gathered, event: Event) -> list[str]:
        """Put the rows of a file where they belong; in words what cannot be read."""
        if event.body.get("of") in _NOT_OF_JOINTS and not alone(event):
            return []
        name = str(event.body["name"])
        digests = [str(event.body["file"])]
        digests += [str(w.old) for w in event.was if w.field == "file" and w.second in ("", w.who)]
        unread = []
        for digest in digests:
            rows = f"{name} has not been read in" if self._files is None else self._files.rows(digest, name)
            if isinstance(rows, str):
                unread.append(rows)
            else:
                self._rows(found, event, rows)
        return unread

    def _rows(self, found: _Gathered, event: Event, rows: LoggerRows) -> None:
        at, values = rows.times, rows.values
        span = np.ones(at.shape, dtype=np.bool_)
        if not alone(event):
            if "from" in event.body:
                span &= at >= moment(event.body["from"]).timestamp()
            if "to" in event.body:
                span &= at <= moment(event.body["to"]).timestamp()
        at, values = at[span], values[span]
        past = at <= self._now.wall.timestamp()
        good = bool(at.size) and self._vouched(event, float(at.max()), float(rows.times.max()))
        found.add(at[past], values[past], held=good)

    def _vouched(self, event: Event, last: float, newest: float) -> bool:
        """Whether the rows of a file earn credit: see above."""
        written = event.stamp.wall.timestamp()
        return (
            not alone(event)
            and not unvouched(event.body, event.entry.who, written=written, last=last, newest=newest)
            and elapsed(event.stamp, self._now) is not None
            and not self._jumped(event)
        )

    def _jumped(self, event: Event) -> bool:
        """Whether its clock jumped so that it may be wrong; on the device itself the ticks tell."""
        return event.stamp.boot != self._now.boot and self._frames.doubtful(event, TOLERATED)


def unvouched(body: Mapping[str, Any], who: str, *, written: float, last: float, newest: float) -> str:
    """Why the rows of a logger's file earn no credit, as far as its entry alone tells.

    Parameters
    ----------
    body : mapping
        Of the entry.
    who : str
        UUID of the one who wrote it.
    written : float
        When. [s]
    last : float
        Last row that is of its joints. [s]
    newest : float
        Last row of the file. [s]

    Returns
    -------
    str
        ``"ahead"``, ``"of"``, ``"clock"`` or ``"late"``; empty if they do.
    """
    if newest > written + TOLERATED.total_seconds():
        return "ahead"
    if body.get("of") != "joint":
        return "of"
    if body.get("clock_checked") is not True:
        return "clock"
    late = written - last > PROMPT.total_seconds()
    return "late" if late and body.get("second") in (None, "", who) else ""


def _of_many(event: Event) -> bool:
    """Whether other joints may have the same entry."""
    return event.kind == "reading_file" or "joints" in event.body


def _is(these: Sequence[object], those: Sequence[object]) -> bool:
    """Whether two hold the very same objects."""
    return len(these) == len(those) and all(map(is_, these, those))


def _alike(one: Series, other: Series) -> bool:
    """Whether two series hold the same readings."""
    return (
        (one.ever, one.hot) == (other.ever, other.hot)
        and one.base is other.base
        and all(
            np.array_equal(a, b)
            for mine, yours in ((one.held, other.held), (one.late, other.late))
            for a, b in zip(mine.arrays(), yours.arrays(), strict=True)
        )
    )


class _Gathered:
    """Readings as they come together."""

    def __init__(self) -> None:
        self.parts: dict[bool, list[tuple[Floats, Floats]]] = {True: [], False: []}
        self.ever: float | None = None
        self.hot: float | None = None

    def warm(self, value: float | None) -> None:
        """A pipe may be as hot as this."""
        if value is not None:
            self.hot = value if self.hot is None else max(self.hot, value)

    def add(self, at: Floats, values: Floats, *, held: bool) -> None:
        """Some more of them."""
        self.parts[held].append((at, values))

    def copy(self) -> _Gathered:
        """The same, to be added to."""
        other = _Gathered()
        other.parts = {held: list(parts) for held, parts in self.parts.items()}
        other.ever = self.ever
        return other

    def series(self) -> Series:
        """All of them."""
        held, late = (
            Readings(np.concatenate([at for at, _ in parts]), np.concatenate([v for _, v in parts]))
            if parts
            else Readings((), ())
            for parts in (self.parts[True], self.parts[False])
        )
        return Series(held, late, self.ever, hot=self.hot)
