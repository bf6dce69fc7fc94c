"""Cold spring: bending a run to make room for a joint. Refused unless the procedure allows it in words."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.material import least_bend_radius
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import SizeNotListed
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.bow import bow_gain

LARGEST = {"nps": 2.0, "d": 63.0}
"""Largest pipe that is sprung where the procedure names no size: NPS 2, and d63 beside it (own rule)."""
HAIR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Spring(About):
    """A run that somebody wants to spring.

    Parameters
    ----------
    size : Size
    od : float or None
        Outside diameter of the pipe. [m]
    material : str
    procedure, words : str
        Id of the line's procedure, and what it says of cold spring; empty where it says nothing.
    size_to : Size or None
        Largest size it allows it for.
    radius : float or None
        Least radius it names. [m]
    needed : float or None
        Travel that the joint wants: its depth and the working gap. [m]
    length : float or None
        Straight length of the run that is bowed. [m]
    travel : float or None
        What a bent run gives at the procedure's radius, by the frame; None for a straight one. [m]
    not_cured : tuple of str or None
        Joints in the bent run that are not cured; None if that is not known.
    signed_by, engineer : str
        Who signed for it, and the engineer of job.toml.
    """

    size: Size
    od: float | None
    material: str
    procedure: str
    words: str
    size_to: Size | None
    radius: float | None
    needed: float | None
    length: float | None
    travel: float | None = None
    not_cured: tuple[str, ...] | None
    signed_by: str = ""
    engineer: str = ""


@check(
    id="SPR-01", stage="join", facts=Spring, hurts=True,
    rule="no bending or pulling into place, before or after set: Kentucky 815 KAR 20:071 s.3; cold spring "
    "only where the approved procedure allows it in words and the engineer signs: own rule",
)  # fmt: skip
def spring(facts: Spring, book: Book) -> Finding:
    """STOP for springing a run unless its procedure allows it, its joints are cured, and it gives enough."""
    log = Reading()
    if not facts.words:
        return answer("SPR-01", Verdict.STOP, facts, log, why="not_allowed", next_step="open_otherwise")
    most = facts.size_to or Size(facts.size.system, LARGEST[facts.size.system])
    if facts.size.system != most.system or facts.size.nominal > most.nominal:
        return answer(
            "SPR-01", Verdict.STOP, facts, log, why="too_large", next_step="open_otherwise", most=most.text
        )
    if facts.not_cured is None:
        return answer(
            "SPR-01",
            Verdict.CANNOT_TELL,
            facts,
            log,
            why="no_state",
            next_step="record_run",
            missing=("cure of the joints in the run",),
        )
    if facts.not_cured:
        return answer(
            "SPR-01",
            Verdict.STOP,
            facts,
            log,
            why="not_cured",
            next_step="let_cure",
            not_cured=facts.not_cured,
        )
    if facts.needed is None or facts.od is None or (facts.travel is None and facts.length is None):
        gone = [n for n, v in (("travel wanted", facts.needed), ("outside diameter", facts.od)) if v is None]
        return answer(
            "SPR-01",
            Verdict.CANNOT_TELL,
            facts,
            log,
            why="no_run",
            next_step="say_run",
            missing=tuple(gone or ["length of the run"]),
        )
    travel = facts.travel
    if travel is None and facts.length is not None:
        try:
            radius = facts.radius or least_bend_radius(book, facts.material, facts.od, log)
        except SizeNotListed:
            return answer(
                "SPR-01",
                Verdict.CANNOT_TELL,
                facts,
                log,
                why="no_radius",
                next_step="ask_radius",
                missing=("least bend radius",),
            )
        travel = bow_gain(min(facts.length, radius), radius)
    elif facts.radius is None:
        return answer(
            "SPR-01",
            Verdict.CANNOT_TELL,
            facts,
            log,
            why="no_radius",
            next_step="ask_radius",
            missing=("least bend radius",),
        )
    if travel is not None and travel < facts.needed - HAIR:
        return answer(
            "SPR-01",
            Verdict.STOP,
            facts,
            log,
            why="short",
            next_step="open_otherwise",
            measured=travel,
            limit=facts.needed,
            unit="m",
        )
    if not facts.signed_by or facts.signed_by != facts.engineer:
        return answer(
            "SPR-01",
            Verdict.CANNOT_TELL,
            facts,
            log,
            why="not_signed",
            next_step="ask_spring",
            missing=("the engineer's signature",),
        )
    return answer("SPR-01", Verdict.GO, facts, log, measured=travel, limit=facts.needed, unit="m")
