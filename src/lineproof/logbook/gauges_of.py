"""Gauges as the logbook tells them: the newest entry, or the worse of what came by another clock."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from datetime import date

from lineproof.job.section_record import GaugeRecord
from lineproof.logbook.alone import measures, told
from lineproof.logbook.section_of import surely_after
from lineproof.logbook.state import Event, State


def gauges_of(state: State) -> dict[str, GaugeRecord]:
    """Gauges as recorded last.

    Parameters
    ----------
    state : State

    Returns
    -------
    dict
        Gauge to its record.
    """
    found = {}
    for name, thing in state.gauges.items():
        all_told = thing.of("gauge")
        if not all_told:
            found[name] = GaugeRecord(id=name, unclear=thing.unclear or ("faulty-entry",))
            continue
        last = all_told[-1]
        # What may have been written after it by another clock counts where it is worse.
        events = [e for e in all_told if e is last or not surely_after(e, last)]
        places = {str(place or "") for e in events for place in told(e, "place")}
        unclear = {*thing.unclear, *(("two-stories",) if len(places) > 1 else ())}
        found[name] = GaugeRecord(
            id=name,
            place=str(last.body.get("place", "")),
            calibrated=_day(last.body.get("calibrated")),
            due=_first_day(d for e in events for d in told(e, "due")),
            elevation=_si(last.body, "elevation"),
            error=_worst(events, "error", max),
            full=_worst(events, "range", min),
            unclear=tuple(sorted(unclear)),
        )
    return found


def _day(text: object) -> date | None:
    return date.fromisoformat(str(text)) if text else None


def _first_day(texts: Iterable[object]) -> date | None:
    """The earliest of some days; None if one is not said."""
    days = [_day(text) for text in texts]
    known = [day for day in days if day is not None]
    return min(known) if known and len(known) == len(days) else None


def _worst(events: Iterable[Event], field: str, pick: Callable[[list[float]], float]) -> float | None:
    values = [v for e in events for v in measures(e, field)]
    known = [v for v in values if v is not None]
    return pick(known) if known and len(known) == len(values) else None


def _si(body: Mapping[str, object], field: str) -> float | None:
    told = body.get(field)
    return float(str(told["si"])) if isinstance(told, Mapping) else None
