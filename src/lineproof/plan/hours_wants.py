"""What a joint wants of an hour: limits of the rules, time that must stay dry, working time, hands."""

from __future__ import annotations

import math

import numpy as np

from lineproof.book.hour import hour_number
from lineproof.book.load import Book
from lineproof.book.rules import joint_hours, weather_rule
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading
from lineproof.job.card_rows import HANDLING
from lineproof.job.cards import EDGE_K, EDGE_RH, CementCard
from lineproof.job.people import within
from lineproof.plan.hours_air import Hourly, calm_wind
from lineproof.plan.joint_model import JointPlan
from lineproof.sums.hours import Floats, PipeAt, Wants
from lineproof.sums.labour import joint_time
from lineproof.sums.waits import Waits
from lineproof.sums.wall import wind_factor


def wants_of(
    joint: JointPlan,
    card: CementCard | None,
    hours: Hourly,
    pipe: PipeAt,
    book: Book,
    log: Reading,
    *,
    people: int,
    sheltered: bool,
) -> Wants:
    """What a joint wants in each hour: limits of the rules, time that must stay dry, working time, hands.

    Parameters
    ----------
    joint : JointPlan
    card : CementCard or None
    hours : Hourly
        As the joint has it.
    pipe : PipeAt
    book : Book
    log : Reading
    people : int
        In the smallest crew of the line. [-]
    sheltered : bool
        Rain does not reach it.

    Returns
    -------
    Wants
    """
    size = joint.place.size
    listed = joint_hours(book, size, log)
    make = hour_number(book, "make-unknown", log)
    if listed is not None and people:
        make = joint_time(work=listed.joint, crew=people)
    setting = set_each_hour(card, size, pipe.coldest, hours.air.humidity)
    hands = joint.needs.hands
    return Wants(
        air_low=weather_rule(book, "join-air-min", log).low or 0.0,
        sun_high=weather_rule(book, "join-sun-max", log).high or math.inf,
        pipe_high=weather_rule(book, "pipe-surface-max", log).high or math.inf,
        margin=weather_rule(book, "dew-margin", log).margin_K or 0.0,
        dry=make + setting,
        row_below=np.isfinite(setting),
        working=working_each_hour(card, joint.needs.wet.film, hours, pipe, calm_wind(book, log)),
        coating=math.nan if hands.coating_time is None else hands.coating_time,
        people=float(people),
        sheltered=sheltered,
    )


def set_each_hour(card: CementCard | None, size: Size, coldest: Floats, humidity: Floats) -> Floats:
    """Hands-off time of the card in each hour, all factors in; not a number where it has no row. [s]"""
    if card is None:
        return np.full(len(coldest), np.nan)
    rows = [r for r in card.rows if r.kind == HANDLING and within(size, r.size_lo, r.size_hi)]
    edges = [t for r in rows for t in (r.temp_lo, r.temp_hi) if t is not None]
    damp = [f.humidity_over + EDGE_RH for f in card.factors if f.humidity_over is not None]
    damp += [r.humidity_max + EDGE_RH for r in rows if r.humidity_max is not None]

    def printed(temp: float, rh: float | None) -> float | None:
        found = card.handling(size, temp, rh)
        return None if found is None else found.time

    table = Waits.of(printed, edges=edges, damp=damp, dT_K=EDGE_K)
    cold = table.cold_cells(np.where(np.isfinite(coldest), coldest, 0.0))
    wet = np.where(
        np.isfinite(humidity), table.damp_cells(np.where(np.isfinite(humidity), humidity, 1.0)), -1
    )
    seconds = table.seconds[cold, wet]
    return np.where(np.isfinite(seconds) & np.isfinite(coldest), seconds, np.nan)


def working_each_hour(
    card: CementCard | None, film: float | None, hours: Hourly, pipe: PipeAt, calm: float
) -> Floats:
    """Working time of the card in each hour; a row printed for no wind is shortened by the wind. [s]"""
    temp, wind = pipe.mean, hours.air.wind
    best = np.full(len(temp), np.inf)
    for row in card.working if card is not None else ():
        fits = np.isfinite(temp) & np.isfinite(wind)
        if row.temp_lo is not None:
            fits &= temp >= row.temp_lo - EDGE_K
        if row.temp_hi is not None:
            fits &= temp <= row.temp_hi + EDGE_K
        if row.film is not None:
            fits &= film is not None and film >= row.film * (1 - 1e-9)
        if row.wind_max is not None:
            fits &= wind <= row.wind_max * (1 + 1e-9)
            best[fits] = np.minimum(best[fits], row.time)
        else:
            best[fits] = np.minimum(best[fits], row.time / wind_factor(wind[fits], calm=calm))
    return np.where(np.isfinite(best), best, np.nan)
