"""The pressure clocks of many joints: each looked up at its own pressure, all of them asked at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import tzinfo
from functools import partial

from lineproof.book.sizes import Size
from lineproof.checks.curing import Cured
from lineproof.job.card_rows import CURE
from lineproof.job.cards import CementCard
from lineproof.job.progress import JointProgress, Progress, SiteAir
from lineproof.plan.alike import Told
from lineproof.plan.joint_clocks import JointClocks, Ran
from lineproof.plan.joint_histories import Asked
from lineproof.plan.joints_reached import joints_reached
from lineproof.sums.cure_answer import NO_START

WHOLE = "whole"
"""First word of the key of joints whose cure is whole: such a clock stays whole."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CureAsked:
    """One joint whose pressure clock is asked.

    Parameters
    ----------
    joint : JointProgress
    size : Size
    card : CementCard or None
    pressure : float or None
        Highest gauge pressure at the joint itself; None if it cannot be told. [Pa]
    pullers : bool or None
        Whether it was pulled in with a device; None if nobody knows.
    """

    joint: JointProgress
    size: Size
    card: CementCard | None
    pressure: float | None
    pullers: bool | None


class CureClocks:
    """Asks the pressure clocks of joints by one progress.

    Parameters
    ----------
    progress : Progress
    zone : tzinfo
        Of the site; moments are told in it.
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]
    weather : SiteAir or None
        What the air was where readings of a joint have a hole; that of the progress unless said.

    Notes
    -----
    A disturbance starts the clock again, a move as well unless the joint's hands-off time was over then. A
    higher pressure is another column of the card, held against the whole history. A forecast makes NOT
    BEFORE later and never gives GO.
    """

    def __init__(
        self,
        progress: Progress,
        zone: tzinfo,
        dampest: float | None = None,
        weather: SiteAir | None = None,
    ) -> None:
        self._clocks = JointClocks(progress, zone, dampest, weather)

    def facts(
        self,
        joint: JointProgress,
        size: Size,
        card: CementCard | None,
        *,
        pressure: float | None,
        pullers: bool | None,
    ) -> Cured:
        """What check CUR-01 asks of one joint.

        Parameters
        ----------
        joint : JointProgress
        size : Size
        card : CementCard or None
        pressure : float or None
            Highest gauge pressure at the joint itself; None if it cannot be told. [Pa]
        pullers : bool or None
            Whether it was pulled in with a device; None if nobody knows.

        Returns
        -------
        Cured
        """
        asked = CureAsked(joint=joint, size=size, card=card, pressure=pressure, pullers=pullers)
        return self.facts_of([asked])[0]

    def facts_of(self, asked: Sequence[CureAsked]) -> list[Cured]:
        """What check CUR-01 asks of many joints, one a joint, in the order asked.

        Parameters
        ----------
        asked : sequence of CureAsked

        Returns
        -------
        list of Cured
        """
        places = []
        ready = []
        for i, each in enumerate(asked):
            joint = each.joint
            if each.card is not None and joint.now is not None and joint.assembled is not None:
                places.append(i)
                ready.append(
                    Asked(
                        joint=joint, size=each.size, card=each.card, pullers=each.pullers,
                        pressure=each.pressure,
                    )
                )  # fmt: skip
        found: list[Cured | None] = [None] * len(asked)
        for i, ran in zip(places, self._clocks.run(CURE, ready), strict=True):
            found[i] = self._told(asked[i], ran)
        return [_blank(a) if told is None else told for a, told in zip(asked, found, strict=True)]

    def told_of(self, asked: Sequence[CureAsked]) -> list[Told]:
        """What check CUR-01 asks of many joints, for those with the same GO to be told together.

        Parameters
        ----------
        asked : sequence of CureAsked

        Returns
        -------
        list of Told
            One a joint, in the order asked. Where the cure is whole, the key holds the row of the card, and
            the weight when it was; anything else stands alone.
        """
        plain = [i for i, each in enumerate(asked) if _plain(each)]
        ready = [
            Asked(joint=a.joint, size=a.size, card=a.card, pullers=a.pullers, pressure=a.pressure)
            for a in (asked[i] for i in plain)
            if a.card is not None
        ]
        found: list[Told | None] = [None] * len(asked)
        for each in joints_reached(self._clocks, CURE, ready):
            key = (WHOLE, each.key)
            for n, (k, at) in enumerate(zip(each.places, each.at, strict=True)):
                one = asked[plain[k]]
                found[plain[k]] = Told("CUR-01", key, at, partial(self._whole, one, each.ran, n))
        left = [i for i, told in enumerate(found) if told is None]
        for i, facts in zip(left, self.facts_of([asked[i] for i in left]), strict=True):
            found[i] = Told("CUR-01", (asked[i].joint.id,), 0.0, partial(_same, facts))
        return [told for told in found if told is not None]

    def _whole(self, asked: CureAsked, ran: Callable[[int], Ran], n: int) -> Cured:
        return self._told(asked, ran(n))

    def _told(self, asked: CureAsked, ran: Ran) -> Cured:
        joint, clock, row = asked.joint, ran.clock, ran.row
        return Cured(
            subject=joint.id,
            joints=(joint.id,),
            size=asked.size,
            card="" if asked.card is None else asked.card.id,
            pressure=asked.pressure,
            column=None if row is None else row.row.pressure_max,
            mark=row.row.mark if row else "",
            factors=tuple(f.when for f in row.factors) if row else (),
            wait=clock.wait,
            credited=clock.credited,
            coldest=clock.coldest,
            started=None if ran.start is None else ran.start.astimezone(self._clocks.zone),
            reached=None if clock.reached_at is None else self._clocks.moment(clock.reached_at),
            not_before=ran.ready,
            codes=clock.why_not,
            unread=joint.unread,
            foretold=ran.foretold,
            air=self._clocks.air.why,
            disturbed=tuple(f"{d.kind}: {d.how}" if d.how else d.kind for d in ran.kept),
            last_disturbed=max((d.at for d in ran.kept), default=None),
        )


def _same(facts: Cured) -> Cured:
    return facts


def _plain(asked: CureAsked) -> bool:
    """Whether nothing stands against a joint but its clock, as far as can be seen without asking it."""
    joint = asked.joint
    return (
        asked.card is not None
        and asked.pressure is not None
        and joint.now is not None
        and joint.assembled is not None
        and not joint.unread
        and not joint.disturbances
        and joint.readings.base is None
    )


def _blank(asked: CureAsked) -> Cured:
    joint, card = asked.joint, asked.card
    events = joint.disturbances
    return Cured(
        subject=joint.id, joints=(joint.id,), size=asked.size, card=card.id if card else "",
        pressure=asked.pressure, column=None, mark="", factors=(), wait=None, credited=0.0,
        coldest=joint.temperature, started=joint.hold_ended, reached=None, not_before=None,
        codes=(NO_START,) if joint.assembled is None else (),
        clock_unsure=joint.assembled is not None and joint.now is None, unread=joint.unread,
        disturbed=tuple(f"{d.kind}: {d.how}" if d.how else d.kind for d in events),
        last_disturbed=max((d.at for d in events), default=None),
    )  # fmt: skip
