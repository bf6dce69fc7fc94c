"""From the tokens of one line to a draft of its statement: what may stand together, slot by slot."""

from __future__ import annotations

import math
import re
from typing import Any

from lark import Token, Transformer

from lineproof.floor.errors import Place, UnitMissing
from lineproof.floor.units import parse, parse_slope
from lineproof.job import statements as s
from lineproof.job.walk_values import (
    Draft,
    Slot,
    at,
    carry,
    check_aims,
    flag,
    length_of,
    level_of,
    named,
    need,
    number,
    placed,
    size_of,
    slip,
    slots_of,
    station_text,
    steps_of,
)

MATERIALS = {
    "pvc": "pvc", "pvc-u": "pvc", "pvcu": "pvc", "upvc": "pvc",
    "cpvc": "cpvc", "pvc-c": "cpvc", "pvcc": "cpvc",
}  # fmt: skip
OD_FAMILIES = ("ips", "irrigation", "cast-iron", "metric")
_WALL = re.compile(r"(?:sch|sdr|dr|s|pn|class)[\d.]+[a-z]?\Z")


class Builder(Transformer[Token, Draft]):
    """Called by the parser rule by rule; every method takes the children of its rule."""

    def start(self, children: list[Draft]) -> Draft:
        """Hand the one statement on."""
        return children[0]

    # ------------------------------------------------------------- words and values
    def way(self, children: list[Token]) -> Slot:
        """Read a direction."""
        return Slot("way", s.Way(children[0].lower()), at(children[0]))

    def name(self, children: list[Token]) -> Slot:
        """Read a name, bare or in quotes."""
        token = children[0]
        text = str(token)
        if token.type == "QUOTED":
            text = text[1:-1].replace('""', '"')
        if not text.strip():
            raise slip(at(token), "the name between the quotes is empty", next="write the name")
        return Slot("name", text, at(token))

    def size(self, children: list[Token]) -> Slot:
        """Read a size."""
        token = children[0]
        if re.fullmatch(r"[\d./ -]+", token):
            raise UnitMissing(
                f"the size {token} does not say its system",
                allowed="12in (NPS) or d315 (metric)",
                next=f"write {str(token).strip()}in or d{str(token).strip()}",
                place=Place(column=at(token) + 1),
            )
        return Slot("size", placed(size_of, str(token), at(token)), at(token))

    def measure(self, children: list[Token]) -> Slot:
        """Read what a dimension runs to."""
        word = children[0].lower()
        return Slot("measure", s.Measure("centre" if word == "center" else word), at(children[0]))

    # ------------------------------------------------------------- heads
    def drawing(self, children: list[Any]) -> Draft:
        """``drawing M-204 rev 3``."""
        name, slots, marks = named(children)
        return Draft(s.Drawing, {"name": name, **slots}, marks)

    def head(self, children: list[Any]) -> Draft:
        """``line B-201 size 12in pipe pvc sch80 for "backwash"``."""
        name, slots, marks = named(children)
        need(slots, "size", f"line {name} does not say its size", "size 12in or size d315")
        need(slots, "pipe", f"line {name} does not say its pipe", "pipe pvc sch80")
        material, series = slots.pop("pipe")
        return Draft(s.Head, {"name": name, "material": material, "series": series, **slots}, marks)

    def pipe(self, children: list[Slot]) -> Slot:
        """``pipe pvc sch80``."""
        material = MATERIALS.get(children[0].value.lower())
        if material is None:
            raise slip(
                children[0].position,
                f'"{children[0].value}" is no material known here',
                allowed="pvc, cpvc",
                next="write pipe pvc sch80 or pipe cpvc sch80",
            )
        series = re.sub(r"[\s_-]", "", children[1].value.lower())
        if not _WALL.match(series):
            raise slip(
                children[1].position,
                f'"{children[1].value}" is no wall known here',
                allowed="a schedule, SDR, S series or PN, such as sch80, sdr26, s10, pn10",
                next="write the wall as printed on the pipe",
            )
        return Slot("pipe", (material, series), children[0].position)

    def od(self, children: list[Slot]) -> Slot:
        """``od irrigation``."""
        family = children[0].value.lower()
        if family not in OD_FAMILIES:
            raise slip(
                children[0].position,
                f'"{children[0].value}" is no family of outside diameters',
                allowed=", ".join(OD_FAMILIES),
                next="ask what is printed on the pipe",
            )
        return Slot("od_family", family, children[0].position)

    def starts(self, children: list[Any]) -> Draft:
        """``starts at END at E, N, U facing north station 10+00``."""
        slots, marks = slots_of(children)
        return Draft(s.Starts, slots, marks)

    def ends(self, children: list[Any]) -> Draft:
        """``ends at END at E, N, U``."""
        slots, marks = slots_of(children)
        return Draft(s.Ends, slots, marks)

    def kind(self, children: list[Token]) -> Slot:
        """Read what stands at an end."""
        return Slot("kind", s.EndKind(" ".join(children).lower()), at(children[0]))

    def end(self, children: list[Slot]) -> Slot:
        """Read an end with its words."""
        slots, marks = slots_of(children)
        kind = slots["kind"]
        flanged = kind in (s.EndKind.FLANGE, s.EndKind.TEST_BLIND, s.EndKind.BLIND)
        for word in ("face", "may_unbolt"):
            if slots.get(word) and not flanged:
                raise slip(
                    marks[word],
                    f"a {kind.value} end has no {'bolts' if word == 'may_unbolt' else 'flange face'}",
                    allowed="fixed, a size, a name in quotes",
                    next="leave the word out, or write flange",
                )
        if kind is s.EndKind.BRANCH and not slots.get("name"):
            raise slip(
                marks["kind"],
                "the branch is not named",
                allowed="the name a tee or saddle gave it, such as branch B-201a",
                next="write the name after branch",
            )
        return Slot("end", s.End(**slots), marks["kind"])

    def point(self, children: list[Token]) -> Slot:
        """Read ``at E, N, U``."""
        return Slot("point", s.Point(*(level_of(t) for t in children if t.type == "NUMBER")), at(children[0]))

    # ------------------------------------------------------------- legs
    def step(self, children: list[Any]) -> Slot:
        """Read a direction and its length."""
        length = length_of(children[1]) if len(children) > 1 else None
        return Slot("step", s.Step(children[0].value, length), children[0].position)

    def slope(self, children: list[Any]) -> Slot:
        """``down 1:100``."""
        way: Slot = children[0]
        if way.value not in (s.Way.UP, s.Way.DOWN):
            raise slip(
                way.position,
                f"a slope cannot go {way.value}",
                allowed="up or down",
                next="write down 1:100 along",
            )
        value = placed(parse_slope, str(children[1]), at(children[1]))
        if value > 100:
            raise slip(at(children[1]), f"a slope of {children[1]} is steeper than 100:1", next="check it")
        return Slot("slope", (way.value, value), way.position)

    def basis(self, children: list[Token]) -> Slot:
        """``along`` or ``in plan``."""
        return Slot("basis", s.Basis(" ".join(children).lower()), at(children[0]))

    def angle(self, children: list[Token]) -> Slot:
        """Read ``with 45``: an angle in degrees unless said."""
        token = children[0]
        value = placed(lambda text: parse(text, "angle", default_unit="deg"), str(token), at(token))
        if not 0 < value <= math.pi / 2:
            raise slip(
                at(token),
                f"an offset with {token} cannot be walked",
                allowed="above 0 up to 90 degrees",
                next="write the angle of the elbows, such as with 45",
            )
        return Slot("angle", value, at(token))

    def go(self, children: list[Slot]) -> Draft:
        """Read a leg."""
        steps = steps_of(children)
        slots, marks = slots_of([c for c in children if c.name != "step"])
        first = min(c.position for c in children)
        if slope := slots.pop("slope", None):
            slots["slope_way"], slots["slope"] = slope
        if not steps:
            raise slip(first, "this leg has no direction of its own", allowed="go north 35' down 1:100 along")
        if slope and "basis" not in slots:
            raise slip(
                marks["slope"],
                "the slope does not say how the length was taken",
                allowed="along (on the pipe) or in plan (on the drawing's plan)",
                next='add "along" or "in plan"',
            )
        if "basis" in slots and not slope:
            raise slip(
                marks["basis"],
                f'"{slots["basis"].value}" is said, but no slope',
                allowed="down 1:100 along",
                next="add the slope or leave the word out",
            )
        check_aims(steps, slots, marks)
        return Draft(s.Go, {"steps": tuple(c.value for c in steps), **slots}, marks)

    def offset(self, children: list[Slot]) -> Draft:
        """``offset west 4' up 3' with 45``."""
        steps = steps_of(children)
        slots, marks = slots_of([c for c in children if c.name != "step"])
        if not steps or len(steps) > 2:
            raise slip(
                children[0].position,
                f"an offset has one or two directions, not {len(steps)}",
                allowed="offset west 4' up 3' with 45",
                next="give only the shift across the line; the advance is found",
            )
        for step in steps:
            if step.value.length is None:
                raise slip(
                    step.position,
                    f"{step.value.way} has no length",
                    allowed="a length such as 4' or 1.2 m",
                    next="write it after the direction",
                )
        if "angle" not in slots:
            raise slip(
                children[0].position,
                "the offset does not say its angle",
                allowed="with 45, with 22.5 and the like",
                next='add "with" and the angle of the elbows',
            )
        return Draft(s.Offset, {"steps": tuple(c.value for c in steps), **slots}, marks)

    def no_joint(self, children: list[Token]) -> Draft:
        """``no joint 4' to 6'-6"``."""
        start, end = length_of(children[0], zero=True), length_of(children[1])
        if end <= start:
            raise slip(
                at(children[1]),
                f"the stretch ends at {children[1]}, before it begins at {children[0]}",
                allowed="no joint 4' to 6'-6\"",
                next="give the smaller first",
            )
        return Draft(s.NoJoint, {"start": start, "end": end}, {"end": at(children[1])})

    def bells(self, children: list[Slot]) -> Draft:
        """``bells facing back``."""
        return Draft(s.Bells, {"ahead": children[0].name == "ahead"}, {})

    # ------------------------------------------------------------- parts
    def put(self, children: list[Any]) -> Draft:
        """``put "V-7" handle up``."""
        name, slots, marks = named(children)
        return Draft(s.Put, {"tag": name, **slots}, marks)

    def tee(self, children: list[Slot]) -> Draft:
        """``tee west 6in as B-201a``."""
        slots, marks = slots_of(children)
        need(slots, "way", "the tee does not say where its branch points", "tee west 6in as B-201a")
        need(slots, "label", "the branch of the tee has no name", "tee west 6in as B-201a")
        return Draft(s.Tee, slots, marks)

    def saddle(self, children: list[Slot]) -> Draft:
        """``saddle west 2in threaded as S-1``."""
        slots, marks = slots_of(children)
        for word, fault in (
            ("way", "the saddle does not say where its branch points"),
            ("size", "the saddle does not say its size"),
            ("label", "the branch of the saddle has no name"),
        ):
            need(slots, word, fault, "saddle west 2in as S-1")
        return Draft(s.Saddle, slots, marks)

    def reduce(self, children: list[Slot]) -> Draft:
        """``reduce to 8in eccentric flat top``."""
        slots, marks = slots_of(children)
        if "concentric" in slots:
            if "flat" in slots:
                raise slip(
                    marks["concentric"],
                    "the reducer is said to be eccentric and concentric",
                    next="leave one of the two words out",
                )
            del slots["concentric"]
        return Draft(s.Reduce, slots, marks)

    def eccentric(self, children: list[Slot]) -> Slot:
        """``eccentric flat top``."""
        side = children[0]
        value = {"top": s.Way.UP, "bottom": s.Way.DOWN}.get(side.name, side.value)
        return Slot("flat", value, side.position)

    def inline(self, children: list[Token]) -> Slot:
        """Read the kind of a part in the line."""
        words = ["drop-out" if t.type == "DROP_OUT" else t.lower() for t in children]
        if words[0] in ("true", "dropout"):
            words[0] = "drop-out"
        return Slot("kind", s.Inline(" ".join(words).replace("stubs", "stub")), at(children[0]))

    def mid(self, children: list[Slot]) -> Draft:
        """Read a part in the line."""
        slots, marks = slots_of(children)
        return Draft(s.Mid, slots, marks)

    def expansion(self, children: list[Slot]) -> Draft:
        """``expansion joint travel 4" set 2"``."""
        slots, marks = slots_of(children)
        need(slots, "travel", "the expansion joint does not say its travel",
            'expansion joint travel 4" set 2"',
        )  # fmt: skip
        if slots.get("set") is not None and slots["set"] > slots["travel"]:
            raise slip(
                marks["set"],
                "the expansion joint is set further out than its travel",
                allowed="a set from 0 to the travel",
                next="check both against the drawing",
            )
        return Draft(s.Expansion, slots, marks)

    def spool(self, children: list[Slot]) -> Draft:
        """``spool "TD"``."""
        return Draft(s.Spool, {"name": children[0].value}, {})

    def spool_ends(self, _children: list[Token]) -> Draft:
        """``spool ends``."""
        return Draft(s.Spool, {"name": ""}, {})

    # ------------------------------------------------------------- rules of one value each
    rev = carry("rev")
    sized = carry("size")
    own_size = carry("size")
    service = carry("service")
    called = carry("name")
    lot = carry("lot")
    label = carry("label")
    facing = carry("facing")
    handle = carry("handle")
    on_way = carry("way")
    from_measure = carry("start_measure")
    to_measure = carry("end_measure")
    fixed = flag("fixed")
    may_unbolt = flag("may_unbolt")
    field = flag("field")
    mixed = flag("mixed")
    threaded = flag("threaded")
    concentric = flag("concentric")
    bushing = flag("bushing")
    ahead = flag("ahead")
    back = flag("back")
    top = flag("top")
    bottom = flag("bottom")
    station = number("station", lambda token: placed(station_text, str(token), at(token)))
    to_station = number("to_station", lambda token: placed(station_text, str(token), at(token)))
    to_centre = number("to_centre", level_of)
    to_invert = number("to_invert", level_of)
    travel = number("travel", length_of)
    set_out = number("set", lambda token: length_of(token, zero=True))

    def face(self, children: list[Token]) -> Slot:
        """Read a face word."""
        return Slot("face", children[0].lower(), at(children[0]))
