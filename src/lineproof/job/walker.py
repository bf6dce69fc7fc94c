"""Walks one line: statements in order, places and runs out, nothing rounded.

Dimensions are centre to centre unless the walk says face, stop, end or wall. What cannot be placed
exactly because a fitting is unmeasured is placed with a provisional length and marked so; a piece
is never cut from that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field, replace

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.floor.shown import Shown, show_length
from lineproof.job import walk_ends, walk_legs, walk_places
from lineproof.job.graph import Connection, OffsetFact, Run, Tie, Turn, Vec
from lineproof.job.parts import Form
from lineproof.job.places import LEVEL, NEAR_DEG, SAME_DEG, Bench, Face, Leg, Place, must
from lineproof.job.statements import (
    Bells,
    Ends,
    Expansion,
    Go,
    Head,
    Measure,
    Mid,
    NoJoint,
    Offset,
    Put,
    Reduce,
    Saddle,
    Spool,
    Spot,
    Starts,
    Statement,
    Tee,
)
from lineproof.sums.vectors import add, angle_between, scale, unit

LISTED_ANGLES = (90.0, 45.0, 22.5, 11.25)
"""Elbow angles that are generally made (common practice, no source); parts.csv may add more. [deg]"""


@dataclass(slots=True)
class Openings:
    """Branches that wait for a line, by label."""

    by_label: dict[str, tuple[Face, Vec, Size, bool, str]] = field(default_factory=dict)
    """label -> face, centre of its place, size, exact, line that holds it"""
    used: set[str] = field(default_factory=set)
    on_datum: set[str] = field(default_factory=set)
    """Labels whose height stands on the drawing's datum."""
    frames: dict[str, str] = field(default_factory=dict)
    """line -> what its positions are measured from: the drawing's grid (""), or the start of that line"""


InvertBore = Callable[[Size, str, str], float]


class LineWalker:
    """Walks the statements of one line.

    Parameters
    ----------
    head : Head
        The line statement.
    file : str
    statements : list of Statement
        Those after the head, remarks left out.
    bench : Bench
        Where parts are made.
    openings : Openings
        Branch labels of all lines.
    bore : callable
        (size, material, series) to inside diameter, for inverts. [m]
    extra_angles : mapping
        Elbow angles that parts.csv lists beyond the usual, by size. [deg]
    step : float
        Rounding step of the drawing, for the closing tolerance. [m]
    shown : Shown
        How lengths are said in errors.
    """

    def __init__(
        self,
        head: Head,
        file: str,
        statements: list[Statement],
        bench: Bench,
        openings: Openings,
        bore: InvertBore,
        extra_angles: Mapping[Size, set[float]],
        step: float,
        shown: Shown,
    ) -> None:
        self.head = head
        self.file = file
        self.statements = statements
        self.bench = bench
        self.openings = openings
        self.find_bore = bore
        self.extra_angles = extra_angles
        self.step = step
        self.shown = shown
        self.size = head.size
        self.heading: Vec | None = None
        self.place: Place | None = None
        self.leg: Leg | None = None
        self.runs: list[Run] = []
        self.turns: list[Turn] = []
        self.offsets: list[OffsetFact] = []
        self.station: float | None = None
        self.bells_ahead: bool | None = None
        self.exact = True
        self.datum = False
        self.dimensions = 0
        self.closed: bool | None = None
        self.misclosure: Vec | None = None
        self.index = 0
        self.done = False
        self.walked_end: Vec = (0.0, 0.0, 0.0)

    def say(self, length: float) -> str:
        """A length as the job shows it. [m]"""
        return show_length(length, self.shown)

    def bore(self, size: Size) -> float:
        """Inside diameter of a size of this line's pipe. [m]"""
        return self.find_bore(size, self.head.material, self.head.series)

    @property
    def angles(self) -> tuple[float, ...]:
        """Elbow angles listed for the size at hand, largest first. [deg]"""
        return tuple(sorted({*LISTED_ANGLES, *self.extra_angles.get(self.size, ())}, reverse=True))

    def walk(self) -> None:
        """Walk all statements; an error names its line."""
        handlers: dict[type[Statement], Callable[..., None]] = {
            Starts: walk_ends.on_start,
            Go: walk_legs.on_go,
            Offset: walk_legs.on_offset,
            Put: walk_places.on_put,
            Tee: walk_places.on_tee,
            Saddle: walk_places.on_saddle,
            Reduce: walk_places.on_reduce,
            Mid: walk_places.on_mid,
            Expansion: walk_places.on_expansion,
            NoJoint: walk_places.on_no_joint,
            Bells: walk_places.on_bells,
            Spool: walk_places.on_spool,
            Ends: walk_ends.on_end,
        }
        for index, statement in enumerate(self.statements):
            self.index = index
            handler = handlers.get(type(statement))
            if handler is None:
                continue
            try:
                handler(self, statement)
            except LineproofError as error:
                raise error.at(
                    file=self.file, line=statement.spot.line, column=statement.spot.column
                ) from None

    def key(self, role: str = "") -> str:
        """Key of what the statement at hand makes: ordinal in the line and role."""
        return f"{self.index}:{role}"

    def need_place(self) -> Place:
        """The place the walk stands at or came from."""
        if self.place is None:
            raise BadInput(
                f"line {self.head.name} has not started",
                allowed="starts at ... first",
                next="add a starts statement",
            )
        return self.place

    def need_heading(self, statement: Statement) -> Vec:
        """The direction the walk is heading in."""
        if self.heading is None:
            raise BadInput(
                "the walk has no direction yet",
                allowed="a facing on the starts statement, or a go before this",
                next="say which way the end faces",
            ).at(line=statement.spot.line)
        return self.heading

    def peek_way(self) -> Vec | None:
        """Direction of the next leg, if it comes before the next place."""
        for s in self.statements[self.index + 1 :]:
            if isinstance(s, Go):
                return self.go_way(s)
            if isinstance(s, Offset):
                return None
            if not isinstance(s, (NoJoint, Bells, Spool)):
                return None
        return None

    @staticmethod
    def go_way(go: Go) -> Vec:
        """Direction of a leg as far as it is known without positions."""
        total: Vec = (0.0, 0.0, 0.0)
        for s in go.steps:
            total = add(total, scale(s.way.vector, s.length if s.length is not None else 1e-9))
        if len(go.steps) == 1:
            total = go.steps[0].way.vector
        if go.slope is not None and go.slope_way is not None:
            total = add(unit(total), scale(go.slope_way.vector, go.slope))
        return unit(total)

    def position(self) -> Vec:
        """Where the walk stands now (walked so far, centre-line)."""
        place = self.need_place()
        if self.leg is None:
            return place.centre
        return add(place.centre, scale(self.leg.way, self.leg.cc))

    def begin_leg(self, place: Place, way: Vec, length: float, spot: Spot, lot: str) -> None:
        """Start a leg, go on with the open one, or turn at its end."""
        leg = self.leg
        if leg is None:
            walk_legs.leave(self, place, way, spot)
            self.leg = Leg(way, length, spot, spool=self.bench.spool)
        else:
            angle = math.degrees(angle_between(leg.way, way))
            if leg.wants is not None and math.degrees(angle_between(leg.wants, way)) > NEAR_DEG:
                raise BadInput(
                    "after an offset the line goes on the way it was heading",
                    allowed="a go in the heading before the offset", next="write the go, then turn",
                )  # fmt: skip
            if angle <= SAME_DEG:
                leg.last_start = leg.cc
                leg.cc += length
            else:
                if leg.end_measure not in (Measure.CENTRE, Measure.FACE, Measure.STOP):
                    raise BadInput(
                        f"a leg measured to {leg.end_measure} cannot turn there",
                        allowed="centre, face or stop", next="measure to the centre of the elbow",
                    )  # fmt: skip
                walk_legs.turn(self, way, angle, spot, lot)
                self.leg = Leg(way, length, spot, spool=self.bench.spool)
        self.heading = way

    def arrive(self, build: Callable[[Vec, Vec], Place], s: Statement | None) -> None:
        """End the open leg (or stand close by) at a new place and lay the run between."""
        place, leg = self.need_place(), self.leg
        self.bench.recent.clear()
        if leg is None:
            self.arrive_close(place, build, s)
            return
        leave = must(place.leave)
        exact, length = True, leg.cc
        if leg.start_measure is not Measure.CENTRE:
            extra, exact = _measured(leave, leg.start_measure)
            length += extra
        new = build(add(place.centre, scale(leg.way, length)), leg.way)
        if leg.end_measure in (Measure.FACE, Measure.STOP) and new.enter is not None:
            extra, known = _measured(new.enter, leg.end_measure)
            exact = exact and known
            self.shift(new, scale(leg.way, extra))
            length += extra
        self.walked_end = add(place.centre, scale(leg.way, length))
        self.exact = self.exact and exact
        if not exact:
            self.lose_datum(leg.way)
        leave, enter = self.with_mates(place, new, leave, must(new.enter), leg.spot)
        self.lay(place, new, leave, enter, leg, length, exact=exact)
        self.place, self.leg = new, None

    def shift(self, place: Place, by: Vec) -> None:
        """Move a place that was just built, with its parts."""
        place.centre = add(place.centre, by)
        for part_id in self.bench.recent:
            part = self.bench.parts[part_id]
            self.bench.parts[part_id] = replace(part, centre=add(part.centre, by))

    def lose_datum(self, way: Vec) -> None:
        """An unmeasured length that goes up or down: heights from here on are provisional."""
        if abs(way[2]) <= LEVEL or not self.bench.datum:
            return
        self.bench.datum = False
        for part_id in self.bench.recent:
            self.bench.parts[part_id] = replace(self.bench.parts[part_id], datum=False)

    def arrive_close(self, place: Place, build: Callable[[Vec, Vec], Place], s: Statement | None) -> None:
        """A place that follows another without a dimension: as close as the two allow."""
        leave = place.leave
        if leave is None:
            raise BadInput("the line cannot go on from here", allowed="an end statement", next="end the line")
        came = leave.port.out
        new = build(place.centre, came)
        enter = must(new.enter)
        tie, gasketed = _direct(leave.port.form, enter.port.form)
        if tie is None:
            leave, enter = self.with_mates(place, new, leave, enter, self.statements[self.index].spot)
            length = leave.reached + enter.reached + self.bench.exposed
        else:
            gap = self.bench.gasket(leave.port.size) if gasketed else 0.0
            deep = gap
            if tie in (Tie.CEMENTED, Tie.THREADED):
                deep = -max(leave.port.depth or 0.0, enter.port.depth or 0.0)
            length = leave.reached + deep + enter.reached
            ringed = tie is Tie.FLANGED and "ringed" in (leave.port.face, enter.port.face)
            self.bench.connections.append(
                Connection(
                    Tie.RINGED if ringed else tie,
                    (leave.part, leave.port.name),
                    (enter.part, enter.port.name),
                    self.head.name,
                    gap,
                )
            )
        known = leave.off is not None and enter.off is not None
        if tie in (Tie.CEMENTED, Tie.THREADED):
            known = known and (leave.port.depth is not None or enter.port.depth is not None)
        self.shift(new, scale(came, length))
        if tie is None:
            spot = s.spot if s else self.statements[self.index].spot
            leg = Leg(came, length, spot, spool=self.bench.spool)
            self.lay(place, new, leave, enter, leg, length, exact=known, close=True)
        self.exact = self.exact and known
        if not known:
            self.lose_datum(came)
        self.walked_end = add(place.centre, scale(came, length))
        self.place = new

    def with_mates(self, place: Place, new: Place, leave: Face, enter: Face, spot: Spot) -> tuple[Face, Face]:
        """The two faces with our flange or adapter put on where pipe meets a flange or thread."""
        mates = (Form.FLANGE, Form.STUB, Form.MALE, Form.FEMALE)
        if enter.port.form in mates:
            enter = self.bench.companion(enter, new.centre, self.key("mate-in"), spot)
        if leave.port.form in mates:
            kept = list(self.bench.recent)
            leave = self.bench.companion(leave, place.centre, self.key("mate-out"), spot)
            self.bench.recent[:] = kept  # the mate stays with the place behind
        return leave, enter

    def lay(
        self,
        place: Place,
        new: Place,
        leave: Face,
        enter: Face,
        leg: Leg,
        length: float,
        *,
        exact: bool,
        close: bool = False,
    ) -> None:
        """Lay the run of pipe between two places."""
        self.runs.append(
            Run(
                id=self.bench.new_id("R"),
                line=self.head.name,
                a=(leave.part, leave.port.name),
                b=(enter.part, enter.port.name),
                cc=length,
                off_a=leave.off,
                off_b=enter.off,
                depth_a=_depth(leave),
                depth_b=_depth(enter),
                start=place.centre,
                way=leg.way,
                size=self.size,
                material=self.head.material,
                series=self.head.series,
                file=self.file,
                spot=leg.spot,
                field=leg.taped,
                close=close,
                exact=exact,
                no_joint=tuple(leg.no_joint),
                saddles=tuple(leg.saddles),
                bells_ahead=self.bells_ahead,
                spool=leg.spool,
                fixed_a=place.fixed,
                fixed_b=new.fixed,
            )
        )


def _measured(face: Face, measure: Measure) -> tuple[float, bool]:
    """What to add to a dimension that runs to a face or stop, and whether it is measured."""
    if measure is Measure.FACE:
        return (face.off, True) if face.off is not None else (face.guess, False)
    if measure is Measure.STOP:
        if face.off is not None and face.port.depth is not None:
            return face.off - face.port.depth, True
        return face.guess / 2, False
    return 0.0, True


def _depth(face: Face) -> float | None:
    """How far the pipe enters: to the stop of a socket, 0 at a plain end."""
    return face.port.depth if face.port.form is Form.SOCKET else 0.0


def _direct(a: Form, b: Form) -> tuple[Tie | None, bool]:
    """Whether two ends meet without pipe, and whether a gasket lies between."""
    bolted = (Form.FLANGE, Form.STUB)
    if a in bolted and b in bolted:
        return Tie.FLANGED, True
    if {a, b} == {Form.SOCKET, Form.SPIGOT} or {a, b} == {Form.SOCKET, Form.PLAIN}:
        return Tie.CEMENTED, False
    if {a, b} == {Form.MALE, Form.FEMALE}:
        return Tie.THREADED, False
    return None, False
