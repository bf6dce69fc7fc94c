"""Cuts a scene into the parts that stand on one sheet each, with match lines between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from lineproof.desk.drawing.scene import Kind, Leg, LineScene, Mate, Saddle, Sign, Spot, Stub
from lineproof.sums.vectors import add, scale, sub

BITS_A_CHUNK = 6
"""A long leg may be cut by a match line after so many pieces."""

Unit = tuple[int, int, int]
"""Leg number and its bits from and to."""


@dataclass(frozen=True, slots=True)
class Cutter:
    """Cuts one scene.

    Parameters
    ----------
    scene : LineScene
    """

    scene: LineScene

    def units(self) -> list[Unit]:
        """Legs, long ones in chunks."""
        found: list[Unit] = []
        for n, leg in enumerate(self.scene.legs):
            if len(leg.bits) <= 2 * BITS_A_CHUNK:
                found.append((n, 0, len(leg.bits)))
                continue
            for lo in range(0, len(leg.bits), BITS_A_CHUNK):
                hi = min(lo + BITS_A_CHUNK, len(leg.bits))
                found.append((n, lo, hi))
        return found

    def joints(self, unit: Unit) -> int:
        """Joints of a unit."""
        leg = self.scene.legs[unit[0]]
        bits = leg.bits[unit[1] : unit[2]]
        return sum((b.a is not None) + (b.b is not None) for b in bits) + (leg.tie is not None)

    def part(self, units: Sequence[Unit], number: int, *, last: bool) -> LineScene:
        """The part of the scene on one sheet, with its match lines."""
        spots: list[Spot] = []
        numbers: dict[int, int] = {}

        def at(n: int) -> int:
            if n not in numbers:
                numbers[n] = len(spots)
                spots.append(self.scene.spots[n])
            return numbers[n]

        merged: list[Unit] = []
        for leg, lo, hi in units:
            if merged and merged[-1][0] == leg and merged[-1][2] == lo:
                merged[-1] = (leg, merged[-1][1], hi)
            else:
                merged.append((leg, lo, hi))
        legs: list[Leg] = []
        for i, (n, lo, hi) in enumerate(merged):
            whole = self.scene.legs[n]
            full = len(whole.bits)
            a = at(whole.a) if lo == 0 else self.match(spots, whole, lo, number - 1, "from")
            b = at(whole.b) if hi == full else self.match(spots, whole, hi, number, "to")
            legs.append(_slice(whole, a, b, lo, hi))
            if i == 0 and number > 1 and lo == 0:
                self.enter(spots, a, number)
        if merged and not last and merged[-1][2] == len(self.scene.legs[merged[-1][0]].bits):
            following = (
                self.scene.legs[merged[-1][0] + 1] if merged[-1][0] + 1 < len(self.scene.legs) else None
            )
            if following is not None and following.a in numbers:
                k = numbers[following.a]
                stub = Stub(
                    following.way, f"match {number}, to sheet {number + 1}", f"match {number}", match=True
                )
                spots[k] = replace(spots[k], stubs=(*spots[k].stubs, stub))
        if not legs:
            for n in range(len(self.scene.spots)):
                at(n)
        here = {n for n, _, _ in merged}
        loose = tuple(
            (numbers[n], way, mark)
            for n, way, mark in self.scene.loose
            if n in numbers and (self.first_leg(n) in here or not legs)
        )
        return replace(self.scene, spots=tuple(spots), legs=tuple(legs), loose=loose)

    def first_leg(self, spot: int) -> int:
        """The first leg that touches a place; -1 if none does."""
        return next((i for i, leg in enumerate(self.scene.legs) if spot in (leg.a, leg.b)), -1)

    def match(self, spots: list[Spot], leg: Leg, bit: int, number: int, word: str) -> int:
        """A match line within a leg."""
        a, b = self.scene.spots[leg.a].at, self.scene.spots[leg.b].at
        at = add(a, scale(sub(b, a), bit / len(leg.bits)))
        sheet = number + 1 if word == "to" else number
        spots.append(
            Spot(
                at,
                Sign.MATCH,
                f"match {number}",
                f"match line {number}",
                ((Kind.MATCH, f"match {number}, {word} sheet {sheet}"),),
            )
        )
        return len(spots) - 1

    def enter(self, spots: list[Spot], n: int, number: int) -> None:
        """Where a sheet goes on from the one before: a match line instead of the part drawn there."""
        spot = spots[n]
        text = f"match {number - 1}, from sheet {number - 1}" + (f", at {spot.name}" if spot.name else "")
        spots[n] = replace(
            spot,
            sign=Sign.MATCH,
            words=((Kind.MATCH, text),),
            stubs=(),
            handle=None,
            ref=f"match {number - 1}",
        )


def _slice(leg: Leg, a: int, b: int, lo: int, hi: int) -> Leg:
    """A leg or a part of it between two places of a sheet."""
    full = len(leg.bits)
    if lo == 0 and hi == full:
        return replace(leg, a=a, b=b)
    first = lo == 0
    saddles = []
    for s in leg.saddles:
        along = s.share * full
        if lo <= along < hi or (hi == full and along == full):
            saddles.append(Saddle((along - lo) / (hi - lo), s.stub, s.joint))
    return replace(
        leg,
        a=a,
        b=b,
        bits=leg.bits[lo:hi],
        mate_a=leg.mate_a if first else Mate.NONE,
        mate_b=leg.mate_b if hi == full else Mate.NONE,
        length=f"{leg.length} in all" if first else "",
        slope=leg.slope if first else "",
        roll=leg.roll if first else "",
        saddles=tuple(saddles),
    )
