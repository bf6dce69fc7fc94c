"""Flange pairs: faces, bolt torque, drilling."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.flanges import FlangeDims, flange_dims
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict

SAME_DRILLING = 0.0015
"""Bolt circles and holes closer than this are one drilling (own rule: half the play of a bolt). [m]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Faces(About):
    """The two faces of a flange pair.

    Parameters
    ----------
    size : Size
    face_a, face_b : str
        ``"flat"``, ``"raised"``, ``"ringed"``; empty if not said.
    fillers : int
        Full-face fillers listed for this size.
    pairs : int
        Pairs of this size that need one.
    """

    size: Size
    face_a: str
    face_b: str
    fillers: int = 0
    pairs: int = 1


@check(
    id="FLG-01", stage="join", facts=Faces,
    rule="a flat plastic flange bends over a raised face; common practice, no source",
)  # fmt: skip
def flat_on_raised(facts: Faces, _book: Book) -> Finding:
    """STOP for a flat flange against a raised face until a full-face filler is listed for each pair."""
    faces = {facts.face_a, facts.face_b}
    if "" in faces:
        return answer(
            "FLG-01",
            Verdict.CANNOT_TELL,
            facts,
            why="not_said",
            missing=("flange face",),
            next_step="say_face",
        )
    if faces == {"flat", "raised"} and facts.fillers < facts.pairs:
        return answer("FLG-01", Verdict.STOP, facts, next_step="list_filler")
    return answer("FLG-01", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceSaid(About):
    """A flange and its face as said; empty if nobody said."""

    face: str


@check(id="FLG-02", stage="read", rule="own rule: a face is asked, never guessed", facts=FaceSaid)
def face_said(facts: FaceSaid, _book: Book) -> Finding:
    """CANNOT TELL while a flange's face is not said."""
    if facts.face:
        return answer("FLG-02", Verdict.GO, facts)
    return answer("FLG-02", Verdict.CANNOT_TELL, facts, missing=("flange face",), next_step="say_face")


@dataclass(frozen=True, slots=True, kw_only=True)
class Torque(About):
    """Bolt torque of the flanges of one size.

    Parameters
    ----------
    size : Size
    torque : float or None
        As typed from its paper. [N m]
    source : str
        The paper; empty if none.
    """

    size: Size
    torque: float | None
    source: str = ""


@check(id="FLG-03", stage="join", rule="the flange's own data sheet", facts=Torque)
def torque_said(facts: Torque, _book: Book) -> Finding:
    """CANNOT TELL how tight the bolts go while no torque with its paper is given."""
    if facts.torque is not None and facts.source:
        return answer("FLG-03", Verdict.GO, facts, measured=facts.torque, unit="N m")
    missing = "torque" if facts.torque is None else "paper of the torque"
    return answer("FLG-03", Verdict.CANNOT_TELL, facts, missing=(missing,), next_step="say_torque")


@dataclass(frozen=True, slots=True, kw_only=True)
class Drilling(About):
    """Drilling of the two flanges of a pair.

    Parameters
    ----------
    size : Size
    drilling_a, drilling_b : str
        ``"class150"``, ``"pn10"``, ``"pn16"``; empty if not said.
    """

    size: Size
    drilling_a: str
    drilling_b: str


def _pattern(book: Book, size: Size, drilling: str, log: Reading) -> FlangeDims | None:
    try:
        return flange_dims(book, size, drilling, log)
    except LineproofError:
        return None


@check(id="FLG-04", stage="order", rule="ASME B16.5 class 150; EN 1092-1 PN 10, PN 16", facts=Drilling)
def drilling_meets(facts: Drilling, book: Book) -> Finding:
    """STOP where two flanges are drilled differently; classes that are drilled alike at this size pass."""
    a, b = facts.drilling_a, facts.drilling_b
    if not a or not b:
        return answer(
            "FLG-04", Verdict.CANNOT_TELL, facts, why="not_said", missing=("flange drilling",),
            next_step="say_drilling",
        )  # fmt: skip
    if a == b:
        return answer("FLG-04", Verdict.GO, facts)
    log = Reading()
    one, two = _pattern(book, facts.size, a, log), _pattern(book, facts.size, b, log)
    if one is None or two is None:
        return answer("FLG-04", Verdict.STOP, facts, log, why="differ", next_step="right_flange")
    alike = (
        one.bolt_count == two.bolt_count
        and abs(one.bolt_circle - two.bolt_circle) <= SAME_DRILLING
        and abs(one.bolt_hole - two.bolt_hole) <= SAME_DRILLING
    )
    return answer(
        "FLG-04", Verdict.GO if alike else Verdict.STOP, facts, log, why="" if alike else "bolts",
        bolts_a=one.bolt_count, bolts_b=two.bolt_count, circle_a=one.bolt_circle, circle_b=two.bolt_circle,
        next_step="" if alike else "right_flange",
    )  # fmt: skip
