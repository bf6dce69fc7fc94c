"""Nesting in whole steps: lengths on a grid, equal pieces as one class, equal stock as one kind.

A piece weighs its length and one saw cut; a stick holds its usable length and one saw cut, because the last
piece needs no cut when it ends where the stick ends. Where the bell is not kept, a cut always parts the last
piece from the bell, so that extra saw cut is not granted.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from lineproof.floor.errors import BadInput
from lineproof.plan.nest_model import Offcut, Stick, Want

FINE_PER_M = 8_000_000
"""Finest step, 1/8 micrometre: 1/64 in (396.875 micrometres) and 0.1 mm are both whole numbers of it."""
COARSE = 800
"""Step used when the lengths share no large one: 0.1 mm, in finest steps."""
MOST_STEPS = 20_000
"""A shared step is taken when the longest stock has at most this many of them."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Stock that is alike: what it holds, in steps, and how many there are."""

    plain: int
    """Room when no piece keeps the bell."""
    bell: int
    """Room when a piece keeps the bell; -1 without a bell."""
    count: int
    """How many there are; -1 for new sticks, as many as asked."""
    ids: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Problem:
    """Classes of equal pieces, longest first, and kinds of stock: new sticks, then offcuts, shortest first.

    A class number below ``len(plain)`` is a plain piece, from there on a belled one.
    """

    plain: tuple[int, ...]
    bell: tuple[int, ...]
    demand: tuple[int, ...]
    """Pieces wanted of each class: the plain ones, then the belled ones."""
    kinds: tuple[Kind, ...]
    members: tuple[tuple[str, ...], ...]
    """Want ids of each class, in crew order."""
    kerf: int
    grid: float
    exact: bool

    @property
    def weights(self) -> tuple[int, ...]:
        """Weight of every class."""
        return self.plain + self.bell

    @property
    def pieces(self) -> int:
        """Pieces wanted in all."""
        return sum(self.demand)

    def less(self, bins: Sequence[Bin]) -> Problem:
        """Return what is still wanted, and still there, once ``bins`` are cut; surplus is ignored."""
        demand = list(self.demand)
        left = [kind.count for kind in self.kinds]
        for bin_ in bins:
            if bin_.kind:
                left[bin_.kind] -= 1
            for c in bin_.classes():
                demand[c] = max(0, demand[c] - 1)
        kinds = tuple(replace(k, count=n) for k, n in zip(self.kinds, left, strict=True))
        return replace(self, demand=tuple(demand), kinds=kinds)


@dataclass(slots=True)
class Bin:
    """One stick being filled: kind, class of its belled piece or -1, plain pieces, room left."""

    kind: int
    bell: int
    pieces: list[int]
    room: int

    def classes(self) -> list[int]:
        """All classes in it, the belled one first."""
        return ([self.bell] if self.bell >= 0 else []) + self.pieces

    def key(self) -> tuple[int, int, tuple[int, ...]]:
        """Its cutting pattern, to compare."""
        return (self.kind, self.bell, tuple(sorted(self.pieces)))

    def copy(self) -> Bin:
        """Return an independent copy."""
        return Bin(self.kind, self.bell, list(self.pieces), self.room)


def _shared_step(values: Sequence[float], longest: float) -> int:
    """Return the largest step all values are whole numbers of, in finest steps; 0 if too fine to use."""
    step = 0
    for value in values:
        fine = value * FINE_PER_M
        whole = round(fine)
        if abs(fine - whole) > 0.05:
            return 0
        step = math.gcd(step, whole)
        if step and longest * FINE_PER_M > step * MOST_STEPS:
            return 0
    return step


def to_grid(wants: Sequence[Want], stick: Stick, kerf: float, offcuts: Sequence[Offcut]) -> Problem:
    """Put a nesting problem on its grid, pieces and losses rounded up, stock rounded down.

    Raises
    ------
    BadInput
        A length is not positive and finite, an id comes twice, or a bell is longer than what it is on.
    """
    _look(wants, stick, kerf, offcuts)
    values = [w.length for w in wants] + [kerf, stick.length, stick.bell_length, stick.trim]
    for offcut in offcuts:
        values += [offcut.length, offcut.bell_length]
    longest = max([stick.length, *(o.length for o in offcuts)])
    step = _shared_step(values, longest)
    exact = step > 0
    per_m = FINE_PER_M / (step or COARSE)

    def up(value: float) -> int:
        return math.ceil(value * per_m - 1e-4)

    def down(value: float) -> int:
        return math.floor(value * per_m + 1e-4)

    k = up(kerf)
    lost_bell = up(stick.bell_length) if stick.belled else 0
    if stick.belled:
        size = down(stick.length) - up(stick.trim)
        new = Kind(size - lost_bell, size + k, -1, ())
    else:
        new = Kind(down(stick.length) - 2 * up(stick.trim) + k, -1, -1, ())

    alike: dict[tuple[int, int], list[str]] = {}
    for offcut in sorted(offcuts, key=lambda o: o.id):
        size = down(offcut.length)
        rooms = (size - up(offcut.bell_length), size + k) if offcut.bell else (size + k, -1)
        alike.setdefault(rooms, []).append(offcut.id)
    kinds = (new, *(Kind(p, b, len(ids), tuple(ids)) for (p, b), ids in sorted(alike.items())))

    groups: dict[tuple[bool, int], list[tuple[int, str]]] = {}
    for want in wants:
        groups.setdefault((want.bell, up(want.length) + k), []).append((want.order, want.id))
    keys = sorted(groups, key=lambda g: (g[0], -g[1]))
    return Problem(
        plain=tuple(w for bell, w in keys if not bell),
        bell=tuple(w for bell, w in keys if bell),
        demand=tuple(len(groups[g]) for g in keys),
        kinds=kinds,
        members=tuple(tuple(i for _, i in sorted(groups[g])) for g in keys),
        kerf=k,
        grid=1.0 / per_m,
        exact=exact,
    )


def _look(wants: Sequence[Want], stick: Stick, kerf: float, offcuts: Sequence[Offcut]) -> None:
    """Refuse lengths that mean nothing."""
    positive = [(f"piece {w.id}", w.length) for w in wants] + [(f"stick {stick.id}", stick.length)]
    positive += [(f"offcut {o.id}", o.length) for o in offcuts]
    for name, value in positive:
        if not (math.isfinite(value) and value > 0):
            raise BadInput(
                f"{name} is {value!r} m long", allowed="a length above 0", next="correct its length"
            )
    zero_ok = [("saw cut (kerf)", kerf), ("end trim", stick.trim), ("bell length", stick.bell_length)]
    zero_ok += [(f"bell length of offcut {o.id}", o.bell_length) for o in offcuts]
    for name, value in zero_ok:
        if not (math.isfinite(value) and value >= 0):
            raise BadInput(f"{name} is {value!r} m", allowed="0 or more", next="correct it")
    for what, ids in (("piece", [w.id for w in wants]), ("offcut", [o.id for o in offcuts])):
        if len(set(ids)) != len(ids):
            twice = min(i for i, n in Counter(ids).items() if n > 1)
            raise BadInput(
                f"{what} {twice} is listed twice", allowed="each id once", next="rename one of them"
            )
    lost = stick.bell_length if stick.belled else 0.0
    if lost + stick.trim * (1 if stick.belled else 2) >= stick.length:
        raise BadInput(
            f"stick {stick.id} is {stick.length:g} m long and loses {lost + 2 * stick.trim:g} m at its ends",
            allowed="losses shorter than the stick",
            next="correct its length, bell length or end trim",
        )
