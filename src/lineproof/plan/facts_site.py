"""Facts for the checks of test sections and of the site."""

from __future__ import annotations

from dataclasses import replace

from lineproof.checks.pressure import (
    FITTING,
    OPENED,
    PIPE,
    Cap,
    Heights,
    InSection,
    Medium,
    Rated,
    Weakest,
    lowest,
)
from lineproof.checks.site import HotWorkNear, Storage, Weather
from lineproof.job.duty import Chemicals, Section, matches
from lineproof.job.graph import Part
from lineproof.job.parts import PartKind
from lineproof.plan.causes import Causes
from lineproof.plan.facts_joints import card_of
from lineproof.plan.facts_parts import every_part
from lineproof.plan.joint_pressure import SEAWATER, WATER
from lineproof.plan.names import kind_words
from lineproof.plan.subjects import Subjects
from lineproof.plan.work import Work

_OPENED = (PartKind.FLANGE, PartKind.STUB, PartKind.UNION, PartKind.VALVE, PartKind.BLIND)


def add_sections(causes: Causes, work: Work, names: Subjects) -> None:
    """The weakest part, the cap, heights and medium of every section; lines in no section."""
    settings = work.job.settings
    parts = parts_by_line(work)
    for section in settings.sections:
        lines = [n for n in work.graph.lines if any(matches(p, n) for p in section.lines)]
        if lines:
            _add_section(causes, work, names, section, lines, parts)
    for line in work.graph.lines:
        found = tuple(s.id for s in settings.sections_of(line))
        causes.add(
            "PRS-05",
            found,
            InSection(subject=line, line=line, sections=found),
            line,
            joints=names.of_line(line),
        )


def parts_by_line(work: Work) -> dict[str, list[Part]]:
    """Parts of each line, couplings of split legs included, on the datum where their run is.

    Parameters
    ----------
    work : Work

    Returns
    -------
    dict
    """
    parts: dict[str, list[Part]] = {}
    for part in every_part(work):
        on_run = (
            work.graph.runs.get(part.id.rpartition(".")[0]) if part.id in work.cutting.couplings else None
        )
        if on_run is not None:
            part = replace(part, datum=work.graph.parts[on_run.a[0]].datum)
        parts.setdefault(part.line, []).append(part)
    return parts


def _add_section(
    causes: Causes,
    work: Work,
    names: Subjects,
    section: Section,
    lines: list[str],
    parts: dict[str, list[Part]],
) -> None:
    settings = work.job.settings
    gauge = settings.gauge(section.gauge)
    cap = settings.cap_of(section.id)
    planned = section.pressure if section.pressure is not None else (gauge.pressure if gauge else None)
    height = gauge.elevation if gauge else None
    duties = [d for n in lines if (d := settings.duty(n)) is not None]
    joints = [j for n in lines for j in names.of_line(n)]
    design = max((d.design_temperature for d in duties if d.design_temperature is not None), default=None)
    sea = any(d.chemical is not None and d.chemical.name is Chemicals.SEAWATER for d in duties)
    causes.add(
        "PRS-01", section.id,
        Weakest(
            subject=section.id, section=section.id, gauge=section.gauge, planned=planned, gauge_height=height,
            gauge_error=gauge.error if gauge else None, wall=cap.wall_temperature if cap else design,
            wall_by="pressure cap" if cap else "design temperature", density=SEAWATER if sea else WATER,
            parts=lowest(tuple(r for n in lines for r in rated(work, names, n, parts.get(n, [])))),
        ),
        joints=joints,
    )  # fmt: skip
    causes.add(
        "PRS-02", section.id,
        Cap(
            subject=section.id, section=section.id, planned=planned, cap=cap.pressure if cap else None,
            signed_by=cap.signed_by if cap else "", engineer=settings.signs.engineer,
        ),
        joints=joints,
    )  # fmt: skip
    unplaced = tuple(n for n in lines if not all(p.datum for p in parts.get(n, [])))
    causes.add(
        "PRS-03", section.id,
        Heights(
            subject=section.id, section=section.id, gauge=section.gauge if gauge else "", gauge_height=height,
            unplaced=unplaced,
        ),
        joints=joints,
    )  # fmt: skip
    causes.add(
        "PRS-04",
        section.id,
        Medium(subject=section.id, section=section.id, medium=section.medium),
        joints=joints,
    )


def _bottom(part: Part) -> float | None:
    """Lowest of a part's centre and mouths; None if its height does not stand on the datum. [m]"""
    if not part.datum:
        return None
    ends = [part.centre[2] + p.out[2] * (p.reach or 0.0) for p in part.ports]
    return min(part.centre[2], *ends) if ends else part.centre[2]


def rated(work: Work, names: Subjects, line: str, parts: list[Part]) -> list[Rated]:
    """Everything of a line that holds pressure; what stands (equipment, walls) is not ours to rate.

    Parameters
    ----------
    work : Work
    names : Subjects
    line : str
    parts : list of Part
        Those of the line.

    Returns
    -------
    list of Rated
    """
    found = []
    for part in parts:
        if not isinstance(part.kind, PartKind):
            continue
        row = part.row
        slot = OPENED if part.kind in _OPENED else FITTING
        port = part.ports[0]
        found.append(
            Rated(
                name=part.name or part.id, what=kind_words(part), slot=slot, height=_bottom(part),
                rating=row.rating if row else None, rated_at=row.rating_temperature if row else None,
                size=part.size, material=port.material, series=port.series,
            )
        )  # fmt: skip
    laid = work.graph.lines[line]
    for run_id in laid.runs:
        run = work.graph.runs[run_id]
        ends = [work.graph.parts[p].datum for p in (run.a[0], run.b[0])]
        low = min(run.start[2], run.start[2] + run.way[2] * run.cc)
        found.append(
            Rated(
                name=names.between(run), what=f"pipe, {names.pipe_words(run)}", slot=PIPE,
                height=low if all(ends) else None, rating=None, rated_at=None, size=run.size,
                material=run.material, series=run.series,
                family=names.family(run.size, run.material, run.series, laid.od_family),
            )
        )  # fmt: skip
    return found


def add_site(causes: Causes, work: Work, names: Subjects) -> None:
    """Hot work, stated weather, storage."""
    settings = work.job.settings
    for n, hot in enumerate(settings.hot_work):
        for line in work.graph.lines:
            if hot.lines and not any(matches(p, line) for p in hot.lines):
                continue
            causes.add(
                "HOT-01", n,
                HotWorkNear(
                    subject=line, place=hot.place, kind=hot.kind, since=hot.since, until=hot.until,
                    first_day=names.first_day, last_day=names.last_day([line]),
                ),
                line, joints=names.of_line(line),
            )  # fmt: skip
    at = settings.conditions
    cards = [c for line in work.graph.lines if (c := card_of(work, line)) is not None]
    sizes = {j.size for j in names.joints}
    covers = bool(cards) and all(
        any(c.handling(size, at.pipe_temperature, at.humidity) is not None for c in cards) for size in sizes
    )
    causes.add(
        "WTH-01", "stated",
        Weather(
            subject=settings.job.id, temperature=at.pipe_temperature, humidity=at.humidity,
            joined=at.joined_temperature, card_covers=covers,
        ),
    )  # fmt: skip
    _add_stores(causes, work)


def _add_stores(causes: Causes, work: Work) -> None:
    settings = work.job.settings
    stores = {s.id: s for s in settings.stores}
    held: dict[str, float] = {}
    for can in settings.cans:
        volume = can.volume * (can.count + can.ordered)
        if not volume:
            continue
        if can.where not in stores:
            causes.add("STO-01", "", Storage(subject=can.id, store="", kind="", held=None), can.id)
            continue
        held[can.where] = held.get(can.where, 0.0) + volume
    for name, volume in held.items():
        store = stores[name]
        area = [s for s in stores.values() if s.kind == "cabinet" and s.where == store.where]
        causes.add(
            "STO-01", name,
            Storage(
                subject=name, store=name, kind=store.kind, held=volume, own_limit=store.limit,
                own_limit_by=store.source, cabinets=len(area),
            ),
        )  # fmt: skip
