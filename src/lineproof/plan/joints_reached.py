"""Of many joints those whose wait is whole, told together: the rest is told joint by joint."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from lineproof.plan.joint_clocks import Cell, JointClocks, Ran
from lineproof.plan.joint_histories import Asked


@dataclass(frozen=True, slots=True)
class Reached:
    """Joints whose wait is whole by the same row of the same card.

    Parameters
    ----------
    place : int
        The one that was ready last, by its place among those asked. [-]
    ran : Ran
        Its clock.
    places : tuple of int
        All of them. [-]
    """

    place: int
    ran: Ran
    places: tuple[int, ...]


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
        table = tables[places[0]]
        _, ran, cells = clocks.of_alike(asked, table, last, places)
        whole = np.flatnonzero(~np.isnan(ran.reached_at)).tolist()
        alike: dict[Cell, list[int]] = {}
        for k in whole:
            alike.setdefault(cells[k], []).append(k)
        for same in alike.values():
            newest = same[int(np.argmax(ran.reached_at[same]))]
            clock, place = ran.joint(newest), places[newest]
            row = clocks.rests_on(table, clock, cells[newest])
            told = Ran(clock, row, last[place], (), None, foretold=False)
            found.append(Reached(place, told, tuple([places[k] for k in same])))
    return found
