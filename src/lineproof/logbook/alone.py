"""What one person alone may not change for the better.

A field that one person alone corrected counts as both: as it stands, and as it was. Whoever corrects with a
second named person settles it, and all that was said before. What is told late stretches to when it was
written.
"""

from __future__ import annotations

from collections.abc import Mapping
from datetime import datetime
from typing import TYPE_CHECKING, Any

from lineproof.logbook.entry import moment

if TYPE_CHECKING:
    from lineproof.logbook.state import Event, Was


def is_alone(was: Was) -> bool:
    """Whether one person alone made a correction."""
    return was.second in ("", was.who)


def told(event: Event, name: str) -> tuple[Any, ...]:
    """All that a field may be: as it stands first, then as it was wherever one person alone changed it.

    Parameters
    ----------
    event : Event
    name : str
        Of the field.

    Returns
    -------
    tuple
        None among them where it was not said.
    """
    if not event.was:
        return (event.body.get(name),)
    alone: list[Any] = []
    for was in event.was:
        if was.field == name:
            # What two people corrected is settled, with all that was said before.
            alone = [*alone, was.old] if is_alone(was) else []
    return (event.body.get(name), *alone)


def measures(event: Event, name: str) -> tuple[float | None, ...]:
    """All that a measure may be. [SI]

    Parameters
    ----------
    event : Event
    name : str
        Of the field.

    Returns
    -------
    tuple of float or None
        As it stands first; None where it was not said.
    """
    return tuple(
        float(str(each["si"])) if isinstance(each, Mapping) and "si" in each else None
        for each in told(event, name)
    )


def worst_of(event: Event, name: str, *, higher: bool) -> float | None:
    """The worse of all that a measure may be; None if it was once not said.

    Parameters
    ----------
    event : Event
    name : str
        Of the field.
    higher : bool
        Whether the higher one is the worse.

    Returns
    -------
    float or None
        [SI]
    """
    values = measures(event, name)
    known = [value for value in values if value is not None]
    if len(known) < len(values):
        return None
    return max(known) if higher else min(known)


def span(event: Event) -> tuple[datetime, datetime]:
    """The earliest and the latest an event can have been.

    Parameters
    ----------
    event : Event

    Returns
    -------
    tuple of datetime
        What is told late stretches to when it was written, unless a second person stands by it.
    """
    if not event.was and not event.late:
        return event.at, event.at
    moments = [event.at, *(moment(at) for at in told(event, "at")[1:] if isinstance(at, str))]
    corrected = [was for was in event.was if was.field == "at"]
    backed = bool(corrected) and not is_alone(corrected[-1])
    if not backed and (event.late or len(told(event, "at")) > 1):
        confirmed = any(person != event.entry.who for person in event.confirmed_by)
        moments += [event.stamp.wall] if confirmed else [event.stamp.wall, event.entry.wall]
    return min(moments), max(moments)
