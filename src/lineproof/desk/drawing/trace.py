"""Draws a scene through a view: strokes, letters on the pipe, and labels that ask for a place."""

from __future__ import annotations

from dataclasses import dataclass, field

from lineproof.desk.drawing import signs
from lineproof.desk.drawing.crossing import half_gap, meet, sleeves_aside, without
from lineproof.desk.drawing.ink import Segment, Stroke, Words, box_at, box_size, words_in
from lineproof.desk.drawing.project import XY, View, nearness, project, way_on_paper
from lineproof.desk.drawing.scene import Bit, JointMark, Kind, Leg, LineScene, Mate, Saddle, Sign, Spot, Stub
from lineproof.job.graph import Vec
from lineproof.job.places import top_line

LETTER_ROOM = 3.0
"""Pipe that must remain to the two sides of a letter set into it, together. [mm]"""


@dataclass(frozen=True, slots=True)
class Ask:
    """A label that wants a place.

    Parameters
    ----------
    kind : Kind
    text, ref : str
    where : str
        What it belongs to in words, for the side table.
    points : tuple of (float, float)
        Places it may stand at, best first. [mm]
    ways : tuple of (float, float)
        Directions in which it may stand off from them, best first. [1]
    bold : bool
    sign : str
        ``"falls right"`` or ``"falls left"``: the little wedge of a slope before the text.
    """

    kind: Kind
    text: str
    ref: str
    where: str
    points: tuple[XY, ...]
    ways: tuple[XY, ...]
    bold: bool = False
    sign: str = ""


@dataclass(slots=True)
class Drawn:
    """One sheet's drawing before its labels are placed."""

    strokes: list[Stroke] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)
    asks: list[Ask] = field(default_factory=list)


@dataclass(slots=True)
class Traced:
    """A leg on paper: where it runs and where its parts stand along it. [mm]"""

    leg: Leg
    a: XY
    b: XY
    d: XY
    n: XY
    long: float
    near_a: float
    near_b: float
    solid: list[tuple[float, float, bool, str]] = field(default_factory=list)
    """Stretches of pipe: from, to, dashed, what they belong to."""
    letters: list[tuple[float, float, Bit]] = field(default_factory=list)
    crossings: list[float] = field(default_factory=list)

    def at(self, along: float) -> XY:
        """A point of the leg. [mm]"""
        return (self.a[0] + self.d[0] * along, self.a[1] + self.d[1] * along)


AROUND: tuple[XY, ...] = (
    (0.0, -1.0), (0.0, 1.0), (1.0, 0.0), (-1.0, 0.0), (0.7071, -0.7071), (-0.7071, -0.7071), (0.7071, 0.7071),
    (-0.7071, 0.7071), (0.3827, -0.9239), (-0.3827, -0.9239), (0.3827, 0.9239), (-0.3827, 0.9239),
    (0.9239, -0.3827), (-0.9239, -0.3827), (0.9239, 0.3827), (-0.9239, 0.3827),
)  # fmt: skip


def trace(scene: LineScene, view: View) -> Drawn:
    """Draw a scene.

    Parameters
    ----------
    scene : LineScene
        Of one sheet.
    view : View

    Returns
    -------
    Drawn
    """
    return _Tracer(scene, view).draw()


@dataclass(slots=True)
class _Tracer:
    scene: LineScene
    view: View
    out: Drawn = field(default_factory=Drawn)
    spots: list[XY] = field(default_factory=list)
    legs: list[Traced] = field(default_factory=list)

    def draw(self) -> Drawn:
        self.spots = [self.view.paper(s.at) for s in self.scene.spots]
        self.legs = [self.traced(leg) for leg in self.scene.legs]
        for t in self.legs:
            self.parts_of(t)
        self.cross()
        for n, spot in enumerate(self.scene.spots):
            self.place(n, spot)
        for n, way, mark in self.scene.loose:
            d = way_on_paper(way, self.view.north)
            self.joint(mark, self.spots[n], d, self.over(way, d), 2.0)
        self.pipes()
        return self.out

    def over(self, way: Vec, d: XY) -> XY:
        """Direction of bars across a way."""
        return signs.across(d, way_on_paper(top_line(way), self.view.north))

    def traced(self, leg: Leg) -> Traced:
        a, b = self.spots[leg.a], self.spots[leg.b]
        d, long = signs.unit_to(a, b)
        if long < 0.3:
            d = way_on_paper(leg.way, self.view.north)
        near = [
            nearness(self.view.stretched(self.scene.spots[n].at), self.view.north) for n in (leg.a, leg.b)
        ]
        return Traced(leg, a, b, d, self.over(leg.way, d), long, near[0], near[1])

    # ------------------------------------------------------------------ along a leg

    def parts_of(self, t: Traced) -> None:
        """Bars, sleeves, mates and letters of a leg, and where its pipe is drawn."""
        leg = t.leg
        sign_a, sign_b = self.scene.spots[leg.a].sign, self.scene.spots[leg.b].sign
        off_a, off_b = signs.joint_off(sign_a, leg.mate_a), signs.joint_off(sign_b, leg.mate_b)
        trim_a, trim_b = signs.half(sign_a), signs.half(sign_b)
        if not leg.bits:
            self.short(t, trim_a, trim_b)
            return
        sleeves = sum(b.sleeve_after for b in leg.bits)
        wanted = off_a + off_b + 3.2 * sleeves + 2.5 * len(leg.bits)
        k = min(1.0, t.long / wanted) if wanted > 0 else 1.0
        off_a, off_b, trim_a, trim_b, sleeve = off_a * k, off_b * k, trim_a * k, trim_b * k, 3.2 * k
        each = max(t.long - off_a - off_b - sleeve * sleeves, 0.0) / len(leg.bits)
        self.mates(t, trim_a, trim_b, k)
        s = off_a
        if off_a > trim_a:
            t.solid.append((trim_a, s, False, self.scene.spots[leg.a].ref))
        over = self.crossed_by(t)
        sleeves_at = [
            off_a + n * (each + sleeve) - sleeve / 2 for n, b in enumerate(leg.bits, 1) if b.sleeve_after
        ]
        aside = sleeves_aside(sleeves_at, [(c, sleeve / 2 + half_gap(sine)) for c, sine in over], each)
        for n, bit in enumerate(leg.bits):
            e = s + each + (aside if n == 0 else -aside if n == len(leg.bits) - 1 else 0.0)
            t.solid.append((s, e, bit.taped_later, bit.ref))
            for mark, along in ((bit.a, s), (bit.b, e)):
                if mark is not None:
                    self.joint(mark, t.at(along), t.d, t.n, 0.0)
            t.letters.append((s, e, bit))
            if bit.sleeve_after:
                at = t.at(e + sleeve / 2)
                self.out.strokes += signs.sign_strokes(Sign.COUPLING, at, t.d, t.n, f"{bit.ref}+")
                e += sleeve
            s = e
        if t.long - trim_b > s + 1e-6:
            t.solid.append((s, t.long - trim_b, False, self.scene.spots[leg.b].ref))
        self.leg_labels(t, off_a, t.long - off_b)
        for saddle in leg.saddles:
            self.saddle(t, saddle, off_a, t.long - off_b)

    def crossed_by(self, t: Traced) -> list[tuple[float, float]]:
        """Where other legs cross a leg on paper, and the sine of the angle. [mm, 1]"""
        ends = {t.leg.a, t.leg.b}
        met = [meet(t, o) for o in self.legs if not ends & {o.leg.a, o.leg.b}]
        return [(m[0], m[2]) for m in met if m is not None]

    def mates(self, t: Traced, trim_a: float, trim_b: float, k: float) -> None:
        """What carries the pipe at its two ends."""
        back = (-t.d[0], -t.d[1])
        for mate, at, d, trim, n in (
            (t.leg.mate_a, t.a, t.d, trim_a, t.leg.a),
            (t.leg.mate_b, t.b, back, trim_b, t.leg.b),
        ):
            if mate is not Mate.NONE and k > 0.4:
                lone = signs.half(self.scene.spots[n].sign) == 0.0
                self.out.strokes += signs.mate_strokes(mate, at, d, t.n, trim, f"{t.leg.run}", lone=lone)

    def short(self, t: Traced, trim_a: float, trim_b: float) -> None:
        """Two parts tied without a pipe."""
        k = min(1.0, t.long / (trim_a + trim_b + 2.0))
        t.solid.append((trim_a * k, t.long - trim_b * k, False, self.scene.spots[t.leg.a].ref))
        middle = t.at((trim_a * k + t.long - trim_b * k) / 2)
        if t.leg.tie is not None:
            self.joint(t.leg.tie, middle, t.d, t.n, 0.0)
        elif t.leg.tie_flanged:
            self.out.strokes += signs.sign_strokes(
                Sign.FLANGES, middle, t.d, t.n, self.scene.spots[t.leg.a].ref
            )

    def joint(self, mark: JointMark, at: XY, d: XY, n: XY, along: float) -> None:
        """A joint's bar and its number."""
        at = signs.pt(at, d, n, along, 0.0)
        self.out.strokes.append(signs.bar(at, d, n, 0.0, signs.JOINT_HALF, "joint", mark.ref))
        if mark.bell:
            self.out.strokes += signs.bell_strokes(at, d, n, mark.bell, mark.ref)
        tips = (
            signs.pt(at, d, n, 0.0, signs.JOINT_HALF),
            signs.pt(at, d, n, 0.0, -signs.JOINT_HALF),
        )
        ways = (n, (-n[0], -n[1]))
        self.out.asks.append(Ask(Kind.JOINT, mark.name, mark.ref, mark.where, tips, ways))

    def leg_labels(self, t: Traced, s: float, e: float) -> None:
        """Length, slope and components of a leg."""
        leg = t.leg
        points = tuple(t.at(s + (e - s) * f) for f in (0.5, 0.35, 0.65, 0.25, 0.75, 0.15, 0.85))
        ways = ((-t.d[1], t.d[0]), (t.d[1], -t.d[0]))
        if leg.length:
            self.out.asks.append(Ask(Kind.LENGTH, leg.length, leg.run, leg.where, points, ways))
        if leg.slope:
            right = (t.d[0] > 0) == leg.falls_ahead
            sign = "falls right" if right else "falls left"
            self.out.asks.append(
                Ask(Kind.SLOPE, leg.slope, f"{leg.run}:slope", leg.where, points, ways, sign=sign)
            )
        if leg.roll:
            corners = self.aid(t)
            ask = Ask(
                Kind.ROLL, leg.roll, f"{leg.run}:roll", leg.where, (*corners, *points), (*AROUND[:4], *ways)
            )
            self.out.asks.append(ask)

    def aid(self, t: Traced) -> list[XY]:
        """Thin lines along the axes that show how a leg leaves them (ISO 6412-2 shows such planes)."""
        a = self.view.stretched(self.scene.spots[t.leg.a].at)
        b = self.view.stretched(self.scene.spots[t.leg.b].at)
        corners: list[Vec] = [a, (b[0], a[1], a[2]), (b[0], b[1], a[2]), b]
        path: list[XY] = []
        for c in corners:
            x, y = project(c, self.view.north)
            here = (x + self.view.shift[0], y + self.view.shift[1])
            if not path or abs(here[0] - path[-1][0]) + abs(here[1] - path[-1][1]) > 0.5:
                path.append(here)
        if len(path) <= 2:
            return []
        self.out.strokes.append(Stroke(tuple(path), "aid", t.leg.run, dashed=True))
        return path[1:-1]

    def saddle(self, t: Traced, saddle: Saddle, s: float, e: float) -> None:
        """A saddle with its stub and its joint."""
        at = t.at(min(max(saddle.share * t.long, s + 1.0), max(e - 1.0, s + 1.0)))
        self.stub(at, saddle.stub, (t.leg.where, saddle.stub.words))
        if saddle.joint is not None:
            d = way_on_paper(saddle.stub.way, self.view.north)
            self.joint(saddle.joint, at, d, self.over(saddle.stub.way, d), 1.6)

    # ------------------------------------------------------------------ places

    def place(self, n: int, spot: Spot) -> None:
        """The sign of a place, its stubs and labels."""
        at = self.spots[n]
        here = [t for t in self.legs if n in (t.leg.a, t.leg.b)]
        inward = next((t for t in here if t.leg.b == n), None)
        outward = next((t for t in here if t.leg.a == n), None)
        if inward is not None:
            d, over = inward.d, inward.n
        elif outward is not None:
            d, over = outward.d, outward.n
            if spot.sign in (Sign.CAP, Sign.BLIND, Sign.STANDS, Sign.OPEN):
                d = (-d[0], -d[1])
        else:
            d, over = way_on_paper(spot.along, self.view.north), (0.0, -1.0)
        if spot.sign is Sign.MATCH:
            over = (-d[1], d[0])
        self.out.strokes += signs.sign_strokes(spot.sign, at, d, over, spot.ref, narrow=spot.narrow)
        if spot.handle is not None:
            way = way_on_paper(spot.handle, self.view.north)
            tip = signs.pt(at, way, over, signs.HANDLE_MM, 0.0)
            self.out.strokes.append(Stroke((at, tip), "part", spot.ref))
            self.out.strokes.append(
                signs.bar(at, way, (-way[1], way[0]), signs.HANDLE_MM, 1.2, "part", spot.ref)
            )
        for stub in spot.stubs:
            self.stub(at, stub, (spot.name, stub.words))
        for kind, text in spot.words:
            self.out.asks.append(Ask(kind, text, spot.ref, spot.name, (at,), AROUND))

    def stub(self, at: XY, stub: Stub, words: tuple[str, str]) -> None:
        """An open branch."""
        d = way_on_paper(stub.way, self.view.north)
        tip = (at[0] + d[0] * signs.STUB_MM, at[1] + d[1] * signs.STUB_MM)
        ghost = not stub.words
        mark = stub.section or self.scene.section
        pattern = mark.pattern if mark else 0
        self.out.strokes.append(Stroke((at, tip), "stub", stub.ref, dashed=ghost, pattern=pattern))
        if not ghost:
            n = self.over(stub.way, d)
            self.out.strokes.append(signs.bar(tip, d, n, 0.0, 1.2, "stub", stub.ref))
            kind = Kind.MATCH if stub.match else Kind.BRANCH
            self.out.asks.append(
                Ask(kind, words[1], f"{stub.ref}:{kind.value}", words[0], (tip,), (d, *AROUND))
            )

    # ------------------------------------------------------------------ crossings and pipe

    def cross(self) -> None:
        """Cut a gap into the rear one of two legs that cross on paper."""
        cuts: dict[int, list[tuple[float, float]]] = {}
        for i, s in enumerate(self.legs):
            for j in range(i):
                t = self.legs[j]
                if {s.leg.a, s.leg.b} & {t.leg.a, t.leg.b}:
                    continue
                met = meet(s, t)
                if met is None:
                    continue
                along_s, along_t, sine = met
                s.crossings.append(along_s)
                t.crossings.append(along_t)
                near_s = s.near_a + (s.near_b - s.near_a) * along_s / s.long
                near_t = t.near_a + (t.near_b - t.near_a) * along_t / t.long
                if abs(near_s - near_t) < 1e-6:
                    continue
                rear, along = (i, along_s) if near_s < near_t else (j, along_t)
                reach = half_gap(sine)
                cuts.setdefault(rear, []).append((along - reach, along + reach))
        for i, gaps in cuts.items():
            self.legs[i].solid = without(self.legs[i].solid, gaps)

    def pipes(self) -> None:
        """Letters into the pipe where there is room, then the pipe itself."""
        others = [seg for s in self.out.strokes for seg in s.segments]
        lines = [(t, (t.a[0], t.a[1], t.b[0], t.b[1])) for t in self.legs]
        for t in self.legs:
            for s, e, bit in t.letters:
                self.letter(t, s, e, bit, others, lines)
        pattern = self.scene.section.pattern if self.scene.section else 0
        for t in self.legs:
            for s, e, dashed, ref in t.solid:
                if e - s > 0.05:
                    self.out.strokes.append(
                        Stroke(
                            (t.at(s), t.at(e)), "pipe", ref, thick=True, dashed=dashed, pattern=pattern,
                            start=s if pattern else 0.0,
                        )
                    )  # fmt: skip

    def letter(
        self,
        t: Traced,
        s: float,
        e: float,
        bit: Bit,
        others: list[Segment],
        lines: list[tuple[Traced, Segment]],
    ) -> None:
        """The letter of a piece: in a break of the pipe, else as a label beside it."""
        text = bit.letter
        width, height = box_size(text, bold=True)
        reach = letter_reach(text, t.d)
        tries = (0.5, 0.4, 0.6, 0.3, 0.7) if e - s >= 2 * reach + LETTER_ROOM else ()
        for f in tries:
            along = s + (e - s) * f
            if along - reach < s + LETTER_ROOM / 4 or along + reach > e - LETTER_ROOM / 4:
                continue
            box = box_at(t.at(along), width, height)
            wide = box.grown(0.5)
            if any(wide.hits(o) for o in others) or any(line is not t and wide.hits(g) for line, g in lines):
                continue
            if any(wide.meets(w.box) for w in self.out.words):
                continue
            t.solid = without(t.solid, [(along - reach, along + reach)])
            self.out.words.append(words_in(box, text, Kind.PIECE.value, bit.ref, bold=True))
            break
        else:
            points = tuple(t.at(s + (e - s) * f) for f in (0.5, 0.3, 0.7))
            ways = ((-t.d[1], t.d[0]), (t.d[1], -t.d[0]))
            self.out.asks.append(Ask(Kind.PIECE, text, bit.ref, t.leg.where, points, ways, bold=True))
        if bit.taped_later and bit.word:
            points = tuple(t.at(s + (e - s) * f) for f in (0.5, 0.3, 0.7, 0.15, 0.85))
            ways = ((-t.d[1], t.d[0]), (t.d[1], -t.d[0]))
            self.out.asks.append(Ask(Kind.TAPE, "tape", f"{bit.ref}:tape", f"piece {text}", points, ways))


def letter_reach(text: str, d: XY) -> float:
    """Half the break that a piece's letter needs in a pipe that runs along ``d``. [mm]"""
    w, h = box_size(text, bold=True)
    return min(w / 2 / max(abs(d[0]), 1e-9), h / 2 / max(abs(d[1]), 1e-9)) + 0.6
