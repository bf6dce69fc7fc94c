"""Legs of a walk: dimensions as vectors, elbows where the direction changes, offsets."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.graph import OffsetFact, Turn, Vec
from lineproof.job.parts import PartKind
from lineproof.job.places import LEVEL, NEAR_DEG, SAME_DEG, Place, guess_reach, must, opposite
from lineproof.job.statements import Basis, Go, Measure, Offset, Spot, Step, Way
from lineproof.sums.vectors import add, angle_between, cross, dot, norm, rotate_about, scale, sub, unit

if TYPE_CHECKING:
    from lineproof.job.walker import LineWalker


def on_go(w: LineWalker, go: Go) -> None:
    """Walk a leg; a change of direction makes the elbow at its start."""
    place = w.need_place()
    check_aim(w, go)
    vector = go_vector(w, go, w.position())
    length = norm(vector)
    if length <= 0:
        raise BadInput("the leg has no length", allowed="a length above zero", next="correct the length")
    way = unit(vector)
    if len(go.steps) > 1 and w.heading is not None and w.leg is not None:
        record_offset(w, go.spot, w.heading, vector)
    w.begin_leg(place, way, length, go.spot, go.lot, go.start_measure)
    leg = must(w.leg)
    leg.end_measure = go.end_measure
    leg.taped = leg.taped or go.field
    w.dimensions += len(go.steps)


def go_vector(w: LineWalker, go: Go, at: Vec) -> Vec:
    """The leg as a vector, lengths that an aim gives filled in."""
    total: Vec = (0.0, 0.0, 0.0)
    open_step: Step | None = None
    for s in go.steps:
        if s.length is None:
            open_step = s
        else:
            total = add(total, scale(s.way.vector, s.length))
    slope = 0.0
    if go.slope is not None and go.slope_way is not None:
        slope = go.slope_way.vector[2] * go.slope
    station = w.station_here()
    if go.to_station is not None:
        if station is None:
            raise BadInput(
                "a station is asked for but the start has none",
                allowed="starts at ... station 10+00", next="give the start a station",
            )  # fmt: skip
        along = go.to_station - station - math.hypot(total[0], total[1])
        total = fill(w, total, open_step, along, "station")
    aim = go.to_centre
    if go.to_invert is not None:
        aim = go.to_invert + w.bore(w.size) / 2
    if aim is not None:
        rise, what = aim - at[2], "elevation" if go.to_invert is None else "invert"
        if open_step is not None and open_step.way in (Way.UP, Way.DOWN):
            return fill(w, total, open_step, rise * open_step.way.vector[2], what)
        if slope and open_step is not None and go.to_station is None:
            total = fill(w, total, open_step, rise / slope, what)
        return (total[0], total[1], rise)
    if slope:
        plan = math.hypot(total[0], total[1])
        if plan <= 0:
            raise BadInput(
                "a slope needs a level direction", allowed="north, south, east or west with the slope",
                next="name a level direction",
            )  # fmt: skip
        # a station is counted in plan, however the slope is said
        in_plan = go.basis is Basis.PLAN or go.to_station is not None
        total = scale(total, 1.0 if in_plan else 1.0 / math.hypot(1.0, slope))
        total = (total[0], total[1], slope * math.hypot(total[0], total[1]))
    return total


def check_aim(w: LineWalker, go: Go) -> None:
    """Refuse an aim counted from a place that is not known before its fitting is."""
    leg = w.leg
    if leg is None or leg.end_measure not in (Measure.FACE, Measure.STOP):
        return
    heights = go.to_centre is not None or go.to_invert is not None
    if (heights and abs(leg.way[2]) > LEVEL) or (
        go.to_station is not None and math.hypot(leg.way[0], leg.way[1]) > LEVEL
    ):
        raise BadInput(
            f"the leg before runs to a {leg.end_measure}, so where this one begins hangs on the elbow",
            allowed="an elevation or station after a leg measured to a centre",
            next="give the leg before to its centre, or give this one a length",
        )


def fill(w: LineWalker, total: Vec, open_step: Step | None, length: float, what: str) -> Vec:
    """Give the step without a length the length that the aim asks for."""
    if open_step is None:
        raise BadInput(
            f"the leg has both its lengths and an aim ({what})", allowed="one direction without a length",
            next=f"leave out the length that the {what} gives",
        )  # fmt: skip
    if length <= 0:
        raise DrawingMismatch(
            f"going {open_step.way} does not lead to that {what}: it lies {w.say(-length)} behind",
            allowed="an aim ahead of where the walk stands", next=f"check the direction and the {what}",
        )  # fmt: skip
    return add(total, scale(open_step.way.vector, length))


def on_offset(w: LineWalker, s: Offset) -> None:
    """An offset: the advance is found from the angle."""
    heading = w.need_heading(s)
    if w.leg is None:
        raise BadInput(
            "an offset needs a leg before it, whose end is its first elbow",
            allowed="go ... then offset", next="write the leg up to the first elbow",
        )  # fmt: skip
    across: Vec = (0.0, 0.0, 0.0)
    for step in s.steps:
        across = add(across, scale(step.way.vector, step.length or 0.0))
    if abs(dot(unit(across), heading)) > math.sin(math.radians(NEAR_DEG)):
        raise BadInput(
            "an offset goes across the heading", allowed="directions square to the way the line heads",
            next="leave out the direction along the line: the advance is found",
        )  # fmt: skip
    true = norm(across)
    advance = true / math.tan(s.angle)
    vector = add(across, scale(heading, advance))
    record_offset(w, s.spot, heading, vector)
    place = w.need_place()
    w.begin_leg(place, unit(vector), norm(vector), s.spot, s.lot)
    leg = must(w.leg)
    leg.taped = s.field
    leg.wants = heading
    w.heading = heading
    w.dimensions += len(s.steps)


def record_offset(w: LineWalker, spot: Spot, heading: Vec, vector: Vec) -> None:
    """Note set, roll, true offset, advance, travel and roll angle."""
    advance = dot(vector, heading)
    across = sub(vector, scale(heading, advance))
    rise = across[2]
    side = norm((across[0], across[1], 0.0))
    w.offsets.append(
        OffsetFact(
            w.head.name,
            spot,
            abs(rise),
            side,
            norm(across),
            advance,
            norm(vector),
            math.atan2(side, rise),
        )
    )


def turn(w: LineWalker, way: Vec, angle: float, spot: Spot, lot: str) -> None:
    """Make the elbow (or the kinked coupling) at the end of the open leg."""
    came = must(w.leg).way
    bench = w.bench
    if angle <= NEAR_DEG:
        chosen: float | None = 0.0
        found = bench.find(PartKind.COUPLING, w.size, lot=lot)
        kind, letter, rigid = PartKind.COUPLING, "C", came
    else:
        nearest = min(w.angles, key=lambda a: abs(a - angle))
        chosen = nearest if abs(nearest - angle) <= NEAR_DEG else None
        found = bench.find(PartKind.ELBOW, w.size, angle_deg=chosen if chosen else round(angle, 2), lot=lot)
        kind, letter = PartKind.ELBOW, "E"
        axis = unit(cross(came, way)) if angle < 179.99 else opposite(came)
        rigid = rotate_about(came, axis, math.radians(chosen)) if chosen else way
        if angle >= 179.99:
            raise BadInput(
                "the leg turns straight back", allowed="a turn below 180 degrees", next="check the way"
            )

    def build(at: Vec, came: Vec) -> Place:
        ports = (
            bench.port("a", found.outlets[0], opposite(came)),
            bench.port("b", found.outlets[1], rigid),
        )
        part = bench.put(
            found,
            kind,
            letter,
            at,
            ports,
            w.key("turn"),
            spot,
            size=w.size,
            angle_deg=chosen or 0.0,
        )
        leftover = abs(angle - chosen) if chosen is not None else angle
        if chosen is None or leftover > SAME_DEG:
            w.turns.append(Turn(part.id, w.head.name, angle, chosen, leftover, w.angles, w.file, spot))
        guess = guess_reach(w.size)
        return Place(at, bench.face(part, "a", at, guess), bench.face(part, "b", at, guess))

    w.arrive(build, None)


def leave(w: LineWalker, place: Place, way: Vec, spot: Spot) -> None:
    """Check that the leg leaves the place the way its port faces."""
    face = place.leave
    if face is None:
        raise BadInput("the line cannot go on from here", allowed="an end statement", next="end the line")
    off = math.degrees(angle_between(face.port.out, way))
    if off > NEAR_DEG:
        raise BadInput(
            f"the leg leaves at {off:.1f} degrees to the end it comes from",
            allowed=f"the way that end faces, within {NEAR_DEG:g} degrees",
            next="turn with a go before or after it, so that an elbow has a place of its own",
        )
    if off > SAME_DEG:
        w.turns.append(Turn(face.part, w.head.name, off, 0.0, off, w.angles, w.file, spot))
