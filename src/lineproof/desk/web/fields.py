"""How each field of an entry is filled in on a page: typed, or chosen from what the job knows."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lineproof.desk.record_typed import SI
from lineproof.desk.web.tongue import t
from lineproof.desk.web.words.choice import SAID as CHOICES
from lineproof.desk.web.words.field import SAID as FIELDS
from lineproof.job.settings import Settings
from lineproof.logbook.state import State

EXAMPLES: Mapping[str, tuple[str, str]] = {
    "temperature": ("52F", "11C"), "pressure": ("135psi", "9.3bar"), "length": ('2 1/4"', "57 mm"),
    "speed": ("4mph", "2 m/s"), "fraction": ("60 %", "60 %"), "volume": ("1qt", "1 L"),
    "steps": ("home@14:02", "home@14:02"), "lots": ("cement:7731", "cement:7731"),
    "points": ("bead:yes", "bead:yes"),
}  # fmt: skip
"""How a measure is typed, in the units of the job."""
NAMED = frozenset(FIELDS)
WORDED = frozenset(CHOICES)


@dataclass(frozen=True, slots=True)
class Known:
    """What forms choose from.

    Parameters
    ----------
    settings : Settings
    state : State
    joints : tuple of str
    """

    settings: Settings
    state: State
    joints: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Field:
    """One field of a form.

    Parameters
    ----------
    name, label : str
    sort : str
        ``text``, ``choice``, ``many``, ``list``, ``moment``, ``day``, ``file`` or ``whole``.
    options : list
        Value and word of each choice.
    value, hint : str
    needed : bool
    """

    name: str
    label: str
    sort: str
    options: list[tuple[str, str]]
    value: str
    hint: str
    needed: bool


def field_of(name: str, what: str, known: Known, value: str, needed: bool) -> Field:
    """How one field is filled in.

    Parameters
    ----------
    name : str
    what : str
        What it holds, as in ``record_fields``.
    known : Known
    value : str
        Filled in already.
    needed : bool

    Returns
    -------
    Field
    """
    s, state = known.settings, known.state
    plain = name.removeprefix("set.")
    label = t(f"field.{plain}") if plain in NAMED else plain.replace("_", " ")
    if name.startswith("set."):
        label = t("record.set", field=label)
    people = [(p.id, f"{p.id} {p.name}") for p in s.people]
    lists: dict[str, tuple[str, list[tuple[str, str]]]] = {
        "person": ("choice", people),
        "people": ("many", people),
        "joint": ("list", [(j, "") for j in known.joints]),
        "joints": ("list", [(j, "") for j in known.joints]),
        "section": ("choice", [(x.id, x.id) for x in s.sections]),
        "gauge place": ("choice", [(x.id, x.id) for x in s.gauges]),
        "card": ("choice", [(x.id, x.id) for x in s.cards]),
        "procedure": ("choice", [(x.id, x.id) for x in s.procedures]),
        "tag": ("choice", [(x, x) for x in state.tags]),
        "release": ("choice", [(x, x) for x in state.releases]),
        "can": ("choice", [(x, x) for x in state.cans]),
        "yes or no": ("choice", [("yes", t("record.yes")), ("no", t("record.no"))]),
        "lot": ("list", [(c.lot, "") for c in s.cans if c.lot]),
        "cans": ("list", [(x, "") for x in state.cans]),
    }
    units = EXAMPLES.get(what)
    hint = units[s.shown.units == "metric"] if units else ""
    sort, options = lists.get(what, ("text", []))
    if "|" in what:
        sort, options = (
            "choice",
            [(w, t(f"choice.{w}") if w in WORDED else w) for w in what.split("|")],
        )
    elif what in ("moment", "day", "file", "whole"):
        sort = what
    elif what == "files":
        sort = "file"
    if what in SI:
        label = t("record.with_unit", field=label)
    return Field(name=name, label=label, sort=sort, options=options, value=value, hint=hint, needed=needed)
