"""Can every loop open, is there an order of joints, can what is moved be carried, are there hands for two."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict

HAIR = 1e-9


@dataclass(frozen=True, slots=True, kw_only=True)
class LoopOpens(About):
    """Loops of a line between fixed points, and whether their last joint has somewhere to go.

    Parameters
    ----------
    as_drawn : bool
        They open as the line is drawn, without anything that nobody said.
    with_ends, with_faces : bool
        They open if standing flanges may be bolted up last; if faces that nobody described are flat.
    ends, faces : tuple of str
        Those flanges, and the parts with those faces.
    at_once : bool
        They open if two joints side by side may be made at once.
    openings : tuple of str
        What would open them: the cheapest found.
    closed : bool
        Proven: nothing that may be put in opens them.
    """

    as_drawn: bool
    with_ends: bool = False
    with_faces: bool = False
    ends: tuple[str, ...] = ()
    faces: tuple[str, ...] = ()
    at_once: bool = False
    openings: tuple[str, ...] = ()
    closed: bool = False


@check(
    id="SEQ-01", stage="order", facts=LoopOpens,
    rule="geometry: a cemented joint takes straight travel of its socket's depth, one joint at a time",
)  # fmt: skip
def loop_opens(facts: LoopOpens, _book: Book) -> Finding:
    """STOP where the last joint of a loop has nowhere to go; what would open it is named."""
    if facts.as_drawn:
        return answer("SEQ-01", Verdict.GO, facts)
    if facts.with_ends:
        return answer("SEQ-01", Verdict.CARE, facts, why="ends", next_step="say_unbolt")
    if facts.with_faces:
        return answer(
            "SEQ-01", Verdict.CANNOT_TELL, facts, why="faces", missing=facts.faces, next_step="say_faces"
        )
    if facts.openings:
        return answer(
            "SEQ-01", Verdict.STOP, facts, why="shut", next_step="open_loop", count=len(facts.openings)
        )
    if facts.at_once:
        return answer("SEQ-01", Verdict.STOP, facts, why="at_once", next_step="ask_two_at_once")
    if facts.closed:
        return answer("SEQ-01", Verdict.STOP, facts, why="closed", next_step="allow_opening")
    return answer(
        "SEQ-01",
        Verdict.CANNOT_TELL,
        facts,
        why="not_found",
        missing=("openings",),
        next_step="search_longer",
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderFound(About):
    """Whether an order of joints was found and passed its checker.

    Parameters
    ----------
    found : bool
    joint : str
        The joint for which there is no room.
    by : str
        What is in its way.
    """

    found: bool
    joint: str = ""
    by: str = ""


@check(
    id="SEQ-02", stage="order", facts=OrderFound,
    rule="own rule: an order is shown once every step of it was found and checked again",
)  # fmt: skip
def order_found(facts: OrderFound, _book: Book) -> Finding:
    """CANNOT TELL while no order was found, which is not called impossible; what is in the way is named."""
    if facts.found:
        return answer("SEQ-02", Verdict.GO, facts)
    if facts.joint:
        return answer(
            "SEQ-02", Verdict.CANNOT_TELL, facts, why="no_room", missing=("room",), next_step="make_travel"
        )
    return answer(
        "SEQ-02", Verdict.CANNOT_TELL, facts, why="loops_first", missing=("order",), next_step="open_first"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Carried(About):
    """The heaviest thing that is lifted or moved in one piece.

    Parameters
    ----------
    mass : float or None
        Its mass; None where one of its parts was not weighed. [kg]
    most : float or None
        What people and tackle lift, by job.toml. [kg]
    tackle : str
    not_weighed : tuple of str
    """

    mass: float | None
    most: float | None
    tackle: str = ""
    not_weighed: tuple[str, ...] = ()


@check(
    id="SEQ-03", stage="move", facts=Carried, hurts=True,
    rule="job.toml [handling]; nothing is lifted that nobody weighed: own rule",
)  # fmt: skip
def carried(facts: Carried, _book: Book) -> Finding:
    """STOP for a part or spool heavier than any tackle; CANNOT TELL where mass or limit is not said."""
    if facts.most is None:
        return answer(
            "SEQ-03", Verdict.CANNOT_TELL, facts, why="no_limit", measured=facts.mass, unit="kg",
            missing=("handling.mass",), next_step="say_handling",
        )  # fmt: skip
    if facts.mass is not None and facts.mass > facts.most + HAIR:
        return answer(
            "SEQ-03", Verdict.STOP, facts, why="too_heavy", measured=facts.mass, limit=facts.most, unit="kg",
            next_step="lighter", over=facts.mass - facts.most,
        )  # fmt: skip
    if facts.mass is None:
        return answer(
            "SEQ-03", Verdict.CANNOT_TELL, facts, why="not_weighed", limit=facts.most, unit="kg",
            missing=facts.not_weighed, next_step="weigh",
        )  # fmt: skip
    return answer("SEQ-03", Verdict.GO, facts, measured=facts.mass, limit=facts.most, unit="kg")


@dataclass(frozen=True, slots=True, kw_only=True)
class TwoAtOnce(About):
    """Two joints side by side that are made at once because the procedure allows it.

    Parameters
    ----------
    needed, have : int or None
        People both joints take together; people of the line's crew. [-]
    """

    needed: int | None
    have: int | None


@check(
    id="SEQ-04", stage="join", facts=TwoAtOnce,
    rule="own rule: two joints made at once take the people of both",
)  # fmt: skip
def two_at_once(facts: TwoAtOnce, _book: Book) -> Finding:
    """STOP where two joints are made at once with fewer people than both take."""
    if facts.needed is None or facts.have is None:
        return answer(
            "SEQ-04", Verdict.CANNOT_TELL, facts, why="not_said", missing=("hands",), next_step="two_hands"
        )
    if facts.have < facts.needed:
        return answer("SEQ-04", Verdict.STOP, facts, why="too_few", next_step="more_people")
    return answer("SEQ-04", Verdict.GO, facts)
