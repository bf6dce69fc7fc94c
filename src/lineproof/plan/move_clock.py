"""The hands-off clock of one joint: its record and its readings held against its cement card."""

from __future__ import annotations

from datetime import datetime, tzinfo

from lineproof.book.sizes import Size
from lineproof.checks.moving import HandsOff
from lineproof.job.card_rows import HANDLING
from lineproof.job.cards import CementCard
from lineproof.job.clock_card import CardWaits, card_waits
from lineproof.job.progress import FORECAST, LATE, LOGGED, Disturbance, JointProgress, Progress, Temperature
from lineproof.sums.cure_answer import NO_CARD_ROW, CureClock
from lineproof.sums.cure_clock import MAX_GAP, History, cure_clock
from lineproof.sums.readings import Readings


class MoveClock:
    """Asks the hands-off clock of joints by one progress.

    Parameters
    ----------
    progress : Progress
    zone : tzinfo
        Of the site; moments are told in it.
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]
    """

    def __init__(self, progress: Progress, zone: tzinfo, dampest: float | None = None) -> None:
        self.progress = progress
        self.zone = zone
        self.dampest = dampest
        self._waits: dict[tuple[str, Size], CardWaits] = {}

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
        waits = self._card(card, size)
        now = joint.now
        start = _start(joint, pullers)
        kept: list[Disturbance] = []
        for event in joint.disturbances:
            # Moving it once its hands-off time is over is what the time is for; anything else starts again.
            if event.kind == "moved" and start is not None:
                then = self._clock(joint, waits, start, kept, now.timestamp())
                if then.reached_at is not None and then.reached_at <= event.earliest.timestamp():
                    continue
            kept.append(event)
        clock = self._clock(joint, waits, start, kept, now.timestamp())
        ready, foretold = self._ready(joint, waits, start, kept, clock)
        behind = self.progress.now - now
        row = None if clock.coldest is None else waits.rests_on(clock.coldest, clock.dampest)
        last = None if start is None else max([start, *(d.at for d in kept)])
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
            started=None if last is None else last.astimezone(self.zone),
            reached=None if clock.reached_at is None else self._moment(clock.reached_at),
            not_before=None if ready is None else self._moment(ready) + behind,
            codes=clock.why_not,
            unread=joint.unread,
            foretold=foretold,
        )
        return facts, tuple(kept)

    def _card(self, card: CementCard, size: Size) -> CardWaits:
        known = self._waits.get((card.id, size))
        if known is None:
            # Nobody records whether a factor such as a loose fit holds: it is taken to hold.
            also = [f.when for f in card.factors if f.lengthens(HANDLING) and f.humidity_over is None]
            known = self._waits[card.id, size] = card_waits(card, HANDLING, size, also=also)
        return known

    def _moment(self, at: float) -> datetime:
        return datetime.fromtimestamp(at, tz=self.zone)

    def _clock(
        self,
        joint: JointProgress,
        waits: CardWaits,
        start: datetime | None,
        kept: list[Disturbance],
        now: float,
        foretold: tuple[Temperature, ...] = (),
    ) -> CureClock:
        told = [t for t in joint.readings if t.standing == LOGGED]
        history = History(
            _readings((*told, *foretold)),
            late=_readings([t for t in joint.readings if t.standing == LATE]),
            humidity=self._humidity(joint, now),
        )
        made = joint.assembled or self.progress.now
        return cure_clock(
            history,
            waits.waits,
            now=now,
            assembled=made.timestamp(),
            temperature=joint.temperature,
            started=None if start is None else start.timestamp(),
            disturbed=[d.at.timestamp() for d in kept],
            humidity=self._first_humidity(joint),
        )

    def _first_humidity(self, joint: JointProgress) -> float | None:
        told = [h for h in (joint.humidity, self.dampest) if h is not None]
        return max(told, default=None)

    def _humidity(self, joint: JointProgress, now: float) -> Readings:
        times = [h.at.timestamp() for h in self.progress.humidity]
        values = [h.value for h in self.progress.humidity]
        if self.dampest is not None and joint.assembled is not None:
            # What is said of the whole time since holds at every moment of it.
            first = joint.assembled.timestamp()
            count = int(max(0.0, now - first) // MAX_GAP) + 2
            times += [first + i * MAX_GAP for i in range(count)]
            values += [self.dampest] * count
        return Readings(times, values)

    def _ready(
        self,
        joint: JointProgress,
        waits: CardWaits,
        start: datetime | None,
        kept: list[Disturbance],
        clock: CureClock,
    ) -> tuple[float | None, bool]:
        """Not before when: by the clock, or later by a forecast that has not come yet."""
        now = self.progress.now
        if clock.reached_at is not None or joint.now is None:
            return None, False
        ready = clock.earliest_if
        if ready is not None and ready <= joint.now.timestamp():
            ready = None  # it is only an answer while it lies ahead
        ahead = tuple(t for t in self.progress.forecast if t.at > now and t.standing == FORECAST)
        if not ahead or ready is None:
            return ready, False
        then = self._clock(joint, waits, start, kept, ahead[-1].at.timestamp(), ahead)
        by = then.reached_at if then.reached_at is not None else then.earliest_if
        if by is None or NO_CARD_ROW in then.why_not:
            return ready, False
        return max(ready, by), by > ready


def _start(joint: JointProgress, pullers: bool | None) -> datetime | None:
    """The latest of hold end and pullers off; None while one that is needed is not recorded."""
    told = [joint.hold_ended, joint.pullers_off]
    if joint.hold_ended is None or (pullers is not False and joint.pullers_off is None):
        return None
    return max(t for t in told if t is not None)


def _readings(told: list[Temperature] | tuple[Temperature, ...]) -> Readings:
    return Readings([t.at.timestamp() for t in told], [t.value for t in told])


def _blank(joint: JointProgress, size: Size, card: CementCard | None) -> HandsOff:
    return HandsOff(
        subject=joint.id, joints=(joint.id,), size=size, card=card.id if card else "", mark="", factors=(),
        wait=None, credited=0.0, coldest=joint.temperature, started=joint.hold_ended, reached=None,
        not_before=None, clock_unsure=joint.now is None, unread=joint.unread,
    )  # fmt: skip
