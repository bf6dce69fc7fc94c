"""May water or pressure come now: the cap where it holds, the pipe wall, the source, the gauge."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

from lineproof.book.load import Book
from lineproof.checks.pressure import TINY
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.pressure import pressure_at

READ_WITHIN = timedelta(hours=2)
"""How old the reading of the pipe wall may be: the design's gap between readings."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CapThere(About):
    """The signed pressure cap of a section against the pressure asked for, at the place it holds for.

    Parameters
    ----------
    section : str
    asked : float or None
        Reading of the gauge that is asked for. [Pa]
    gauge_height : float or None
        [m]
    gauge_error : float or None
        [Pa]
    place : str
        Where the cap holds; empty for the lowest point of the section.
    height : float or None
        Of that place; None if nobody knows it. [m]
    density : float
        Of the water. [kg/m3]
    cap : float or None
        [Pa]
    signed_by, engineer : str
        Who signed it, and who signs for engineering by job.toml.
    """

    section: str
    asked: float | None
    gauge_height: float | None
    gauge_error: float | None
    place: str
    height: float | None
    density: float
    cap: float | None
    signed_by: str = ""
    engineer: str = ""


@check(
    id="RAI-01", stage="raise", facts=CapThere, hurts=True,
    rule="own rule: no signed cap, no pressure; hydrostatics to the place it holds for",
)  # fmt: skip
def cap_there(facts: CapThere, _book: Book) -> Finding:
    """STOP above the signed pressure cap at its place; CANNOT TELL without cap, place or signature."""
    if facts.cap is None:
        return answer(
            "RAI-01", Verdict.CANNOT_TELL, facts, why="no_cap", missing=("pressure cap",),
            next_step="sign_cap",
        )  # fmt: skip
    lacks = [
        name
        for name, value in (
            ("pressure asked for", facts.asked),
            ("gauge elevation", facts.gauge_height),
            ("gauge error", facts.gauge_error),
            ("elevation of the cap's place", facts.height),
        )
        if value is None
    ]
    if facts.asked is None or facts.gauge_height is None or facts.gauge_error is None or facts.height is None:
        return answer(
            "RAI-01", Verdict.CANNOT_TELL, facts, why="no_input", missing=tuple(lacks), next_step="say_inputs"
        )
    there = pressure_at(
        gauge=facts.asked, gauge_height=facts.gauge_height, height=facts.height, density=facts.density,
        gauge_error=facts.gauge_error,
    )  # fmt: skip
    if there > facts.cap + TINY:
        return answer(
            "RAI-01", Verdict.STOP, facts, measured=there, limit=facts.cap, unit="Pa",
            next_step="lower_pressure",
        )  # fmt: skip
    if not facts.engineer or facts.signed_by != facts.engineer:
        return answer(
            "RAI-01", Verdict.CANNOT_TELL, facts, why="not_engineer", missing=("engineer's signature",),
            next_step="sign_cap",
        )  # fmt: skip
    return answer("RAI-01", Verdict.GO, facts, measured=there, limit=facts.cap, unit="Pa")


@dataclass(frozen=True, slots=True, kw_only=True)
class WallNow(About):
    """The pipe wall as read, against the wall temperature that the cap was signed for.

    Parameters
    ----------
    section : str
    hottest : float or None
        The hottest reading of pipe or joint within two hours. [K]
    signed_for : float or None
        [K]
    """

    section: str
    hottest: float | None
    signed_for: float | None


@check(
    id="RAI-02", stage="raise", facts=WallNow, hurts=True,
    rule="the cap holds for the wall temperature it was signed for",
)  # fmt: skip
def wall_now(facts: WallNow, _book: Book) -> Finding:
    """STOP where the pipe is hotter than the cap was signed for; CANNOT TELL without a reading of it."""
    if facts.signed_for is None:
        return answer(
            "RAI-02", Verdict.CANNOT_TELL, facts, why="no_cap", missing=("pressure cap",),
            next_step="sign_cap",
        )  # fmt: skip
    if facts.hottest is None:
        return answer(
            "RAI-02", Verdict.CANNOT_TELL, facts, why="no_reading", missing=("pipe wall temperature",),
            next_step="read_wall",
        )  # fmt: skip
    hot = facts.hottest > facts.signed_for + 1e-6
    return answer(
        "RAI-02", Verdict.STOP if hot else Verdict.GO, facts, measured=facts.hottest, limit=facts.signed_for,
        unit="K", next_step="cool_or_sign" if hot else "",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class SourceLimit(About):
    """What brings the pressure, and the most it can bring.

    Parameters
    ----------
    section : str
    asked : float or None
        Reading that is asked for. [Pa]
    sources : tuple of str
        Those recorded.
    strongest : str
    most : float or None
        The most that the strongest can bring, at the gauge; None if none is recorded. [Pa]
    """

    section: str
    asked: float | None
    sources: tuple[str, ...]
    strongest: str = ""
    most: float | None = None


@check(
    id="RAI-03", stage="fill", facts=SourceLimit, hurts=True,
    rule="own rule: the source cannot bring more than was asked for; a relief is set and recorded",
)  # fmt: skip
def source_limit(facts: SourceLimit, _book: Book) -> Finding:
    """STOP where the source can bring more than what was asked for; CANNOT TELL where nobody recorded it."""
    if facts.most is None:
        return answer(
            "RAI-03", Verdict.CANNOT_TELL, facts, why="no_source", missing=("source and its relief",),
            next_step="record_source",
        )  # fmt: skip
    if facts.asked is None:
        return answer(
            "RAI-03", Verdict.CANNOT_TELL, facts, why="no_input", missing=("pressure asked for",),
            next_step="say_inputs",
        )  # fmt: skip
    over = facts.most > facts.asked + TINY
    return answer(
        "RAI-03", Verdict.STOP if over else Verdict.GO, facts, measured=facts.most, limit=facts.asked,
        unit="Pa", next_step="set_relief" if over else "",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class GaugeGood(About):
    """The gauge that hangs at the gauge place.

    Parameters
    ----------
    place : str
    gauges : tuple of str
        Those recorded there.
    today : date
        On the site.
    asked : float or None
        Reading that is asked for. [Pa]
    due : date or None
        Until when its calibration holds.
    error, full : float or None
        Error it may have, and the end of its scale. [Pa]
    other_place : bool
        Its recorded elevation is not that of the place in job.toml.
    unclear : tuple of str
        Why its record does not hold.
    """

    place: str
    gauges: tuple[str, ...]
    today: date
    asked: float | None
    due: date | None = None
    error: float | None = None
    full: float | None = None
    other_place: bool = False
    unclear: tuple[str, ...] = ()


@check(
    id="RAI-07", stage="raise", facts=GaugeGood, hurts=True,
    rule="a gauge in calibration, its place and its error known: common practice, no source",
)  # fmt: skip
def gauge_good(facts: GaugeGood, _book: Book) -> Finding:
    """STOP with a gauge out of calibration or too small; CANNOT TELL with none, two, or one half recorded."""
    if not facts.gauges:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="none", missing=("gauge",), next_step="record_gauge"
        )
    if facts.unclear:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), next_step="settle"
        )
    if len(facts.gauges) > 1:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="several", missing=("which gauge hangs there",),
            next_step="record_gauge",
        )  # fmt: skip
    lacks = [
        name
        for name, value in (("calibration due", facts.due), ("error", facts.error), ("range", facts.full))
        if value is None
    ]
    if facts.due is not None and facts.today > facts.due:
        return answer("RAI-07", Verdict.STOP, facts, why="due", next_step="other_gauge")
    if facts.due is None or facts.error is None or facts.full is None or facts.asked is None:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="half", missing=tuple(lacks), next_step="record_gauge"
        )
    if facts.asked > facts.full + TINY:
        return answer(
            "RAI-07", Verdict.STOP, facts, why="range", measured=facts.asked, limit=facts.full, unit="Pa",
            next_step="other_gauge",
        )  # fmt: skip
    if facts.other_place:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="place", missing=("one elevation",),
            next_step="record_gauge",
        )  # fmt: skip
    return answer("RAI-07", Verdict.GO, facts)
