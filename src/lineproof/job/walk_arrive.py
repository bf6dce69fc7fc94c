"""Arriving at a place of a walk: the run of pipe that leads to it, or the tie where none does."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import TYPE_CHECKING

from lineproof.floor.errors import BadInput
from lineproof.job.graph import Connection, Run, Tie, Vec
from lineproof.job.parts import Form
from lineproof.job.places import LEVEL, Face, Leg, Place, must
from lineproof.job.statements import Measure, Spot
from lineproof.sums.vectors import add, scale

if TYPE_CHECKING:
    from lineproof.job.walker import LineWalker

MATED = (Form.FLANGE, Form.STUB, Form.MALE, Form.FEMALE, Form.SPIGOT)
"""Ends that a pipe meets only by a part of ours."""


def arrive(w: LineWalker, build: Callable[[Vec, Vec], Place], place: Place) -> None:
    """End the open leg (or stand close by) at a new place and lay the run between."""
    leg = w.leg
    w.bench.recent.clear()
    if leg is None:
        arrive_close(w, build, place)
        return
    leave = must(place.leave)
    exact, length = leg.exact, leg.cc
    new = build(add(place.centre, scale(leg.way, length)), leg.way)
    if leg.end_measure in (Measure.FACE, Measure.STOP) and new.enter is not None:
        extra, known = measured(new.enter, leg.end_measure)
        exact = exact and known
        shift(w, new, scale(leg.way, extra))
        length += extra
    leave, enter = with_mates(w, place, new, leave, must(new.enter), leg.spot)
    lay(w, place, new, leave, enter, leg, length, exact=exact)
    stand(w, place, new, leg.way, length, exact=exact)


def arrive_close(w: LineWalker, build: Callable[[Vec, Vec], Place], place: Place) -> None:
    """A place that follows another without a dimension: as close as the two allow."""
    leave = place.leave
    if leave is None:
        raise BadInput("the line cannot go on from here", allowed="an end statement", next="end the line")
    spot = w.statements[w.index].spot
    came = leave.port.out
    new = build(place.centre, came)
    enter = must(new.enter)
    nothing = is_open(w, leave) or is_open(w, enter)  # the end of the part is the open end
    tie, gasketed = direct(leave.port.form, enter.port.form)
    deep, known = 0.0, True
    if not nothing and tie is None:
        if is_spigot(w, leave) and is_spigot(w, enter):
            raise BadInput(
                "two spigots do not go into each other", allowed="a coupling between them",
                next="write coupling before this",
            )  # fmt: skip
        leave, enter = with_mates(w, place, new, leave, enter, spot)
        deep = w.bench.exposed
    elif not nothing and tie is not None:
        deep = gap = w.bench.gasket(leave.port.size) if gasketed else 0.0
        if tie in (Tie.CEMENTED, Tie.THREADED):
            known = leave.port.depth is not None or enter.port.depth is not None
            deep = -max(leave.port.depth or 0.0, enter.port.depth or 0.0)
        if tie is Tie.FLANGED and "ringed" in (leave.port.face, enter.port.face):
            tie = Tie.RINGED
        ends = (leave.part, leave.port.name), (enter.part, enter.port.name)
        w.bench.connections.append(Connection(tie, *ends, w.head.name, gap))
    length = leave.reached + deep + enter.reached
    known = known and leave.off is not None and enter.off is not None
    shift(w, new, scale(came, length))
    if not nothing and tie is None:
        leg = Leg(came, length, spot, spool=w.bench.spool, spool_no=w.bench.spool_no)
        lay(w, place, new, leave, enter, leg, length, exact=known, close=True)
    stand(w, place, new, came, length, exact=known)


def stand(w: LineWalker, place: Place, new: Place, way: Vec, length: float, *, exact: bool) -> None:
    """Stand at the new place, and count on what is known of where it is."""
    w.walked_end = add(place.centre, scale(way, length))
    if w.station is not None:
        w.station += length * math.hypot(way[0], way[1])
    w.exact = w.exact and exact
    if not exact and abs(way[2]) > LEVEL and w.bench.datum:
        # an unmeasured length that goes up or down: heights from here on are provisional
        w.bench.datum = False
        for part_id in w.bench.recent:
            w.bench.parts[part_id] = replace(w.bench.parts[part_id], datum=False)
    w.place, w.leg = new, None


def shift(w: LineWalker, place: Place, by: Vec) -> None:
    """Move a place that was just built, with its parts."""
    place.centre = add(place.centre, by)
    for part_id in w.bench.recent:
        part = w.bench.parts[part_id]
        w.bench.parts[part_id] = replace(part, centre=add(part.centre, by))


def is_open(w: LineWalker, face: Face) -> bool:
    """Whether a line simply ends there."""
    part = w.bench.parts.get(face.part)
    return part is not None and part.kind == "ground" and face.port.form is Form.PLAIN and not part.fixed


def is_spigot(w: LineWalker, face: Face) -> bool:
    """Whether a plain end stands there that goes into a socket."""
    return face.port.form is Form.SPIGOT or (face.port.form is Form.PLAIN and not is_open(w, face))


def with_mates(
    w: LineWalker, place: Place, new: Place, leave: Face, enter: Face, spot: Spot
) -> tuple[Face, Face]:
    """The two faces with our flange, adapter or coupling put on where a pipe meets what is no socket."""
    if enter.port.form in MATED or is_spigot(w, enter):
        enter = w.bench.companion(enter, new.centre, w.key("mate-in"), spot)
    if leave.port.form in MATED or is_spigot(w, leave):
        kept = list(w.bench.recent)
        leave = w.bench.companion(leave, place.centre, w.key("mate-out"), spot)
        w.bench.recent[:] = kept  # the mate stays with the place behind
    return leave, enter


def lay(
    w: LineWalker,
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
    w.runs.append(
        Run(
            id=w.bench.new_id("R"),
            line=w.head.name,
            a=(leave.part, leave.port.name),
            b=(enter.part, enter.port.name),
            cc=length,
            off_a=leave.off,
            off_b=enter.off,
            depth_a=pipe_depth(leave),
            depth_b=pipe_depth(enter),
            start=place.centre,
            way=leg.way,
            size=w.size,
            material=w.head.material,
            series=w.head.series,
            file=w.file,
            spot=leg.spot,
            field=leg.taped,
            close=close,
            exact=exact,
            no_joint=tuple(leg.no_joint),
            saddles=tuple(leg.saddles),
            bells_ahead=w.bells_ahead,
            spool=leg.spool,
            spool_no=leg.spool_no,
            fixed_a=place.fixed,
            fixed_b=new.fixed,
        )
    )


def measured(face: Face, measure: Measure) -> tuple[float, bool]:
    """What to add to a dimension that runs to a face or stop, and whether it is measured. [m]"""
    if measure is Measure.FACE:
        return (face.off, True) if face.off is not None else (face.guess, False)
    if measure is Measure.STOP:
        if face.port.form is not Form.SOCKET:
            return face.reached, face.off is not None
        if face.off is not None and face.port.depth is not None:
            return face.off - face.port.depth, True
        return face.guess / 2, False
    return 0.0, True


def pipe_depth(face: Face) -> float | None:
    """How far the pipe enters: to the stop of a socket, 0 at a plain end. [m]"""
    return face.port.depth if face.port.form is Form.SOCKET else 0.0


def direct(a: Form, b: Form) -> tuple[Tie | None, bool]:
    """Whether two ends meet without pipe, and whether a gasket lies between."""
    bolted = (Form.FLANGE, Form.STUB)
    if a in bolted and b in bolted:
        return Tie.FLANGED, True
    if {a, b} == {Form.SOCKET, Form.SPIGOT} or {a, b} == {Form.SOCKET, Form.PLAIN}:
        return Tie.CEMENTED, False
    if {a, b} == {Form.MALE, Form.FEMALE}:
        return Tie.THREADED, False
    return None, False
