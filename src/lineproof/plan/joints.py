"""Plans every joint: what it takes, who does what, at what pressure, and how long it waits.

Joints that are alike share what does not hang on their height, so a long line costs little more than a
short one.
"""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.job.cards import CementCard
from lineproof.job.graph import LineGraph, Part
from lineproof.job.parts import Catalogue
from lineproof.job.people import Crew, Procedure, within
from lineproof.job.settings import Settings
from lineproof.plan.joint_cement import plan_hands, plan_wet
from lineproof.plan.joint_first import line_zero
from lineproof.plan.joint_fit import Mates, plan_bond, plan_brushes, plan_fit, plan_pull
from lineproof.plan.joint_model import JointEnd, JointPlan
from lineproof.plan.joint_needs import Missing, Needs, lacks
from lineproof.plan.joint_pressure import Heights
from lineproof.plan.joint_times import Clocks
from lineproof.plan.model import Cutting, JointPlace, Piece


@dataclass(frozen=True, slots=True)
class LinePapers:
    """What a line's joints are made by: procedure, card, crews, and what of them is missing."""

    procedure: Procedure | None
    card: CementCard | None
    crews: tuple[Crew, ...]
    missing: tuple[Missing, ...]


class Planner:
    """Plans joints one by one and remembers what is alike.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    settings : Settings
    book : Book
    catalogue : Catalogue
    """

    def __init__(
        self, graph: LineGraph, cutting: Cutting, settings: Settings, book: Book, catalogue: Catalogue
    ) -> None:
        self.graph = graph
        self.cutting = cutting
        self.settings = settings
        self.book = book
        self.catalogue = catalogue
        self.heights = Heights(graph, cutting, settings)
        self.clocks = Clocks(book, settings.conditions)
        self._papers: dict[str, LinePapers] = {}
        self._needs: dict[Mates, Needs] = {}
        self._families: dict[tuple[str, Size, str, str], str] = {}

    def part(self, id: str) -> Part | None:
        """The part, a coupling of a split leg among them; None for a piece."""
        return self.graph.parts.get(id) or self.cutting.couplings.get(id)

    def papers(self, line: str) -> LinePapers:
        """Procedure, card and crews of a line."""
        known = self._papers.get(line)
        if known is None:
            duty = self.settings.duty(line)
            procedure = self.settings.procedure(duty.procedure) if duty else None
            card = self.settings.card(duty.cement) if duty else None
            missing = []
            if procedure is None:
                missing.append(lacks("procedure", line=line))
            known = self._papers[line] = LinePapers(
                procedure, card, self.settings.crews_for(line), tuple(missing)
            )
        return known

    def plan(self, j: JointPlace) -> JointPlan:
        """Plan one joint.

        Parameters
        ----------
        j : JointPlace

        Returns
        -------
        JointPlan
            Whatever cannot be told is None and named under ``missing``.
        """
        papers = self.papers(j.line)
        socket = self.part(j.socket[0])
        spigot = self.part(j.spigot[0])
        piece = self.heights.pieces.get(j.spigot[0])
        procedure, card = papers.procedure, papers.card
        needs = self.needs(self.mates(j, socket, spigot, piece), papers)
        pressure = self.heights.pressure(j)
        at = self.settings.conditions
        end = None if piece is None else piece.a if j.spigot[1] == "a" else piece.b
        missing = papers.missing
        one_step = "one-step" in (procedure.steps if procedure else "", card.steps if card else "")
        # the standard's rows are for PVC joined in two steps; for anything else none is shown beside
        as_printed = "" if one_step else j.material
        method = procedure.steps if procedure else ""
        if procedure is not None and not covers(procedure, j):
            missing = (
                *missing,
                lacks("procedure-range", procedure=procedure.id, size=j.size, material=j.material),
            )
        return JointPlan(
            place=j,
            socket=self.end(j.socket, socket),
            spigot=self.end(j.spigot, spigot),
            procedure=procedure.id if procedure else "",
            card=card.id if card else "",
            method=method,
            needs=needs,
            pressure=pressure,
            hold=self.clocks.hold(j.line, card, procedure, j.size),
            pullers_off=self.clocks.pullers(j.line, card, j.size, needs.pull_in.needed),
            hands_off=self.clocks.handling(j.line, card, j.size, as_printed),
            cure=self.clocks.cure(j.line, card, j.size, as_printed, pressure.pressure),
            line_zero=line_zero(j, socket, piece, self.graph, self.cutting.couplings, self.catalogue),
            temperature=at.pipe_temperature,
            humidity=at.humidity,
            second_mark=end.second_mark if end else None,
            allowed_shortfall=procedure.allowed_shortfall if procedure else None,
            other_missing=missing,
        )

    def mates(self, j: JointPlace, socket: Part | None, spigot: Part | None, piece: Piece | None) -> Mates:
        """The two sides as far as the tables care."""
        if piece is not None:
            goes_in = (piece.size, piece.material, piece.series)
        elif spigot is not None:
            port = spigot.port(j.spigot[1])
            goes_in = (port.size, port.material, port.series)
        else:
            goes_in = (j.size, j.material, j.series)
        return Mates(
            j.kind, j.size, j.depth, *goes_in, j.material, j.series, self.family(j.line, *goes_in),
            socket.row.hub if socket is not None and socket.row is not None else None,
            _kind_of(socket) if socket is not None else "bell", j.line,
        )  # fmt: skip

    def family(self, line: str, size: Size, material: str, series: str) -> str:
        """The OD family said for a pipe: by its line, else by its stock items; empty if nobody said."""
        key = (line, size, material, series)
        known = self._families.get(key)
        if known is None:
            laid = self.graph.lines.get(line)
            said = {s.od_family for s in self.settings.stock_for(size, material, series)}
            known = (laid.od_family if laid else "") or (said.pop() if len(said) == 1 else "")
            self._families[key] = known
        return known

    def needs(self, m: Mates, papers: LinePapers) -> Needs:
        """What the joint takes; joints that are alike share it."""
        known = self._needs.get(m)
        if known is None:
            settings, book = self.settings, self.book
            bond = plan_bond(m, book)
            brushes = plan_brushes(m, bond.od, settings.tools, book)
            wet = plan_wet(m, bond, papers.procedure, papers.card, book)
            hands = plan_hands(
                m, bond, brushes, wet, papers.procedure, papers.crews, papers.card, settings.conditions, book
            )
            pull = plan_pull(m, bond.od, settings.conditions.pipe_temperature, settings.tools, book)
            known = self._needs[m] = Needs(bond, plan_fit(m, book), brushes, wet, hands, pull)
        return known

    def end(self, end: tuple[str, str], part: Part | None) -> JointEnd:
        """One side as a fitter names it."""
        whose, port = end
        name = whose.rpartition("/")[2]
        if part is None:
            return JointEnd(whose, "piece", name, port)
        return JointEnd(
            whose, str(part.kind), name, port, part.angle_deg, part.name, part.lot, part.size, part.size2
        )


def _kind_of(part: Part) -> str:
    """Type and lot of a part in words, so that alike parts share what they miss."""
    angle = f" {part.angle_deg:g}" if part.angle_deg else ""
    lot = f", lot {part.lot}" if part.lot else ""
    return f"{part.kind}{angle} {part.size.text}{lot}"


def covers(procedure: Procedure, j: JointPlace) -> bool:
    """Whether a procedure is written for this material and size.

    Parameters
    ----------
    procedure : Procedure
    j : JointPlace

    Returns
    -------
    bool
        Sizes of the other kind (inch or metric) are not covered.
    """
    return procedure.material == j.material and within(j.size, procedure.size_lo, procedure.size_hi)


def joint_plans(
    graph: LineGraph, cutting: Cutting, settings: Settings, book: Book, *, catalogue: Catalogue
) -> tuple[JointPlan, ...]:
    """Plan every joint of a cutting.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    settings : Settings
    book : Book
    catalogue : Catalogue
        Rows of parts.csv.

    Returns
    -------
    tuple of JointPlan
        In the order of ``cutting.joints``.
    """
    planner = Planner(graph, cutting, settings, book, catalogue)
    return tuple(planner.plan(j) for j in cutting.joints)
