"""Before pressure: the weakest part of a section, its cap, heights and medium."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

from lineproof.book.load import Book
from lineproof.book.material import working_stress
from lineproof.book.pipe import od, wall_min
from lineproof.book.ratings import joint_limit, rating_73f, temperature_factor
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.pressure import pressure_at
from lineproof.sums.ratings import derated, margin, rating

WATER = 1000.0
"""Density of test water, fresh and cold. [kg/m3]"""
RATED_AT = 295.92777777777775
"""Ratings are told at 73 F (23 C) where the part does not say otherwise. [K]"""
TINY = 0.5
"""Two pressures closer than this are one. [Pa]"""
PIPE, OPENED, FITTING = SLOTS = ("pipe", "flange, union or valve", "fitting")


@dataclass(frozen=True, slots=True, kw_only=True)
class Rated:
    """Parts of one kind in a section, at the lowest place one of them stands.

    Parameters
    ----------
    name : str
        The one that stands lowest.
    what : str
        In words: ``valve, 12 in``.
    slot : str
        One of ``SLOTS``: which table stands in where nothing is marked on the part.
    height : float or None
        Of its lowest place, on the drawing's datum; None if not known. [m]
    rating, rated_at : float or None
        As marked on it [Pa], and the temperature the marking is for [K].
    size : Size
    material, series, family : str
        Of the pipe or part.
    """

    name: str
    what: str
    slot: str
    height: float | None
    rating: float | None
    rated_at: float | None
    size: Size
    material: str
    series: str
    family: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Weakest(About):
    """A section at its planned pressure.

    Parameters
    ----------
    section, gauge : str
    planned : float or None
        Planned reading. [Pa]
    gauge_height : float or None
        [m]
    gauge_error : float or None
        [Pa]
    wall : float or None
        Wall temperature during the test. [K]
    wall_by : str
        ``"pressure cap"`` or ``"design temperature"``.
    parts : tuple of Rated
        Everything in the section.
    density : float
        Of the test water. [kg/m3]
    """

    section: str
    gauge: str
    planned: float | None
    gauge_height: float | None
    gauge_error: float | None
    wall: float | None
    wall_by: str
    parts: tuple[Rated, ...]
    density: float = WATER


def _rating(part: Rated, wall: float, book: Book, log: Reading) -> float | None:
    """Rating at the wall temperature: what is marked, else the table for its slot; None if neither."""
    family = "ISO" if part.size.metric else "A"
    rated_at = part.rated_at if part.rating is not None and part.rated_at is not None else RATED_AT
    base = part.rating
    if base is None:
        if part.slot == OPENED:
            return joint_limit(book, part.material, wall, log)
        if part.slot != PIPE or not part.family:
            return None
        try:
            spec = PipeSpec(part.material, part.series, part.family)
            base = rating_73f(book, part.size, spec, log)
            if base is None and spec.kind == "pn":
                base = float(spec.number) * 1e5  # PN: nominal pressure in bar at 20 C, by definition
            if base is None:
                return _by_stress(part.size, spec, wall, book, log)
        except LineproofError:
            return None
    if wall <= rated_at + 1e-6:
        return base
    now = temperature_factor(book, part.material, wall, log, family=family)
    then = 1.0
    if rated_at > RATED_AT + 1e-6:
        marked = temperature_factor(book, part.material, rated_at, log, family=family)
        if not marked:
            return None
        then = marked
    return None if now is None else derated(base, min(1.0, now / then))


def _by_stress(size: Size, spec: PipeSpec, wall: float, book: Book, log: Reading) -> float | None:
    """Rating of a pipe from the working stress of the next hotter row, its diameter and least wall."""
    stress = working_stress(book, spec.material, wall, log)
    if stress is None:
        return None
    return rating(stress=stress, od=od(book, size, spec, log), wall=wall_min(book, size, spec, log))


@check(
    id="PRS-01", stage="raise", facts=Weakest, hurts=True,
    rule="hydrostatics; what is marked on the part; ratings and temperature factors of the tables",
)  # fmt: skip
def weakest_part(facts: Weakest, book: Book) -> Finding:
    """STOP where any part sees more than its rating, at its own height, wall temperature and gauge error."""
    lacks = [
        name
        for name, value in (
            ("planned pressure", facts.planned),
            ("gauge elevation", facts.gauge_height),
            ("gauge error", facts.gauge_error),
            ("wall temperature", facts.wall),
        )
        if value is None
    ]
    if facts.planned is None or facts.gauge_height is None or facts.gauge_error is None or facts.wall is None:
        return answer(
            "PRS-01", Verdict.CANNOT_TELL, facts, why="no_input", missing=tuple(lacks), next_step="say_inputs"
        )
    log = Reading()
    told: list[tuple[float, float, float, Rated]] = []
    unrated: list[str] = []
    unplaced: list[str] = []
    for part in facts.parts:
        rating = _rating(part, facts.wall, book, log)
        if rating is None:
            unrated.append(part.what)
        elif part.height is None:
            unplaced.append(part.what)
        else:
            there = pressure_at(
                gauge=facts.planned, gauge_height=facts.gauge_height, height=part.height,
                density=facts.density, gauge_error=facts.gauge_error,
            )  # fmt: skip
            told.append((margin(rating, there), rating, there, part))
    where: dict[str, Any] = {}
    if told:
        left, rating, there, part = min(told, key=lambda t: t[0])
        where = {
            "part": part.name, "what": part.what, "below": facts.gauge_height - (part.height or 0.0),
            "left": left, "rating": rating, "there": there,
        }  # fmt: skip
        if left < -TINY:
            over = [t[3].name for t in told if t[0] < -TINY]
            return answer(
                "PRS-01", Verdict.STOP, facts, log, measured=there, limit=rating, unit="Pa",
                governs=part.name, next_step="lower_pressure", over=tuple(over), **where,
            )  # fmt: skip
    if unrated or unplaced or not told:
        return answer(
            "PRS-01", Verdict.CANNOT_TELL, facts, log, why="unrated" if unrated or not told else "unplaced",
            missing=tuple([f"rating of {w}" for w in unrated] + [f"height of {w}" for w in unplaced]),
            unknown=tuple(unrated or unplaced), next_step="mark_rating" if unrated else "say_heights",
            **where,
        )  # fmt: skip
    return answer(
        "PRS-01", Verdict.GO, facts, log, measured=there, limit=rating, unit="Pa", governs=part.name, **where
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Cap(About):
    """The signed pressure cap of a section against its planned pressure.

    Parameters
    ----------
    section : str
    planned : float or None
        [Pa]
    cap : float or None
        [Pa]
    signed_by : str
    engineer : str
        Who signs for engineering by job.toml; empty if nobody is named.
    """

    section: str
    planned: float | None
    cap: float | None
    signed_by: str = ""
    engineer: str = ""


@check(id="PRS-02", stage="raise", rule="own rule: no cap, no pressure", facts=Cap, hurts=True)
def cap_signed(facts: Cap, _book: Book) -> Finding:
    """STOP where the cap lies below the planned pressure; CANNOT TELL without the engineer's signature."""
    if facts.cap is None:
        return answer(
            "PRS-02",
            Verdict.CANNOT_TELL,
            facts,
            why="no_cap",
            missing=("pressure cap",),
            next_step="sign_cap",
        )
    if facts.planned is None:
        return answer(
            "PRS-02", Verdict.CANNOT_TELL, facts, why="no_plan", missing=("planned pressure",),
            next_step="say_inputs",
        )  # fmt: skip
    if facts.planned > facts.cap + TINY:
        return answer(
            "PRS-02", Verdict.STOP, facts, measured=facts.planned, limit=facts.cap, unit="Pa",
            next_step="lower_pressure",
        )  # fmt: skip
    if not facts.engineer or facts.signed_by != facts.engineer:
        return answer(
            "PRS-02", Verdict.CANNOT_TELL, facts, why="not_engineer", missing=("engineer's signature",),
            next_step="sign_cap",
        )  # fmt: skip
    return answer("PRS-02", Verdict.GO, facts, measured=facts.planned, limit=facts.cap, unit="Pa")


@dataclass(frozen=True, slots=True, kw_only=True)
class Heights(About):
    """Whether the heights are known that a pressure needs.

    Parameters
    ----------
    section : str
    gauge : str
        Id of the gauge place; empty if none is named.
    gauge_height : float or None
        [m]
    unplaced : tuple of str
        Lines whose heights do not stand on the drawing's datum.
    """

    section: str
    gauge: str
    gauge_height: float | None
    unplaced: tuple[str, ...] = ()


@check(id="PRS-03", stage="raise", rule="hydrostatics: a pressure has a place", facts=Heights, hurts=True)
def heights_known(facts: Heights, _book: Book) -> Finding:
    """CANNOT TELL the pressure at a joint while the gauge's or the line's height is not known."""
    if not facts.gauge:
        return answer(
            "PRS-03", Verdict.CANNOT_TELL, facts, why="no_gauge", missing=("gauge",), next_step="name_gauge"
        )
    if facts.gauge_height is None:
        return answer(
            "PRS-03", Verdict.CANNOT_TELL, facts, why="gauge", missing=("gauge elevation",),
            next_step="say_heights",
        )  # fmt: skip
    if facts.unplaced:
        return answer(
            "PRS-03", Verdict.CANNOT_TELL, facts, why="lines", missing=("line elevation",),
            next_step="say_heights",
        )  # fmt: skip
    return answer("PRS-03", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Medium(About):
    """What a section is tested with: ``"water"``, ``"air"``, ``"gas"``; empty if not said."""

    section: str
    medium: str


@check(
    id="PRS-04", stage="fill", facts=Medium, hurts=True,
    rule="no test of PVC or CPVC with air or gas: own rule, after the energy it stores",
)  # fmt: skip
def medium_is_water(facts: Medium, _book: Book) -> Finding:
    """STOP for a test with air or gas."""
    if not facts.medium:
        return answer(
            "PRS-04", Verdict.CANNOT_TELL, facts, why="not_said", missing=("medium",), next_step="say_medium"
        )
    if facts.medium != "water":
        return answer("PRS-04", Verdict.STOP, facts, next_step="use_water")
    return answer("PRS-04", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class InSection(About):
    """A line and the sections it is tested in."""

    sections: tuple[str, ...]


@check(
    id="PRS-05",
    stage="raise",
    rule="own rule: every joint lies in a test section",
    facts=InSection,
    hurts=True,
)
def in_section(facts: InSection, _book: Book) -> Finding:
    """CANNOT TELL what pressure a line's joints will see while it belongs to no test section."""
    if facts.sections:
        return answer("PRS-05", Verdict.GO, facts)
    return answer("PRS-05", Verdict.CANNOT_TELL, facts, missing=("test section",), next_step="name_section")


def lowest(parts: tuple[Rated, ...]) -> tuple[Rated, ...]:
    """One entry a kind of part: the lowest; where one height is not known, that one.

    Parameters
    ----------
    parts : tuple of Rated
        Everything in a section.

    Returns
    -------
    tuple of Rated
        In the order first met.
    """
    kept: dict[Rated, Rated] = {}
    for part in parts:
        key = replace(part, name="", height=None)
        before = kept.get(key)
        if before is None or (
            before.height is not None and (part.height is None or part.height < before.height)
        ):
            kept[key] = part
    return tuple(kept.values())
