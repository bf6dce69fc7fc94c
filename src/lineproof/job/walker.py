"""Walks one line: statements in order, places and runs out, nothing rounded.

Dimensions are centre to centre unless the walk says face, stop, end or wall. What cannot be placed
exactly because a fitting is unmeasured is placed with a provisional length and marked so; a piece
is never cut from that.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.floor.shown import Shown, show_length
from lineproof.job import walk_arrive, walk_ends, walk_legs, walk_places
from lineproof.job.graph import OffsetFact, Run, Turn, Vec
from lineproof.job.places import NEAR_DEG, SAME_DEG, Bench, Face, Leg, Place, must
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
    tags: dict[str, str] = field(default_factory=dict)
    """Tag of a part that stands in a line -> where"""
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

    def peek_way(self, at: Vec) -> Vec | None:
        """Direction of the next leg from a point, if it comes before the next place."""
        for s in self.statements[self.index + 1 :]:
            if isinstance(s, Go):
                return unit(walk_legs.go_vector(self, s, at))
            if isinstance(s, Offset):
                return None
            if not isinstance(s, (NoJoint, Bells, Spool)):
                return None
        return None

    def position(self) -> Vec:
        """Where the walk stands now (walked so far, centre-line)."""
        place = self.need_place()
        if self.leg is None:
            return place.centre
        return add(place.centre, scale(self.leg.way, self.leg.cc))

    def station_here(self) -> float | None:
        """Station where the walk stands now; None if the start has none. [m]"""
        if self.station is None or self.leg is None:
            return self.station
        return self.station + self.leg.cc * math.hypot(self.leg.way[0], self.leg.way[1])

    def open_leg(self, way: Vec, length: float, spot: Spot, begins: Measure) -> None:
        """Open a leg at the place at hand; a dimension from its face or stop is made one from its centre."""
        extra, exact = 0.0, True
        if begins is not Measure.CENTRE:
            extra, exact = walk_arrive.measured(must(self.need_place().leave), begins)
        self.leg = Leg(
            way,
            extra + length,
            spot,
            exact=exact,
            last_start=extra,
            spool=self.bench.spool,
            spool_no=self.bench.spool_no,
        )

    def begin_leg(
        self, place: Place, way: Vec, length: float, spot: Spot, lot: str, begins: Measure = Measure.CENTRE
    ) -> None:
        """Start a leg, go on with the open one, or turn at its end."""
        leg = self.leg
        if lot and (leg is None or math.degrees(angle_between(leg.way, way)) <= SAME_DEG):
            raise BadInput(
                f"lot {lot} names the elbow at the start of this leg, and no elbow stands there",
                allowed="a lot on a leg that turns off the one above",
                next="write the lot after the part it is of",
            )
        if leg is None:
            walk_legs.leave(self, place, way, spot)
            self.open_leg(way, length, spot, begins)
        else:
            angle = math.degrees(angle_between(leg.way, way))
            if leg.wants is not None and math.degrees(angle_between(leg.wants, way)) > NEAR_DEG:
                raise BadInput(
                    "after an offset the line goes on the way it was heading",
                    allowed="a go in the heading before the offset", next="write the go, then turn",
                )  # fmt: skip
            if angle <= SAME_DEG:
                for measure, word in ((leg.end_measure, "to"), (begins, "from")):
                    if measure in (Measure.FACE, Measure.STOP):
                        raise BadInput(
                            f"a dimension {word} a {measure}, but the line goes straight on there",
                            allowed="a fitting there, or a dimension to its centre",
                            next="put the fitting in, or leave out the word",
                        )
                leg.last_start = leg.cc
                leg.cc += length
            else:
                if leg.end_measure not in (Measure.CENTRE, Measure.FACE, Measure.STOP):
                    raise BadInput(
                        f"a leg measured to {leg.end_measure} cannot turn there",
                        allowed="centre, face or stop", next="measure to the centre of the elbow",
                    )  # fmt: skip
                walk_legs.turn(self, way, angle, spot, lot)
                self.open_leg(way, length, spot, begins)
        self.heading = way

    def arrive(self, build: Callable[[Vec, Vec], Place], s: Statement | None) -> None:
        """End the open leg (or stand close by) at a new place and lay the run between."""
        if s is not None and self.leg is not None and self.leg.wants is not None:
            raise BadInput(
                "an offset ends at its second elbow, and nothing else stands there",
                allowed="a go in the heading before the offset", next="write the go, then the rest",
            )  # fmt: skip
        walk_arrive.arrive(self, build, self.need_place())
