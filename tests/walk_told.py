"""Random walks told to both walkers: what is said in words, and what the second walker makes of it."""

from __future__ import annotations

import numpy as np

from walk_oracle import AXES, LEVEL, Pipe, Socket, Teller, Vec, Walked, axis

SLANT = 0.01
"""Angles below this are no turn. [deg]"""


class Walk(Teller):
    """A random walk: legs, turns, offsets, slopes, and what stands in the line."""

    way: Vec
    words: str
    slope: tuple[str, int, str] | None = None

    def number(self, low: float = 20.0, high: float = 260.0) -> float:
        if low > 0 and self.rng.random() < 0.1:
            low, high = 3.0, 20.0  # now and then too short for its sockets
        return round(self.rng.uniform(low, high), 3)

    def turn(self, way: Vec) -> tuple[str, Socket, Socket] | None:
        """The fitting between two directions: kind, in, out; None straight on."""
        cosine = float(np.clip(self.way @ way, -1, 1))
        angle = float(np.degrees(np.arctan2(np.linalg.norm(np.cross(self.way, way)), cosine)))
        if angle < SLANT:
            return None
        if angle <= 3.0:
            self.out.leftovers.append(angle)
            self.out.sockets += 2
            end = self.measure("coupling", self.size)
            return "coupling", end, end
        made = min((90.0, 45.0), key=lambda a: abs(a - angle))
        if abs(made - angle) > SLANT:
            self.out.leftovers.append(abs(made - angle))
        self.out.sockets += 2
        end = self.measure(f"elbow {made:g}", self.size)
        return "elbow", end, end

    def leg(self, way: Vec, words: str, length: float, *, first: bool = False) -> None:
        """Open a leg of a length in a direction; turn into it with the fitting that serves.

        The leg before, still open, ends at that fitting.
        """
        fitting = None if first or self.open is None else self.turn(way)
        if fitting is not None:
            self.arrive(*fitting)
        starts = ""
        extra = 0.0
        if self.open is None:
            measure = self.rng.choice(["", "", " from face", " from stop"])
            if measure and self.leave.form in ("socket", "flange"):
                starts = measure
                extra = self.leave.reach - (self.leave.depth if measure == " from stop" else 0.0)
            self.open = (way, extra + length)
        else:
            self.open = (self.open[0], self.open[1] + length)
        self.way = way
        self.to = ""
        self.said.append(words + starts)

    open: tuple[Vec, float] | None = None
    to = ""

    def aim(self) -> None:
        """Say what the open leg runs to: centre, face or stop of the fitting that comes."""
        self.to = self.rng.choice(["", "", " to face", " to stop"])
        self.said[-1] += self.to

    def arrive(self, kind: str, enter: Socket, out: Socket | None) -> None:
        """Close the open leg at a fitting."""
        if self.open is None:
            assert out is not None
            self.close(self.way, enter, kind, out)
            return
        way, cc = self.open
        if self.to == " to face":
            cc += enter.reach
        elif self.to == " to stop":
            cc += enter.reach - enter.depth
        self.lay(way, cc, enter, self.size, kind, out)
        self.open, self.to = None, ""

    # ------------------------------------------------------------ what may come next
    def straight(self) -> None:
        """On in the same direction."""
        length = self.number(8, 300)
        if self.slope:
            self.sloped(*self.slope)
        else:
            self.leg(self.way, f"go {self.words} {length}in", length)

    def sloped(self, word: str, run: int, basis: str) -> None:
        length = self.number(40, 300)
        fall = axis(self.words) + axis(word) / run
        long = length * np.linalg.norm(fall) if basis == "in plan" else length
        self.leg(
            fall / np.linalg.norm(fall), f"go {self.words} {length}in {word} 1:{run} {basis}", float(long)
        )

    def go_round(self) -> None:
        """A square turn along an axis of the grid."""
        self.aim()
        ways = [w for w in AXES if abs(axis(w) @ self.way) < 0.06]
        if self.words not in ways and abs(axis(self.words) @ self.way) < 0.99:
            ways = ways or [self.words]
        self.words, self.slope = self.rng.choice(ways), None
        if self.words in LEVEL and abs(self.way[2]) < 0.9 and self.rng.random() < 0.3:
            self.slope = (
                self.rng.choice(["up", "down"]),
                self.rng.randint(25, 200),
                self.rng.choice(["along", "in plan"]),
            )
            self.sloped(*self.slope)
        else:
            length = self.number()
            self.leg(axis(self.words), f"go {self.words} {length}in", length)

    def level_out(self) -> None:
        """From a slope to level: a bend too small for an elbow."""
        if self.slope:
            self.aim()
            self.slope = None
            length = self.number()
            self.leg(axis(self.words), f"go {self.words} {length}in", length)

    def offset(self) -> None:
        """Set or rolling offset with 45s, and on as before."""
        if self.slope:
            return
        sides = [w for w in AXES if abs(axis(w) @ self.way) < 0.5]
        first = self.rng.choice(sides)
        shift = axis(first) * (a := self.number(20, 90))
        words = f"{first} {a}in"
        if self.rng.random() < 0.5:
            second = self.rng.choice([w for w in sides if abs(axis(w) @ axis(first)) < 0.5])
            shift = shift + axis(second) * (b := self.number(20, 90))
            words += f" {second} {b}in"
        heading = self.way
        self.aim()
        # 45 degrees: the advance is as long as the true offset
        travel = shift + heading * np.linalg.norm(shift)
        long = float(np.linalg.norm(travel))
        fitting = self.turn(travel / long)
        assert fitting is not None
        self.arrive(*fitting)
        self.open = (travel / long, long)
        self.said.append(f"offset {words} with 45")
        self.way, before = travel / long, self.words
        length = self.number()
        self.leg(heading, f"go {before} {length}in", length)

    def rolling(self) -> None:
        """The same told as a rolling leg with its advance worked out."""
        if self.slope:
            return
        sides = [w for w in AXES if abs(axis(w) @ self.way) < 0.5]
        first = self.rng.choice(sides)
        second = self.rng.choice([w for w in sides if abs(axis(w) @ axis(first)) < 0.5])
        a, b = self.number(20, 90), self.number(20, 90)
        advance = round(float(np.hypot(a, b)), 6)
        heading, before = self.way, self.words
        travel = heading * advance + axis(first) * a + axis(second) * b
        long = float(np.linalg.norm(travel))
        self.aim()
        self.leg(travel / long, f"go {before} {advance:.6f}in {first} {a}in {second} {b}in", long)
        self.aim()
        length = self.number()
        self.leg(heading, f"go {before} {length}in", length)

    def part(self) -> None:
        """A part in the line; now and then another right behind it."""
        self.one_part()
        if self.rng.random() < 0.3:
            self.one_part()
        self.straight()

    def one_part(self) -> None:
        if self.open is not None:
            self.aim()
        kind = self.rng.choice(["valve", "flanged", "meter", "union", "coupling", "flanges", "tee", "reduce"])
        if self.leave.form == "spigot" and self.open is None and kind == "meter":
            kind = "union"
        getattr(self, f"put_{kind}")()

    def put_valve(self) -> None:
        self.tagged("socket")

    def put_flanged(self) -> None:
        self.tagged("flange")

    def put_meter(self) -> None:
        self.tagged("spigot")

    def tagged(self, form: str) -> None:
        self.valves += 1
        tag = f"V-{self.valves}"
        depth = self.rng.randint(20, 50) / 16 if form == "socket" else 0.0
        ends = [Socket(depth + self.rng.randint(30, 90) / 16, depth, form) for _ in range(2)]
        cells = {
            "kind": "valve",
            "size": self.size,
            "tag": tag,
            "ends": f"{form} {form}",
            "count": "1",
            "measured": "1",
        }
        for n, e in enumerate(ends, 1):
            cells[f"reach_{n}"] = f"{e.reach:.6f} in"
            if form == "socket":
                cells[f"depth_{n}"] = f"{e.depth:.6f} in"
        if form == "flange":
            cells["faces"] = "flat"
        self.tags.append(cells)
        self.arrive("valve", *ends)
        self.out.sockets += 2 * (form == "socket")
        self.said.append(f'put "{tag}"')

    def put_union(self) -> None:
        self.simple("union")

    def put_coupling(self) -> None:
        self.simple("coupling")

    def simple(self, kind: str) -> None:
        end = self.measure(kind, self.size)
        self.arrive(kind, end, end)
        self.out.sockets += 2
        self.said.append(kind)

    def put_flanges(self) -> None:
        end = self.measure("flange", self.size)
        off = Socket(self.gasket / 2 + end.reach, end.depth)
        self.arrive("flanges", off, off)
        self.out.sockets += 2
        self.said.append("flanges")

    def put_reduce(self) -> None:
        if self.size == "4in":
            self.put_union()
            return
        if self.open is None and self.leave.form == "socket" and self.rng.random() < 0.7:
            spigot = Socket(self.measure("bushing", "6in").reach, 0.0, "spigot")
            before = self.place
            self.arrive("bushing", spigot, self.measure("in bushing", "6in"))
            # a bushing has no place on a drawing: what follows is measured from the fitting it sits in
            along = float((self.place - before) @ self.way)
            self.leave = Socket(self.leave.reach + along, self.leave.depth)
            self.place = before
            self.out.sockets += 1
            self.said.append("reduce to 4in bushing")
        else:
            self.arrive("reducer", self.measure("reducer", "6in"), self.measure("small", "6in"))
            self.out.sockets += 2
            self.said.append("reduce to 4in concentric")
        self.size = "4in"

    def put_tee(self) -> None:
        """A tee walked through its run, out by its branch, or in by its branch."""
        run, side = self.measure("tee", self.size), self.measure("branch", self.size)
        square = [w for w in AXES if abs(axis(w) @ self.way) < 1e-9]
        how = self.rng.choice(["run", "run", "out", "in"])
        if self.slope or not square or abs(axis(self.words) @ self.way) < 0.999:
            how = "run"
        if not square:
            self.put_union()
            return
        self.labels += 1
        label, word = f"B-{self.labels}", self.rng.choice(square)
        self.out.sockets += 3
        if how == "run":
            self.arrive("tee", run, run)
            self.said.append(f"tee {word} as {label}")
            self.branch(label, word, side)
            return
        if how == "out":
            self.arrive("tee", run, side)
            self.said.append(f"tee {self.words} as {label}")
            self.branch(label, self.words, run)
        else:
            self.arrive("tee", side, run)
            back = next(w for w in AXES if (axis(w) == -axis(word)).all())
            self.said.append(f"tee {back} as {label}")
            self.branch(label, back, run)
        self.words = word
        self.way = axis(word)
        self.straight()

    def branch(self, label: str, word: str, end: Socket) -> None:
        """A line of its own from a tee, up to a cap."""
        length = self.number()
        cap = self.measure("cap", self.size)
        way = axis(word)
        name = f"X{self.labels}"
        self.branches += [
            f"line {name} size {self.size} pipe pvc sch80", f"starts at branch {label}",
            f"go {word} {length}in", "ends at cap",
        ]  # fmt: skip
        self.out.sockets += 1
        # a cap's place is its stop
        stops = length - (end.reach - end.depth)
        start = self.place + way * (end.reach - end.depth + self.gap)
        face = stops - end.depth - cap.depth
        self.later.append(Pipe(name, stops - 2 * self.gap, face, 2, start, way))
        self.caps.append(("cap", self.place + way * length))

    def tell(self, moves: int) -> Walked:
        """Tell a walk of so many moves."""
        self.tags: list[dict[str, str]] = []
        self.later: list[Pipe] = []
        self.caps: list[tuple[str, Vec]] = []
        self.words = self.rng.choice(list(AXES))
        self.way = axis(self.words)
        at = [self.number(-200, 200) for _ in range(3)]
        self.place = np.array(at)
        flanged = self.rng.random() < 0.6
        self.leave = Socket(0.0, 0.0, "flange" if flanged else "open")
        where = ", ".join(f"{v}in" for v in at)
        start = f'{"flange fixed" if flanged else "open"} "P" at {where} facing {self.words}'
        self.said += ["line L size 6in pipe pvc sch80", f"starts at {start}"]
        self.straight()
        for _ in range(moves):
            getattr(
                self,
                self.rng.choice(
                    ["go_round", "go_round", "level_out", "offset", "rolling", "part", "part", "straight"]
                ),
            )()
        end = self.rng.choice(["open", "flange fixed", "cap"])
        enter = {"open": Socket(0, 0, "open"), "flange fixed": Socket(0, 0, "flange")}.get(end)
        if enter is None:
            cap = self.measure("cap", self.size)
            enter = Socket(cap.depth, cap.depth)
            self.out.sockets += 1
        self.arrive("end", enter, None)
        self.out.end = self.place
        self.said.append(f"ends at {end} at " + ", ".join(f"{v:.9f}in" for v in self.place))
        self.out.pipes += self.later
        self.out.centres += self.caps
        self.out.text = "\n".join([*self.said, *self.branches]) + "\n"
        return self.out
