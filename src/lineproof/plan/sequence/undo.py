"""Takes a finished line apart, spool by spool, and keeps what was done: read backwards it is the order."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from lineproof.job.graph import Vec
from lineproof.plan.sequence.from_line import direction_to
from lineproof.plan.sequence.rig import GROUND, How, Rig, admits, back
from lineproof.plan.sequence.shape import Room
from lineproof.plan.sequence.steps import Blocked, Built, Step

TURNED = (0.0, 0.0, 0.0)
"""Stands for a move that is a turn about a thread."""
WIDE = 400
"""So many subtrees are tried where no single spool comes off any more. [-]"""


class Undo:
    """Takes the finished line apart spool by spool and keeps what it did, to be read backwards."""

    def __init__(
        self,
        rig: Rig,
        spools: tuple[tuple[str, ...], ...],
        closings: list[tuple[tuple[int, ...], Vec]],
    ) -> None:
        self.rig = rig
        self.spools = spools
        self.closings = closings
        self.spool_of = {b: n for n, s in enumerate(spools) for b in s}
        self.spool_of[GROUND] = -1
        self.left = set(range(len(rig.ties)))
        self.back: list[Step] = []
        self.blocked: list[Blocked] = []
        self.at: dict[int, set[int]] = {}
        self.inside: dict[int, list[int]] = {}
        self.between: set[int] = set()
        """Ties between spools."""
        for n, tie in enumerate(rig.ties):
            a, b = self.spool_of[tie.a], self.spool_of[tie.b]
            if a == b:
                self.inside.setdefault(a, []).append(n)
            else:
                self.between.add(n)
                self.at.setdefault(a, set()).add(n)
                self.at.setdefault(b, set()).add(n)
        self.room = Room(rig.blocks, rig.blocks)
        self.among: frozenset[str] | None = None
        """Bodies that are there at the step looked at; None for all."""
        self.depth = self._depths()

    def run(self) -> Built:
        """All of it: loose ends, loops, trees; then the bench."""
        self.shed(self.members(-1) if -1 in self.at else None)
        for ties, move in self.closings:
            if not self.open(ties, move):
                break
        else:
            self.trees()
        if self.blocked:
            return Built((), self.spools, blocked=tuple(self.blocked))
        return Built((*self.bench(), *reversed(self.back)), self.spools)

    # ------------------------------------------------------------- spools as nodes of a tree
    def _depths(self) -> dict[int, int]:
        """How many spools lie between a spool and the ground, or the first of its group."""
        found: dict[int, int] = {}
        for start in (-1, *range(len(self.spools))):
            if start in found:
                continue
            found[start] = 0
            walk = [start]
            for s in walk:
                for n in sorted(self.at.get(s, ())):
                    other = self.beyond(n, s)
                    if other not in found:
                        found[other] = found[s] + 1
                        walk.append(other)
        return found

    def beyond(self, tie: int, spool: int) -> int:
        """The spool at the other side of a tie."""
        a = self.spool_of[self.rig.ties[tie].a]
        return self.spool_of[self.rig.ties[tie].b] if a == spool else a

    def members(self, start: int, without: int = -9) -> set[int]:
        """All spools that hang together with one, as far as they are still tied."""
        seen, walk = {start}, [start]
        for s in walk:
            for n in self.at.get(s, ()):
                if n in self.left and n != without:
                    other = self.beyond(n, s)
                    if other not in seen:
                        seen.add(other)
                        walk.append(other)
        return seen

    def bodies(self, spools: Iterable[int]) -> frozenset[str]:
        """Bodies of some spools."""
        return frozenset(b for s in spools for b in (self.spools[s] if s >= 0 else (GROUND,)))

    # ------------------------------------------------------------- one step back
    def way_out(
        self, moved: frozenset[str], ties: Sequence[int], move: Vec | None = None
    ) -> Vec | str | None:
        """The straight move by which some bodies came; the body in their way; None where nothing is said."""
        rig = self.rig
        if len(ties) == 1 and move is None:
            tie = rig.ties[ties[0]]
            if tie.how is How.THREADED:
                return self.room.in_the_swing(moved, tie.place, tie.way, self.among) or TURNED
            move = direction_to(tie, tie.a if tie.a in moved else tie.b)
            choices = [move] if tie.how is not How.FLAT else [move, *_across(move)]
        else:
            choices = [move] if move is not None else []
        travel = self.travel(ties)
        hit: str | None = None
        for way in choices:
            out = back(way)
            hit = self.room.in_the_way(moved, (out[0] * travel, out[1] * travel, out[2] * travel), self.among)
            if hit is None:
                return way
        return hit

    def travel(self, ties: Iterable[int]) -> float:
        """How far the straight move goes: the deepest socket, else clear of the faces. [m]"""
        made = [self.rig.ties[n] for n in ties]
        straight = [t.travel for t in made if t.how is not How.FLAT]
        return max(straight or [t.travel for t in made], default=0.0)

    def off(
        self, spools: set[int], ties: Sequence[int], move: Vec | None, kind: str, rest: set[int]
    ) -> Blocked | None:
        """Take some spools off the rest of their group; None if that worked."""
        moved = self.bodies(spools)
        self.among = self.bodies(rest)
        way = self.way_out(moved, ties, move)
        self.among = None
        if isinstance(way, str):
            return Blocked(ties[0], way)
        self.note(moved, ties, way, kind)
        return None

    def note(self, moved: frozenset[str], ties: Sequence[int], way: Vec | None, kind: str) -> None:
        """Keep a step that was taken back."""
        met = frozenset(b for n in ties for b in (self.rig.ties[n].a, self.rig.ties[n].b) if b not in moved)
        turned = way == TURNED
        self.back.append(
            Step(
                moved,
                met,
                tuple(sorted(ties)),
                None if turned else way,
                0.0 if turned else self.travel(ties),
                kind,
            )
        )
        self.left -= set(ties)

    # ------------------------------------------------------------- the three phases
    def shed(self, group: set[int] | None) -> None:
        """Take off what hangs on one tie only, the farthest first; what has no room stays for later."""
        import heapq

        if group is None:
            return
        rest = set(group)
        live = {s: sum(n in self.left for n in self.at.get(s, ())) for s in rest}
        ready = [(-self.depth[s], -s) for s in rest if live[s] == 1 and s >= 0]
        heapq.heapify(ready)
        waiting: list[tuple[int, int]] = []
        closing = {t for ties, _ in self.closings for t in ties}
        while ready or waiting:
            if not ready:
                break
            key = heapq.heappop(ready)
            s = -key[1]
            if s not in rest or live[s] != 1:
                continue
            tie = next(n for n in self.at[s] if n in self.left)
            if tie in closing and tie in self.left:
                continue
            other = self.beyond(tie, s)
            if self.take_leaf(s, tie, rest):
                waiting.append(key)
                continue
            live[other] -= 1
            live[s] = 0
            if live[other] == 1 and other >= 0:
                heapq.heappush(ready, (-self.depth[other], -other))
            for k in waiting:
                heapq.heappush(ready, k)
            waiting = []

    def take_leaf(self, s: int, tie: int, rest: set[int]) -> Blocked | None:
        """Take one spool off; None if that worked."""
        moved = frozenset(self.spools[s])
        way = self.way_out(moved, (tie,))
        if isinstance(way, str):
            return Blocked(tie, way)
        rest.discard(s)
        self.note(moved, (tie,), way, "place")
        for b in moved:
            self.room.take(b)
        return None

    def open(self, ties: tuple[int, ...], move: Vec) -> bool:
        """Open a loop: the side that came last comes off."""
        tie = self.rig.ties[ties[0]]
        self.left -= set(ties)
        one, other = self.members(self.spool_of[tie.a]), self.members(self.spool_of[tie.b])
        self.left |= set(ties)
        hit: Blocked | None = None
        for way in (move, back(move)):
            for moved, rest in ((one, other), (other, one)):
                if -1 in moved or not self.goes(moved, ties, way):
                    continue
                hit = self.off(moved, ties, way, "close", rest)
                if hit is None:
                    return True
        self.blocked.append(hit or Blocked(ties[0], ""))
        return False

    def goes(self, moved: set[int], ties: Sequence[int], move: Vec) -> bool:
        """Whether a move of these spools makes all of some ties."""
        for n in ties:
            tie = self.rig.ties[n]
            way = tie.way if self.spool_of[tie.a] in moved else back(tie.way)
            if not admits(tie.how, way, move):
                return False
        return True

    def trees(self) -> None:
        """Take what is left apart, group by group; where no single spool has room, whole branches."""
        for start in (-1, *range(len(self.spools))):
            if not any(n in self.left for n in self.at.get(start, ())):
                continue
            group = self.members(start)
            self.among = self.bodies(group)
            self.shed(group)
            self.among = None
        self.branches()

    def branches(self) -> None:
        """Whole branches come off where their last spool alone has no room."""
        while True:
            rest = sorted(n for n in self.left if n in self.between)
            if not rest:
                return
            hit: Blocked | None = None
            for n in rest[:WIDE]:
                tie = self.rig.ties[n]
                for one, other in ((tie.a, tie.b), (tie.b, tie.a)):
                    side = self.members(self.spool_of[one], without=n)
                    if -1 in side:
                        continue
                    far = self.members(self.spool_of[other], without=n)
                    hit = self.off(side, (n,), None, "place", far)
                    if hit is None:
                        break
                if hit is None:
                    break
            if hit is not None:
                self.blocked.append(hit)
                return
            for s in sorted(
                {self.spool_of[b] for n in rest for b in (self.rig.ties[n].a, self.rig.ties[n].b)}
            ):
                self.shed(self.members(s))

    # ------------------------------------------------------------- the bench
    def bench(self) -> list[Step]:
        """Joints within spools, each spool from its heaviest body outwards."""
        found = []
        for s, bodies in enumerate(self.spools):
            ties = self.inside.get(s, [])
            if not ties:
                continue
            at: dict[str, list[int]] = {}
            for n in ties:
                at.setdefault(self.rig.ties[n].a, []).append(n)
                at.setdefault(self.rig.ties[n].b, []).append(n)
            start = max(bodies, key=lambda b: (len(at.get(b, ())), self.rig.blocks[b].mass or 0.0, b))
            have = {start}
            walk = [start]
            for body in walk:
                for n in sorted(at.get(body, ())):
                    tie = self.rig.ties[n]
                    other = tie.other(body)
                    if other not in have:
                        turned = tie.how is How.THREADED
                        found.append(
                            Step(
                                frozenset((other,)), frozenset((body,)), (n,),
                                None if turned else direction_to(tie, other),
                                0.0 if turned else tie.travel, "bench", s,
                            )
                        )  # fmt: skip
                        have.add(other)
                        walk.append(other)
        return found


def _across(n: Vec) -> list[Vec]:
    """The four ways square to a direction that lie along the other axes of its face."""
    helper = (0.0, 0.0, 1.0) if abs(n[2]) < 0.9 else (0.0, 1.0, 0.0)
    u = (
        n[1] * helper[2] - n[2] * helper[1],
        n[2] * helper[0] - n[0] * helper[2],
        n[0] * helper[1] - n[1] * helper[0],
    )
    size = (u[0] ** 2 + u[1] ** 2 + u[2] ** 2) ** 0.5
    u = (u[0] / size, u[1] / size, u[2] / size)
    v = (n[1] * u[2] - n[2] * u[1], n[2] * u[0] - n[0] * u[2], n[0] * u[1] - n[1] * u[0])
    return [u, back(u), v, back(v)]
