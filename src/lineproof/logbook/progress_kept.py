"""Progress, again and again: what was read of a joint is kept where its record and readings are as they were.

The answer is the one that is read from scratch. Where anything is in doubt (a clock that jumped, another
start of the device, time that runs backwards, something told of a moment to come) it is read from scratch.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from decimal import Decimal
from operator import is_

from lineproof.job.making import Making
from lineproof.job.progress import NO_AIR, JointProgress, Progress, SiteAir, Temperature, at_moment
from lineproof.logbook.clock_frames import ClockFrames
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.logger_files import LoggerFiles
from lineproof.logbook.making_of import making_of, sealed_cards
from lineproof.logbook.progress_of import joint_of, now_of, progress_with, starts_of
from lineproof.logbook.readings_of import ReadingsOf
from lineproof.logbook.state import Event, JointState, State

BEGIN = datetime(1970, 1, 1, tzinfo=UTC)


@dataclass(frozen=True, slots=True)
class _Kept:
    """A joint as it was read, and which of its entries tell how early it may be now."""

    state: JointState
    told: JointProgress
    asked: tuple[Event, ...]
    last: datetime
    ticks: Decimal


class KeptProgress:
    """Reads the progress of one job, one state of its logbook after another.

    Attributes
    ----------
    read : int
        Joints whose record was read, so far. [-]
    """

    def __init__(self) -> None:
        self.read = 0
        self._now: Stamp | None = None
        self._readings: ReadingsOf | None = None
        self._joints: dict[str, _Kept] = {}
        self._people: Mapping[str, str] = {}
        self._cards: list[Event] = []
        self._makings: dict[str, tuple[JointState, Making]] = {}

    def of(
        self,
        state: State,
        now: Stamp,
        *,
        forecast: Iterable[Temperature] = (),
        people: Mapping[str, str] | None = None,
        files: LoggerFiles | None = None,
        air: SiteAir = NO_AIR,
    ) -> Progress:
        """Progress by a state; the parameters are those of ``progress_of``.

        Parameters
        ----------
        state : State
        now : Stamp
        forecast : iterable of Temperature
        people : mapping or None
        files : LoggerFiles or None
        air : SiteAir

        Returns
        -------
        Progress
            Joints whose record is as it was bear the same ``record``.
        """
        frames = ClockFrames(state)
        if frames.jumped or not _goes_on(self._now, now):
            self._joints.clear()
            self._readings = None
        self._now = now
        read = ReadingsOf(state, now, files, air, frames, self._readings)
        self._readings = None if frames.jumped else read
        joints = {name: self._joint(joint, now, read, frames) for name, joint in state.joints.items()}
        read.done()
        return progress_with(
            state, now, read, joints, self._made(state, people or {}), forecast=forecast, air=air
        )

    def _joint(self, joint: JointState, now: Stamp, read: ReadingsOf, frames: ClockFrames) -> JointProgress:
        kept = self._joints.get(joint.id)
        same = kept is not None and kept.state is joint and now.wall >= kept.last
        if kept is None or not same or now.monotonic < kept.ticks:
            return self._anew(joint, now, read, frames, None)
        cold, unread = read.temperatures(joint)
        told = kept.told
        # Without an entry on its own humidity it has no series of its own.
        damp = None if told.damp is None else read.humidities(joint)
        if cold is not told.readings or damp is not told.damp or unread != told.unread:
            return self._anew(joint, now, read, frames, kept)
        return at_moment(told, now_of(kept.asked, now, frames) if kept.asked else now.wall)

    def _anew(
        self, joint: JointState, now: Stamp, read: ReadingsOf, frames: ClockFrames, before: _Kept | None
    ) -> JointProgress:
        self.read += 1
        told = joint_of(joint, now, read, frames)
        same = before is not None and (before.told.unread, before.told.accepted) == (
            told.unread,
            told.accepted,
        )
        told = at_moment(told, told.now, before.told.record if before is not None and same else object())
        clocks = (*starts_of(joint), *joint.made)
        own = [e for e in clocks if now.boot and e.stamp.boot == now.boot]
        # Of entries of this start of this device the one whose wall clock was least ahead of the ticks tells.
        behind = min(own, key=_ahead, default=None)
        doubted = [e for e in clocks if e not in own and not (e.stamp.trusted and now.trusted)]
        last = max((t for e in joint.events for t in (e.at, e.stamp.wall, e.entry.wall)), default=now.wall)
        self._joints[joint.id] = _Kept(
            joint, told, (*doubted, *(() if behind is None else (behind,))), last,
            max((e.stamp.monotonic for e in own), default=now.monotonic),
        )  # fmt: skip
        return told

    def _made(self, state: State, people: Mapping[str, str]) -> dict[str, Making]:
        cards = sealed_cards(state)
        if people != self._people or len(cards) != len(self._cards) or not all(map(is_, cards, self._cards)):
            self._makings.clear()
        self._people, self._cards = people, cards
        found = {}
        for name, joint in state.joints.items():
            if joint.made:
                kept = self._makings.get(name)
                if kept is None or kept[0] is not joint:
                    kept = self._makings[name] = (joint, making_of(joint, people, cards))
                found[name] = kept[1]
        return found


def _ahead(event: Event) -> Decimal:
    """How far a wall clock was ahead of the ticks of its device. [us]"""
    stamp = event.stamp
    return (stamp.wall - BEGIN) // timedelta(microseconds=1) - stamp.monotonic * 1_000_000


def _goes_on(before: Stamp | None, now: Stamp) -> bool:
    """Whether now is a later moment by the same clock, trusted alike."""
    return (
        before is not None
        and before.boot == now.boot
        and before.trusted == now.trusted
        and before.wall <= now.wall
        and before.monotonic <= now.monotonic
    )
