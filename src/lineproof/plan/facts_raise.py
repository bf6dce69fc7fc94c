"""Facts for the checks of a section that is to be filled or taken to a pressure."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from functools import partial

from lineproof.checks.cement import ReadBack
from lineproof.checks.clocked import age
from lineproof.checks.conditions import CONDITIONS, HEARD_FOR, Condition, Heard, OnTheSpot
from lineproof.checks.pressure import Heights, Medium, Weakest
from lineproof.checks.raising import READ_WITHIN, CapThere, GaugeGood, SourceLimit, WallNow
from lineproof.checks.registry import About, ask
from lineproof.checks.section_state import (
    BOLTS,
    ISOLATED,
    RESTRAINT,
    Fresh,
    LookedAt,
    SectionEnd,
    SectionKnown,
)
from lineproof.floor.verdicts import Finding
from lineproof.job.duty import matches
from lineproof.job.parts import PartKind
from lineproof.job.progress import JointProgress, Progress
from lineproof.job.section_record import Said
from lineproof.plan.alike import Told
from lineproof.plan.cure_clocks import CureAsked
from lineproof.plan.facts_move import hold_facts, record_facts, tag_facts
from lineproof.plan.section_at import SectionAt
from lineproof.plan.section_reach import LINE

Facts = list[tuple[str, About]]
"""Id of a check and the facts it takes."""

_BOLTED = (PartKind.FLANGE, PartKind.STUB, PartKind.BLIND)


def section_facts(at: SectionAt) -> Facts:
    """Pressure, ends, source, gauge, restraint, bolts, grout and tags of a section.

    Parameters
    ----------
    at : SectionAt

    Returns
    -------
    list
    """
    asked, record, of = at.asked, at.record, at.section.id
    settings = at.work.job.settings
    caps = at.caps() or (None,)
    wall = min((c.wall_temperature for c in caps if c is not None), default=None)
    gauge = at.gauge
    lines = list(at.reach.lines)
    unplaced = tuple(n for n in lines if not all(p.datum for p in at.parts.get(n, [])))
    sources = {**record.sources}
    for other in at.others:
        sources |= {f"{name}, {other.id}": said for name, said in other.sources.items()}
    strongest = max(sources.items(), key=lambda s: s[1].value or 0.0, default=None)
    gaps = () if at.made_of else at.progress.gaps  # else each joint is asked for them
    unclear = {*gaps, *record.unclear, *(code for other in at.others for code in other.unclear)}
    found: Facts = [
        ("PRS-04", Medium(subject=of, section=of, medium=at.medium)),
        (
            "PRS-01",
            Weakest(
                subject=of, section=of, gauge=asked.gauge or "highest point", planned=gauge.reading,
                gauge_height=gauge.height, gauge_error=gauge.error,
                wall=wall, wall_by="pressure cap", density=at.density,
                parts=at.drawn.weakest(at.reach.lines),
            ),
        ),
        (
            "PRS-03",
            Heights(
                subject=of, section=of, gauge=asked.gauge or "highest point", gauge_height=gauge.height,
                unplaced=unplaced,
            ),
        ),
        *(
            (
                "RAI-01",
                CapThere(
                    subject=of, section=of, asked=gauge.reading, gauge_height=gauge.height,
                    gauge_error=gauge.error, place=cap.place if cap else "",
                    height=_height_of(at, cap.place) if cap else None, density=at.density,
                    cap=cap.pressure if cap else None, signed_by=cap.signed_by if cap else "",
                    engineer=settings.signs.engineer,
                ),
            )
            for cap in caps
        ),
        ("RAI-02", WallNow(subject=of, section=of, hottest=_hottest(at), signed_for=wall)),
        (
            "RAI-03",
            SourceLimit(
                subject=of, section=of, asked=gauge.reading, sources=tuple(sources),
                strongest=strongest[0] if strongest and record.sources else "",
                most=strongest[1].value if strongest and record.sources else None,
            ),
        ),
        (
            "RAI-11",
            SectionKnown(
                subject=of, section=of, unclear=tuple(sorted(unclear)), strays=tuple(j.id for j in at.strays),
                in_charge=settings.signs.test_in_charge,
            ),
        ),
        (
            "MOV-04",
            tag_facts(_names(at) if at.progress.tags else (), of, tuple(at.inside), at.work, at.progress),
        ),
    ]  # fmt: skip
    for end in at.reach.ends:
        said = record.ends.get(end.boundary)
        found.append(
            (
                "RAI-04",
                SectionEnd(
                    subject=end.boundary, section=of, boundary=end.boundary, another_line=end.what == LINE,
                    how=said.what if said else "", now=at.now,
                    looked=at.here(said.at if said else None),
                ),
            )
        )  # fmt: skip
    ends = {end.boundary for end in at.reach.ends}
    for name, said in record.ends.items():
        if name not in ends and said.what not in ISOLATED:  # an end under another name: a valve is a valve
            end_facts = SectionEnd(
                subject=name, section=of, boundary=name, another_line=False, how=said.what, now=at.now,
                looked=at.here(said.at),
            )  # fmt: skip
            found.append(("RAI-04", end_facts))
    if asked.gauge:
        found.append(("RAI-07", _gauge_facts(at)))
    looks = (
        (RESTRAINT, "RAI-08", _worse(record.restraint, (r.restraint for r in at.others))),
        (BOLTS, "RAI-10", _worse(record.bolts, (r.bolts for r in at.others))),
    )
    for what, id_, said in looks:
        if what == BOLTS and not any(p.kind in _BOLTED for p in at.parts_inside()):
            continue
        found.append(
            (
                id_,
                LookedAt(
                    subject=of, section=of, what=what, now=at.now,
                    looked=at.here(said.at if said else None),
                    good=bool(said and said.good), looked_by=said.who if said else "",
                    after=at.changed,
                ),
            )
        )  # fmt: skip
    for said in (*record.grout, *(g for other in at.others for g in other.grout)):
        ready = at.here(said.until)
        found.append(("RAI-09", Fresh(subject=of, section=of, what=said.what, now=at.now, ready=ready)))
    return found


def _worse(own: Said | None, others: Iterable[Said | None]) -> Said | None:
    """What was last found, or what was found bad in another section of the same lines."""
    return next((s for s in others if s is not None and not s.good), own)


def _height_of(at: SectionAt, place: str) -> float | None:
    """Height of the place a cap holds for: a part or gauge place by name, else the lowest point. [m]"""
    if not place:
        return at.lowest()
    heights = [
        min(p.centre[2], *(p.centre[2] + q.out[2] * (q.reach or 0.0) for q in p.ports))
        for p in at.parts_inside()
        if place in (p.name, p.id) and p.datum
    ]
    heights += [g.elevation for g in at.work.job.settings.gauges if g.id == place and g.elevation is not None]
    return min(heights, default=None)


def _hottest(at: SectionAt) -> float | None:
    """The hottest reading of pipe or joint in the section within two hours. [K]"""
    series = {id(s): s for name in at.inside for s in at.progress.of(name).readings.parts}
    now = at.now.timestamp()
    told = [
        float(value)
        for s in series.values()
        for readings in (s.held, s.late)
        for time, value in zip(readings.times, readings.values, strict=True)
        if 0.0 <= now - time <= READ_WITHIN.total_seconds()
    ]
    # A reading corrected, or of a clock that is ahead, shows no pipe that is cold, but maybe one that is hot.
    hot = [s.hot for s in series.values() if s.hot is not None]
    return max((*told, *hot)) if told else None


def _gauge_facts(at: SectionAt) -> GaugeGood:
    hung = at.hung()
    one = hung[0] if len(hung) == 1 else None
    place = at.work.job.settings.gauge(at.asked.gauge)
    apart = bool(
        one and place and one.elevation is not None and place.elevation is not None
        and abs(one.elevation - place.elevation) > 0.05
    )  # fmt: skip
    return GaugeGood(
        subject=at.asked.gauge, place=at.asked.gauge, gauges=tuple(g.id for g in hung),
        today=at.now.astimezone(at.work.job.zone).date(), asked=at.gauge.reading,
        due=one.due if one else None,
        error=one.error if one else None, full=one.full if one else None, other_place=apart,
        unclear=tuple(sorted({code for g in hung for code in g.unclear})),
    )  # fmt: skip


def _names(at: SectionAt) -> frozenset[str]:
    """Everything a hold tag could call the section by."""
    own = {
        at.section.id,
        *(r for r in _sections(at)),
        *at.reach.lines,
        *at.inside,
        *(j.id for j in at.strays),
    }
    for part in at.parts_inside():
        own |= {n for n in (part.id, part.name, part.spool) if n}
    own |= {p.id for p in at.work.cutting.pieces if p.id.partition("/")[0] in at.reach.lines}
    own |= {end.boundary for end in at.reach.ends}
    return frozenset(own)


def _sections(at: SectionAt) -> Iterable[str]:
    lines = at.reach.lines
    for section in at.work.job.settings.sections:
        if any(matches(p, line) for p in section.lines for line in lines):
            yield section.id


def spot_facts(at: SectionAt) -> Facts:
    """What only counts on the spot: writers heard, and answers of people.

    Parameters
    ----------
    at : SectionAt

    Returns
    -------
    list
    """
    found: Facts = []
    answers = at.record.conditions
    names = Counter(w.device for w in at.writers)
    for writer in at.writers:
        by_name = answers.get((HEARD_FOR, writer.device)) if names[writer.device] == 1 else None
        said = by_name or answers.get((HEARD_FOR, writer.id[:8]))
        found.append(
            (
                "RAI-05",
                Heard(
                    subject=writer.device, writer=writer.id[:8], device=writer.device, now=at.now,
                    here=writer.here, heard=writer.heard, answered=at.here(said.at if said else None),
                    good=bool(said and said.good), answered_by=said.who if said else "",
                ),
            )
        )  # fmt: skip
    for condition in CONDITIONS.values():
        if at.asked.verb not in condition.verbs:
            continue
        said = _worse(answers.get((condition.id, "")), _fresh_no(at, condition))
        nothing = condition.id == "nothing-since"
        ready = condition.id == "joints-ready"
        found.append(
            (
                "RAI-06",
                OnTheSpot(
                    subject=at.section.id, condition=condition.id, now=at.now, asker=at.asked.asker,
                    lead=at.work.job.settings.signs.lead, answered=at.here(said.at if said else None),
                    good=bool(said and said.good), answered_by=said.who if said else "",
                    place=said.place if said else "", since=at.here(said.since if said else None),
                    needed_since=at.here(at.since) if nothing else None,
                    after=at.changed if nothing or ready else None,
                ),
            )
        )  # fmt: skip
    return found


def _fresh_no(at: SectionAt, condition: Condition) -> Iterable[Said]:
    """A no to the same question in another section of the same lines, while an answer is good."""
    for other in at.others:
        said = other.conditions.get((condition.id, ""))
        if said is not None and not said.good and age(at.now, said.at) <= condition.good_for:
            yield said


def told_of_record(at: SectionAt, joint: JointProgress) -> list[Told]:
    """What MOV-01 and MOV-03 ask of a joint: its hold and its record.

    Parameters
    ----------
    at : SectionAt
    joint : JointProgress

    Returns
    -------
    list of Told
    """
    pulled = at.pullers(joint.id)
    made = joint.made or joint.cut_out
    hold = (made, joint.hold_ended is None, pulled, joint.pullers_off is None)
    own = joint.id if joint.disturbances else ""
    gaps = at.progress.gaps
    told = (joint.rejected, joint.cut_out, joint.unclear, gaps, own)
    place, known = at.inside[joint.id], Progress(now=at.progress.now, gaps=gaps)
    return [
        Told("MOV-01", hold, 0.0, partial(hold_facts, joint, pulled, at.work, for_pressure=True)),
        Told("MOV-03", told, 0.0, partial(record_facts, joint, place, known, joint.disturbances)),
    ]


def card_findings(at: SectionAt) -> list[Finding]:
    """The cards that the joints were made by: read back by another person.

    Parameters
    ----------
    at : SectionAt

    Returns
    -------
    list of Finding
    """
    named = dict.fromkeys((joint.card, at.inside[joint.id].line) for joint in at.made_of)
    cards = {card.id: card for name, line in named if (card := at.card(name, line)) is not None}
    told = [
        ReadBack(
            subject=c.id,
            card=c.id,
            typed_by=c.typed_by,
            read_back_by=c.read_back_by,
            changed=at.progress.changed_unread(c),
        )
        for c in cards.values()
    ]
    return [ask("CEM-06", each, at.work.book) for each in told]


def cure_request(at: SectionAt, joint: JointProgress) -> CureAsked:
    """What the pressure clock is asked of a joint, at its own pressure.

    Parameters
    ----------
    at : SectionAt
    joint : JointProgress

    Returns
    -------
    CureAsked
    """
    place = at.inside[joint.id]
    return CureAsked(
        joint=joint, size=place.size, card=at.card(joint.card, place.line),
        pressure=at.gauge.at(at.height(joint.id), at.density), pullers=at.pullers(joint.id),
    )  # fmt: skip
