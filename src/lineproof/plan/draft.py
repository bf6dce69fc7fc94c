"""Drafts the pieces of each run: stop to stop, split into sticks, what it waits for; nothing is rounded."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from lineproof.book.sizes import Size
from lineproof.floor.errors import PlanImpossible
from lineproof.job.graph import LineGraph, Part, Port, Run, Vec, Wait
from lineproof.job.parts import Form, PartKind
from lineproof.job.places import opposite, top_line
from lineproof.job.resolve import Resolver
from lineproof.job.settings import Settings
from lineproof.job.stock import StockItem
from lineproof.plan.fixity import between_fixed
from lineproof.plan.kept import Stretch, split_round
from lineproof.plan.marks import rotation_marks
from lineproof.plan.model import (
    Short,
    Shortage,
    State,
    Turned,
)
from lineproof.plan.split import Bit, split
from lineproof.plan.tie import run_key
from lineproof.sums.growth import length_when_cut
from lineproof.sums.vectors import add, scale


@dataclass(frozen=True, slots=True)
class PipeFacts:
    """What the cutting needs to know of a pipe; None where the book has no row. [m, kg/m, 1/K]"""

    od: float | None
    mass_per_length: float | None
    alpha: float | None
    flange_bolts: int | None = None


@dataclass(frozen=True, slots=True)
class TapedGap:
    """A gap as taped: its two ends by part id, and the length between the mouths. [m]"""

    a: str
    b: str
    length: float
    who: str = ""


@dataclass(slots=True)
class Draft:
    """A piece before rounding."""

    run: Run
    bit: Bit
    n: int
    of: int
    a_part: str
    a_port: str
    b_part: str
    b_port: str
    a_depth: float | None
    b_depth: float | None
    a_turned: tuple[Turned, ...] = ()
    b_turned: tuple[Turned, ...] = ()
    exact: float | None = None
    grown: float = 0.0
    face_to_face: float | None = None
    state: State = State.CUT
    waits: tuple[str, ...] = ()
    short: Short = Short.NONE
    taped: str = ""
    tolerance: float | None = None
    offset: float = 0.0


class Drafter:
    """Drafts pieces run by run.

    Parameters
    ----------
    graph : LineGraph
    settings : Settings
        Stock, cutting and conditions.
    resolver : Resolver
        Deals out couplings for split legs after those of the walk.
    facts : callable
        (size, material, series) to :class:`PipeFacts`.
    taped : iterable of TapedGap
    kept : mapping, optional
        Run id to the stretches of pieces that are made; only what lies between them is cut anew. [m]
    """

    def __init__(
        self,
        graph: LineGraph,
        settings: Settings,
        resolver: Resolver,
        facts: Callable[[Size, str, str], PipeFacts],
        taped: Iterable[TapedGap] = (),
        kept: Mapping[str, Sequence[Stretch]] | None = None,
    ) -> None:
        self.graph = graph
        self.settings = settings
        self.resolver = resolver
        self.facts = facts
        self.taped = {(t.a, t.b): t for t in taped}
        self.kept = kept or {}
        self.between = between_fixed(graph)
        self.couplings: dict[str, Part] = {}
        self.added: dict[str, int] = {}
        self.shortages: list[Shortage] = []

    def stock_for(self, run: Run) -> StockItem | None:
        """The stock item a run is cut from: the one its line names, or the only one that fits."""
        duty = self.settings.duty(run.line)
        named = self.settings.stock_item(duty.stock) if duty and duty.stock else None

        def fits(item: StockItem) -> bool:
            return (item.size, item.material, item.series) == (run.size, run.material, run.series)

        if named is not None and fits(named):
            return named
        found = [s for s in self.settings.stock if fits(s)]
        return found[0] if len(found) == 1 else None

    def drafts(self, run: Run) -> list[Draft]:
        """The pieces of one run, unrounded."""
        cutting = self.settings.cutting
        a, b = self.graph.parts[run.a[0]], self.graph.parts[run.b[0]]
        waits = tuple(p.id for p in (a, b) if p.wait is not Wait.NONE)
        taped = self.taped.get((a.id, b.id)) or self.taped.get((b.id, a.id))
        face = taped.length if taped else run.face_to_face
        if not run.exact and taped is None:
            face = None
        first = Draft(run, Bit(0.0, 0.0), 1, 1, *run.a, *run.b, run.depth_a, run.depth_b, face_to_face=face)
        facts = self.facts(run.size, run.material, run.series)
        first.a_turned = self.turned(a, run.a[1], run.way, facts)
        first.b_turned = self.turned(b, run.b[1], run.way, facts)
        first.waits = waits
        stock = self.stock_for(run)
        if face is None or run.depth_a is None or run.depth_b is None or (waits and taped is None):
            first.state = State.WAIT
            return self.waiting(first, run, stock)
        if taped is not None and waits and not self.depths_known(run):
            first.state = State.WAIT
            return [first]
        room = cutting.exposed or 0.0
        gaps = cutting.stop_gap * ((run.depth_a > 0) + (run.depth_b > 0))
        least = run.depth_a + run.depth_b + room
        if face < room - 1e-9 and run.depth_a > 0 and run.depth_b > 0:
            why = Short.MEET if face < -1e-9 else Short.CLOSE
            self.shortages.append(Shortage(run.id, run.line, why, face, room, least))
            first.short, first.state = why, State.WAIT
            first.waits = ()
            return [first]
        total = face + run.depth_a + run.depth_b - gaps
        spread = sum((p.row.spread or 0.0) / 2 for p in (a, b) if p.row)
        tolerance = cutting.cut_error + (cutting.tape_error if run.field or taped else spread)
        if stock is None:
            first.exact, first.tolerance, first.short = total, tolerance, Short.NO_STOCK
            first.state = State.FIELD if run.field and not taped else State.CUT
            return [self.finish(first, run, facts, taped)]
        return self.split_run(first, run, stock, total, tolerance, facts, taped)

    @staticmethod
    def depths_known(run: Run) -> bool:
        """Whether both sockets' depths are measured."""
        return run.depth_a is not None and run.depth_b is not None

    def waiting(self, first: Draft, run: Run, stock: StockItem | None) -> list[Draft]:
        """A run whose fittings are unmeasured: split provisionally so that its joints have names."""
        rough = max(run.cc, 0.0)
        if stock is None or stock.overall is None or rough <= stock.overall:
            return [first]
        guess = 0.5 * (self.facts(run.size, run.material, run.series).od or 0.0)
        try:
            bits = split(
                rough, stick=stock.overall, step_gain=-guess if stock.ends != "plain" else 0.0, half=guess,
                least=guess, kept_free=run.no_joint, belled=stock.ends != "plain",
            )  # fmt: skip
        except PlanImpossible:
            first.short = Short.NO_ROOM
            return [first]
        made = self.join_bits(first, run, stock, bits, None)
        for d in made:
            d.state, d.exact = State.WAIT, None
        return made

    def split_run(
        self,
        first: Draft,
        run: Run,
        stock: StockItem,
        total: float,
        tolerance: float,
        facts: PipeFacts,
        taped: TapedGap | None,
    ) -> list[Draft]:
        """Split a run into sticks."""
        cutting = self.settings.cutting
        trim = stock.trim if stock.trim is not None else cutting.trim
        belled = stock.ends != "plain"
        overall = stock.overall
        if overall is None or (belled and stock.bell_depth is None and total > stock.length):
            first.state, first.short = State.WAIT, Short.BELL
            return [first]
        plain = self.longest_plain(stock) or 0.0
        od = facts.od or 0.0
        made_pieces = self.kept.get(run.id, ())
        if total <= plain + 1e-9 and not made_pieces:
            bits: tuple[Bit, ...] = (Bit(0.0, total, whole=abs(total - overall) < 1e-6),)
            coupling = None
        else:
            coupling = None if belled else self.coupling(run)
            if coupling is not None and coupling.wait is not Wait.NONE:
                first.state, first.waits = State.WAIT, (*first.waits, coupling.id)
                return self.waiting(first, run, stock)
            if belled:
                depth = stock.bell_depth or 0.0
                gain, half, inner = -(depth - cutting.stop_gap), max(depth, od / 2), depth
                stick = overall - trim
            else:
                port = _one(coupling).ports[0]
                gain = 2 * (_known(port.reach) - _known(port.depth)) + 2 * cutting.stop_gap
                half, inner = _known(port.reach) + 0.05, _known(port.depth)
                stick = plain
            lean = run.depth_b if run.depth_b else 0.0
            least = inner + max(lean, run.depth_a or 0.0) + (cutting.exposed or 0.0)
            free = run.no_joint
            back = belled and self.bells_back(run)
            shift = (run.off_a or 0.0) - (run.depth_a or 0.0)
            free = tuple((s - shift, e - shift) for s, e in free)
            if back:
                free = tuple((total - e, total - s) for s, e in free)

            def cut(length: float, start: float, last: bool) -> tuple[Bit, ...]:
                return split(
                    length, stick=stick, step_gain=gain, half=half, least=least, belled=belled,
                    kept_free=tuple((s - start, e - start) for s, e in free), last=plain if last else stick,
                )  # fmt: skip

            if back:
                made_pieces = [(total - e, total - s) for s, e in reversed(made_pieces)]
            try:
                bits = (
                    split_round(total, made_pieces, step_gain=gain, cut=cut)
                    if made_pieces
                    else cut(total, 0.0, True)
                )
            except PlanImpossible:
                first.state, first.short = State.WAIT, Short.NO_ROOM
                self.shortages.append(
                    Shortage(run.id, run.line, Short.NO_ROOM, first.face_to_face, None, None)
                )
                return [first]
            if made_pieces:  # a made piece may be longer than the sticks are now: it is not cut again
                bits = tuple(replace(b, whole=b.whole or b.length > stick + 1e-6) for b in bits)
            bits = tuple(replace(b, whole=b.whole or abs(b.length - overall) < 1e-6) for b in bits)
            if back:
                bits = tuple(
                    Bit(total - b.start - b.length, b.length, b.bell, b.whole) for b in reversed(bits)
                )
        made = self.join_bits(first, run, stock, bits, coupling)
        for n, d in enumerate(made):
            d.exact = d.bit.length
            d.tolerance = tolerance
            rest = made[0] if belled and self.bells_back(run) else made[-1]
            d.state = State.FIELD if run.field and taped is None and d is rest else State.CUT
            made[n] = self.finish(d, run, facts, taped)
        return made

    def longest_plain(self, stock: StockItem) -> float | None:
        """The longest pipe without a bell that a stick gives; None while its bell is unmeasured. [m]"""
        if stock.overall is None:
            return None
        trim = self.settings.cutting.trim if stock.trim is None else stock.trim
        bell = (stock.bell_reach or stock.bell_depth or 0.0) if stock.ends != "plain" else 0.0
        return stock.overall - bell - 2 * trim

    def bells_back(self, run: Run) -> bool:
        """Whether bells face back along this run: as said, else uphill, else ahead."""
        if run.bells_ahead is not None:
            return not run.bells_ahead
        return run.way[2] < -1e-6

    def coupling(self, run: Run) -> Part:
        """A coupling for a split leg, dealt out like any other fitting."""
        found = self.resolver.type(PartKind.COUPLING, material=run.material, series=run.series, size=run.size)
        n = self.added[run.id] = self.added.get(run.id, 0) + 1
        ports = tuple(
            Port(
                name,
                out,
                top_line(out),
                Form.SOCKET,
                run.size,
                run.material,
                run.series,
                outlet.reach,
                outlet.depth,
            )
            for name, out, outlet in (
                ("a", opposite(run.way), found.outlets[0]),
                ("b", run.way, found.outlets[-1]),
            )
        )
        part = Part(
            id=f"{run.id}.{n}", key=f"{run_key(self.graph, run)}~{n}", line=run.line, kind=PartKind.COUPLING,
            type=found.key, name="", centre=run.start, ports=ports, size=run.size, size2=None, angle_deg=0.0,
            row=found.row, wait=found.wait, file=run.file, spot=run.spot, spool=run.spool, lot=found.lot,
            datum=self.graph.parts[run.a[0]].datum,
        )  # fmt: skip
        self.couplings[part.id] = part
        return part

    def join_bits(
        self, first: Draft, run: Run, stock: StockItem, bits: tuple[Bit, ...], coupling: Part | None
    ) -> list[Draft]:
        """Drafts of a split run, tied by couplings or bells."""
        count = len(bits)
        first.bit = bits[0]
        if count == 1:
            first.of = 1
            return [first]
        belled = stock.ends != "plain"
        back = belled and self.bells_back(run)
        drafts = []
        for n, bit in enumerate(bits, 1):
            drafts.append(
                Draft(
                    run,
                    bit,
                    n,
                    count,
                    f"{run.id}#{n - 1}",
                    "b",
                    f"{run.id}#{n + 1}",
                    "a",
                    stock.bell_depth,
                    stock.bell_depth,
                    waits=first.waits,
                    short=first.short,
                )
            )
        drafts[0].a_part, drafts[0].a_port, drafts[0].a_depth = first.a_part, first.a_port, first.a_depth
        drafts[-1].b_part, drafts[-1].b_port, drafts[-1].b_depth = first.b_part, first.b_port, first.b_depth
        drafts[0].a_turned, drafts[-1].b_turned = first.a_turned, first.b_turned
        if belled:
            for d in drafts:
                d.bit = replace(d.bit, bell=(d.n > 1) if back else (d.n < count))
            return drafts
        couplings = [coupling] if coupling is not None else []
        while len(couplings) < count - 1:
            couplings.append(self.coupling(run))
        for n, part in enumerate(couplings):
            left, right = drafts[n], drafts[n + 1]
            left.b_part, left.b_port, left.b_depth = part.id, "a", part.ports[0].depth
            right.a_part, right.a_port, right.a_depth = part.id, "b", part.ports[-1].depth
            base = (run.off_a or 0.0) - (run.depth_a or 0.0)
            centre = add(
                run.start, scale(run.way, base + (left.bit.start + left.bit.length + right.bit.start) / 2)
            )
            self.couplings[part.id] = replace(part, centre=centre)
        return drafts

    def finish(self, d: Draft, run: Run, facts: PipeFacts, taped: TapedGap | None) -> Draft:
        """Joining temperature and taping."""
        cond = self.settings.conditions
        tied = run.id in self.between
        if (
            tied and d.exact is not None and taped is None and facts.alpha is not None
            and cond.cut_temperature is not None and cond.joined_temperature is not None
        ):  # fmt: skip
            longer = length_when_cut(
                length=d.exact, alpha=facts.alpha, temperature_cut=cond.cut_temperature,
                temperature_joined=cond.joined_temperature,
            )  # fmt: skip
            d.grown = longer - d.exact
            if not d.bit.whole:
                d.exact = longer
        if taped is not None:
            d.taped = taped.who or "taped"
        if d.of > 1:
            d.face_to_face = None
        return d

    def turned(self, part: Part, port: str, way: Vec, facts: PipeFacts) -> tuple[Turned, ...]:
        """Rotation marks of a pipe end at a part."""
        return rotation_marks(part, port, way, facts.od, facts.flange_bolts)


def _one(part: Part | None) -> Part:
    if part is None:
        raise PlanImpossible("a split leg has no coupling")
    return part


def _known(value: float | None) -> float:
    return 0.0 if value is None else value
