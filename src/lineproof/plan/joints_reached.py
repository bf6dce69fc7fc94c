"""Of many joints those whose wait is whole, told together: the rest is told joint by joint."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass

import numpy as np

from lineproof.job.card_rows import CardTime
from lineproof.plan.joint_clocks import Cell, JointClocks, Ran
from lineproof.plan.joint_histories import Asked
from lineproof.sums.cure_answer import Clocks


@dataclass(frozen=True, slots=True)
class Reached:
    """Joints whose wait is whole by the same cell of the same table.

    Parameters
    ----------
    key : hashable
        Card, size, column and cell.
    places : list of int
        By their place among those asked. [-]
    at : list of float
        When each was ready. [s]
    ran : callable
        Gives the clock of one of them, by its place in ``places``.
    """

    key: Hashable
    places: list[int]
    at: list[float]
    ran: Callable[[int], Ran]


def joints_reached(clocks: JointClocks, kind: str, asked: Sequence[Asked]) -> list[Reached]:
    """Which of the joints have their wait behind them.

    Parameters
    ----------
    clocks : JointClocks
    kind : str
        ``"handling"`` or ``"cure"``.
    asked : sequence of Asked
        Joints that nothing disturbed, and that were not read beside a logger they share.

    Returns
    -------
    list of Reached
        Joints not in it are not ready, or it cannot be told.
    """
    last = [a.start for a in asked]
    tables = [clocks.waits_of(kind, a) for a in asked]
    found = []
    for places in clocks.alike(asked, tables):
        table, first = tables[places[0]], asked[places[0]]
        _, ran, cells = clocks.of_alike(asked, table, last, places)
        alike: dict[Cell, list[int]] = {}
        for k in np.flatnonzero(~np.isnan(ran.reached_at)).tolist():
            alike.setdefault(cells[k], []).append(k)
        for cell, same in alike.items():
            rests = clocks.rests_on(table, ran.joint(same[0]), cell)

            def one(
                n: int, ran: Clocks = ran, same: list[int] = same, of: Sequence[int] = places,
                row: CardTime | None = rests,
            ) -> Ran:  # fmt: skip
                return Ran(ran.joint(same[n]), row, last[of[same[n]]], (), None, foretold=False)

            key = (first.card.id, first.size, table.pressure_Pa is None, rests, cell)
            found.append(Reached(key, [places[k] for k in same], ran.reached_at[same].tolist(), one))
    return found
