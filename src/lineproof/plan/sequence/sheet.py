"""The order as a crew reads it: joints step by step, what waits for what, what is carried, day by day."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from lineproof.floor.errors import OurFault
from lineproof.job.graph import Vec
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.rough_days import labour_of
from lineproof.plan.sequence.rig import GROUND, How, Rig, Tied
from lineproof.plan.sequence.spools import bulk_of
from lineproof.plan.sequence.steps import Built, Step
from lineproof.plan.work import Work

DAY = 24 * 3600.0
SHIFT = (7 * 3600.0, 15 * 3600.0)
"""Working hours until days are planned with crews and shifts: 07:00 to 15:00 (own assumption). [s]"""
STEEP = 0.7071
"""A joint whose axis rises more than this is made socket down on the bench, else level (own rule). [1]"""
FRONTS = 24
"""So many spools and stretches are looked at for the next step. [-]"""
WAYS = (("east", "west"), ("north", "south"), ("up", "down"))


@dataclass(frozen=True, slots=True, kw_only=True)
class StepLine:
    """One step as told to the crew.

    Parameters
    ----------
    n : int
        [-]
    day : int
        Day of the order it falls on, 1 for the first. [-]
    kind : str
        ``"bench"``, ``"place"`` or ``"close"``.
    spool : int
        Number of the spool joined on the bench, or brought in; 0 for a single part. [-]
    joints, bolts : tuple of str
        Joints cemented by it; faces bolted up or threads turned by it.
    brought, pieces : tuple of str
        Parts and pieces brought, and the pieces among them.
    into : tuple of str
        What they are brought to.
    onto : bool
        What is brought carries the socket.
    move : str
        The last straight move: ``"north"``, ``"east and down"``; ``"turn"`` for a thread.
    travel : float
        [m]
    mass : float
        Of what is brought; parts nobody weighed count nothing. [kg]
    sides : tuple of float
        Of what is brought, longest first. [m]
    waits_for : str
        The joint whose hands-off time governs; empty if none does.
    ready : float or None
        When that is over, from the first midnight; None if it cannot be told. [s]
    join_at, move_at : float or None
        When it is joined, and when what it made may be moved; None if it cannot be told. [s]
    strap : str
        The fitting being entered, on which the strap that holds back sits; empty where it is pushed by hand.
    position : str
        On the bench: ``"level"`` or ``"socket down"``.
    """

    n: int
    day: int
    kind: str
    spool: int
    joints: tuple[str, ...]
    bolts: tuple[str, ...]
    brought: tuple[str, ...]
    pieces: tuple[str, ...]
    into: tuple[str, ...]
    onto: bool
    move: str
    travel: float
    mass: float
    sides: tuple[float, float, float]
    waits_for: str
    ready: float | None
    join_at: float | None
    move_at: float | None
    strap: str
    position: str


@dataclass(frozen=True, slots=True)
class SpoolLine:
    """A spool: what it is made of, what it measures, how many are made alike."""

    n: int
    line: str
    parts: tuple[str, ...]
    joints: tuple[str, ...]
    mass: float
    sides: tuple[float, float, float]
    alike: int


class Teller:
    """Tells the steps of an order one after another, with the clock of one crew.

    Parameters
    ----------
    work : Work
    rig : Rig
        The one the order was built on.
    built : Built
    plans : mapping
        Joint id to its plan.
    """

    def __init__(self, work: Work, rig: Rig, built: Built, plans: Mapping[str, JointPlan]) -> None:
        self.work = work
        self.rig = rig
        self.built = built
        self.plans = plans
        self.off: dict[str, float | None] = {}
        """When each joint made so far may be moved; None if it cannot be told. [s]"""
        self.clear: dict[str, float] = {}
        """When hold and pullers of each joint made so far are over. [s]"""
        self.made: dict[str, list[str]] = {}
        """Joints made so far at each body."""
        self.parent: dict[str, str] = {}
        self.latest: dict[str, tuple[float, str]] = {}
        """Of each group of bodies: when all its joints may be moved, and the joint that governs. [s]"""
        self.numbers = {frozenset(s): n for n, s in enumerate((s for s in built.spools if len(s) > 1), 1)}
        self.of_spool = {b: n for s, n in self.numbers.items() for b in s}
        self.order: list[Step] = []
        """The steps as they were told."""
        self._bulk: dict[frozenset[str], tuple[tuple[float, float, float], float]] = {}

    def lines(self) -> tuple[StepLine, ...]:
        """Every step, each when it can be made: while one part of the job waits, another goes on."""
        strands, bench = self.strands()
        left = dict(bench)
        clock = SHIFT[0]
        found: list[StepLine] = []
        heads = sorted(strands, key=lambda k: strands[k][0])
        while heads:
            best: tuple[float, int, int, str] | None = None
            for k in heads[:FRONTS]:
                n = strands[k][0]
                step = self.built.steps[n]
                if step.kind != "bench" and any(left.get(self.spool_at(b)) for b in (*step.moved, *step.to)):
                    continue
                waits, ready = self.ready(step, [self.rig.ties[t] for t in step.ties])
                key = (max(clock, ready if ready is not None else clock), n, k, waits)
                if best is None or key[:2] < best[:2]:
                    best = key
                if key[0] <= clock:
                    break
            if best is None:
                raise OurFault("no step of an order can be made next", next="send us the job folder")
            _, n, k, _ = best
            strands[k].pop(0)
            if not strands[k]:
                heads.remove(k)
            step = self.built.steps[n]
            if step.kind == "bench":
                left[self.spool_at(next(iter(step.moved)))] -= 1
            line, clock = self.one(len(found) + 1, step, clock)
            self.order.append(step)
            found.append(line)
        return tuple(found)

    def in_turn(self) -> tuple[StepLine, ...]:
        """Every step in the order it was found, one after another."""
        clock = SHIFT[0]
        found: list[StepLine] = []
        for n, step in enumerate(self.built.steps, 1):
            line, clock = self.one(n, step, clock)
            found.append(line)
        return tuple(found)

    def strands(self) -> tuple[dict[int, list[int]], dict[int, int]]:
        """Steps that keep their order among themselves: those of a spool, those in place of one stretch.

        Returns
        -------
        tuple
            Numbers of steps by strand, and how many bench joints each spool has.
        """
        parent: dict[str, str] = {}

        def root(b: str) -> str:
            parent.setdefault(b, b)
            while parent[b] != b:
                parent[b] = parent[parent[b]]
                b = parent[b]
            return b

        for t in self.rig.ties:
            if GROUND not in (t.a, t.b):
                parent[root(t.a)] = root(t.b)
        names: dict[tuple[str, object], int] = {}
        strands: dict[int, list[int]] = {}
        bench: dict[int, int] = {}
        for n, step in enumerate(self.built.steps):
            body = min(step.moved)
            if step.kind == "bench":
                spool = self.spool_at(body)
                bench[spool] = bench.get(spool, 0) + 1
                key: tuple[str, object] = ("bench", spool)
            else:
                key = ("place", root(body))
            strands.setdefault(names.setdefault(key, len(names)), []).append(n)
        return strands, bench

    def spool_at(self, body: str) -> int:
        """The number of the spool a body belongs to; 0 for a single part."""
        return self.of_spool.get(body, 0)

    def one(self, n: int, step: Step, clock: float) -> tuple[StepLine, float]:
        """One step told, and the clock after it."""
        ties = [self.rig.ties[t] for t in step.ties]
        wet = [t for t in ties if t.how is How.CEMENTED]
        waits, ready = self.ready(step, ties)
        if ready is not None:
            clock = _working(max(clock, ready))
        takes, hold = self.takes(wet, ties)
        if clock % DAY + takes > SHIFT[1] and clock % DAY > SHIFT[0]:
            clock = _working((clock // DAY + 1) * DAY)
        start = None if ready is None and waits else clock
        day = 1 + int(clock // DAY)
        clock += takes
        done = None
        for t in wet:
            self.off[t.joint] = self.hands_off(t.joint, clock)
            done = self.off[t.joint]
        self.joined(step, ties, wet, clock)
        sides, mass = self.bulk(step.moved)
        line = StepLine(
            n=n, day=day, kind=step.kind, spool=self.spool(step),
            joints=tuple(sorted(t.joint for t in wet)),
            bolts=tuple(sorted(t.id for t in ties if t.how is not How.CEMENTED)),
            brought=tuple(sorted(step.moved)),
            pieces=tuple(sorted(b for b in step.moved if self.rig.blocks[b].what == "piece")),
            into=tuple(sorted(step.to)), onto=any(t.b in step.moved for t in wet),
            move=way_words(step.move), travel=step.travel, mass=mass,
            sides=sides, waits_for=waits, ready=ready, join_at=start, move_at=done,
            strap=self.strap(wet), position=_position(step, wet),
        )  # fmt: skip
        return line, clock + hold

    def spool(self, step: Step) -> int:
        """The number of the spool that a step works on, or brings in."""
        if step.kind == "bench":
            return self.of_spool.get(next(iter(step.moved)), 0)
        return self.numbers.get(step.moved, 0)

    def bulk(self, moved: frozenset[str]) -> tuple[tuple[float, float, float], float]:
        """Sides and mass of what is brought."""
        if moved not in self._bulk:
            self._bulk[moved] = bulk_of(self.rig, moved)
        return self._bulk[moved]

    # ------------------------------------------------------------- waits
    def ready(self, step: Step, ties: Sequence[Tied]) -> tuple[str, float | None]:
        """The joint that a step waits for, and when that is over. [s]

        What is moved waits for the hands-off time of every joint in it. What it is brought to is held back
        on the fitting being entered, so that nothing beyond it is loaded: the joints of that fitting wait
        for the end of their hold and for their pullers to come off.
        """
        latest = self.latest.get(self.root(next(iter(step.moved))), (0.0, ""))
        for tie in ties:
            entered = tie.b if tie.a in step.moved else tie.a
            if entered != GROUND:
                for joint in self.made.get(entered, ()):
                    latest = max(latest, (self.clear[joint], joint))
        return (latest[1], None) if latest[0] == math.inf else (latest[1], latest[0])

    def root(self, body: str) -> str:
        """One body that stands for all that hang together with it."""
        self.parent.setdefault(body, body)
        while self.parent[body] != body:
            self.parent[body] = self.parent[self.parent[body]]
            body = self.parent[body]
        return body

    def pulled(self, tie: Tied) -> bool:
        """Whether a joint is pulled in with a device; where no table says, it is taken to be pushed."""
        plan = self.plans.get(tie.joint)
        return plan is not None and bool(plan.needs.pull_in.needed)

    def takes(self, wet: Sequence[Tied], ties: Sequence[Tied]) -> tuple[float, float]:
        """How long a step takes, and how long pullers and hands are tied up after it. [s]"""
        work = hold = 0.0
        for t in wet:
            plan = self.plans.get(t.joint)
            if plan is None:
                continue
            hands = plan.needs.hands.hands or plan.needs.hands.floor or 1
            work = max(work, (labour_of(self.work.book, plan.place.size) or 1800.0) / max(hands, 1))
            hold = max(hold, plan.hold.time or 0.0, plan.pullers_off.time or 0.0)
        return (work or 900.0 * len(ties)), hold

    def hands_off(self, joint: str, at: float) -> float | None:
        """When a joint made now may be moved. [s]"""
        plan = self.plans.get(joint)
        if plan is None or plan.hands_off.time is None:
            return None
        return at + (plan.hold.time or 0.0) + plan.hands_off.time

    def joined(self, step: Step, ties: Sequence[Tied], wet: Sequence[Tied], at: float) -> None:
        """Keep what hangs together now, and when each joint is out of the way."""
        roots = {self.root(b) for t in ties for b in (t.a, t.b)} | {self.root(next(iter(step.moved)))}
        times = [self.latest.pop(r) for r in sorted(roots) if r in self.latest]
        for t in wet:
            plan = self.plans.get(t.joint)
            hold = max(plan.hold.time or 0.0, plan.pullers_off.time or 0.0) if plan else 0.0
            self.clear[t.joint] = at + hold
            off = self.off[t.joint]
            times.append((math.inf if off is None else off, t.joint))
            for b in (t.a, t.b):
                self.made.setdefault(b, []).append(t.joint)
        first, *rest = sorted(roots)
        for r in rest:
            self.parent[r] = first
        self.latest[first] = max(times, default=(0.0, ""))

    def strap(self, wet: Sequence[Tied]) -> str:
        """The fitting being entered, where the joint is pulled in."""
        return next((t.b for t in wet if self.pulled(t)), "")

    def spools(self) -> tuple[SpoolLine, ...]:
        """Every spool of more than one part, alike ones told by how many."""
        from lineproof.plan.sequence.spools import alike

        same = alike(self.rig, self.built.spools)
        joints: dict[str, list[str]] = {}
        for step in self.built.steps:
            if step.kind == "bench":
                for t in step.ties:
                    if self.rig.ties[t].joint:
                        joints.setdefault(min(step.moved), []).append(self.rig.ties[t].joint)
        found = []
        for spool, n in self.numbers.items():
            bodies = tuple(sorted(spool))
            sides, mass = self.bulk(spool)
            made = tuple(sorted(j for b in bodies for j in joints.get(b, ())))
            count = next((k for s, k in same.items() if set(s) == spool), 1)
            found.append(SpoolLine(n, bodies[0].partition("/")[0], bodies, made, mass, sides, count))
        return tuple(found)


def _working(at: float) -> float:
    """The first moment of a shift from here on. [s]"""
    day, hour = at // DAY, at % DAY
    if hour < SHIFT[0]:
        return day * DAY + SHIFT[0]
    return (day + 1) * DAY + SHIFT[0] if hour >= SHIFT[1] else at


def _position(step: Step, wet: Sequence[Tied]) -> str:
    if step.kind != "bench" or not wet:
        return ""
    return "socket down" if any(t.way[2] > STEEP for t in wet) else "level"


def way_words(move: Vec | None) -> str:
    """A move by the compass: ``"north"``, ``"east and down"``.

    Parameters
    ----------
    move : tuple of float or None

    Returns
    -------
    str
        ``"turn"`` for None.
    """
    if move is None:
        return "turn"
    order = sorted(range(3), key=lambda i: -abs(move[i]))
    words = [WAYS[i][0 if move[i] > 0 else 1] for i in order if abs(move[i]) > 0.1]
    return " and ".join(words)
