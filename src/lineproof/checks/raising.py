"""May water or pressure come now: cap, source, ends, gauge, what was looked at, pressure that stands."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, datetime, timedelta

from lineproof.book.load import Book
from lineproof.checks.pressure import TINY
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.pressure import pressure_at

ISOLATED = ("blind", "air gap", "vent beyond")
"""Ends that hold: a closed valve is none of them, its seat may pass."""

LOOKED_AT = timedelta(hours=24)
"""How old a look at ends, restraints and bolts may be: own rule. [-]"""

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
class SectionEnd(About):
    """One place where a section meets something that is not of it.

    Parameters
    ----------
    section, boundary : str
    another_line : bool
        Another line lies beyond, whose joints count while it is not cut off.
    how : str
        How it ends there as recorded; empty if nobody recorded it.
    now : datetime
        The moment judged.
    looked : datetime or None
        When that was recorded.
    """

    section: str
    boundary: str
    another_line: bool
    how: str
    now: datetime
    looked: datetime | None = None


@check(
    id="RAI-04", stage="fill", facts=SectionEnd, hurts=True,
    rule="own rule: blinded, air-gapped or vented beyond; a closed valve is no isolation",
)  # fmt: skip
def section_end(facts: SectionEnd, _book: Book) -> Finding:
    """STOP where only a valve stands against equipment; CANNOT TELL where an end is not recorded in a day.

    Where another line lies beyond an end that does not hold, that line is judged with the section instead.
    """
    if not facts.how and facts.another_line:
        return answer("RAI-04", Verdict.GO, facts, why="counts")
    if not facts.how:
        return answer(
            "RAI-04", Verdict.CANNOT_TELL, facts, why="not_said",
            missing=(f"how it ends at {facts.boundary}",), next_step="record_end",
        )  # fmt: skip
    if facts.how not in ISOLATED:
        if facts.another_line:
            return answer("RAI-04", Verdict.GO, facts, why="counts")
        return answer("RAI-04", Verdict.STOP, facts, why="valve", next_step="blind_it")
    if facts.looked is None or facts.now - facts.looked > LOOKED_AT:
        return answer(
            "RAI-04", Verdict.CANNOT_TELL, facts, why="old",
            missing=(f"a look at {facts.boundary} today",), next_step="record_end",
        )  # fmt: skip
    return answer("RAI-04", Verdict.GO, facts)


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
    if facts.due is None or facts.error is None or facts.full is None or facts.asked is None:
        return answer(
            "RAI-07", Verdict.CANNOT_TELL, facts, why="half", missing=tuple(lacks), next_step="record_gauge"
        )
    if facts.today > facts.due:
        return answer("RAI-07", Verdict.STOP, facts, why="due", next_step="other_gauge")
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


RESTRAINT, BOLTS = "restraint", "bolts"


@dataclass(frozen=True, slots=True, kw_only=True)
class LookedAt(About):
    """Restraints, or flange bolts, as somebody last found them.

    Parameters
    ----------
    section : str
    what : str
        ``"restraint"`` or ``"bolts"``.
    now : datetime
        The moment judged.
    looked : datetime or None
        The earliest it can have been; None if it was not.
    good : bool
    looked_by : str
    after : datetime or None
        The newest thing made, moved or cut in the section.
    """

    section: str
    what: str
    now: datetime
    looked: datetime | None = None
    good: bool = False
    looked_by: str = ""
    after: datetime | None = None


def _looked_at(id: str, facts: LookedAt, *, again: str) -> Finding:
    if facts.looked is None:
        return answer(id, Verdict.CANNOT_TELL, facts, why="not", missing=(facts.what,), next_step=again)
    if not facts.good:
        return answer(id, Verdict.STOP, facts, why="bad", next_step="put_it_right")
    if facts.after is not None and facts.looked < facts.after:
        return answer(id, Verdict.CANNOT_TELL, facts, why="before", missing=(facts.what,), next_step=again)
    if facts.now - facts.looked > LOOKED_AT:
        return answer(id, Verdict.CANNOT_TELL, facts, why="old", missing=(facts.what,), next_step=again)
    return answer(id, Verdict.GO, facts)


@check(
    id="RAI-08", stage="raise", facts=LookedAt, hurts=True,
    rule="restraints are looked at and written down before pressure: published report of a fatal riser test",
)  # fmt: skip
def restraint_looked_at(facts: LookedAt, _book: Book) -> Finding:
    """STOP where restraints were found bad; CANNOT TELL until looked at since the last change, today."""
    return _looked_at("RAI-08", facts, again="look_restraint")


@check(
    id="RAI-10", stage="raise", facts=LookedAt, hurts=True,
    rule="flange and restraint bolts to torque before pressure: published report of a fatal riser test",
)  # fmt: skip
def bolts_tight(facts: LookedAt, _book: Book) -> Finding:
    """STOP where bolts were found loose; CANNOT TELL until tightened since the last change, today."""
    return _looked_at("RAI-10", facts, again="torque_bolts")


@dataclass(frozen=True, slots=True, kw_only=True)
class Fresh(About):
    """Fresh grout, an anchor or a thrust block.

    Parameters
    ----------
    section, what : str
    now : datetime
        The moment judged.
    ready : datetime or None
        When it may be loaded, as recorded.
    """

    section: str
    what: str
    now: datetime
    ready: datetime | None = None


@check(
    id="RAI-09", stage="raise", facts=Fresh, hurts=True,
    rule="no thrust on green grout or blocks: common practice, no source; the engineer says when it is ready",
)  # fmt: skip
def fresh(facts: Fresh, _book: Book) -> Finding:
    """NOT BEFORE grout, anchor or block is ready; CANNOT TELL where nobody said when that is."""
    if facts.ready is None:
        return answer(
            "RAI-09", Verdict.CANNOT_TELL, facts, why="no_time", missing=(f"when the {facts.what} is ready",),
            next_step="say_ready",
        )  # fmt: skip
    if facts.ready > facts.now:
        return answer("RAI-09", Verdict.WAIT, facts, governs=facts.what, next_step="ask_again")
    return answer("RAI-09", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionKnown(About):
    """Whether the section and its record are whole.

    Parameters
    ----------
    section : str
    unclear : tuple of str
        Why its record does not hold.
    strays : tuple of str
        Joints made on site that are not on the drawing, of this section or of nobody knows which.
    in_charge : str
        Person in charge of the test by job.toml; empty if nobody is named.
    joints : tuple of str
    """

    section: str
    unclear: tuple[str, ...] = ()
    strays: tuple[str, ...] = ()
    in_charge: str = ""


@check(
    id="RAI-11", stage="fill", facts=SectionKnown, hurts=True,
    rule="own rule: one person in charge of the test, named; nothing stands in the section that the drawing "
    "does not show",
)  # fmt: skip
def section_known(facts: SectionKnown, _book: Book) -> Finding:
    """CANNOT TELL while its record is unclear, a joint of it is off the drawing, or nobody is in charge."""
    if facts.unclear:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="unclear", missing=("one story",), next_step="settle"
        )
    if facts.strays:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="stray", missing=("its place on the drawing",),
            next_step="draw_it",
        )  # fmt: skip
    if not facts.in_charge:
        return answer(
            "RAI-11", Verdict.CANNOT_TELL, facts, why="nobody", missing=("person in charge of the test",),
            next_step="name_in_charge",
        )  # fmt: skip
    return answer("RAI-11", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed(About):
    """Whether a section stands under pressure by the record.

    Parameters
    ----------
    section : str
    release : str
        The release that has no later proof of zero; empty if none.
    asked : float or None
        The pressure it was for. [Pa]
    since : datetime or None
        When it was given.
    zero : datetime or None
        When an open vent last showed zero.
    zero_needed : bool
        Zero must have been proved, as somebody is about to open the line.
    now : datetime or None
        The moment judged, where zero must have been proved.
    """

    section: str
    release: str = ""
    asked: float | None = None
    since: datetime | None = None
    zero: datetime | None = None
    zero_needed: bool = False
    now: datetime | None = None


@check(
    id="MOV-05", stage="move", facts=Pressed, hurts=True,
    rule="nobody works on a pressurised pipe: published report of a state fatality investigation; zero is "
    "proved by an open vent at each section",
)  # fmt: skip
def not_pressed(facts: Pressed, _book: Book) -> Finding:
    """STOP for every cut, bolt and cap in a section UNDER PRESSURE, until an open vent proved zero."""
    if facts.release:
        return answer("MOV-05", Verdict.STOP, facts, why="pressed", next_step="prove_zero")
    if facts.zero_needed and facts.zero is None:
        return answer(
            "MOV-05", Verdict.CANNOT_TELL, facts, why="no_zero", missing=("zero proved by an open vent",),
            next_step="prove_zero",
        )  # fmt: skip
    if facts.zero_needed and facts.zero is not None and facts.now is not None:
        if facts.now - facts.zero > LOOKED_AT:
            return answer(
                "MOV-05", Verdict.CANNOT_TELL, facts, why="old_zero",
                missing=("zero proved by an open vent today",), next_step="prove_zero",
            )  # fmt: skip
    return answer("MOV-05", Verdict.GO, facts)
