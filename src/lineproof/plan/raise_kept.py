"""The joints of a section, asked again: only those that changed since, and clocks that were not whole.

What was told is kept where nothing it rests on changed, so the answer is the one made from scratch. A clock
that is whole stays whole: it is asked again only where the record of its joint, its readings, the humidity,
its pressure or its cards are others, or time runs backwards.
"""

from __future__ import annotations

from collections.abc import Collection
from datetime import datetime
from functools import partial
from operator import is_
from typing import NamedTuple

from lineproof.checks.registry import About
from lineproof.floor.verdicts import Finding
from lineproof.job.making import Making
from lineproof.job.progress import JointProgress, Progress, Series
from lineproof.plan.alike import Alike, Told
from lineproof.plan.cure_clocks import WHOLE, CureClocks
from lineproof.plan.drawn import Drawn
from lineproof.plan.facts_raise import cure_request, told_of_record
from lineproof.plan.made_joint import MadeRight
from lineproof.plan.section_at import GaugeAt, SectionAt
from lineproof.plan.work import Work

FEW = 100
"""Facts of so few joints are made at once, so that what is kept holds on to no progress of long ago."""


class _Asked(NamedTuple):
    """What the answers of a joint rested on."""

    record: object
    making: Making | None
    cold: Series
    damp: Series
    now: datetime | None
    names: tuple[str, ...]
    others: tuple[Making | None, ...]
    whole: bool


def _is(these: Collection[object], those: Collection[object]) -> bool:
    """Whether two hold the very same objects."""
    return len(these) == len(those) and all(map(is_, these, those))


def _same_work(before: Progress, after: Progress) -> bool:
    """Whether everybody has joined what they had before."""
    return (
        _is(before.makings.values(), after.makings.values())
        and len(before.joints) == len(after.joints)
        and all(
            a.record is b.record is not None
            for a, b in zip(before.joints.values(), after.joints.values(), strict=True)
        )
    )


def _given(facts: About) -> About:
    return facts


class RaiseKept:
    """What was told of the joints of one section of a job.

    Parameters
    ----------
    work : Work
        With named joints.

    Attributes
    ----------
    told : int
        Joints whose record was asked, so far. [-]
    """

    def __init__(self, work: Work) -> None:
        self.work = work
        self.drawn = Drawn(work)
        self.told = 0
        self._right = MadeRight(work)
        self._records = Alike((), work.book)
        self._cures = Alike((), work.book)
        self._asked: list[_Asked | None] = []
        self._gauge: tuple[GaugeAt, float] | None = None
        self._progress: Progress | None = None

    def findings(self, at: SectionAt) -> list[Finding]:
        """Hold, record, cure and making of each joint of a section.

        Parameters
        ----------
        at : SectionAt
            Of the same work.

        Returns
        -------
        list of Finding
            Joints with the same GO stand in one.
        """
        progress, before = at.progress, self._progress
        names = tuple([joint.id for joint in at.made_of])
        cans = self._right.look_at(progress)
        if names != self._records.names or cans or before is None or before.gaps != progress.gaps:
            self._records, self._cures = Alike(names, self.work.book), Alike(names, self.work.book)
            self._asked = [None] * len(names)
        elif not _same_work(before, progress) and self._right.other_days():
            self._records.again("MAD-03")
        gauge = (at.gauge, at.density)
        same = (
            before is not None and gauge == self._gauge and before.cards_used == progress.cards_used
            and before.air is progress.air
        )  # fmt: skip
        self._gauge, self._progress = gauge, progress
        open_ = []
        for n, joint in enumerate(at.made_of):
            old = self._asked[n]
            making = progress.makings.get(joint.id)
            damp = progress.humidity if joint.damp is None else joint.damp
            also = old.names if old is not None else self._right.others(at.inside[joint.id])
            others = tuple([progress.makings.get(name) for name in also]) if also else ()
            if (
                old is None or joint.record is None or old.record is not joint.record
                or old.making is not making or not _is(old.others, others)
            ):  # fmt: skip
                self._records.put(n, self._tell(at, joint, making))
            elif (
                same and old.whole and old.cold is joint.readings and old.damp is damp
                and old.now is not None and joint.now is not None and joint.now >= old.now
            ):  # fmt: skip
                continue
            open_.append(n)
            self._asked[n] = _Asked(
                joint.record, making, joint.readings, damp, joint.now, also, others, whole=False
            )
        self._cure(at, open_)
        return [*self._records.findings(), *self._cures.findings()]

    def _tell(self, at: SectionAt, joint: JointProgress, making: Making | None) -> list[Told]:
        self.told += 1
        rows = told_of_record(at, joint)
        if joint.made and making is not None:
            rows += self._right.told(joint, at.inside[joint.id])
        return rows

    def _cure(self, at: SectionAt, places: list[int]) -> None:
        made = []
        for n in places:
            if at.made_of[n].made:
                made.append(n)
            else:
                self._cures.put(n, ())
        clocks = CureClocks(at.progress, self.work.job.zone)
        told = clocks.told_of([cure_request(at, at.made_of[n]) for n in made])
        for n, row in zip(made, told, strict=True):
            if len(made) < FEW:
                row = row._replace(facts=partial(_given, row.facts()))
            self._cures.put(n, (row,))
            asked = self._asked[n]
            if asked is not None and isinstance(row.key, tuple) and row.key[0] == WHOLE:
                self._asked[n] = asked._replace(whole=True)
