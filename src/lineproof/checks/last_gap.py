"""The last two faces of a loop: what they are likely to miss by, against what gasket and flange take."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.flanges import alignment
from lineproof.book.load import Book
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict

HAIR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class LastGap(About):
    """A closing face, and what the job allows it.

    Parameters
    ----------
    length, sideways : float or None
        What the faces are likely to miss each other by; None while something on the way is not known. [m]
    angle : float or None
        Out of parallel, likely at most. [rad]
    length_most, sideways_most : float or None
        What gasket and flange take, as the job says. [m]
    angle_most : float or None
        [rad]
    tape_first : str
        The piece to leave for taping; empty if there is none that may be left.
    unknown : tuple of str
        What is not known on the way round.
    """

    length: float | None
    sideways: float | None
    angle: float | None
    length_most: float | None = None
    sideways_most: float | None = None
    angle_most: float | None = None
    tape_first: str = ""
    unknown: tuple[str, ...] = ()


@check(
    id="GAP-01", stage="order", facts=LastGap,
    rule="what the gasket takes up is the job's own number; bolt holes within 3 mm and faces within 1 mm in "
    "200 mm: ASME B31.3 par. 335.1.1, from memory; no pulling into place: Kentucky 815 KAR 20:071 s.3",
)  # fmt: skip
def last_gap(facts: LastGap, book: Book) -> Finding:
    """CARE where the last faces are likely to miss by more than gasket and flange take: leave a piece."""
    if facts.length is None or facts.sideways is None or facts.angle is None:
        return answer(
            "GAP-01", Verdict.CANNOT_TELL, facts, why="no_misfit", missing=facts.unknown or ("errors on "
            "the way",),
            next_step="say_errors",
        )  # fmt: skip
    if facts.length_most is None:
        return answer(
            "GAP-01", Verdict.CANNOT_TELL, facts, why="no_limit", missing=("what the gasket takes up",),
            next_step="say_closing",
        )  # fmt: skip
    log = Reading()
    sideways, angle = facts.sideways_most, facts.angle_most
    if sideways is None or angle is None:
        listed = alignment(book, log)
        sideways = listed.sideways if sideways is None else sideways
        angle = listed.angle if angle is None else angle
    for name, got, most, unit in (
        ("length", facts.length, facts.length_most, "m"),
        ("sideways", facts.sideways, sideways, "m"),
        ("angle", facts.angle, angle, "rad"),
    ):
        if got > most + HAIR:
            return answer(
                "GAP-01", Verdict.CARE, facts, log, why="over" if unit == "m" else "over_angle", measured=got,
                limit=most, unit=unit, side=name, next_step="tape_gap" if facts.tape_first else "ask_closing",
            )  # fmt: skip
    return answer("GAP-01", Verdict.GO, facts, log, measured=facts.length, limit=facts.length_most, unit="m")
