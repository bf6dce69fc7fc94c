"""The hour: may this joint be made now, by the air, the pipe and the time; and how a tent is run."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime, timedelta

from lineproof.book.hour import hour_number
from lineproof.book.load import Book
from lineproof.book.rules import weather_rule
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.hours import FINE


@dataclass(frozen=True, slots=True, kw_only=True)
class HourAt(About):
    """One hour as the sum of hours has it.

    Parameters
    ----------
    begins : datetime
        Of the hour, in the site's zone.
    seen : bool
        Its weather was seen; False for a forecast.
    stands : int
        ``FINE`` to ``REFUSED`` of ``sums.hours``.
    binds : str
        The limit that binds; empty if none does.
    met, held : float or None
        What was met, and what it is held against. [SI]
    lacking : tuple of str
        What is not known of the hour.
    now : datetime
        The moment judged.
    pipe_read : datetime or None
        When somebody read this pipe.
    hand_dry : datetime or None
        When somebody ran a dry hand over it and it stayed dry.
    """

    begins: datetime
    seen: bool
    stands: int
    binds: str
    met: float | None
    held: float | None
    lacking: tuple[str, ...] = ()
    now: datetime
    pipe_read: datetime | None = None
    hand_dry: datetime | None = None


@check(
    id="HRS-01", stage="join", facts=HourAt,
    rule="rain, 40 F, and 90 F in sun: US municipal specification, Nashua 2021; dry surfaces: 49 CFR "
    "192.281(b)(1); 3 K over the dew point, a reading and a dry hand within 30 minutes: own rules; the card",
)  # fmt: skip
def hour(facts: HourAt, book: Book) -> Finding:
    """The limit that binds the hour; GO only with a pipe reading and a dry hand under 30 minutes old."""
    log = Reading()
    for rule in ("join-air-min", "join-sun-max", "join-rain", "pipe-surface-max", "dew-margin"):
        weather_rule(book, rule, log)
    life = timedelta(seconds=hour_number(book, "reading-life", log))
    if facts.stands == FINE:
        return _fine(facts, life, log)
    return _bound(facts, log)


def _fine(facts: HourAt, life: timedelta, log: Reading) -> Finding:
    if not facts.seen:
        return answer("HRS-01", Verdict.CARE, facts, log, why="forecast", next_step="read_on_day")
    for said in (facts.pipe_read, facts.hand_dry):
        if said is None or not timedelta(0) <= facts.now - said < life:
            return answer("HRS-01", Verdict.CARE, facts, log, why="no_reading", next_step="read_pipe")
    return answer("HRS-01", Verdict.GO, facts, log)


def _bound(facts: HourAt, log: Reading) -> Finding:
    met, held, stop, care, lacks = facts.met, facts.held, Verdict.STOP, Verdict.CARE, Verdict.CANNOT_TELL
    match facts.binds:
        case "rain":
            return answer(
                "HRS-01", stop, facts, log, why="rain", next_step="put_tent", measured=met, unit="m"
            )
        case "rain_soon":
            return answer(
                "HRS-01", stop, facts, log, why="rain_soon", next_step="put_tent", measured=met, limit=held,
                unit="s",
            )  # fmt: skip
        case "cold":
            return answer(
                "HRS-01",
                stop,
                facts,
                log,
                why="cold",
                next_step="warm_up",
                measured=met,
                limit=held,
                unit="K",
            )
        case "wet":
            return answer(
                "HRS-01",
                stop,
                facts,
                log,
                why="wet",
                next_step="wait_dry",
                measured=met,
                limit=held,
                unit="dK",
            )
        case "no_row":
            return answer(
                "HRS-01", lacks, facts, log, why="no_row", missing=("row of the cement card",),
                next_step="ask_card_row", measured=met, unit="K",
            )  # fmt: skip
        case "rain_end":
            return answer(
                "HRS-01", lacks, facts, log, why="rain_end", missing=("weather ahead",), measured=met,
                limit=held, unit="s", next_step="get_weather",
            )  # fmt: skip
        case "sun":
            return answer(
                "HRS-01", care, facts, log, why="sun", next_step="shade", measured=met, limit=held, unit="K"
            )
        case "hot":
            return answer(
                "HRS-01", care, facts, log, why="hot", next_step="shade", measured=met, limit=held, unit="K"
            )
        case "dew":
            return answer(
                "HRS-01",
                care,
                facts,
                log,
                why="dew",
                next_step="wait_dry",
                measured=met,
                limit=held,
                unit="dK",
            )
        case "film":
            return answer(
                "HRS-01", care, facts, log, why="film", next_step="shield_wind", measured=met, limit=held,
                unit="dK",
            )  # fmt: skip
        case "hands":
            return answer(
                "HRS-01", care, facts, log, why="hands" if met is not None else "no_time",
                next_step="more_hands", measured=met, limit=held,
            )  # fmt: skip
        case _:
            return answer(
                "HRS-01", lacks, facts, log, why="hole", missing=facts.lacking or ("weather",),
                next_step="get_weather",
            )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Tent(About):
    """A tent or heated shelter over a joint.

    Parameters
    ----------
    air : float or None
        Air in it. [K]
    card_low, card_high : float or None
        Coldest and hottest that the card has a row for; None if the card names no end. [K]
    heat_on_joint : bool or None
        Warm air or a lamp points at the joint; None if nobody said.
    heater_out : bool or None
        The heater is out, and out of the tent, before primer is opened; None if nobody said.
    after : float or None
        Coldest air ahead while the joint sets, once the tent is down. [K]
    """

    air: float | None
    card_low: float | None
    card_high: float | None
    heat_on_joint: bool | None
    heater_out: bool | None
    after: float | None


@check(
    id="TNT-01", stage="join", facts=Tent, hurts=True,
    rule="the set is not hastened with heat: 49 CFR 192.281(b)(3); cement and primer away from heat, sparks "
    "and flame: Kentucky 815 KAR 20:071 s.1(3); the card's own bands",
)  # fmt: skip
def tent(facts: Tent, _book: Book) -> Finding:
    """STOP for heat on the joint, a heater by open primer, air off the card, or a cold night after."""
    stop, lacks = Verdict.STOP, Verdict.CANNOT_TELL
    if facts.heater_out is False:
        return answer("TNT-01", stop, facts, why="heater", next_step="heater_out")
    if facts.heat_on_joint:
        return answer("TNT-01", stop, facts, why="heat", next_step="turn_heat")
    said = (
        ("heater out before primer is opened", facts.heater_out),
        ("heat kept off the joint", facts.heat_on_joint),
        ("air in the tent", facts.air),
    )
    gone = [name for name, value in said if value is None]
    if gone or facts.air is None:
        return answer("TNT-01", lacks, facts, why="not_said", missing=tuple(gone), next_step="say_tent")
    for limit, off in ((facts.card_low, -1.0), (facts.card_high, 1.0)):
        if limit is not None and off * (facts.air - limit) > 1e-6:
            return answer(
                "TNT-01", stop, facts, why="band", measured=facts.air, limit=limit, unit="K",
                next_step="tent_air",
            )  # fmt: skip
    if facts.after is None:
        return answer(
            "TNT-01", lacks, facts, why="after", missing=("weather ahead",), next_step="get_weather"
        )
    if facts.card_low is not None and facts.after < facts.card_low - 1e-6:
        return answer(
            "TNT-01", stop, facts, why="cold_after", measured=facts.after, limit=facts.card_low, unit="K",
            next_step="keep_tent",
        )  # fmt: skip
    return answer("TNT-01", Verdict.GO, facts, measured=facts.air, unit="K")
