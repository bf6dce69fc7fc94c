"""Does the line as drawn go together: room between sockets, angles, field pieces, closing."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict

TINY = 1e-9
OWN_ANGLE = 0.008726646259971648
"""Half a degree: above it no leftover angle is called harmless without the procedure (own rule). [rad]"""
TINY_ANGLE = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class Room(About):
    """Bare pipe between two sockets.

    Parameters
    ----------
    face_to_face : float or None
        Between the two mouths, negative where the sockets overlap; None if not measured. [m]
    needed : float or None
        Bare pipe that straps, nuts and rings need; None if nobody said. [m]
    own_room : float
        One outside diameter or so: room enough for anything, where nobody said (own rule). [m]
    nipple : float or None
        Cut length of the shortest nipple that leaves the room needed. [m]
    """

    face_to_face: float | None
    needed: float | None
    own_room: float
    nipple: float | None = None


@check(id="GEO-01", stage="read", rule="geometry of the line; job.toml [cutting] exposed", facts=Room)
def room_between(facts: Room, _book: Book) -> Finding:
    """STOP where sockets meet, or leave less bare pipe than straps, nuts and rings need."""
    face = facts.face_to_face
    if face is None:
        return answer(
            "GEO-01", Verdict.CANNOT_TELL, facts, why="not_measured", missing=("face to face",),
            next_step="tape",
        )  # fmt: skip
    needed = facts.needed
    if face < -TINY or (needed is not None and face < needed - TINY):
        return answer(
            "GEO-01", Verdict.STOP, facts, why="meet" if face < -TINY else "close",
            measured=face, limit=needed or 0.0, unit="m", next_step="make_room",
            shortfall=(needed or 0.0) - face, governs=facts.subject,
        )  # fmt: skip
    if needed is None and face < facts.own_room:
        return answer(
            "GEO-01", Verdict.CANNOT_TELL, facts, why="not_said", measured=face, unit="m",
            missing=("cutting.exposed",), next_step="say_exposed",
        )  # fmt: skip
    return answer("GEO-01", Verdict.GO, facts, measured=face, limit=needed, unit="m")


@dataclass(frozen=True, slots=True, kw_only=True)
class AngleAsked(About):
    """An angle on the drawing and the fitting that serves it.

    Parameters
    ----------
    angle_deg : float
        As drawn. [deg]
    fitting_deg : float or None
        Of the fitting chosen; None if none serves. [deg]
    choices : tuple of float
        Angles that are made or in parts.csv. [deg]
    """

    angle_deg: float
    fitting_deg: float | None
    choices: tuple[float, ...] = ()


@check(id="GEO-02", stage="read", rule="angles of fittings listed or in parts.csv", facts=AngleAsked)
def angle_has_fitting(facts: AngleAsked, _book: Book) -> Finding:
    """STOP where no fitting has the angle drawn; the choices are named."""
    if facts.fitting_deg is None:
        return answer("GEO-02", Verdict.STOP, facts, why="none", next_step="choose_angle")
    return answer("GEO-02", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Leftover(About):
    """What is left of an angle after the fitting, and where it lands.

    Parameters
    ----------
    leftover : float
        Angle to take up at a joint. [rad]
    limit : float or None
        How far out of line a joint may be made, by procedure or job; None if neither says. [rad]
    limit_by : str
        Who gives the limit.
    lands_at : str
        The part whose joint takes it.
    """

    leftover: float
    limit: float | None
    limit_by: str = ""
    lands_at: str = ""


@check(id="GEO-03", stage="read", rule="procedure's angle limit; 0.5 deg own rule", facts=Leftover)
def leftover_angle(facts: Leftover, _book: Book) -> Finding:
    """Leftover angle against the limit of the procedure; with none, small is CARE and more CANNOT TELL."""
    left, limit = facts.leftover, facts.limit
    if left <= TINY_ANGLE:
        return answer("GEO-03", Verdict.GO, facts, measured=left, limit=limit, unit="rad", why="none")
    if limit is None:
        if left > OWN_ANGLE + TINY_ANGLE:
            return answer(
                "GEO-03", Verdict.CANNOT_TELL, facts, why="no_limit", measured=left, unit="rad",
                missing=("angle_limit",), next_step="ask_angle_limit",
            )  # fmt: skip
        return answer(
            "GEO-03", Verdict.CARE, facts, why="small", measured=left, limit=OWN_ANGLE, unit="rad",
            next_step="ask_angle_limit",
        )  # fmt: skip
    if left > limit + TINY_ANGLE:
        return answer(
            "GEO-03", Verdict.STOP, facts, why="over", measured=left, limit=limit, unit="rad",
            next_step="other_fitting",
        )  # fmt: skip
    return answer("GEO-03", Verdict.GO, facts, measured=left, limit=limit, unit="rad")


@dataclass(frozen=True, slots=True, kw_only=True)
class FieldPiece(About):
    """Runs between fixed points that no piece cut after taping relieves."""

    runs: tuple[str, ...] = ()


@check(id="GEO-04", stage="read", rule="own rule: what lies between fixed points is taped", facts=FieldPiece)
def field_piece(facts: FieldPiece, _book: Book) -> Finding:
    """CARE where runs between two fixed points have no field piece."""
    if facts.runs:
        return answer("GEO-04", Verdict.CARE, facts, next_step="mark_field", count=len(facts.runs))
    return answer("GEO-04", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class CouplingPlace(About):
    """Whether a leg longer than a stick has a place for its coupling or bell."""

    found: bool


@check(id="GEO-05", stage="read", rule="walk: no joint stretches; stock lengths", facts=CouplingPlace)
def coupling_place(facts: CouplingPlace, _book: Book) -> Finding:
    """STOP where the stretches kept free of joints leave no place within a stick."""
    if facts.found:
        return answer("GEO-05", Verdict.GO, facts)
    return answer("GEO-05", Verdict.STOP, facts, next_step="free_stretch")


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing(About):
    """Whether a line meets the end it is given.

    Parameters
    ----------
    closed : bool or None
        None: it cannot be checked yet.
    miss : tuple of float
        How far off it is with provisional lengths: east, north, up. [m]
    waits : tuple of str
        What must be measured first.
    """

    closed: bool | None
    miss: tuple[float, ...] = ()
    waits: tuple[str, ...] = ()


@check(id="GEO-06", stage="read", rule="drawing: the given end", facts=Closing)
def closing(facts: Closing, _book: Book) -> Finding:
    """CANNOT TELL whether a line closes while fittings on the way are not measured."""
    if facts.closed is None:
        return answer("GEO-06", Verdict.CANNOT_TELL, facts, missing=facts.waits, next_step="tape_first")
    if not facts.closed:
        return answer("GEO-06", Verdict.STOP, facts, next_step="check_dimensions")
    return answer("GEO-06", Verdict.GO, facts)
