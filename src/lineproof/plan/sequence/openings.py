"""Openings that could be put into legs: flange pairs, unions, flat faces in place of ringed ones."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass

from lineproof.plan.sequence.legs import Bit, Leg
from lineproof.plan.sequence.rig import How

FLANGES, UNION, FACES = "flange pair", "union", "flat faces"


@dataclass(frozen=True, slots=True)
class Opening:
    """One opening that could be put in.

    Parameters
    ----------
    id : str
        Piece or tie it is put into and the how-manieth there.
    leg, bit : int
        Where.
    kind : str
        ``"flange pair"``, ``"union"`` or ``"flat faces"`` (in place of ringed ones).
    at : str
        The piece that is cut in two, or the tie whose faces are changed.
    order : int
        1 for the first of its stretch, 2 for the second.
    cost : float
        Work it adds, all hands together. [s]
    joints : int
        Cemented joints it adds. [-]
    sure : bool
        False where the room for it could not be measured.
    """

    id: str
    leg: int
    bit: int
    kind: str
    at: str
    order: int
    cost: float
    joints: int = 2
    sure: bool = True


def opened(legs: Sequence[Leg], chosen: Collection[Opening]) -> tuple[Leg, ...]:
    """The legs with some openings put in.

    Parameters
    ----------
    legs : sequence of Leg
    chosen : collection of Opening

    Returns
    -------
    tuple of Leg
        A stretch with one opening is cemented, open, cemented; with two, a piece drops in between.
    """
    count: dict[tuple[int, int], int] = {}
    flat: set[tuple[int, int]] = set()
    for o in chosen:
        if o.kind == FACES:
            flat.add((o.leg, o.bit))
        else:
            count[o.leg, o.bit] = count.get((o.leg, o.bit), 0) + 1
    changed = {leg for leg, _ in (*count, *flat)}
    found = []
    for n, leg in enumerate(legs):
        if n not in changed:
            found.append(leg)
            continue
        bits: list[Bit] = []
        for m, bit in enumerate(leg.bits):
            if (n, m) in flat:
                bits.append(Bit(How.FLAT, bit.way, bit.ties, bit.bodies))
                continue
            bits.append(bit)
            for _ in range(count.get((n, m), 0)):
                bits += [Bit(How.FLAT, bit.way, ()), Bit(How.CEMENTED, bit.way, ())]
        found.append(Leg(leg.a, leg.b, tuple(bits), leg.bodies))
    return tuple(found)


def by_leg(options: Iterable[Opening]) -> dict[int, list[Opening]]:
    """Openings by the leg they would be put into, the cheapest first."""
    found: dict[int, list[Opening]] = {}
    for o in sorted(options, key=lambda o: (o.cost, o.order, o.id)):
        found.setdefault(o.leg, []).append(o)
    return found


def total(chosen: Iterable[Opening]) -> float:
    """Work that openings add, all hands together. [s]"""
    return sum(o.cost for o in chosen)


def cheapest(options: Mapping[str, Opening], names: Iterable[str]) -> Opening:
    """The cheapest of some openings, ties broken by name."""
    return min((options[n] for n in names), key=lambda o: (o.cost, o.order, o.id))
