"""Was each joint made right: what is recorded of it, held against its place on the drawing and its papers.

Joints with the same answer are told in one Finding that names them all; only what stands against a joint is
told joint by joint.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime
from functools import partial
from typing import Any

from lineproof.book.sizes import Size
from lineproof.checks.made import Examined, Hand, Insertion, Makers, WholeRecord
from lineproof.checks.made_lots import LotsUsed
from lineproof.checks.qualified import NO_WORK, Need, Worked
from lineproof.checks.registry import About
from lineproof.floor.verdicts import Finding
from lineproof.job.card_rows import HOLD
from lineproof.job.cards import CementCard
from lineproof.job.making import Look, Making
from lineproof.job.people import Procedure, within
from lineproof.job.progress import JointProgress, Progress
from lineproof.plan.alike import Alike, Told
from lineproof.plan.joint_first import goes_first
from lineproof.plan.made_lots_used import Lots
from lineproof.plan.model import JointKind, JointPlace
from lineproof.plan.people import Kind, scheme_of, worked_of
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

LONG_AGO = datetime(1, 1, 1, tzinfo=UTC)
FIRST = ("ring", "nut")
"""What is recorded as on the pipe first."""


def made_findings(
    joints: Iterable[tuple[JointProgress, JointPlace]], work: Work, progress: Progress
) -> list[Finding]:
    """Whether joints were made right, by their record: checks MAD-01 to MAD-05.

    Parameters
    ----------
    joints : iterable of tuple
        Progress and place of each joint that is recorded as made; others are left out.
    work : Work
        With named joints.
    progress : Progress
        With its makings and cans.

    Returns
    -------
    list of Finding
        Those joints that an answer holds for alike stand in one (``facts["joints"]``).
    """
    right = MadeRight(work)
    right.look_at(progress)
    made = [(joint, place) for joint, place in joints if joint.id in progress.makings]
    asked = Alike([joint.id for joint, _ in made], work.book)
    for n, (joint, place) in enumerate(made):
        asked.put(n, right.told(joint, place))
    return sorted(asked.findings(), key=lambda f: f.id)


_Cause = tuple[Hashable, float, Callable[[], About]]
"""What joints share, how bad the number of this one is, and its facts, made only where they are asked."""


@dataclass(frozen=True, slots=True)
class _Joint:
    """One joint that is asked about."""

    about: dict[str, Any]
    place: JointPlace
    making: Making
    cards: tuple[str, ...]
    """Cards it may have been made by; the line's where none was named."""
    procedure: Procedure | None
    steps: str
    """Of the procedure."""


class MadeRight:
    """What checks MAD-01 to MAD-05 ask of each joint.

    Parameters
    ----------
    work : Work
        With named joints.
    """

    def __init__(self, work: Work) -> None:
        self.work = work
        self.progress = Progress(now=LONG_AGO)
        self.settings = work.job.settings
        self.zone = work.job.zone
        self.scheme, self.bound = scheme_of(work)
        self._cards: dict[str, CementCard] = {card.id: card for card in self.settings.cards}
        self._causes: dict[str, Callable[[_Joint], _Cause]] = {
            "MAD-01": self._insertion,
            "MAD-02": self._examined,
            "MAD-03": self._makers,
            "MAD-04": self._lots_used,
            "MAD-05": self._whole,
        }
        self._papers: dict[str, tuple[str, Procedure | None]] = {}
        self._lots = Lots(self.settings.cans, {})
        self._worked: dict[Kind, Worked] | None = None
        self._first: dict[tuple[str, JointKind], tuple[str, bool]] = {}
        self._at_part: dict[str, tuple[str, ...]] | None = None
        self._bands: dict[tuple[str, Size, float], tuple[bool, float | None, bool]] = {}
        self._hands: dict[tuple[str, str, str, str], Hand] = {}

    def look_at(self, progress: Progress) -> bool:
        """Go by another progress from now on.

        Parameters
        ----------
        progress : Progress
            With its makings and cans.

        Returns
        -------
        bool
            Whether cans are told otherwise, so that every joint is.
        """
        before, self.progress = self.progress, progress
        cans = progress.cans != before.cans
        if cans:
            self._lots = Lots(self.settings.cans, progress.cans)
        return cans

    def other_days(self) -> bool:
        """Whether people have other days of work than before, so that MAD-03 is to be asked again."""
        if self._worked is None or worked_of(self.work, self.progress) == self._worked:
            return False
        self._worked = None
        self._hands.clear()
        return True

    def others(self, place: JointPlace) -> tuple[str, ...]:
        """Joints whose record also counts for one: where only one half of its part carries ring or nut."""
        what, sure = self._goes_first(place)
        return () if sure or not what else self._of_part(place.socket[0])

    def _of_part(self, part: str) -> tuple[str, ...]:
        if self._at_part is None:
            at_part: dict[str, list[str]] = {}
            for n, j in enumerate(self.work.cutting.joints):
                at_part.setdefault(j.socket[0], []).append(joint_name(j, n))
            self._at_part = {part: tuple(names) for part, names in at_part.items()}
        return self._at_part.get(part, ())

    def told(self, joint: JointProgress, place: JointPlace) -> list[Told]:
        """What is asked of one joint.

        Parameters
        ----------
        joint : JointProgress
            One that is recorded as made.
        place : JointPlace

        Returns
        -------
        list of Told
        """
        making = self.progress.makings[joint.id]
        card, procedure = self._line(place.line)
        about = {"subject": joint.id, "joints": (joint.id,), "line": place.line}
        cards = tuple([name or card for name in making.cards])
        asked = _Joint(about, place, making, cards, procedure, procedure.steps if procedure else "")
        return [
            Told(name, key, weight, partial(self._facts, cause, asked))
            for name, cause in self._causes.items()
            for key, weight, _ in (cause(asked),)
        ]

    @staticmethod
    def _facts(cause: Callable[[_Joint], _Cause], asked: _Joint) -> About:
        return cause(asked)[2]()

    def _line(self, line: str) -> tuple[str, Procedure | None]:
        known = self._papers.get(line)
        if known is None:
            duty = self.settings.duty(line)
            known = ("", None)
            if duty is not None:
                known = (duty.cement, self.settings.procedure(duty.procedure))
            self._papers[line] = known
        return known

    def _days(self, making: Making) -> tuple[date, date]:
        """The earliest and the latest day it can have been made, on the site."""
        first = making.earliest.astimezone(self.zone).date()
        same = making.latest == making.earliest
        return first, first if same else making.latest.astimezone(self.zone).date()

    def _insertion(self, j: _Joint) -> _Cause:
        ins, procedure = j.making.insertions, j.procedure
        allowed = procedure.allowed_shortfall if procedure else None
        name = procedure.id if procedure else ""
        typed = next((i.allowed for i in ins if i.allowed is not None and i.allowed != allowed), None)
        other = next((i.procedure for i in ins if i.procedure and i.procedure != name), "")
        worst = max((i.worst for i in ins), default=None)
        return (
            (name, allowed, typed, other, worst is None),
            0.0 if worst is None else worst,
            lambda: Insertion(
                **j.about, shortfall=max((i.shortfall for i in ins), default=None), worst=worst,
                allowed=allowed, procedure=name, typed=typed, other_procedure=other,
            ),
        )  # fmt: skip

    def _examined(self, j: _Joint) -> _Cause:
        state, look = _looked(j.making)
        key: Hashable = (state, j.about["subject"])
        if state == "accepted" and look is not None:
            key = (state, look.by, look.list)
        return (
            key,
            0.0,
            lambda: Examined(
                **j.about, state=state, by=look.by if look else "", list=look.list if look else "",
                at=look.at.astimezone(self.zone) if look else None,
                last_touched=j.making.last_touched.astimezone(self.zone),
                points=look.refused_points if look else (),
            ),
        )  # fmt: skip

    def _makers(self, j: _Joint) -> _Cause:
        place, making, steps = j.place, j.making, j.steps
        first, last = self._days(making)
        named = j.procedure.id if j.procedure else ""

        def facts() -> Makers:
            hands = tuple(
                self._hand(role, person, place.material, steps)
                for role, people in (("pipe end", making.pipe_end), ("socket", making.socket))
                for person in people
            )
            need = Need(
                material=place.material, steps=steps, smallest=place.size, largest=place.size,
                procedure=named, day=first,
            )  # fmt: skip
            return Makers(
                **j.about, hands=hands, need=need, last_day=last, scheme=self.scheme, bound=self.bound
            )

        who = (making.pipe_end, making.socket)
        return (who, place.material, steps, place.size, named, first, last), 0.0, facts

    def _hand(self, role: str, person: str, material: str, steps: str) -> Hand:
        key = (role, person, material, steps)
        known = self._hands.get(key)
        if known is None:
            who = self.settings.person(person) if person else None
            if self._worked is None:
                self._worked = worked_of(self.work, self.progress)
            known = self._hands[key] = Hand(
                role=role,
                person=person if who is not None else "",
                qualifications=who.qualifications if who is not None else (),
                worked=self._worked.get((person, material, steps), NO_WORK),
            )
        return known

    def _lots_used(self, j: _Joint) -> _Cause:
        making = j.making
        card = self._cards.get(j.cards[0])
        cards = j.cards if card is not None else ("",)
        life = card.open_life if card else None
        used = tuple(u for told in making.lots for u in self._lots.of(told, making))
        first, last = self._days(making)
        # Of joints of one day the last one made meets cans that have stood open the longest.
        return (
            (used, making.lots_alone, cards, j.place.material, j.steps, first, last),
            making.latest.timestamp(),
            lambda: LotsUsed(
                **j.about, lots=tuple(replace(u, opened_needed=life is not None) for u in used),
                lots_alone=making.lots_alone, cards=cards, card_material=card.material if card else "",
                card_steps=card.steps if card else "", material=j.place.material, steps=j.steps,
                first_day=first, last_day=last, latest=making.latest, open_life=life,
            ),
        )  # fmt: skip

    def _whole(self, j: _Joint) -> _Cause:
        making, size = j.making, j.place.size
        cards = [self._cards.get(name) for name in j.cards]
        bands = [self._band(card, size, making.joint_temperature) for card in cards]
        rows = j.procedure.hold if j.procedure else ()
        holds = [r.time for r in rows if within(size, r.size_lo, r.size_hi)]
        holds += [hold for _, hold, _ in bands if hold is not None]
        if any(silent for _, _, silent in bands):
            holds = []  # a card's own row may ask for longer, and is not known for this temperature
        inside = all(there for there, _, _ in bands)
        if len(making.temperatures) > 1:
            inside &= all(self._band(c, size, t)[0] for c in cards for t in making.temperatures)
        what, sure = self._goes_first(j.place)
        needed = (what,) if what else ()
        on = self._first_on(j.place, making, what, sure)
        hold, name = max(holds, default=None), cards[0].id if cards[0] else ""
        shown = (*making.out_of_order, *making.insisted, *(f"{a}, one person alone" for a in making.alone))
        return (
            (
                needed, on, making.held is None, making.held_from_home, hold,
                making.joint_temperature is None, inside, name, making.wet_out_of_order, shown,
            ),
            -(making.held or 0.0),
            lambda: WholeRecord(
                **j.about, first_needed=needed, first_on=on, held=making.held,
                held_from_home=making.held_from_home, hold=hold, temperature=making.joint_temperature,
                in_card=inside, card=name, wet_order=making.wet_out_of_order, shown=shown,
            ),
        )  # fmt: skip

    def _band(
        self, card: CementCard | None, size: Size, temperature: float | None
    ) -> tuple[bool, float | None, bool]:
        """Whether a card has waits there, how long it says to hold [s], and whether it says so elsewhere."""
        if card is None or temperature is None:
            return False, None, False
        key = (card.id, size, temperature)
        known = self._bands.get(key)
        if known is None:
            hold = card.hold(size, temperature)
            rows = any(r.kind == HOLD and within(size, r.size_lo, r.size_hi) for r in card.rows)
            known = (card.covers(size, temperature), hold.time if hold else None, rows and hold is None)
            self._bands[key] = known
        return known

    def _goes_first(self, place: JointPlace) -> tuple[str, bool]:
        """What goes on the pipe first, as it is recorded; and whether this end carries it for certain."""
        key = (place.socket[0], place.kind)
        known = self._first.get(key)
        if known is None:
            part, job = place.socket[0], self.work.job
            found = self.work.graph.parts.get(part) or self.work.cutting.couplings.get(part)
            what, sure = "", True
            if found is not None and place.kind is not JointKind.SADDLE:
                what, sure = goes_first(found, job.parts)
            known = self._first[key] = next((w for w in FIRST if w in what.split()), ""), sure
        return known

    def _first_on(self, place: JointPlace, making: Making, what: str, sure: bool) -> tuple[str, ...]:
        """What is recorded as on; where only one half carries it, at either joint of the part."""
        if sure or not what or what in making.first_on:
            return making.first_on
        others = (self.progress.makings.get(name) for name in self._of_part(place.socket[0]))
        return making.first_on + tuple(w for m in others if m is not None for w in m.first_on)


def _looked(making: Making) -> tuple[str, Look | None]:
    """How far the examinations of a joint count, and which of them says so."""
    looks = making.looks
    if not looks:
        return "not_looked", None
    # A refusal told late may have come after an acceptance.
    last = max(look.latest for look in looks)
    refused = next((look for look in looks if look.latest == last and not look.accepted), None)
    if refused is not None:
        return "refused", refused
    refusers = {look.who for look in looks if not look.accepted}
    why = [(_doubt(look, making, refusers), look) for look in looks if look.accepted]
    good = [look for doubt, look in why if not doubt]
    return ("accepted", good[-1]) if good else why[-1]


def _doubt(look: Look, making: Making, refusers: set[str]) -> str:
    """Why an acceptance does not count; empty if it does."""
    if look.who in making.hands:
        return "maker"
    if not look.by:
        return "nobody"
    if look.alone or look.who in refusers:
        return "alone"
    if look.refused_points:
        return "points"
    return "before" if look.at < making.last_touched else ""
