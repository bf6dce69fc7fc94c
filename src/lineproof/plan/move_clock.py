"""The hands-off clock of one joint: its record and its readings held against its cement card."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import tzinfo

from lineproof.book.sizes import Size
from lineproof.checks.moving import HandsOff
from lineproof.job.card_rows import HANDLING
from lineproof.job.cards import CementCard
from lineproof.job.progress import Disturbance, JointProgress, Progress, SiteAir
from lineproof.plan.joint_clocks import JointClocks, Ran
from lineproof.plan.joint_histories import Asked


@dataclass(frozen=True, slots=True, kw_only=True)
class MoveAsked:
    """One joint whose hands-off clock is asked.

    Parameters
    ----------
    joint : JointProgress
    size : Size
    card : CementCard or None
    pullers : bool or None
        Whether it was pulled in with a device; None if nobody knows.
    """

    joint: JointProgress
    size: Size
    card: CementCard | None
    pullers: bool | None


class MoveClock:
    """Asks the hands-off clock of joints by one progress.

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
        self._clocks = JointClocks(progress, zone, dampest, weather)

    def facts(
        self, joint: JointProgress, size: Size, card: CementCard | None, *, pullers: bool | None
    ) -> tuple[HandsOff, tuple[Disturbance, ...]]:
        """What check MOV-02 asks of a joint that was made.

        Parameters
        ----------
        joint : JointProgress
        size : Size
        card : CementCard or None
        pullers : bool or None
            Whether it was pulled in with a device; None if nobody knows.

        Returns
        -------
        HandsOff, tuple of Disturbance
            And the disturbances that started its clock again.
        """
        return self.facts_of([MoveAsked(joint=joint, size=size, card=card, pullers=pullers)])[0]

    def facts_of(self, asked: Sequence[MoveAsked]) -> list[tuple[HandsOff, tuple[Disturbance, ...]]]:
        """The same for many joints at once, in the order asked.

        Parameters
        ----------
        asked : sequence of MoveAsked

        Returns
        -------
        list of HandsOff with tuple of Disturbance
        """
        places, ready = [], []
        for i, each in enumerate(asked):
            joint = each.joint
            if each.card is not None and joint.now is not None and joint.assembled is not None:
                places.append(i)
                ready.append(Asked(joint=joint, size=each.size, card=each.card, pullers=each.pullers))
        found = [(_blank(a.joint, a.size, a.card), a.joint.disturbances) for a in asked]
        for i, one, ran in zip(places, ready, self._clocks.run(HANDLING, ready), strict=True):
            found[i] = self._told(one, ran), ran.kept
        return found

    def _told(self, asked: Asked, ran: Ran) -> HandsOff:
        joint, clock, row = asked.joint, ran.clock, ran.row
        return HandsOff(
            subject=joint.id,
            joints=(joint.id,),
            size=asked.size,
            card=asked.card.id,
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
        )


def _blank(joint: JointProgress, size: Size, card: CementCard | None) -> HandsOff:
    return HandsOff(
        subject=joint.id, joints=(joint.id,), size=size, card=card.id if card else "", mark="", factors=(),
        wait=None, credited=0.0, coldest=joint.temperature, started=joint.hold_ended, reached=None,
        not_before=None, clock_unsure=joint.now is None, unread=joint.unread,
    )  # fmt: skip
