"""Which row of parts.csv a place in the line takes its dimensions from.

Lots are dealt out in file order until their count is used up; fabricated fittings one by one.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from lineproof.book.sizes import Size
from lineproof.job.graph import Wait
from lineproof.job.parts import Catalogue, Form, Outlet, PartKind, PartRow, TypeKey, type_key


@dataclass(frozen=True, slots=True)
class Found:
    """What was found for a place: its type, its row, and why it cannot be used yet.

    Parameters
    ----------
    key : tuple
        Type key of the place.
    row : PartRow or None
    wait : Wait
    outlets : tuple of Outlet
        The row's outlets, or the usual ones of the kind with unknown dimensions.
    """

    key: TypeKey
    row: PartRow | None
    wait: Wait
    outlets: tuple[Outlet, ...]

    @property
    def lot(self) -> str:
        """Lot of the row, if there is one."""
        return self.row.lot if self.row else ""


def usual_outlets(kind: PartKind, size: Size, size2: Size | None) -> tuple[Outlet, ...]:
    """The ends a part of this kind usually has, unmeasured.

    Parameters
    ----------
    kind : PartKind
    size, size2 : Size
        Run size and branch or reduced size.

    Returns
    -------
    tuple of Outlet
        In, out, branch.
    """
    other = size2 or size
    socket, small = Outlet(Form.SOCKET, size), Outlet(Form.SOCKET, other)
    match kind:
        case PartKind.TEE:
            return (socket, socket, small)
        case PartKind.REDUCER:
            return (socket, small)
        case PartKind.BUSHING:
            return (Outlet(Form.SPIGOT, size), small)
        case PartKind.FLANGE:
            return (Outlet(Form.FLANGE, size), socket)
        case PartKind.STUB:
            return (Outlet(Form.STUB, size), socket)
        case PartKind.BLIND:
            return (Outlet(Form.FLANGE, size), Outlet(Form.CLOSED, size))
        case PartKind.CAP:
            return (socket, Outlet(Form.CLOSED, size))
        case PartKind.SADDLE:
            return (Outlet(Form.SADDLE, size), small)
        case PartKind.MALE_ADAPTER:
            return (socket, Outlet(Form.MALE, size))
        case PartKind.FEMALE_ADAPTER:
            return (socket, Outlet(Form.FEMALE, size))
        case _:
            return (socket, socket)


class Resolver:
    """Deals rows of parts.csv out to the places of all lines, in walking order."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self._used: Counter[int] = Counter()

    def tagged(self, tag: str) -> PartRow | None:
        """The row with this tag, or None."""
        return self.catalogue.by_tag.get(tag)

    def type(
        self,
        kind: PartKind,
        *,
        material: str,
        series: str,
        size: Size,
        size2: Size | None = None,
        angle_deg: float = 0.0,
        lot: str = "",
    ) -> Found:
        """Find and take one fitting of a type.

        Parameters
        ----------
        kind : PartKind
        material, series : str
        size, size2 : Size
        angle_deg : float
            [deg]
        lot : str
            The lot said in the walk; empty takes lots in file order.

        Returns
        -------
        Found
            Row and wait; a wait other than ``NONE`` means its pieces wait for a tape.
        """
        key = type_key(kind, angle_deg, material, series, size, size2)
        usual = usual_outlets(kind, size, size2)
        rows = self.catalogue.of_type(key, lot)
        if not rows:
            return Found(key, None, Wait.NO_ROW, usual)
        if any(r.fabricated for r in rows):
            for row in rows:
                if row.fabricated and not self._used[id(row)]:
                    self._used[id(row)] += 1
                    return Found(key, row, Wait.NONE if row.stands_for_lot else Wait.ONE_BY_ONE, row.outlets)
            return Found(key, None, Wait.ONE_BY_ONE, usual)
        if len(rows) > 1 and any(r.count is None for r in rows):
            return Found(key, None, Wait.WHICH_LOT, rows[0].outlets if _alike(rows) else usual)
        for row in rows:
            if row.count is None or self._used[id(row)] < row.count:
                self._used[id(row)] += 1
                return Found(key, row, self._state(row), row.outlets)
        last = rows[-1]
        return Found(key, last, Wait.LOT_USED_UP, last.outlets)

    @staticmethod
    def _state(row: PartRow) -> Wait:
        if row.stands_for_lot:
            return Wait.NONE
        return Wait.MEASURE_MORE if row.complete else Wait.NOT_MEASURED


def _alike(rows: tuple[PartRow, ...]) -> bool:
    """Whether all rows have the same ends."""
    return len({tuple((o.form, o.size, o.reach, o.depth) for o in r.outlets) for r in rows}) == 1
