"""The places of a walk between its ends: tees, valves, reducers, unions and what else sits in a line."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import TYPE_CHECKING

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.job.graph import Connection, Tie, Vec, Wait
from lineproof.job.parts import Form, Outlet, PartKind
from lineproof.job.places import LEVEL, NEAR_DEG, Face, Place, guess_reach, must, opposite
from lineproof.job.resolve import Found
from lineproof.job.statements import (
    Bells,
    Expansion,
    Inline,
    Mid,
    NoJoint,
    Put,
    Reduce,
    Saddle,
    Spool,
    Statement,
    Tee,
)
from lineproof.sums.vectors import add, angle_between, cross, dot, rotate_about, scale, sub, unit

if TYPE_CHECKING:
    from lineproof.job.walker import LineWalker


STRAIGHT_ON = math.cos(math.radians(30))
"""Cosine above which the way of a tee is the way the line goes, sloped or not (own rule)."""


def in_line(
    w: LineWalker, part_kind: PartKind, letter: str, s: Statement, *, lot: str, style: str = ""
) -> None:
    """A straight-through part of a type: coupling, union, repair coupling, expansion joint."""
    found = w.bench.find(part_kind, w.size, lot=lot)

    def build(at: Vec, way: Vec) -> Place:
        ports = (
            w.bench.port("a", found.outlets[0], opposite(way)),
            w.bench.port("b", found.outlets[-1], way),
        )
        part = w.bench.put(found, part_kind, letter, at, ports, w.key(), s.spot, size=w.size, style=style)
        guess = guess_reach(w.size) / 2
        return Place(at, w.bench.face(part, "a", at, guess), w.bench.face(part, "b", at, guess))

    w.arrive(build, s)
    set_heading(w)


def set_heading(w: LineWalker) -> None:
    """Head the way the last place faces."""
    if w.place is not None and w.place.leave is not None:
        w.heading = w.place.leave.port.out


def on_put(w: LineWalker, s: Put) -> None:
    """A tagged part."""
    row = w.bench.resolver.tagged(s.tag)
    if s.tag in w.openings.tags:
        raise BadInput(
            f"{s.tag} stands in the line already: {w.openings.tags[s.tag]}",
            allowed="one place for one tagged part", next="correct the tag, or give the other its own row",
        )  # fmt: skip
    if row is None:
        known = ", ".join(sorted(w.bench.resolver.catalogue.by_tag)[:8]) or "no tag is listed"
        raise BadInput(
            f"parts.csv has no part with the tag {s.tag}", allowed=known,
            next="add its row to parts.csv (measures may stay empty)",
        )  # fmt: skip
    wait = Wait.NONE if row.complete else Wait.NOT_MEASURED
    ends = row.outlets
    if len(ends) > 2 and ends[2].form is not Form.CLOSED:
        raise BadInput(
            f"{s.tag} has three ends, and a put part is walked through from one to the other",
            allowed="a part with two ends", next="walk it as a tee with the label of its branch",
        )  # fmt: skip
    if len(ends) > 1 and ends[0].size != w.size and ends[1].size == w.size:
        ends = (ends[1], ends[0])  # a reducer walked from its small end
    found = Found(row.type_key, row, wait, ends)
    turn = math.radians(row.angle_deg)

    def build(at: Vec, way: Vec) -> Place:
        out = way
        if row.kind is PartKind.ELBOW:
            nxt = w.peek_way(at)
            if nxt is None:
                raise BadInput(
                    f"the walk does not say which way {s.tag} turns", allowed="a go right after it",
                    next="write the go, or leave the elbow to the go that turns",
                )  # fmt: skip
            angle = angle_between(way, nxt)
            if abs(angle - turn) > math.radians(NEAR_DEG):
                raise BadInput(
                    f"{s.tag} turns {row.angle_deg:g} degrees but the walk turns {math.degrees(angle):.2f}",
                    allowed=f"{row.angle_deg:g} degrees", next="use another elbow or correct the leg",
                )  # fmt: skip
            out = rotate_about(way, unit(cross(way, nxt)), turn)
        same = {"material": row.material, "series": row.series}
        ports = [w.bench.port("a", ends[0], opposite(way), **same)]
        if len(ends) > 1 and ends[1].form is not Form.CLOSED:
            ports.append(w.bench.port("b", ends[1], out, **same))
        part = w.bench.put(
            found, row.kind, "V" if row.kind is PartKind.VALVE else "P", at, tuple(ports), w.key(), s.spot,
            size=row.size, size2=row.size2, angle_deg=row.angle_deg, name=s.tag,
            handle=s.handle.vector if s.handle else None, mixed=s.mixed, tagged=True,
        )  # fmt: skip
        guess = guess_reach(row.size)
        leave = w.bench.face(part, "b", at, guess) if len(ports) > 1 else None
        return Place(at, w.bench.face(part, "a", at, guess), leave)

    w.arrive(build, s)
    w.openings.tags[s.tag] = f"line {w.head.name}, {w.file} line {s.spot.line}"
    if len(ends) > 1 and ends[0].size == w.size:
        w.size = ends[1].size
    set_heading(w)


def on_tee(w: LineWalker, s: Tee) -> None:
    """A tee: three ways, two of them in line."""
    came = w.need_heading(s)
    named = s.way.vector
    size2 = s.size or w.size
    nxt = w.peek_way(w.position())
    limit = math.sin(math.radians(NEAR_DEG))
    same = dot(named, came) > STRAIGHT_ON
    if dot(named, came) < -STRAIGHT_ON:
        raise BadInput(
            "the tee's branch points back along the line", allowed="a way across the line, or straight on",
            next="correct the way of the branch",
        )  # fmt: skip
    if not same and abs(dot(named, came)) > limit:
        raise BadInput(
            "the branch of a tee is square to its run", allowed="a way square to the line",
            next="turn the branch, or use a part from parts.csv with its own angle",
        )  # fmt: skip
    run, side, back = w.size, size2, opposite(came)
    if same:
        if nxt is None or abs(dot(nxt, came)) > limit:
            raise BadInput(
                "the branch is named straight on, so the walk must turn here",
                allowed="a go across the line",
                next="write the go through the branch",
            )
        outs = (back, came, unit(sub(nxt, scale(came, dot(nxt, came)))))
        enter, leave, branch = "acb"
    else:
        square = unit(sub(named, scale(came, dot(named, came))))
        outs, (enter, leave, branch) = (back, came, square), "abc"
        if nxt is not None and dot(nxt, square) < limit - 1:
            # in by the branch: the run lies across, one end named, the other the way on
            outs, (enter, leave, branch) = (square, opposite(square), back), "cba"
            run, side = size2, w.size
    if branch != "c" and ((same and size2 != w.size) or guess_reach(size2) < guess_reach(w.size)):
        raise BadInput(
            "the walk turns in this tee, so its named outlet is on the run and has the run's size",
            allowed=w.size.text,
            next="leave out the size, and reduce after the tee",
        )
    bench = w.bench
    found = bench.find(PartKind.TEE, run, side, lot=s.lot)

    def build(at: Vec, _way: Vec) -> Place:
        ports = tuple(
            bench.port(name, outlet, out)
            for name, outlet, out in zip("abc", found.outlets, outs, strict=False)
        )
        part = bench.put(
            found, PartKind.TEE, "T", at, ports, w.key(), s.spot, size=run, size2=side, label=s.label
        )
        faces = {name: bench.face(part, name, at, guess_reach(run)) for name in "abc"}
        return Place(at, faces[enter], faces[leave], faces[branch])

    w.arrive(build, s)
    open_branch(w, s.label, size2)
    w.size = run if leave != "c" else side
    set_heading(w)


def open_branch(w: LineWalker, label: str, size: Size) -> None:
    """Make the branch of the place at hand known to other lines."""
    place = w.need_place()
    if label in w.openings.by_label:
        raise BadInput(
            f"two branches carry the label {label}", allowed="a label of its own for each", next="rename one"
        )
    w.openings.by_label[label] = (must(place.branch), place.centre, size, w.exact, w.head.name)
    if w.bench.datum:
        w.openings.on_datum.add(label)


def on_saddle(w: LineWalker, s: Saddle) -> None:
    """A saddle sits on the pipe of the open leg; the pipe goes on through it."""
    came = w.need_heading(s)
    leg, place = w.leg, w.need_place()
    if leg is None:
        raise BadInput("a saddle sits on a pipe", allowed="go ... then saddle", next="write the leg to it")
    out = s.way.vector
    if abs(dot(out, came)) > math.sin(math.radians(NEAR_DEG)):
        raise BadInput(
            "a saddle's outlet is square to the pipe", allowed="a way square to the line", next="turn it"
        )
    out = unit(sub(out, scale(came, dot(out, came))))
    at = add(place.centre, scale(leg.way, leg.cc))
    found = w.bench.find(PartKind.SADDLE, w.size, s.size, lot=s.lot)
    outlet = found.outlets[-1]
    if s.threaded:
        outlet = Outlet(Form.FEMALE, s.size, outlet.reach, outlet.depth)
    seat = w.bench.port("a", Outlet(Form.SADDLE, w.size, 0.0), opposite(out))
    port = w.bench.port("c", outlet, out)
    part = w.bench.put(
        found,
        PartKind.SADDLE,
        "S",
        at,
        (seat, port),
        w.key(),
        s.spot,
        size=w.size,
        size2=s.size,
        label=s.label,
    )
    leg.saddles.append((part.id, leg.cc))
    leg.no_joint.append((max(0.0, leg.cc - guess_reach(w.size)), leg.cc + guess_reach(w.size)))
    face = w.bench.face(part, "c", at, guess_reach(w.size))
    if s.label in w.openings.by_label:
        raise BadInput(
            f"two branches carry the label {s.label}",
            allowed="a label of its own for each",
            next="rename one",
        )
    w.openings.by_label[s.label] = (face, at, s.size, w.exact and leg.exact, w.head.name)
    if w.bench.datum and (leg.exact or abs(leg.way[2]) <= LEVEL):
        w.openings.on_datum.add(s.label)


def on_reduce(w: LineWalker, s: Reduce) -> None:
    """A reducing coupling or a bushing: the size changes here."""
    way = w.need_heading(s)
    old, new = w.size, s.size
    if old == new:
        raise BadInput(f"the line is {old.text} already", allowed="another size", next="leave the reduce out")
    kind = PartKind.BUSHING if s.bushing else PartKind.REDUCER
    if s.bushing and w.leg is not None:
        raise BadInput(
            "a bushing goes into a socket, and here it follows a pipe",
            allowed="reduce ... bushing right after a fitting, or a reducing coupling",
            next="leave out bushing",
        )
    big, small = (old, new) if guess_reach(old) > guess_reach(new) else (new, old)
    found = w.bench.find(kind, big, small, lot=s.lot)
    outlets = found.outlets if old == big else tuple(reversed(found.outlets))
    shift: Vec = (0.0, 0.0, 0.0)
    if s.flat is not None:
        flat = s.flat.vector
        if abs(dot(flat, way)) > math.sin(math.radians(NEAR_DEG)):
            raise BadInput(
                "the flat side of a reducer is square to the line",
                allowed="top, bottom or a side way",
                next="turn it",
            )
        half = (w.bore(big) - w.bore(small)) / 2
        flat = unit(sub(flat, scale(way, dot(flat, way))))
        shift = scale(flat, half if old == big else -half)

    def build(at: Vec, came: Vec) -> Place:

        ports = (
            w.bench.port("a", outlets[0], opposite(came)),
            replace(w.bench.port("b", outlets[1], came), shift=shift),
        )
        part = w.bench.put(
            found, kind, "Q" if s.bushing else "D", at, ports, w.key(), s.spot, size=big, size2=small
        )
        guess = guess_reach(big) / 2
        return Place(at, w.bench.face(part, "a", at, guess), w.bench.face(part, "b", at, guess))

    before, exact, datum = w.need_place(), w.exact, w.bench.datum
    w.arrive(build, s)
    if s.bushing:
        measure_from(w, before)
        w.exact, w.bench.datum = exact, datum
    if shift != (0.0, 0.0, 0.0):
        place = w.need_place()
        place.centre = add(place.centre, shift)
    w.size = new
    set_heading(w)


def measure_from(w: LineWalker, before: Place) -> None:
    """A bushing has no place on a drawing: what follows is measured from the fitting it sits in."""
    place, held = w.need_place(), must(before.leave)
    leave, enter = must(place.leave), must(place.enter)
    along = dot(sub(place.centre, before.centre), leave.port.out)
    sure = None not in (held.off, held.port.depth, enter.off, leave.off)
    off = (leave.off or 0.0) + along if sure else None
    place.leave = Face(leave.part, leave.port, off, leave.guess + along)
    place.centre = before.centre


def on_mid(w: LineWalker, s: Mid) -> None:
    """Coupling, union, flanges, stubs or a threaded pair in the line."""
    simple = {
        Inline.COUPLING: (PartKind.COUPLING, "C"),
        Inline.REPAIR: (PartKind.REPAIR, "C"),
        Inline.UNION: (PartKind.UNION, "U"),
        Inline.RINGED_UNION: (PartKind.UNION, "U"),
        Inline.TRUE_UNION: (PartKind.UNION, "U"),
    }
    if s.kind in simple:
        kind, letter = simple[s.kind]
        in_line(w, kind, letter, s, lot=s.lot, style=s.kind.value if kind is PartKind.UNION else "")
        return
    bench = w.bench
    threaded = s.kind is Inline.THREAD
    if threaded:
        first, second = (
            bench.find(k, w.size, lot=s.lot) for k in (PartKind.MALE_ADAPTER, PartKind.FEMALE_ADAPTER)
        )
        kinds, letter = (PartKind.MALE_ADAPTER, PartKind.FEMALE_ADAPTER), "M"
    else:
        kind = PartKind.STUB if s.kind is Inline.STUBS else PartKind.FLANGE
        first, second = (bench.find(kind, w.size, lot=s.lot) for _ in range(2))
        kinds, letter = (kind, kind), "F"
    ringed = s.kind is Inline.RINGED_FLANGES
    gap = 0.0 if threaded else bench.gasket(w.size)
    # the place of a threaded pair is the face of its female half; the male goes in beyond it
    engaged = max(first.outlets[1].depth or 0.0, second.outlets[1].depth or 0.0) if threaded else 0.0

    def build(at: Vec, way: Vec) -> Place:
        back = opposite(way)
        made = []
        for n, (found, kind, towards) in enumerate(zip((first, second), kinds, (back, way), strict=True)):
            # a flange lists its face first, an adapter its socket first
            seal, sock = (
                (found.outlets[1], found.outlets[0]) if threaded else (found.outlets[0], found.outlets[1])
            )
            centre = add(at, scale(towards, gap / 2 if not threaded or n else -engaged))
            names = ("a", "b") if n == 0 else ("b", "a")
            socket = bench.port(names[0], sock, towards)
            face = bench.port(names[1], seal, opposite(towards))
            made.append(
                bench.put(found, kind, letter, centre, (socket, face), w.key(str(n)), s.spot, size=w.size)
            )
        tie = Tie.THREADED if threaded else Tie.RINGED if ringed else Tie.FLANGED
        bench.connections.append(Connection(tie, (made[0].id, "b"), (made[1].id, "a"), w.head.name, gap))
        guess = guess_reach(w.size) / 2
        return Place(at, bench.face(made[0], "a", at, guess), bench.face(made[1], "b", at, guess))

    w.arrive(build, s)
    set_heading(w)


def on_expansion(w: LineWalker, s: Expansion) -> None:
    """An expansion joint."""
    in_line(w, PartKind.EXPANSION, "X", s, lot=s.lot)


def on_no_joint(w: LineWalker, s: NoJoint) -> None:
    """A stretch of the leg above without couplings or bells."""
    leg = w.leg
    if leg is None:
        raise BadInput(
            "no leg stands above", allowed="no joint right after its go", next="move it below its leg"
        )
    if s.end > leg.cc - leg.last_start + 1e-9:
        raise BadInput(
            "the stretch is longer than the leg above", allowed=f"up to {w.say(leg.cc - leg.last_start)}",
            next="correct the stretch",
        )  # fmt: skip
    leg.no_joint.append((leg.last_start + s.start, leg.last_start + s.end))


def on_bells(w: LineWalker, s: Bells) -> None:
    """Which way bells face from here."""
    w.bells_ahead = s.ahead


def on_spool(w: LineWalker, s: Spool) -> None:
    """A spool begins or ends."""
    w.bench.spool = s.name
    w.bench.spool_no += bool(s.name)
