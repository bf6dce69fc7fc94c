"""Cuts the runs of a line graph into pieces, and names the joints that result.

Cut length = centre to centre less take-outs less stop gaps; take-out = centre to face less depth to the
stop, both from the same fitting. Length is corrected from the pipe temperature at cutting to that at
joining between fixed points; never to service.
"""

from __future__ import annotations

import math
import string
from collections.abc import Callable, Iterable, Mapping, Sequence

from lineproof.book.sizes import Size
from lineproof.floor.rounding import round_run, to_step
from lineproof.job.graph import LineGraph, Run
from lineproof.job.resolve import Resolver
from lineproof.job.settings import Settings
from lineproof.plan.draft import Draft, Drafter, PipeFacts, TapedGap
from lineproof.plan.fixity import untaped_groups
from lineproof.plan.kept import Stretch
from lineproof.plan.limits import longest
from lineproof.plan.model import (
    Cutting,
    JointPlace,
    Piece,
    PieceEnd,
    State,
    Turned,
)
from lineproof.plan.tie import Tier
from lineproof.sums.vectors import add, dot, scale

SAME_WAY = 0.99999
"""Cosine above which two runs share the carry of their rounding."""


def letters(n: int) -> str:
    """Letter name of the n-th piece: A ... Z, AA ...

    Parameters
    ----------
    n : int
        From 0. [-]

    Returns
    -------
    str
        Letters without I and O, which read as digits.
    """
    alphabet = [c for c in string.ascii_uppercase if c not in "IO"]
    name = ""
    n += 1
    while n:
        n, r = divmod(n - 1, len(alphabet))
        name = alphabet[r] + name
    return name


class Cutter:
    """Cuts all runs of a graph.

    Parameters
    ----------
    graph : LineGraph
    settings : Settings
        Stock, cutting and conditions.
    resolver : Resolver
        Deals out couplings for split legs after those of the walk.
    facts : callable
        (size, material, series, od_family) to :class:`PipeFacts`.
    taped : iterable of TapedGap
    made : frozenset of str
        Run ids that have a recorded piece: rounding restarts there.
    kept : mapping, optional
        Run id to the stretches of made pieces (``plan.kept.made_stretches``): they stay. [m]
    """

    def __init__(
        self,
        graph: LineGraph,
        settings: Settings,
        resolver: Resolver,
        facts: Callable[[Size, str, str], PipeFacts],
        taped: Iterable[TapedGap] = (),
        made: frozenset[str] = frozenset(),
        kept: Mapping[str, Sequence[Stretch]] | None = None,
    ) -> None:
        self.graph = graph
        self.settings = settings
        self.facts = facts
        self.made = made
        self.drafter = Drafter(graph, settings, resolver, facts, taped, kept)
        self.joints: list[JointPlace] = []

    def cut(self) -> Cutting:
        """Cut every run.

        Returns
        -------
        Cutting
            Pieces in walking order, joints, added couplings, shortages and runs without a field piece.
        """
        pieces: list[Piece] = []
        gasketed = frozenset(s.id for s in self.settings.stock if s.ends == "gasket bell")
        for line in self.graph.lines.values():
            drafts: list[Draft] = []
            for run_id in line.runs:
                drafts += self.drafter.drafts(self.graph.runs[run_id])
            made = self.round(drafts)
            pieces += made
            self.joints += Tier(self.graph, self.drafter.couplings, gasketed).joints(made, line.parts)
        field_runs = {p.run for p in pieces if p.state is State.FIELD or p.taped}
        field_runs |= {r.id for r in self.graph.runs.values() if r.field}
        return Cutting(
            pieces=tuple(pieces),
            joints=tuple(self.joints),
            couplings=self.drafter.couplings,
            runs=self.graph.runs,
            shortages=tuple(self.drafter.shortages),
            untaped=untaped_groups(self.graph, field_runs),
            between_fixed=self.drafter.between,
        )

    def round(self, drafts: list[Draft]) -> list[Piece]:
        """Round the pieces of one line with the carry, and name them."""
        step = self.settings.shown.step
        known = [d for d in drafts if d.exact is not None and not d.bit.whole]
        restart: list[bool] = []
        before: Draft | None = None
        for d in known:
            fresh = (
                before is None
                or d.run.id in self.made
                or before.run.id in self.made
                or (before.run is not d.run and self.apart(before.run, d.run))
            )
            restart.append(fresh)
            before = d
        rounded = round_run([d.exact or 0.0 for d in known], step, restart=restart)
        cuts = {id(d): r for d, r in zip(known, rounded, strict=True)}
        return [self.piece(d, n, cuts.get(id(d)), step) for n, d in enumerate(drafts)]

    @staticmethod
    def apart(a: Run, b: Run) -> bool:
        """Whether the carry stops between two runs: at a turn, a fixed face, a spool."""
        spools = (a.spool, a.spool_no) != (b.spool, b.spool_no)
        return dot(a.way, b.way) < SAME_WAY or a.fixed_b or b.fixed_a or (spools and bool(a.spool or b.spool))

    def piece(self, d: Draft, n: int, cut: float | None, step: float) -> Piece:
        """One piece from its draft."""
        run, cutting = d.run, self.settings.cutting
        facts = self.facts(run.size, run.material, run.series)
        stock = self.drafter.stock_for(run)
        if d.bit.whole:
            cut = d.exact
        if cut is not None and not d.bit.whole:
            if d.state is State.FIELD:
                cut = to_step(cut + cutting.field_extra, step)
            most = longest(stock, cutting, bell=d.bit.bell) if stock else None
            if most is not None and cut > most + 1e-9:
                cut = math.floor(most / step + 1e-9) * step  # as long as a stick gives
        bell_a, bell_b = self.bell_sides(d)

        def end(
            part: str, port: str, depth: float | None, turned: tuple[Turned, ...], bell: bool
        ) -> PieceEnd:
            second = None
            if depth and cutting.second_mark is not None and not bell:
                second = depth + cutting.second_mark
            return PieceEnd(part, port, depth, second, bell, not bell and bool(depth), turned)

        base = self.drafter.pipe_from(run)
        letter = letters(n)
        return Piece(
            id=f"{run.line}/{letter}",
            line=run.line,
            letter=letter,
            run=run.id,
            n=d.n,
            state=d.state,
            cut=cut,
            exact=d.exact,
            face_to_face=d.face_to_face,
            centre_to_centre=run.cc if d.of == 1 else d.bit.length,
            a=end(d.a_part, d.a_port, d.a_depth, d.a_turned, bell_a),
            b=end(d.b_part, d.b_port, d.b_depth, d.b_turned, bell_b),
            size=run.size,
            material=run.material,
            series=run.series,
            stock=stock.id if stock else "",
            start=add(run.start, scale(run.way, base + d.bit.start)),
            way=run.way,
            waits=d.waits if d.state is State.WAIT else (),
            short=d.short,
            whole=d.bit.whole,
            tolerance=d.tolerance,
            grown=d.grown,
            mass=None if cut is None or facts.mass_per_length is None else cut * facts.mass_per_length,
            spool=run.spool,
            taped=d.taped,
        )

    def bell_sides(self, d: Draft) -> tuple[bool, bool]:
        """Which end of a draft is a bell."""
        if not d.bit.bell:
            return False, False
        back = self.drafter.bells_back(d.run)
        return (back, not back)
