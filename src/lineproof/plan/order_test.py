"""What each test section needs: blinds and caps, a vent at every high point, a drain at every low point.

High and low points are those of the centre-line: a level stretch is one place, and it is a high point if
nothing leads up from it, a low point if nothing leads down. A level line is both. A concentric reducer on the
level holds air under the crown of its larger side all the same: the centre-line does not show it.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from itertools import pairwise
from typing import TYPE_CHECKING, TypeVar

from lineproof.book.sizes import Size
from lineproof.job.graph import Connection, LineGraph, Part, Run
from lineproof.job.parts import Form, PartKind, TypeKey
from lineproof.job.settings import matches
from lineproof.job.stock import TestMaterial
from lineproof.plan.joint_needs import Missing, lacks
from lineproof.plan.order_model import TestSection, TurningPoint
from lineproof.plan.order_parts import is_test_item, yard
from lineproof.plan.order_rows import Code, Group, Note, OrderRow, What, order_row

if TYPE_CHECKING:
    from lineproof.plan.work import Work

T = TypeVar("T")

LEVEL_WAY = 1e-6
"""A run that rises less than this for its length is level. [1]"""
LEVEL_STEP = 1e-4
"""Two parts that meet closer in height than this are on a level. [m]"""
TEST_SET: tuple[tuple[str, int], ...] = (("gauge", 1), ("relief valve", 1), ("pump", 1), ("hose", 2))
"""For each section, hoses to fill and to vent: common practice, no source."""


class _Levels:
    """Parts joined into level stretches, and which of them something leads up or down from."""

    def __init__(self) -> None:
        self.parent: dict[str, str] = {}
        self.slopes: list[tuple[str, str]] = []

    def find(self, part: str) -> str:
        """The stretch a part lies on."""
        root = self.parent.setdefault(part, part)
        while root != self.parent[root]:
            root = self.parent[root]
        while part != root:
            self.parent[part], part = root, self.parent[part]
        return root

    def tie(self, low: str, high: str, *, level: bool) -> None:
        """Two parts that meet: on a level, or the second above the first."""
        a, b = self.find(low), self.find(high)
        if level:
            self.parent[max(a, b)] = min(a, b)
        else:
            self.slopes.append((low, high))

    def run(self, run: Run) -> None:
        """A run with the saddles on it."""
        ends = [run.a[0], *(part for part, _ in sorted(run.saddles, key=lambda s: s[1])), run.b[0]]
        rise = run.way[2]
        for one, other in pairwise(ends):
            low, high = (one, other) if rise >= 0 else (other, one)
            self.tie(low, high, level=abs(rise) <= LEVEL_WAY)

    def connection(self, c: Connection, parts: Mapping[str, Part]) -> None:
        """Two parts without pipe between them."""
        one, other = c.a[0], c.b[0]
        rise = parts[other].centre[2] - parts[one].centre[2]
        low, high = (one, other) if rise >= 0 else (other, one)
        self.tie(low, high, level=abs(rise) <= LEVEL_STEP)


def turning_points(graph: LineGraph, lines: Iterable[str]) -> tuple[TurningPoint, ...]:
    """High and low points of the centre-line of some lines, taken together.

    Parameters
    ----------
    graph : LineGraph
    lines : iterable of str

    Returns
    -------
    tuple of TurningPoint
        High points, then low points, each in walking order.
    """
    mine = set(lines)
    return _points(
        graph.parts,
        {part: n for n, part in enumerate(graph.parts)},
        [r for r in graph.runs.values() if r.line in mine],
        [c for c in graph.connections if c.line in mine],
    )


def _points(
    parts: Mapping[str, Part],
    walked: Mapping[str, int],
    runs: Iterable[Run],
    connections: Iterable[Connection],
) -> tuple[TurningPoint, ...]:
    levels = _Levels()
    for run in runs:
        levels.run(run)
    for c in connections:
        levels.connection(c, parts)
    up: set[str] = set()
    down: set[str] = set()
    for low, high in levels.slopes:
        up.add(levels.find(low))
        down.add(levels.find(high))
    stretches: dict[str, list[str]] = {}
    for part_id in sorted(levels.parent, key=walked.__getitem__):
        stretches.setdefault(levels.find(part_id), []).append(part_id)

    def point(members: list[str], *, high: bool) -> TurningPoint:
        part = parts[members[0]]
        return TurningPoint(
            high, part.line, part.id, tuple(members), part.centre[2], all(parts[m].datum for m in members)
        )

    highs = [point(m, high=True) for root, m in stretches.items() if root not in up]
    lows = [point(m, high=False) for root, m in stretches.items() if root not in down]
    return (*highs, *lows)


def sections_to_test(work: Work) -> tuple[TestSection, ...]:
    """Every section of job.toml, and the lines that are in none.

    Parameters
    ----------
    work : Work

    Returns
    -------
    tuple of TestSection
        A line in two sections counts for both.
    """
    graph = work.graph
    walked = {part: n for n, part in enumerate(graph.parts)}
    runs = _by_line((r.line, r) for r in graph.runs.values())
    ties = _by_line((c.line, c) for c in graph.connections)
    grounds = _by_line((p.line, p) for p in graph.parts.values() if p.kind == "ground")
    told: set[str] = set()
    found = []

    def one(name: str, lines: tuple[str, ...]) -> TestSection:
        ends = [p for line in lines for p in grounds.get(line, ())]
        loose = tuple(p.id for p in ends if p.ports[0].form is Form.PLAIN and not p.fixed)
        return TestSection(
            section=name,
            lines=lines,
            points=_points(
                graph.parts,
                walked,
                [r for line in lines for r in runs.get(line, ())],
                [c for line in lines for c in ties.get(line, ())],
            ),
            standing=tuple(p.id for p in ends if p.id not in loose),
            open_ends=loose,
        )

    for section in work.job.settings.sections:
        lines = tuple(n for n in graph.lines if any(matches(p, n) for p in section.lines))
        told.update(lines)
        found.append(one(section.id, lines))
    rest = tuple(n for n in graph.lines if n not in told)
    if rest:
        found.append(one("", rest))
    return tuple(found)


def _by_line(pairs: Iterable[tuple[str, T]]) -> dict[str, list[T]]:
    found: dict[str, list[T]] = {}
    for line, item in pairs:
        found.setdefault(line, []).append(item)
    return found


class _Shelf:
    """Test materials in hand, dealt out to the sections: those named for one first, then those for any."""

    def __init__(self, materials: Iterable[TestMaterial]) -> None:
        self.materials = tuple(materials)
        self.left = [m.count for m in self.materials]

    def take(self, kind: str, section: str, size: Size | None, wanted: int) -> int | None:
        """How many there are for a section, at most as many as wanted; None if the list is silent."""
        fits = [
            n
            for n, m in enumerate(self.materials)
            if m.kind == kind and m.section in ("", section) and (size is None or m.size in (None, size))
        ]
        if not fits:
            return None
        got = 0
        for n in sorted(fits, key=lambda n: not self.materials[n].section):
            taken = min(self.left[n], wanted - got)
            self.left[n] -= taken
            got += taken
        return got


def rows_for_test(work: Work, sections: Iterable[TestSection]) -> list[OrderRow]:
    """Test materials by section, against what job.toml says is in hand.

    Parameters
    ----------
    work : Work
    sections : iterable of TestSection

    Returns
    -------
    list of OrderRow
        What is in hand for a section is shown up to its need; what serves any section is dealt out in order.
    """
    settings, parts = work.job.settings, work.graph.parts
    shelf = _Shelf(settings.test_materials)
    spare = _spare(work)
    items = _by_line((p.line, p) for p in parts.values() if is_test_item(p))
    rows: list[OrderRow] = []
    for s in sections:
        rows += _closures(s, items, parts, shelf, spare)
        for kind, high in (("vent", True), ("drain", False)):
            points = [p for p in s.points if p.high is high]
            if points:
                rows.append(
                    _row(shelf, s, kind, None, Counter(p.line for p in points), tuple(p.part for p in points))
                )
        if s.section:
            rows += [
                order_row(
                    Group.TEST,
                    What(kind=kind, id=s.section),
                    needed=count,
                    in_yard=(held := shelf.take(kind, s.section, None, count)),
                    missing=_silent(held, kind, s.section),
                    notes=[Note(Code.COMMON_PRACTICE, number=count), Note(Code.SHARED)],
                )
                for kind, count in TEST_SET
            ]
    return rows


def _row(
    shelf: _Shelf,
    section: TestSection,
    kind: str,
    size: Size | None,
    by_line: Counter[str],
    places: tuple[str, ...],
    spare: int = 0,
) -> OrderRow:
    count = by_line.total()
    held = shelf.take(kind, section.section, size, count)
    if spare:
        held = min(count, (held or 0) + spare)
    return order_row(
        Group.TEST,
        What(kind=kind, id=section.section, size=size),
        needed=count,
        in_yard=held,
        by_line=by_line,
        missing=_silent(held, kind, section.section),
        notes=[Note(Code.PLACES, places, len(places)), *_loose(section)],
    )


def _loose(section: TestSection) -> list[Note]:
    return [] if section.section else [Note(Code.NO_SECTION, section.lines)]


def _silent(held: int | None, kind: str, section: str) -> list[Missing]:
    return [] if held is not None else [lacks("test-material", kind=kind, section=section)]


def _closures(
    section: TestSection,
    items: Mapping[str, list[Part]],
    parts: Mapping[str, Part],
    shelf: _Shelf,
    spare: Counter[TypeKey],
) -> list[OrderRow]:
    """Test blinds and caps of the walk, caps for open ends, and the ends at equipment."""
    groups: dict[tuple[str, Size, TypeKey | None], list[Part]] = {}
    for line in section.lines:
        for part in items.get(line, ()):
            kind = "blind" if part.kind is PartKind.BLIND else "cap"
            groups.setdefault((kind, part.size, part.type), []).append(part)
    for end in section.open_ends:
        groups.setdefault(("cap", parts[end].size, None), []).append(parts[end])
    rows = []
    for (kind, size, key), members in groups.items():
        over = 0 if key is None else min(spare[key], len(members))
        if key is not None:
            spare[key] -= over
        rows.append(
            _row(
                shelf, section, kind, size, Counter(p.line for p in members), tuple(p.id for p in members),
                over,
            )
        )  # fmt: skip
    if section.standing:
        rows.append(
            order_row(
                Group.TEST,
                What(kind="closure at equipment", id=section.section),
                needed=None,
                missing=[lacks("closure-for-the-test", end=end) for end in section.standing],
                notes=[Note(Code.PLACES, section.standing, len(section.standing))],
            )
        )
    return rows


def _spare(work: Work) -> Counter[TypeKey]:
    """Caps and blinds of parts.csv that the lines themselves do not need, by type."""
    keys = {p.type for p in work.graph.parts.values() if is_test_item(p) and p.type is not None}
    used = Counter(p.type for p in work.graph.parts.values() if p.type in keys and not is_test_item(p))
    found: Counter[TypeKey] = Counter()
    for key in keys:
        held = yard(work.job.parts.of_type(key))
        found[key] = max(0, (held or 0) - used[key])
    return found
