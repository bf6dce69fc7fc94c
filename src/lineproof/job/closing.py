"""What job.toml says of openings in the line, and of what can be carried and lifted."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Any

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput
from lineproof.job.toml_words import (
    Elevation,
    Length,
    LengthOver0,
    Name,
    Nominal,
    Read,
    Text,
    quantity,
    shorten,
)

OPENINGS = ("flange", "union")
"""What may be put into a line so that it can be closed: a flange pair with flat faces, a flat union."""

Mass = Annotated[float, Read(quantity("mass", over=0.0))]


def _opening(raw: Any) -> str:
    if raw not in OPENINGS:
        raise BadInput(
            f"an opening {shorten(raw)}", allowed=" or ".join(OPENINGS), next="write it in quotes, as here"
        )
    return str(raw)


@dataclass(frozen=True, slots=True, kw_only=True)
class Closing:
    """Where and with what a line may be opened so that its last joint has somewhere to go.

    Parameters
    ----------
    openings : tuple of str
        ``"flange"`` and ``"union"``; none where nothing may be added.
    union_to : Size or None
        Largest size of a union; None: NPS 4 and d110 (common practice, no source).
    keep_closed : tuple of str
        Lines, or patterns such as ``"B-2*"``, that may hold no opening: buried, in a wall, by specification.
    reach_low, reach_high : float or None
        Heights between which bolts can be reached, on the drawing's datum. [m]
    working_gap : float or None
        Room between socket face and pipe end while both are wetted. [m]
    restraint : str
        What the engineer holds a gasketed repair coupling with; empty: none is ever proposed.
    """

    openings: tuple[Annotated[str, Read(_opening)], ...] = OPENINGS
    union_to: Nominal | None = None
    keep_closed: tuple[Name, ...] = ()
    reach_low: Elevation | None = None
    reach_high: Elevation | None = None
    working_gap: LengthOver0 | None = None
    restraint: Text = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """What can be carried to its place in one piece; what nobody said is None.

    Parameters
    ----------
    length, width, height : float or None
        Longest, second and shortest side that the truck, the door and the hatch take. [m]
    mass : float or None
        What people and tackle on this job lift. [kg]
    tackle, way_in : str
        In words, for the step list: ``"chain fall on beam 4"``, ``"door D-2"``.
    """

    length: Length | None = None
    width: Length | None = None
    height: Length | None = None
    mass: Mass | None = None
    tackle: Text = ""
    way_in: Text = ""


UNION_TO = (Size("nps", 4.0), Size("d", 110.0))
"""Largest sizes of a union where job.toml names none: common practice, no source."""
