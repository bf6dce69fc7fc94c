"""Cans that die today, by the logbook and job.toml."""

from __future__ import annotations

from datetime import date, datetime, time, timedelta

from lineproof.desk.answer_now import NowCan
from lineproof.job.settings import Settings
from lineproof.logbook.state import State

NOT_KNOWN, OPEN_LIFE = "not known", "open life"
"""Why a can dies, or that nobody knows."""


def cans_now(state: State, settings: Settings, now: datetime) -> tuple[NowCan, ...]:
    """Cans that die today, are dead, or are open and nobody knows for how long; lots of job.toml as well.

    Parameters
    ----------
    state : State
    settings : Settings
    now : datetime
        In the zone of the site.

    Returns
    -------
    tuple of NowCan
        The dead first, then those that die soonest.
    """
    midnight = _end_of(now.date(), now)
    found = []
    in_log: set[str] = set()
    for can in can_lives(state, settings, now):
        in_log.add(can.lot)
        if can.dies is None and can.why != NOT_KNOWN:
            continue
        if can.dies is None or can.dies <= midnight:
            found.append(can)
    for lot in settings.cans:
        if lot.count and lot.lot and lot.lot not in in_log and lot.expires is not None:
            dies = _end_of(lot.expires, now)
            if dies <= midnight:
                found.append(
                    NowCan(
                        can="", lot=lot.lot, holds=lot.kind, card=lot.card, dies=dies,
                        expires=lot.expires, why="expiry date",
                        dead=dies <= now,
                    )
                )  # fmt: skip
    return tuple(
        sorted(
            found, key=lambda c: (not c.dead, c.dies.timestamp() if c.dies else float("inf"), c.can, c.lot)
        )
    )


def can_lives(state: State, settings: Settings, now: datetime) -> tuple[NowCan, ...]:
    """When each can of the logbook that was not thrown away dies.

    Parameters
    ----------
    state : State
    settings : Settings
    now : datetime
        In the zone of the site.

    Returns
    -------
    tuple of NowCan
        By their names. ``dies`` is the sooner of open life and expiry date; an opening counts from the
        earliest it can have been.
    """
    found = []
    for name, thing in sorted(state.cans.items()):
        if thing.of("can_thrown"):
            continue
        came = thing.of("can_received")
        told = came[-1].body if came else {}
        lot = str(told.get("lot", ""))
        listed = next((c for c in settings.cans if lot and c.lot == lot), None)
        holds = str(told.get("holds", "")) or (listed.kind if listed else "")
        card = str(told.get("card", "")) or (listed.card if listed else "")
        opened = min((min(e.at, e.entry.wall) for e in thing.of("can_opened")), default=None)
        ends: list[tuple[datetime, str]] = []
        day = date.fromisoformat(str(told["expires"])) if "expires" in told else None
        days = (day, listed.expires if listed else None)
        for each in days:
            if each is not None:
                ends.append((_end_of(each, now), "expiry date"))
        life = settings.card(card)
        unknown = opened is not None and holds == "cement" and (life is None or life.open_life is None)
        if opened is not None and life is not None and life.open_life is not None:
            ends.append((opened.astimezone(now.tzinfo) + timedelta(seconds=life.open_life), OPEN_LIFE))
        dies, why = min(ends, default=(None, ""))
        if unknown and (dies is None or dies > _end_of(now.date(), now)):
            dies, why = None, NOT_KNOWN
        found.append(
            NowCan(
                can=name,
                lot=lot,
                holds=holds,
                card=card,
                opened=None if opened is None else opened.astimezone(now.tzinfo),
                dies=dies,
                expires=min((d for d in days if d is not None), default=None),
                why=why,
                dead=dies is not None and dies <= now,
            )
        )
    return tuple(found)


def _end_of(day: date, now: datetime) -> datetime:
    return datetime.combine(day + timedelta(days=1), time(), tzinfo=now.tzinfo)
