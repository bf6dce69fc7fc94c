"""Where the wall clock of a device jumped: how far off what it wrote before and after may be.

Between two jumps a clock keeps one frame. When it jumps by more than two minutes, one of the two frames was
wrong, and nothing in the record says which. A frame in which no entry has a clock that a time server had
set, or that a person confirmed, is not taken for right: that is the phone with a dead battery, before it was
put right.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import timedelta
from decimal import Decimal
from itertools import chain

from lineproof.logbook.clocks import NONE
from lineproof.logbook.state import Event, State

_Chain = tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Frames:
    """Frames of one start of a device, as one writer saw them."""

    begins: tuple[Decimal, ...]
    ahead: tuple[Decimal, ...]
    may_be_right: tuple[bool, ...]

    def off(self, monotonic: Decimal) -> tuple[Decimal, Decimal]:
        """How far the clock may have been behind and ahead at a moment. [s]"""
        own = self.ahead[bisect_right(self.begins, monotonic) - 1]
        others = [ahead - own for ahead, right in zip(self.ahead, self.may_be_right, strict=True) if right]
        return max([Decimal(0), *others]), max([Decimal(0), *(-by for by in others)])


class ClockFrames:
    """How far off the wall clock of an entry may have been, by the jumps that are recorded.

    Parameters
    ----------
    state : State
        The fold of what was known.
    """

    def __init__(self, state: State) -> None:
        jumps: dict[_Chain, list[tuple[Decimal, Decimal]]] = {}
        for event in state.others:
            if event.kind == "step_in_clock" and event.sound and event.stamp.boot:
                jump = event.stamp.monotonic, Decimal(str(event.body["by_s"]))
                jumps.setdefault((event.stamp.boot, event.entry.writer), []).append(jump)
        self._frames: dict[str, list[_Frames]] = {}
        if not jumps:
            return
        trusted: dict[_Chain, list[Decimal]] = {}
        for event in _events(state):
            key = event.stamp.boot, event.entry.writer
            if key in jumps and event.stamp.trusted:
                trusted.setdefault(key, []).append(event.stamp.monotonic)
        for key, told in jumps.items():
            begins, ahead = [Decimal("-Infinity")], [Decimal(0)]
            for at, by in sorted(told):
                begins.append(at)
                ahead.append(ahead[-1] + by)
            right = {bisect_right(begins, at) - 1 for at in trusted.get(key, ())}
            frames = _Frames(tuple(begins), tuple(ahead), tuple(k in right for k in range(len(begins))))
            self._frames.setdefault(key[0], []).append(frames)

    @property
    def jumped(self) -> bool:
        """Whether any clock is recorded to have jumped."""
        return bool(self._frames)

    def behind(self, event: Event) -> timedelta:
        """How much later than its wall clock said an entry may have been written.

        Parameters
        ----------
        event : Event

        Returns
        -------
        timedelta
            Nothing where its clock did not jump, or a person confirmed the time.
        """
        return self._off(event)[0]

    def doubtful(self, event: Event, tolerated: timedelta) -> bool:
        """Whether an entry may have been written further from what its clock said than is tolerated.

        Parameters
        ----------
        event : Event
        tolerated : timedelta

        Returns
        -------
        bool
        """
        return bool(self._frames) and max(self._off(event)) > tolerated

    def _off(self, event: Event) -> tuple[timedelta, timedelta]:
        if event.stamp.confirmed or event.stamp.boot not in self._frames:
            return NONE, NONE
        told = [frames.off(event.stamp.monotonic) for frames in self._frames[event.stamp.boot]]
        behind, ahead = max(b for b, _ in told), max(a for _, a in told)
        return timedelta(seconds=float(behind)), timedelta(seconds=float(ahead))


def _events(state: State) -> Iterator[Event]:
    joints = (joint.events for joint in state.joints.values())
    things = (
        thing.events
        for kept in (state.cans, state.tags, state.gauges, state.releases, state.sections)
        for thing in kept.values()
    )
    return chain(state.others, *joints, *things)
