"""The cans and lots that joints were made with: as received, and as job.toml holds them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from datetime import date

from lineproof.checks.made_lots import LotUsed
from lineproof.job.making import CanRecord, LotTold, Making
from lineproof.job.stock import Can


class Lots:
    """Lots by name.

    Parameters
    ----------
    cans : iterable of Can
        Of job.toml.
    records : mapping
        Name of a can to its record.
    """

    def __init__(self, cans: Iterable[Can], records: Mapping[str, CanRecord]) -> None:
        self._records = records
        self._known: dict[LotTold, tuple[LotUsed, ...]] = {}
        self._cans: dict[str, list[Can]] = {}
        for can in cans:
            if can.lot:
                self._cans.setdefault(can.lot, []).append(can)
        self._came: dict[str, list[CanRecord]] = {}
        for record in records.values():
            for lot in record.lots:
                self._came.setdefault(lot, []).append(record)

    def of(self, told: LotTold, making: Making) -> tuple[LotUsed, ...]:
        """What is known of a lot or can that a joint was made with.

        Parameters
        ----------
        told : LotTold
            As it is named in the record of the joint.
        making : Making

        Returns
        -------
        tuple of LotUsed
            All that it may be.
        """
        known = self._known.get(told)
        if known is None:
            known = self._known[told] = self._find_lot(told)
        can = self._records.get(told.can)
        if can is not None and can.thrown and can.thrown[0] < making.latest:
            how = "before" if can.thrown[1] < making.earliest else "perhaps"
            return tuple(replace(u, thrown=how) for u in known)
        return known

    def _find_lot(self, told: LotTold) -> tuple[LotUsed, ...]:
        """A can as received; else every lot of that name in job.toml and among the cans received."""
        can = self._records.get(told.can) if told.can else None
        if can is not None and can.lots:
            same = [c for lot in can.lots for c in self._cans.get(lot, ()) if c.kind in can.holds]
            return (
                LotUsed(
                    name=can.can, known=True, kind=can.holds[0] if len(can.holds) == 1 else "",
                    cards=_cards(can.cards, (c.card for c in same)),
                    expires=_days(can.expires, (c.expires for c in same)), opened=can.opened,
                    unclear=bool(can.unclear) or len(can.holds) != 1,
                ),
            )  # fmt: skip
        lot = told.lot or told.can
        rows = [c for c in self._cans.get(lot, ()) if told.kind in ("", c.kind)]
        came = [c for c in self._came.get(lot, ()) if not told.kind or told.kind in c.holds]
        if not rows and not came:
            return (LotUsed(name=lot, known=False, kind=told.kind),)
        kinds = {c.kind for c in rows} | {h for c in came for h in c.holds}
        return (
            LotUsed(
                name=lot, known=True, kind=kinds.pop() if len(kinds) == 1 else "",
                cards=_cards((c.card for c in rows), (card for c in came for card in c.cards)),
                expires=_days((c.expires for c in rows), (day for c in came for day in c.expires)),
                opened=None, unclear=bool(kinds) or any(c.unclear for c in came),
            ),
        )  # fmt: skip


def _cards(told: Iterable[str], others: Iterable[str]) -> tuple[str, ...]:
    """The cards a lot carries, as the container and job.toml say: one of them may be silent."""
    found = tuple(dict.fromkeys(card for card in (*told, *others) if card))
    return found or ("",)


def _days(told: Iterable[date | None], others: Iterable[date | None]) -> tuple[date | None, ...]:
    """The days printed: what job.toml says fills in what was not told of the can."""
    said = tuple(dict.fromkeys(told))
    if said in ((), (None,)):
        return tuple(dict.fromkeys(others))
    return tuple(dict.fromkeys((*said, *(day for day in others if day is not None))))
