"""What the lines are for and how they are tested: duty, gauges, sections, pressure caps, hot work nearby."""

from __future__ import annotations

import re
from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Any

from lineproof.job.toml_words import (
    Day,
    Elevation,
    Flag,
    Name,
    Pressure,
    Read,
    Temperature,
    Text,
    one_of,
    quantity,
    refuse_word,
    text,
)


def matches(pattern: str, line: str) -> bool:
    """Whether a line's name fits a pattern, in which ``*`` stands for anything (``B-2*``)."""
    if "*" not in pattern:
        return pattern == line
    pieces = [re.escape(p) for p in re.split(r"\*+", pattern)]
    return re.fullmatch(".*".join(pieces), line, re.DOTALL) is not None


class Chemicals(StrEnum):
    """What may run in a line, as far as the choice of cement depends on it."""

    WATER = "water"
    SEAWATER = "seawater"
    HYPOCHLORITE = "hypochlorite"
    CAUSTIC = "caustic"
    ACID = "acid"
    OTHER = "other"


@dataclass(frozen=True, slots=True)
class Chemical:
    """What runs in the line, with its strength as a fraction if said."""

    name: Chemicals
    strength: float | None = None

    @property
    def text(self) -> str:
        """As typed: ``hypochlorite 12.5 %``."""
        return self.name.value if self.strength is None else f"{self.name.value} {self.strength * 100:.6g} %"


def _chemical(raw: Any) -> Chemical | None:
    words = text(raw).split(None, 1)
    if not words:
        return None
    for known in Chemicals:
        if words[0].lower() == known.value:
            return Chemical(known, quantity("fraction", least=0.0)(words[1]) if len(words) > 1 else None)
    raise refuse_word("the chemical", words[0], [c.value for c in Chemicals])


@dataclass(frozen=True, slots=True, kw_only=True)
class LineDuty:
    """What a line, or every line that fits a pattern, is for.

    Parameters
    ----------
    line : str
        Name or pattern, such as ``"B-201"`` or ``"B-2*"``.
    service : str
        In words.
    chemical : Chemical or None
        None if nobody said; then no cement can be called right.
    design_pressure, test_pressure : float or None
        Gauge pressures. [Pa]
    design_temperature : float or None
        [K]
    procedure : str
        Id of the joining procedure.
    cement : str
        Id of the cement card meant for it.
    stock : str
        Id of the stock item, where more than one would fit.
    roof : bool
        Under a roof: no rain falls on it, and the stated conditions hold rather than the air outside.
    """

    line: Name
    service: Text = ""
    chemical: Annotated[Chemical | None, Read(_chemical)] = None
    design_pressure: Pressure | None = None
    design_temperature: Temperature | None = None
    test_pressure: Pressure | None = None
    procedure: Text = ""
    cement: Text = ""
    stock: Text = ""
    roof: Flag = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Gauge:
    """A gauge place: elevation [m] on the drawing's datum, error [Pa], planned reading [Pa]."""

    id: Name
    elevation: Elevation | None = None
    error: Pressure | None = None
    pressure: Pressure | None = None
    where: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Section:
    """Lines tested together.

    Parameters
    ----------
    lines : tuple of str
        Names or patterns.
    gauge : str
        Id of the gauge place.
    pressure : float or None
        Planned test pressure at that gauge. [Pa]
    medium : str
        ``"water"``, ``"air"``, ``"gas"`` or empty. (Tests with air or gas are refused elsewhere.)
    """

    id: Name
    lines: tuple[Name, ...]
    gauge: Text = ""
    pressure: Pressure | None = None
    medium: Annotated[str, Read(one_of("water", "air", "gas", ""))] = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class PressureCap:
    """The highest pressure [Pa] signed for a section, and the wall temperature it holds for [K]."""

    section: Name
    pressure: Pressure
    wall_temperature: Temperature
    signed_by: Name
    date: Day
    place: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class HotWork:
    """Welding, cutting or grinding near the line: where, which lines, from and to which day."""

    place: Name
    kind: Text = ""
    lines: tuple[Name, ...] = ()
    since: Day | None = None
    until: Day | None = None
