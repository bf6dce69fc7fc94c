"""The site on joining days: hot work nearby, stated weather, where solvent is kept."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from lineproof.book.load import Book
from lineproof.book.rules import flammable_limit, weather_rule
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import OutsideTable
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.sums.air import dew_margin, dew_point

TINY_K = 1e-6
TINY_M3 = 1e-9
ROOM, CABINET, CABINETS = "room", "cabinet-1-3", "cabinets"


@dataclass(frozen=True, slots=True, kw_only=True)
class HotWorkNear(About):
    """Hot work near a line and the days of joining there.

    Parameters
    ----------
    place, kind : str
    since, until : date or None
        First and last day of hot work.
    first_day, last_day : date or None
        First and last day of joining.
    """

    place: str
    kind: str = ""
    since: date | None = None
    until: date | None = None
    first_day: date | None = None
    last_day: date | None = None


@check(
    id="HOT-01", stage="join", facts=HotWorkNear, hurts=True,
    rule="cement and primer kept away from heat, sparks and flame: Kentucky 815 KAR 20:071 s.1(3)",
)  # fmt: skip
def no_hot_work(facts: HotWorkNear, _book: Book) -> Finding:
    """STOP where welding, cutting or grinding goes on near the line on a day of joining."""
    a, b, first, last = facts.since, facts.until, facts.first_day, facts.last_day
    # no hot work is left by the first day, or it begins after the last
    if (b is not None and first is not None and b < first) or (
        a is not None and last is not None and a > last
    ):
        return answer("HOT-01", Verdict.GO, facts)
    begun = first is not None and (a is None or (last is not None and a <= last) or a <= first)
    if begun and (b is not None or a is not None):
        return answer("HOT-01", Verdict.STOP, facts, next_step="keep_apart")
    missing = [
        n
        for n, v in (
            ("days of hot work", a or b),
            ("conditions.start", first),
            ("last day of joining", last),
        )
        if v is None
    ]
    return answer("HOT-01", Verdict.CANNOT_TELL, facts, missing=tuple(missing), next_step="say_days")


@dataclass(frozen=True, slots=True, kw_only=True)
class Weather(About):
    """Conditions as stated for joining.

    Parameters
    ----------
    temperature : float or None
        Pipe temperature, the coldest expected. [K]
    joined : float or None
        Pipe temperature when joined, where said apart. [K]
    humidity : float or None
        Highest expected. [-]
    card_covers : bool
        The cement card has a hands-off row at this temperature.
    """

    temperature: float | None
    humidity: float | None
    joined: float | None = None
    card_covers: bool = False


@check(
    id="WTH-01", stage="join", facts=Weather,
    rule="40 F, and 90 F in sun: US municipal specification, Nashua 2021; 3 K over the dew point: own rule",
)  # fmt: skip
def weather_stated(facts: Weather, book: Book) -> Finding:
    """Stated weather against the rules; colder than the rule is STOP unless the card has a row for it."""
    cold, wet = facts.temperature, facts.humidity
    lacks = tuple(n for n, v in (("pipe temperature", cold), ("humidity", wet)) if v is None)
    if cold is None or wet is None:
        return answer(
            "WTH-01", Verdict.CANNOT_TELL, facts, why="no_input", missing=lacks, next_step="say_weather"
        )
    log = Reading()
    low = weather_rule(book, "join-air-min", log).low
    high = weather_rule(book, "join-sun-max", log).high
    apart = weather_rule(book, "dew-margin", log).margin_K
    hot = max(cold, facts.joined or cold)
    if low is not None and cold < low - TINY_K:
        return answer(
            "WTH-01", Verdict.CARE if facts.card_covers else Verdict.STOP, facts, log, why="cold",
            measured=cold, limit=low, unit="K", next_step="warm_up",
        )  # fmt: skip
    if high is not None and hot > high + TINY_K:
        return answer(
            "WTH-01",
            Verdict.CARE,
            facts,
            log,
            why="hot",
            measured=hot,
            limit=high,
            unit="K",
            next_step="shade",
        )
    try:
        left = dew_margin(cold, dew_point(cold, wet))
    except OutsideTable:
        return answer(
            "WTH-01", Verdict.CANNOT_TELL, facts, log, why="no_dew", missing=("dew point",),
            next_step="measure_dew",
        )  # fmt: skip
    if apart is not None and left < apart - TINY_K:
        return answer(
            "WTH-01", Verdict.CARE, facts, log, why="dew", measured=left, limit=apart, unit="dK",
            next_step="wait_dry",
        )  # fmt: skip
    return answer("WTH-01", Verdict.GO, facts, log, measured=left, limit=apart, unit="dK")


@dataclass(frozen=True, slots=True, kw_only=True)
class Storage(About):
    """What a store holds.

    Parameters
    ----------
    store : str
        Id; empty for cans whose place is not said.
    kind : str
        ``"cabinet"``, ``"room"``, ``"vehicle"``.
    held : float or None
        Cement, primer and cleaner there and on order for it; None if not known. [m3]
    own_limit : float or None
        As typed for this store. [m3]
    own_limit_by : str
        The rule that sets it.
    cabinets : int
        Cabinets in the storage area.
    """

    store: str
    kind: str
    held: float | None
    own_limit: float | None = None
    own_limit_by: str = ""
    cabinets: int = 0


@check(id="STO-01", stage="order", rule="29 CFR 1926.152(b)", facts=Storage, hurts=True)
def storage(facts: Storage, book: Book) -> Finding:
    """STOP for more flammable liquid in one place than the regulation or the store's own limit allows."""
    if facts.held is None or not facts.store:
        return answer(
            "STO-01", Verdict.CANNOT_TELL, facts, why="no_place", missing=("store of the cans",),
            next_step="say_store",
        )  # fmt: skip
    log = Reading()
    cabinet = facts.kind == "cabinet"
    limit = flammable_limit(book, CABINET if cabinet else ROOM, log)
    by = "29 CFR 1926.152(b)"
    if facts.own_limit is not None and facts.own_limit < limit:
        limit, by = facts.own_limit, facts.own_limit_by or "job.toml"
    if facts.held > limit + TINY_M3:
        return answer(
            "STO-01", Verdict.STOP, facts, log, why="over", measured=facts.held, limit=limit, unit="m3",
            limit_by=by, next_step="move_cans",
        )  # fmt: skip
    if cabinet:
        most = flammable_limit(book, CABINETS, log)
        if facts.cabinets > most:
            return answer(
                "STO-01", Verdict.STOP, facts, log, why="cabinets", most=int(most), next_step="move_cans",
                limit_by=by,
            )  # fmt: skip
    return answer("STO-01", Verdict.GO, facts, log, measured=facts.held, limit=limit, unit="m3", limit_by=by)
