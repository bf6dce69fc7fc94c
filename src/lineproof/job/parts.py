"""The fittings in hand, as measured: rows of parts.csv as values, and how a place finds its row.

A row stands for one tagged item, or for a type and lot once three of the lot were measured.
Fabricated fittings are measured one by one. A dimension that is not known is None, never 0.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from lineproof.book.sizes import Size
from lineproof.floor.errors import Place

MEASURED_TO_STAND_FOR_LOT = 3
"""How many of a lot must be measured before one row stands for all (own rule, said on the tape list)."""


class PartKind(StrEnum):
    """What a part is, in the trade's words."""

    ELBOW = "elbow"
    TEE = "tee"
    COUPLING = "coupling"
    REPAIR = "repair coupling"
    REDUCER = "reducer"  # a reducing coupling, concentric or eccentric
    BUSHING = "bushing"
    UNION = "union"
    FLANGE = "flange"
    STUB = "stub"  # stub end with a loose backing ring
    BLIND = "blind"
    CAP = "cap"
    VALVE = "valve"
    SADDLE = "saddle"
    MALE_ADAPTER = "male adapter"
    FEMALE_ADAPTER = "female adapter"
    EXPANSION = "expansion joint"
    OTHER = "other"  # a meter, a strainer: anything in the line with two ends


class Form(StrEnum):
    """Form of one end of a part."""

    SOCKET = "socket"
    SPIGOT = "spigot"
    FLANGE = "flange"
    STUB = "stub"  # flat face carried by a loose ring
    MALE = "male thread"
    FEMALE = "female thread"
    PLAIN = "plain"  # a pipe end
    SADDLE = "saddle"  # the curved face cemented on a pipe
    CLOSED = "closed"


@dataclass(frozen=True, slots=True)
class Outlet:
    """One end of a part, as measured.

    Parameters
    ----------
    form : Form
    size : Size
    reach : float or None
        Centre to face. For a flange or stub item the centre is its sealing face. [m]
    depth : float or None
        Socket: depth to the stop, from the same fitting. Thread: engaged length. [m]
    face : str
        Flange faces: ``"flat"``, ``"raised"``, ``"ringed"`` or ``""`` when not said.
    """

    form: Form
    size: Size
    reach: float | None = None
    depth: float | None = None
    face: str = ""

    @property
    def take_out(self) -> float | None:
        """Centre to stop for a socket or thread, centre to face for the rest; None if unmeasured. [m]"""
        if self.reach is None:
            return None
        if self.form in (Form.SOCKET, Form.MALE, Form.FEMALE):
            return None if self.depth is None else self.reach - self.depth
        return self.reach


TypeKey = tuple[str, float, str, str, str, str]
"""kind, angle in degrees (0 if none), material, series, size text, second size text ('' if none)."""


@dataclass(frozen=True, slots=True)
class PartRow:
    """One row of parts.csv.

    Parameters
    ----------
    kind : PartKind
    material, series : str
        Such as ``"pvc"`` and ``"sch80"``.
    size, size2 : Size
        Run size, and branch or reduced size where there is one.
    outlets : tuple of Outlet
        In order: in, out, branch. (A bushing: spigot first; an adapter: socket first.)
    tag : str
        The tag of a single item; empty for a type.
    angle_deg : float
        Angle of an elbow or wye. [deg]
    lot : str
        Production lot, or any word the crew marks it with.
    count : int or None
        How many of the lot there are.
    measured : int
        How many were measured.
    spread : float or None
        Largest less smallest centre-to-face among those measured. [m]
    hub : float or None
        Outside diameter of the hub or body. [m]
    fabricated : bool
        Fabricated fittings vary one by one, so each needs its own row.
    rating, rating_temperature : float or None
        Marked pressure rating [Pa] and the temperature it is marked for [K].
    mass : float or None
        [kg]
    thickness : float or None
        Flange, ring or blind thickness, for bolt lengths. [m]
    first_on : str
        What must be on the pipe before the joint is made (``"ring"``, ``"nut"``); empty if nothing.
    by, date, note : str
        Who measured, when, remarks.
    place : Place
        Row in the file.
    """

    kind: PartKind
    material: str
    series: str
    size: Size
    outlets: tuple[Outlet, ...]
    size2: Size | None = None
    tag: str = ""
    angle_deg: float = 0.0
    lot: str = ""
    count: int | None = None
    measured: int = 0
    spread: float | None = None
    hub: float | None = None
    fabricated: bool = False
    rating: float | None = None
    rating_temperature: float | None = None
    mass: float | None = None
    thickness: float | None = None
    first_on: str = ""
    by: str = ""
    date: str = ""
    note: str = ""
    place: Place = Place()

    @property
    def type_key(self) -> TypeKey:
        """What the row is a type of."""
        return type_key(self.kind, self.angle_deg, self.material, self.series, self.size, self.size2)

    @property
    def complete(self) -> bool:
        """Every end that needs a reach and a depth has them."""
        return all(o.take_out is not None for o in self.outlets if o.form not in (Form.CLOSED, Form.SADDLE))

    @property
    def stands_for_lot(self) -> bool:
        """Whether this one row may be used for every fitting of its type and lot."""
        if not self.complete:
            return False
        if self.tag or self.fabricated:
            return self.measured >= 1
        return self.measured >= min(MEASURED_TO_STAND_FOR_LOT, self.count or MEASURED_TO_STAND_FOR_LOT)


def type_key(
    kind: PartKind, angle_deg: float, material: str, series: str, size: Size, size2: Size | None = None
) -> TypeKey:
    """The key by which a place in the line finds its rows.

    Parameters
    ----------
    kind : PartKind
    angle_deg : float
        Angle of the fitting, 0 where it has none. [deg]
    material, series : str
    size, size2 : Size
        Run size, and branch or reduced size; a second size equal to the first counts as none.

    Returns
    -------
    tuple
        kind, angle, material, series, size, second size.
    """
    second = "" if size2 is None or size2 == size else size2.text
    return (kind.value, round(angle_deg, 2), material, series, size.text, second)


class Catalogue:
    """The rows of parts.csv, found by tag or by type and lot."""

    def __init__(self, rows: Iterable[PartRow] = ()) -> None:
        self.rows = tuple(rows)
        self.by_tag: dict[str, PartRow] = {}
        self._by_type: dict[TypeKey, list[PartRow]] = {}
        for row in self.rows:
            if row.tag:
                self.by_tag[row.tag] = row
            if not row.tag or row.fabricated:
                self._by_type.setdefault(row.type_key, []).append(row)

    def of_type(self, key: TypeKey, lot: str = "") -> tuple[PartRow, ...]:
        """Rows of a type, of one lot if said.

        Parameters
        ----------
        key : tuple
            See :func:`type_key`.
        lot : str
            Empty for any lot.

        Returns
        -------
        tuple of PartRow
            In file order; empty if there is none.
        """
        rows = self._by_type.get(key, ())
        return tuple(r for r in rows if not lot or r.lot == lot)
