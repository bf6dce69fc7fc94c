"""The clocks of a joint: hold, pullers off, hands off, cure. The card's row or none; nothing is carried on.

The rows of a standard are shown beside, as information, and never release anything.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from lineproof.book import cement, cure
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.book.table import to_si
from lineproof.floor.sources import Cell, Reading
from lineproof.job.card_rows import CURE, HANDLING, HOLD, PULLERS, CardTime
from lineproof.job.cards import EDGE_PA, CementCard
from lineproof.job.people import Procedure, within
from lineproof.job.settings import Conditions
from lineproof.plan.joint_model import Clock
from lineproof.plan.joint_needs import Missing, lacks

_HAIR = 1e-9
_STANDARD_CURE = "astm_d2855_1996_cure"


@dataclass(slots=True)
class Clocks:
    """Reads clocks, each question once.

    Parameters
    ----------
    book : Book
    conditions : Conditions
    """

    book: Book
    conditions: Conditions
    _known: dict[tuple[object, ...], Clock] = field(default_factory=dict)
    _steps: dict[str, tuple[float, ...]] = field(default_factory=dict)

    def _once(self, key: tuple[object, ...], find: Callable[[], Clock]) -> Clock:
        known = self._known.get(key)
        if known is None:
            known = self._known[key] = find()
        return known

    def hold(self, line: str, card: CementCard | None, procedure: Procedure | None, size: Size) -> Clock:
        """How long the joint is kept pushed in: the longer of the card's and the procedure's.

        Parameters
        ----------
        line : str
        card : CementCard or None
        procedure : Procedure or None
        size : Size

        Returns
        -------
        Clock
            What general practice prints is shown beside.
        """
        key = (HOLD, line, _id(card), _id(procedure), size)
        return self._once(key, lambda: self._hold(line, card, procedure, size))

    def _hold(self, line: str, card: CementCard | None, procedure: Procedure | None, size: Size) -> Clock:
        temperature = self.conditions.pipe_temperature
        told = card.hold(size, temperature) if card else None
        rows = [r.time for r in procedure.hold if within(size, r.size_lo, r.size_hi)] if procedure else []
        reading = Reading()
        usual = cement.hold(self.book, size, reading)
        beside = (usual[1], reading.as_tuple()) if usual else (None, ())
        open_row = told is None and _has_rows(HOLD, card, size)  # it may ask for longer than the procedure
        if not open_row and rows and procedure is not None and max(rows) > (told.time if told else 0.0):
            return Clock(
                HOLD, max(rows), "procedure", procedure.document or procedure.id,
                printed=beside[0], printed_cells=beside[1],
            )  # fmt: skip
        if told is not None:
            return _from_card(HOLD, told, *beside, compare=False)
        return self._silent(HOLD, line, card, size, None, *beside)

    def pullers(self, line: str, card: CementCard | None, size: Size, needed: bool | None) -> Clock:
        """How long the pull-in tools stay on.

        Parameters
        ----------
        line : str
        card : CementCard or None
        size : Size
        needed : bool or None
            Whether a pull-in device is called for; if not, a card without a row misses nothing.

        Returns
        -------
        Clock
            The time, or what is missing.
        """
        key = (PULLERS, line, _id(card), size, needed)

        def find() -> Clock:
            told = card.pullers_off(size, self.conditions.pipe_temperature) if card else None
            if told is not None:
                return _from_card(PULLERS, told, None, (), compare=False)
            if needed is False and not _has_rows(PULLERS, card, size):
                return Clock(PULLERS, None)
            return self._silent(PULLERS, line, card, size)

        return self._once(key, find)

    def handling(self, line: str, card: CementCard | None, size: Size, material: str) -> Clock:
        """How long nobody may move the joint.

        Parameters
        ----------
        line : str
        card : CementCard or None
        size : Size
        material : str
            As the standard's rows count it; empty where they are for none of this, such as one-step.

        Returns
        -------
        Clock
            With the standard's row beside where one is carried.
        """
        key = (HANDLING, line, _id(card), size, material)

        def find() -> Clock:
            at = self.conditions
            told = card.handling(size, at.pipe_temperature, at.humidity) if card else None
            reading = Reading()
            row = cure.handling_row(self.book, size, at.pipe_temperature, reading, material=material)
            beside = (row.wait, reading.as_tuple()) if row else (None, ())
            if told is not None:
                return _from_card(HANDLING, told, *beside)
            return self._silent(HANDLING, line, card, size, None, *beside)

        return self._once(key, find)

    def cure(
        self, line: str, card: CementCard | None, size: Size, material: str, pressure: float | None
    ) -> Clock:
        """How long before the joint may see its pressure.

        Parameters
        ----------
        line : str
        card : CementCard or None
        size : Size
        material : str
            As for ``handling``.
        pressure : float or None
            Gauge pressure at the joint itself; without it there is no answer. [Pa]

        Returns
        -------
        Clock
            The first printed column that reaches the pressure; with the standard's row beside.
        """
        key = (CURE, line, _id(card), size, material, self.column(card, pressure))

        def find() -> Clock:
            at = self.conditions
            told = card.cure(size, at.pipe_temperature, pressure, at.humidity) if card else None
            reading = Reading()
            row = cure.cure_row(
                self.book, size, at.pipe_temperature, pressure, at.humidity, reading, material=material
            )
            beside = (row.wait, reading.as_tuple()) if row else (None, ())
            if told is not None:
                return _from_card(CURE, told, *beside)
            return self._silent(CURE, line, card, size, pressure, *beside)

        clock = self._once(key, find)
        if clock.time is None and pressure is not None and card is not None:
            # the sentence names this joint's own pressure, not that of the first joint of the column
            beside = (clock.printed, clock.printed_cells)
            return self._silent(CURE, line, card, size, pressure, *beside)
        return clock

    def column(self, card: CementCard | None, pressure: float | None) -> int | None:
        """Which printed columns reach a pressure, as a number: joints with the same one share their rows."""
        if pressure is None:
            return None
        name = _id(card)
        steps = self._steps.get(name)
        if steps is None:
            rows = card.rows if card else ()
            own = {r.pressure_max + EDGE_PA for r in rows if r.pressure_max is not None}
            printed = {
                to_si(c, self.book.plain(_STANDARD_CURE, row, c)) + 1e-6
                for row in self.book.keys(_STANDARD_CURE)
                for c in ("pressure_lo_psi", "pressure_hi_psi")
            }
            steps = self._steps[name] = tuple(sorted(own | printed))
        return sum(step < pressure for step in steps)

    def _silent(
        self,
        kind: str,
        line: str,
        card: CementCard | None,
        size: Size,
        pressure: float | None = None,
        printed: float | None = None,
        printed_cells: tuple[Cell, ...] = (),
    ) -> Clock:
        """A clock that cannot be told, with the reason."""
        at = self.conditions
        missing: list[Missing] = []
        if card is None:
            missing.append(lacks("card", line=line))
        else:
            if at.pipe_temperature is None:
                missing.append(lacks("pipe-temperature"))
            if at.humidity is None and kind in (HANDLING, CURE):
                missing.append(lacks("humidity"))
            if not missing and (kind != CURE or pressure is not None):
                missing.append(
                    lacks(
                        "card-row", kind=kind, card=card.id, size=size, temperature=at.pipe_temperature,
                        pressure=pressure,
                    )
                )  # fmt: skip
        return Clock(kind, None, printed=printed, printed_cells=printed_cells, missing=tuple(missing))


def _has_rows(kind: str, card: CementCard | None, size: Size) -> bool:
    """Whether the card prints anything of a kind for a size, whatever its band."""
    rows = card.rows if card else ()
    return any(r.kind == kind and within(size, r.size_lo, r.size_hi) for r in rows)


def _id(holder: CementCard | Procedure | None) -> str:
    return "" if holder is None else holder.id


def _from_card(
    kind: str, told: CardTime, printed: float | None, cells: tuple[Cell, ...], *, compare: bool = True
) -> Clock:
    shorter = compare and printed is not None and told.time < printed * (1 - _HAIR)
    return Clock(
        kind, told.time, "card", told.row.mark, tuple(f.when for f in told.factors), told.multiplier,
        told.row.pressure_max, printed, cells, shorter,
    )  # fmt: skip
