"""Applicators and tools of the order list, against the tool list.

How many joints an applicator lasts and how many pull-in tools a crew needs are assumptions of our own, said
on each row.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from lineproof.book.cement import pull_in
from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell, Reading
from lineproof.job.settings import Settings, matches, within
from lineproof.job.stock import Applicator
from lineproof.plan.joint_needs import Missing, lacks, would_help
from lineproof.plan.order_rows import Code, Group, Note, OrderRow, What, order_row

if TYPE_CHECKING:
    from lineproof.plan.joint_model import JointPlan
    from lineproof.plan.work import Work

JOINTS_PER_APPLICATOR = 10
"""Joints that one applicator makes before it is thrown away: own assumption."""
FACES = 2
"""Pipe end and socket are coated at the same time, each with its own applicators: own assumption."""
PULLERS_A_JOINT = 2
"""Two lever pullers opposite each other: usual arrangement, from memory."""
STRAPS_A_JOINT = 1
"""One strap set a joint: own assumption."""
SAME_WIDTH = 0.5e-3
"""Widths closer than this are one. [m]"""


def applicator_rows(joint_plans: Iterable[JointPlan], settings: Settings) -> list[OrderRow]:
    """Applicators by width.

    Parameters
    ----------
    joint_plans : iterable of JointPlan
    settings : Settings

    Returns
    -------
    list of OrderRow
        Narrow before wide; joints whose width cannot be told have a row without a count.
    """
    at_once: dict[float, int] = {}
    uses: dict[float, int] = {}
    narrow: set[float] = set()
    unknown: dict[Size, int] = {}
    for plan in joint_plans:
        brushes = plan.needs.brushes
        if brushes.width is None or brushes.per_face is None:
            unknown[plan.place.size] = unknown.get(plan.place.size, 0) + 1
            continue
        width = listed_width(brushes.width, settings.tools.applicators)
        uses[width] = uses.get(width, 0) + FACES * brushes.per_face
        at_once[width] = max(at_once.get(width, 0), FACES * brushes.per_face)
        if brushes.per_face > 1:
            narrow.add(width)
    rows = []
    for width in sorted(uses):
        held = [a for a in settings.tools.applicators if abs(a.width - width) < SAME_WIDTH]
        notes = [Note(Code.OWN_ASSUMPTION, number=JOINTS_PER_APPLICATOR), Note(Code.SHARED)]
        if width in narrow:
            notes.append(Note(Code.NARROW))
        rows.append(
            order_row(
                Group.APPLICATORS,
                What(kind="applicator", width=width),
                needed=max(at_once[width], math.ceil(uses[width] / JOINTS_PER_APPLICATOR)),
                in_yard=sum(a.count for a in held) if held else None,
                missing=[] if held else [lacks("applicators-in-hand", width=width)],
                notes=notes,
            )
        )
    for size, joints in unknown.items():
        rows.append(
            order_row(
                Group.APPLICATORS,
                What(kind="applicator", size=size),
                needed=None,
                missing=[lacks("applicator-width", size=size, joints=joints)],
                notes=[Note(Code.SHARED)],
            )
        )
    return rows


def listed_width(wanted: float, listed: Iterable[Applicator]) -> float:
    """The narrowest width on the tool list that is wide enough; the wanted width if none is.

    Parameters
    ----------
    wanted : float
        [m]
    listed : iterable of Applicator

    Returns
    -------
    float
        [m]
    """
    enough = [a.width for a in listed if a.count and a.width >= wanted - SAME_WIDTH]
    return min(enough, default=wanted)


def tool_rows(work: Work, joint_plans: Iterable[JointPlan]) -> list[OrderRow]:
    """Pullers, straps, saw and bevel tool for each size that is joined.

    Parameters
    ----------
    work : Work
    joint_plans : iterable of JointPlan

    Returns
    -------
    list of OrderRow
        Small sizes first; every crew that joins a size needs its own set.
    """
    settings = work.job.settings
    lines: dict[Size, dict[str, None]] = {}
    for plan in joint_plans:
        lines.setdefault(plan.place.size, {})[plan.place.line] = None
    rows: list[OrderRow] = []
    for size in sorted(lines):
        crews = _crews(settings, lines[size])
        reading = Reading()
        needed = pull_in(work.book, size, reading)
        if needed is not False:
            rows += _pulling(settings, size, crews, needed, reading.as_tuple())
        for kind in ("saw", "bevel tool"):
            rows.append(
                order_row(
                    Group.TOOLS,
                    What(kind=kind, size=size),
                    needed=crews,
                    missing=[lacks("tool-in-hand", kind=kind, size=size), *_no_crew(crews)],
                    notes=[Note(Code.NOT_ON_TOOL_LIST), Note(Code.OWN_ASSUMPTION), Note(Code.SHARED)],
                )
            )
    return rows


def _pulling(
    settings: Settings, size: Size, crews: int | None, called_for: bool | None, cells: tuple[Cell, ...]
) -> list[OrderRow]:
    tools = settings.tools
    pullers = [
        p
        for p in tools.pullers
        if p.size_lo is None or p.size_hi is None or within(size, p.size_lo, p.size_hi)
    ]
    straps = [s for s in tools.straps if within(size, s.size_lo, s.size_hi)]
    known = [] if called_for else [lacks("whether-a-pull-in-tool-is-called-for", size=size)]
    rows = []
    for kind, each, count in (
        ("puller", PULLERS_A_JOINT, sum(p.count for p in pullers)),
        ("strap set", STRAPS_A_JOINT, sum(s.count for s in straps)),
    ):
        rows.append(
            order_row(
                Group.TOOLS,
                What(kind=kind, size=size),
                needed=None if crews is None or not called_for else each * crews,
                in_yard=count if tools.pullers or tools.straps else None,
                missing=[*known, *_no_crew(crews), *_no_list(settings)],
                notes=[Note(Code.OWN_ASSUMPTION, number=each), Note(Code.SHARED)],
                cells=cells,
            )
        )
    return rows


def _no_list(settings: Settings) -> list[Missing]:
    return [] if settings.tools.pullers or settings.tools.straps else [lacks("tool-list")]


def _no_crew(crews: int | None) -> list[Missing]:
    return [] if crews is not None else [would_help("crews")]


def _crews(settings: Settings, lines: Mapping[str, None]) -> int | None:
    """Crews that work on any of these lines; None if no crew is named."""
    found = sum(
        not c.lines or any(matches(p, line) for p in c.lines for line in lines) for c in settings.crews
    )
    return found or None
