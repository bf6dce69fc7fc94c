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
from lineproof.plan.limits import AtJoint, at_bell, at_coupling, in_steps, longest
from lineproof.plan.marks import rotation_marks
from lineproof.plan.model import (
    Short,
    Shortage,
    State,
    Turned,
)
from lineproof.plan.split import Bit, refit, split
from lineproof.plan.tie import run_key
from lineproof.sums.growth import length_when_cut
from lineproof.sums.vectors import add, scale

UNMEASURED_BELL = 2.0
"""Outside diameters that an unmeasured bell is taken to be long at the most (own rule). [1]"""


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
        sockets = (run.depth_a > 0) + (run.depth_b > 0)
        gaps = cutting.stop_gap * sockets
        need = room if sockets == 2 else 0.0  # a free end has only to come out of its socket
        if face < need - 1e-9 or face + run.depth_a + run.depth_b - gaps <= 0.0:
            why = Short.MEET if face < -1e-9 else Short.CLOSE
            least = run.depth_a + run.depth_b + need
            self.shortages.append(Shortage(run.id, run.line, why, face, need, least))
            first.short, first.state = why, State.WAIT
            first.waits = ()
            return [first]
        total = face + run.depth_a + run.depth_b - gaps
        spread = sum((p.row.spread or 0.0) / 2 for p in (a, b) if p.row)
        tolerance = cutting.cut_error + (cutting.tape_error if run.field or taped else spread)
        if stock is None:
            first.bit, first.tolerance, first.short = Bit(0.0, total), tolerance, Short.NO_STOCK
            first.state = State.FIELD if run.field and not taped else State.CUT
            self.finish(first, self.growth(run, facts, taped), taped)
            return [first]
        return self.split_run(first, run, stock, total, tolerance, facts, taped)

    @staticmethod
    def depths_known(run: Run) -> bool:
        """Whether both sockets' depths are measured."""
        return run.depth_a is not None and run.depth_b is not None

    def waiting(
        self, first: Draft, run: Run, stock: StockItem | None, coupling: Part | None = None
    ) -> list[Draft]:
        """A run whose fittings are unmeasured: split provisionally so that its joints have names."""
        rough = max(run.cc, 0.0)
        if stock is None or stock.overall is None or rough <= stock.overall:
            return [first]
        guess = 0.5 * (self.facts(run.size, run.material, run.series).od or 0.0)
        try:
            bits = split(
                rough, stick=stock.overall, step_gain=-guess if stock.belled else 0.0, half=guess,
                least=guess, kept_free=run.no_joint, belled=stock.belled,
            )  # fmt: skip
        except PlanImpossible:
            first.short = Short.NO_ROOM
            return [first]
        made = self.join_bits(first, run, stock, bits, [coupling] if coupling else [])
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
        whole = stock.overall
        plain = longest(stock, cutting, bell=False)
        od = facts.od or 0.0
        made_pieces = self.kept.get(run.id, ())
        if whole is None or (plain is None and (made_pieces or total > whole - UNMEASURED_BELL * od)):
            first.state, first.short = State.WAIT, Short.BELL
            return [first]
        growth = self.growth(run, facts, taped)  # the sticks, too, are measured at the cutting temperature
        plain = (whole if plain is None else plain) / growth
        couplings: list[Part] = []
        bits: tuple[Bit, ...] = (Bit(0.0, total),)
        if total > plain + 1e-9 or made_pieces:
            if stock.belled:
                joint = at_bell(stock, cutting, od)
            else:
                couplings.append(self.coupling(run))
                if couplings[0].wait is not Wait.NONE:
                    first.state, first.waits = State.WAIT, (*first.waits, couplings[0].id)
                    return self.waiting(first, run, stock, couplings[0])
                joint = at_coupling(couplings[0].ports, cutting)
            stick = longest(stock, cutting, bell=stock.belled) or 0.0
            stick = in_steps(stick, whole, self.settings.shown.step) / growth
            try:
                bits = self.cut_leg(run, total, joint, stick, plain, belled=stock.belled)
            except PlanImpossible:
                for part in couplings:
                    del self.couplings[part.id]
                first.state, first.short = State.WAIT, Short.NO_ROOM
                self.shortages.append(
                    Shortage(run.id, run.line, Short.NO_ROOM, first.face_to_face, None, None)
                )
                return [first]
            if made_pieces:  # a made piece may be longer than the sticks are now: it is not cut again
                bits = tuple(replace(b, whole=b.length > stick + 1e-6) for b in bits)
            if couplings:
                couplings += [self.coupling(run) for _ in bits[2:]]
                bits = refit(bits, joint.gain, [at_coupling(c.ports, cutting).gain for c in couplings])
        bits = tuple(replace(b, whole=b.whole or abs(b.length * growth - whole) < 1e-6) for b in bits)
        made = self.join_bits(first, run, stock, bits, couplings)
        unmeasured = tuple(c.id for c in couplings if c.wait is not Wait.NONE)
        rest = made[0] if stock.belled and self.bells_back(run) else made[-1]
        for d in made:
            d.tolerance = tolerance
            d.state = State.FIELD if run.field and taped is None and d is rest else State.CUT
            self.finish(d, growth, taped)
            if unmeasured:
                d.state, d.exact, d.waits = State.WAIT, None, (*d.waits, *unmeasured)
        return made

    def cut_leg(
        self, run: Run, total: float, joint: AtJoint, stick: float, plain: float, *, belled: bool
    ) -> tuple[Bit, ...]:
        """The pipes of one leg, round those that are made; bells that face back are cut from the far end."""
        room = self.settings.cutting.exposed or 0.0
        least = joint.depth + max(run.depth_a or 0.0, run.depth_b or 0.0) + room
        shift = self.pipe_from(run)
        free = tuple((s - shift, e - shift) for s, e in run.no_joint)
        gap = self.stop_gap(run)  # joints.csv tells stretches from the stop, bits begin at the pipe's end
        kept = [(s - gap, e - gap) for s, e in self.kept.get(run.id, ())]
        back = belled and self.bells_back(run)
        if back:
            free = tuple((total - e, total - s) for s, e in free)
            kept = [(total - e, total - s) for s, e in reversed(kept)]

        def cut(length: float, start: float, last: bool) -> tuple[Bit, ...]:
            return split(
                length, stick=stick, step_gain=joint.gain, half=joint.half, least=least, belled=belled,
                kept_free=tuple((s - start, e - start) for s, e in free), last=plain if last else stick,
            )  # fmt: skip

        bits = split_round(total, kept, step_gain=joint.gain, cut=cut) if kept else cut(total, 0.0, True)
        if not back:
            return bits
        return tuple(Bit(total - b.start - b.length, b.length, b.bell) for b in reversed(bits))

    def pipe_from(self, run: Run) -> float:
        """Where the pipe of a run begins, from the run's start. [m]"""
        return (run.off_a or 0.0) - (run.depth_a or 0.0) + self.stop_gap(run)

    def stop_gap(self, run: Run) -> float:
        """From the stop of the socket where a run begins to its pipe; nothing at an open end. [m]"""
        return self.settings.cutting.stop_gap if run.depth_a else 0.0

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
        self, first: Draft, run: Run, stock: StockItem, bits: tuple[Bit, ...], couplings: list[Part]
    ) -> list[Draft]:
        """Drafts of a split run, tied by couplings or bells."""
        count = len(bits)
        first.bit = bits[0]
        if count == 1:
            first.of = 1
            return [first]
        belled = stock.belled
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
        while len(couplings) < count - 1:
            couplings.append(self.coupling(run))
        for n, part in enumerate(couplings):
            left, right = drafts[n], drafts[n + 1]
            left.b_part, left.b_port, left.b_depth = part.id, "a", part.ports[0].depth
            right.a_part, right.a_port, right.a_depth = part.id, "b", part.ports[-1].depth
            between = (left.bit.start + left.bit.length + right.bit.start) / 2
            centre = add(run.start, scale(run.way, self.pipe_from(run) + between))
            self.couplings[part.id] = replace(part, centre=centre)
        return drafts

    def growth(self, run: Run, facts: PipeFacts, taped: TapedGap | None) -> float:
        """Length when cut over length when joined: 1 unless the run lies between fixed points. [1]"""
        cond = self.settings.conditions
        if (
            run.id not in self.between or taped is not None or facts.alpha is None
            or cond.cut_temperature is None or cond.joined_temperature is None
        ):  # fmt: skip
            return 1.0
        return length_when_cut(
            length=1.0, alpha=facts.alpha, temperature_cut=cond.cut_temperature,
            temperature_joined=cond.joined_temperature,
        )  # fmt: skip

    @staticmethod
    def finish(d: Draft, growth: float, taped: TapedGap | None) -> None:
        """Length at the cutting temperature, and who taped it."""
        d.exact = d.bit.length * growth
        d.grown = d.exact - d.bit.length
        if taped is not None:
            d.taped = taped.who or "taped"
        if d.of > 1:
            d.face_to_face = None

    def turned(self, part: Part, port: str, way: Vec, facts: PipeFacts) -> tuple[Turned, ...]:
        """Rotation marks of a pipe end at a part."""
        return rotation_marks(part, port, way, facts.od, facts.flange_bolts)
