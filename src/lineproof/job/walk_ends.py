"""Where a line starts and ends: equipment, branches, caps and blinds, and the check of a given end."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, DrawingMismatch
from lineproof.job.graph import Connection, Tie, Vec
from lineproof.job.parts import Form, Outlet, PartKind
from lineproof.job.places import NEAR_DEG, Face, Place, guess_reach, opposite
from lineproof.job.statements import End, EndKind, Ends, Spot, Starts
from lineproof.sums.vectors import add, angle_between, norm, scale, sub

if TYPE_CHECKING:
    from lineproof.job.walker import LineWalker


def on_start(w: LineWalker, s: Starts) -> None:
    """Set the start."""
    w.station = s.station
    end = s.end
    if end.kind is EndKind.BRANCH:
        start_at_branch(w, s)
        return
    if s.point is None:
        at: Vec = (0.0, 0.0, 0.0)
        w.exact = True
    else:
        at = (s.point.east, s.point.north, s.point.up)
    w.bench.datum = w.datum = s.point is not None
    w.openings.frames[w.head.name] = "" if s.point is not None else w.head.name
    way = s.facing.vector if s.facing else w.peek_way(at)
    if way is None:
        raise BadInput(
            "the start has no direction",
            allowed="facing north, south, east, west, up or down",
            next="add a facing",
        )
    w.heading = way
    place = make_end(w, end, at, way, s.spot)
    w.place = Place(at, leave=place, fixed=end.fixed)


def start_at_branch(w: LineWalker, s: Starts) -> None:
    """Start at the branch of a tee or saddle of another line."""
    label = s.end.name or w.head.name
    face, centre, size, exact, owner = take_branch(w, label)
    if size != w.size:
        raise DrawingMismatch(
            f"line {w.head.name} is {w.size.text} but the branch {label} of {owner} is {size.text}",
            allowed="the same size at both, or a reduce",
            next="correct one of them",
        )
    w.exact = exact
    w.openings.frames[w.head.name] = w.openings.frames[owner]
    w.bench.datum = w.datum = label in w.openings.on_datum
    w.heading = face.port.out
    if s.facing and angle_between(s.facing.vector, face.port.out) > math.radians(NEAR_DEG):
        raise DrawingMismatch(
            f"the branch {label} of {owner} does not face {s.facing}", allowed="the way its tee was drawn",
            next="correct the facing or the tee",
        )  # fmt: skip
    w.place = Place(centre, leave=face)


def take_branch(w: LineWalker, label: str) -> tuple[Face, Vec, Size, bool, str]:
    """Take a branch label; each may be used once."""
    opening = w.openings.by_label.get(label)
    if opening is None:
        known = ", ".join(sorted(set(w.openings.by_label) - w.openings.used)[:8]) or "none is open"
        raise BadInput(
            f"no tee or saddle carries the label {label}",
            allowed=known,
            next="name a branch that a tee opens",
        )
    if label in w.openings.used:
        raise DrawingMismatch(
            f"the branch {label} is used by two lines", allowed="one line a branch", next="rename one of them"
        )
    w.openings.used.add(label)
    return opening


def make_end(w: LineWalker, end: End, at: Vec, way: Vec, spot: Spot) -> Face:
    """The parts at an end; ``way`` points from the end into our line."""
    size = end.size or w.size
    bench, key = w.bench, w.key
    kind = end.kind
    if kind in (EndKind.FLANGE, EndKind.SOCKET, EndKind.SPIGOT, EndKind.THREAD):
        form = {
            EndKind.FLANGE: Form.FLANGE,
            EndKind.SOCKET: Form.SOCKET,
            EndKind.SPIGOT: Form.PLAIN,
            EndKind.THREAD: Form.FEMALE,
        }[kind]
        if kind is EndKind.FLANGE and not end.fixed:
            return loose_flange(w, at, way, size, key("end"), spot, end.face)
        part = bench.ground(
            form, end.name, at, way, size, key("end"), spot,
            face=end.face, fixed=end.fixed or kind is not EndKind.FLANGE, may_unbolt=end.may_unbolt,
        )  # fmt: skip
        return bench.face(part, "b", at, 0.0)
    if kind is EndKind.OPEN:
        part = bench.ground(Form.PLAIN, end.name or "open end", at, way, size, key("end"), spot, fixed=False)
        return bench.face(part, "b", at, 0.0)
    if kind in (EndKind.CAP, EndKind.TEST_CAP):
        found = bench.find(PartKind.CAP, size)
        socket = found.outlets[0]
        cap_outlet = Outlet(socket.form, size, socket.depth, socket.depth)  # its centre is its stop
        port = bench.port("b", cap_outlet, way)
        part = bench.put(
            found, PartKind.CAP, "K", at, (port,), key("end"), spot, size=size,
            name="test cap" if kind is EndKind.TEST_CAP else "",
        )  # fmt: skip
        return bench.face(part, "b", at, guess_reach(size) / 2)
    return blind_end(w, kind, at, way, size, spot)


def loose_flange(w: LineWalker, at: Vec, way: Vec, size: Size, key: str, spot: Spot, face: str) -> Face:
    """Our own flange at a free end: its sealing face is the end."""
    bench = w.bench
    found = bench.find(PartKind.FLANGE, size)
    seal = found.outlets[0]
    ports = (
        bench.port("a", Outlet(seal.form, seal.size, 0.0, None, seal.face or face), opposite(way)),
        bench.port("b", found.outlets[1], way),
    )
    part = bench.put(found, PartKind.FLANGE, "F", at, ports, key, spot, size=size)
    return bench.face(part, "b", at, guess_reach(size) / 2)


def blind_end(w: LineWalker, kind: EndKind, at: Vec, way: Vec, size: Size, spot: Spot) -> Face:
    """Our flange with a blind on it; the blind alone where a flange or stub is there already."""
    bench = w.bench
    blind = bench.find(PartKind.BLIND, size)
    name = "test blind" if kind is EndKind.TEST_BLIND else ""
    before = w.place.leave if w.place is not None and w.leg is None else None
    if before is not None and before.port.form in (Form.FLANGE, Form.STUB):
        port = bench.port("b", Outlet(Form.FLANGE, size, 0.0, None, blind.outlets[0].face), way)
        part = bench.put(blind, PartKind.BLIND, "B", at, (port,), w.key("blind"), spot, size=size, name=name)
        return bench.face(part, "b", at, 0.0)
    back = add(at, scale(way, -bench.gasket(size)))
    port = bench.port("b", Outlet(Form.FLANGE, size, 0.0, None, blind.outlets[0].face), way)
    closed = bench.put(blind, PartKind.BLIND, "B", back, (port,), w.key("blind"), spot, size=size, name=name)
    face = loose_flange(w, at, way, size, w.key("end"), spot, "")
    ringed = "ringed" in (port.face, bench.parts[face.part].port("a").face)
    tie = Tie.RINGED if ringed else Tie.FLANGED
    bench.connections.append(
        Connection(tie, (closed.id, "b"), (face.part, "a"), w.head.name, bench.gasket(size))
    )
    return face


def on_end(w: LineWalker, s: Ends) -> None:
    """Close the line at its end and check a given point."""
    way = w.need_heading(s)
    end = s.end
    expected: Vec | None = None
    if end.kind is EndKind.BRANCH:
        face, centre, size, exact, owner = take_branch(w, end.name)
        if size != w.size:
            raise DrawingMismatch(
                f"line {w.head.name} is {w.size.text} but the branch {end.name} of {owner} is {size.text}",
                allowed="the same size at both, or a reduce", next="correct one of them",
            )  # fmt: skip
        into = w.leg.way if w.leg is not None else way
        if angle_between(opposite(into), face.port.out) > math.radians(NEAR_DEG):
            raise DrawingMismatch(
                f"the line does not come straight into the branch {end.name} of {owner}",
                allowed="a last leg against the way its tee points", next="turn with a go before the end",
            )  # fmt: skip
        w.arrive(lambda _at, _way: Place(centre, enter=face), s)
        w.exact = w.exact and exact
        if w.openings.frames[owner] == w.openings.frames[w.head.name]:
            expected = centre
    else:
        if s.point is not None:
            if w.openings.frames[w.head.name]:
                raise BadInput(
                    "an end point is given, but the line has no start point to measure it from",
                    allowed="at east, north, up on both or on neither",
                    next="give the start its point, or take the end's out",
                )
            expected = (s.point.east, s.point.north, s.point.up)
        w.arrive(
            lambda at, came: Place(at, enter=make_end(w, end, at, opposite(came), s.spot), fixed=end.fixed), s
        )
    if expected is not None:
        check_closure(w, expected)
    w.done = True
    w.heading = way


def check_closure(w: LineWalker, expected: Vec) -> None:
    """Compare the walked end with the given one."""
    walked = w.walked_end
    miss = sub(expected, walked)
    tolerance = w.step * (0.5 * max(w.dimensions, 1) + 0.5)
    if not w.exact:
        w.misclosure = miss
        return
    if norm(miss) > tolerance:
        parts = ", ".join(
            f"{w.say(abs(v))} {plus if v > 0 else minus}"
            for v, plus, minus in zip(miss, ("east", "north", "up"), ("west", "south", "down"), strict=True)
            if abs(v) > w.step / 2
        )
        raise DrawingMismatch(
            f"line {w.head.name} ends {w.say(norm(miss))} from where it is said to end:"
            f" it still wants {parts}",
            allowed=f"{w.say(tolerance)}, half a step for each of {w.dimensions} dimensions",
            next="check the dimensions of the walk against the drawing",
        )
    w.closed = True
    w.misclosure = miss
