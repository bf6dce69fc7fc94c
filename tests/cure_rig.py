"""ASTM D2855-96(2002), handling paragraph and appendix cure guide, as a card typed by hand.

Every hour and edge below is typed from memory, not read in the document, and for PVC only; later editions
may print longer waits, and where they or the container do, those hold. No row is carried above NPS 8, above
100 F, below 10 F for cure, above 370 psi for the first size group and above 315 psi for the others.
"""

from __future__ import annotations

from clock_rig import HOUR, fahr
from lineproof.book.sizes import Size
from lineproof.floor.units import parse
from lineproof.job.card_rows import CardFactor, CardRow
from lineproof.job.cards import CementCard

# Hours a joint may not be handled, whatever its size, by band of F.
HANDLING_H = {(60, 100): 0.5, (40, 60): 1, (20, 40): 2, (0, 20): 4}
# Hours of cure before test: up to 180 psi / above it, for the three groups of sizes, by band of F.
CURE_H = {
    (60, 100): ((1, 6), (2, 12), (6, 24)),
    (40, 60): ((2, 12), (4, 24), (12, 48)),
    (20, 40): ((6, 36), (12, 72), (36, 144)),
    (10, 20): ((8, 48), (16, 96), (48, 192)),
}
GROUPS = (("1/2", "1-1/4", 370), ("1-1/2", "3", 315), ("3-1/2", "8", 315))
WET = 1.5  # all hours are for up to 60 % humidity; above it half as much again


def psi(value: float) -> float:
    return parse(f"{value!r} psi", "pressure")


def inch(text: str) -> Size:
    return Size.parse(f"{text}in")


def typed_card() -> CementCard:
    rows = [
        CardRow(
            kind="handling", size_lo=inch("1/2"), size_hi=inch("8"), temp_lo=fahr(lo), temp_hi=fahr(hi),
            humidity_max=0.6, time=hours * HOUR,
        )
        for (lo, hi), hours in HANDLING_H.items()
    ]  # fmt: skip
    rows += [
        CardRow(
            kind="cure", size_lo=inch(small), size_hi=inch(large), temp_lo=fahr(lo), temp_hi=fahr(hi),
            pressure_max=psi(top), humidity_max=0.6, time=hours * HOUR,
        )
        for (lo, hi), groups in CURE_H.items()
        for (small, large, high), pair in zip(GROUPS, groups, strict=True)
        for top, hours in zip((180, high), pair, strict=True)
    ]  # fmt: skip
    return CementCard(
        id="T", product="typed from memory for a test", material="pvc", rows=tuple(rows),
        factors=(CardFactor(when="damp", times=WET, humidity_over=0.6),),
    )  # fmt: skip


CARD = typed_card()
