"""The cure ledger: both clocks of every made joint, section by section, each at its own pressure."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from lineproof.checks.curing import Cured
from lineproof.checks.moving import HandsOff
from lineproof.checks.registry import ask
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.progress import JointProgress, Progress
from lineproof.plan.cure_clocks import CureAsked, CureClocks
from lineproof.plan.joint_pressure import Heights
from lineproof.plan.joints import Planner
from lineproof.plan.model import JointPlace
from lineproof.plan.move_clock import MoveAsked, MoveClock
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import Work

UNPLACED = ""
"""Section of joints that are in none, or not on the drawing."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LedgerRow:
    """Both clocks of one joint.

    Parameters
    ----------
    joint : JointProgress
    place : JointPlace or None
        None for a joint that is not on the drawing.
    sections : tuple of str
        Test sections that hold it.
    pressure : float or None
        At the joint while its section stands at its planned pressure, gauge error added. [Pa]
    hands_off : HandsOff or None
        None where its size is not known.
    cured : Cured or None
    move, raised : Finding or None
        What MOV-02 and CUR-01 say of them; None where they cannot be asked.
    """

    joint: JointProgress
    place: JointPlace | None
    sections: tuple[str, ...]
    pressure: float | None
    hands_off: HandsOff | None = None
    cured: Cured | None = None
    move: Finding | None = None
    raised: Finding | None = None

    @property
    def is_cured(self) -> bool:
        """Whether its cure time for the planned pressure is over."""
        return self.raised is not None and self.raised.verdict is Verdict.GO


def cure_ledger(work: Work, progress: Progress, *, dampest: float | None = None) -> tuple[LedgerRow, ...]:
    """Both clocks of every joint that was made and stands, at the planned pressure of its section.

    Parameters
    ----------
    work : Work
        With named joints.
    progress : Progress
    dampest : float or None
        Highest relative humidity since the joints were made, as the one who asks says. [-]

    Returns
    -------
    tuple of LedgerRow
        In the order of the drawing, then joints that are not on it.
    """
    settings = work.job.settings
    places = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
    made = [n for n in places if progress.of(n).made]
    made += [n for n, joint in progress.joints.items() if n not in places and joint.made]
    if not made:
        return ()
    planner = Planner(work.graph, work.cutting, settings, work.book, work.job.parts)
    heights = Heights(work.graph, work.cutting, settings)
    move = MoveClock(progress, work.job.zone, dampest)
    rows: list[LedgerRow] = []
    asked: list[CureAsked] = []
    moves: list[MoveAsked] = []
    for name in made:
        joint, place = progress.of(name), places.get(name)
        if place is None:
            line = name.partition("/")[0]
            rows.append(
                LedgerRow(
                    joint=joint, place=None, sections=tuple(s.id for s in settings.sections_of(line)),
                    pressure=None,
                )
            )  # fmt: skip
            continue
        part, spigot = planner.part(place.socket[0]), planner.part(place.spigot[0])
        papers = planner.papers(place.line)
        mates = planner.mates(place, part, spigot, planner.heights.pieces.get(place.spigot[0]))
        pullers = planner.needs(mates, papers).pull_in.needed
        card = settings.card(joint.card) if joint.card else papers.card
        at = heights.pressure(place)
        other = part.line if part is not None else place.line
        moves.append(MoveAsked(joint=joint, size=place.size, card=card, pullers=pullers))
        rows.append(
            LedgerRow(
                joint=joint, place=place,
                sections=tuple(s.section for s in heights.stands(place.line, other)),
                pressure=at.pressure,
            )
        )  # fmt: skip
        asked.append(
            CureAsked(joint=joint, size=place.size, card=card, pressure=at.pressure, pullers=pullers)
        )
    hands_off = dict(zip((a.joint.id for a in moves), (f for f, _ in move.facts_of(moves)), strict=True))
    clocks = CureClocks(progress, work.job.zone, dampest)
    cured = dict(zip((a.joint.id for a in asked), clocks.facts_of(asked), strict=True))
    return tuple(_asked(row, hands_off.get(row.joint.id), cured.get(row.joint.id), work) for row in rows)


def _asked(row: LedgerRow, hands_off: HandsOff | None, cured: Cured | None, work: Work) -> LedgerRow:
    if hands_off is None or cured is None:
        return row
    return replace(
        row, hands_off=hands_off, cured=cured, move=ask("MOV-02", hands_off, work.book),
        raised=ask("CUR-01", cured, work.book),
    )  # fmt: skip


def by_section(rows: Sequence[LedgerRow], sections: Sequence[str]) -> Mapping[str, tuple[LedgerRow, ...]]:
    """The rows of each section; those in no section, or not on the drawing, stand under an empty name.

    Parameters
    ----------
    rows : sequence of LedgerRow
    sections : sequence of str
        Sections of the job, in their order.

    Returns
    -------
    mapping
        Without sections that have no row.
    """
    found = {s: tuple(r for r in rows if s in r.sections) for s in sections}
    found[UNPLACED] = tuple(r for r in rows if not r.sections)
    return {s: told for s, told in found.items() if told}


def governs(rows: Sequence[LedgerRow]) -> LedgerRow | None:
    """The joint that decides when a section may be raised: the worst, of those that wait the latest.

    Parameters
    ----------
    rows : sequence of LedgerRow

    Returns
    -------
    LedgerRow or None
        None for no rows.
    """

    def weight(row: LedgerRow) -> tuple[int, float]:
        f = row.raised
        if f is None:
            return int(Verdict.CANNOT_TELL), 0.0
        return int(f.verdict), f.until.timestamp() if f.until is not None else 0.0

    return max(rows, key=weight, default=None)
