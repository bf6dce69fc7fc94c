"""The hands-off clock of one joint: its record and its readings held against its cement card."""

from __future__ import annotations

from datetime import tzinfo

from lineproof.book.sizes import Size
from lineproof.checks.moving import HandsOff
from lineproof.job.card_rows import HANDLING
from lineproof.job.cards import CementCard
from lineproof.job.progress import Disturbance, JointProgress, Progress, SiteAir
from lineproof.plan.joint_clocks import Asked, JointClocks


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
        if card is None or joint.now is None or joint.assembled is None:
            return _blank(joint, size, card), joint.disturbances
        asked = Asked(joint=joint, size=size, card=card, pullers=pullers)
        ran = self._clocks.run(HANDLING, [asked])[0]
        clock, row = ran.clock, ran.row
        facts = HandsOff(
            subject=joint.id,
            joints=(joint.id,),
            size=size,
            card=card.id,
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
        return facts, ran.kept


def _blank(joint: JointProgress, size: Size, card: CementCard | None) -> HandsOff:
    return HandsOff(
        subject=joint.id, joints=(joint.id,), size=size, card=card.id if card else "", mark="", factors=(),
        wait=None, credited=0.0, coldest=joint.temperature, started=joint.hold_ended, reached=None,
        not_before=None, clock_unsure=joint.now is None, unread=joint.unread,
    )  # fmt: skip
