"""Pressure at a joint: the gauge's planned reading, the column from gauge to joint, and the gauge's error."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.job.duty import Chemicals, Section
from lineproof.job.graph import LineGraph, Part
from lineproof.job.places import LEVEL
from lineproof.job.settings import Settings
from lineproof.plan.joint_model import JointPressure
from lineproof.plan.joint_needs import Missing, lacks
from lineproof.plan.model import Cutting, JointKind, JointPlace, Piece
from lineproof.sums.pressure import pressure_at

WATER = 1000.0
"""Cold fresh water, rounded up to the safe side. [kg/m3]"""

SEAWATER = 1030.0
"""Cold seawater, rounded up; taken where the line is for seawater, for it may be tested with it. [kg/m3]"""


@dataclass(frozen=True, slots=True)
class Stand:
    """One test section as far as its gauge goes: planned reading and error [Pa], gauge elevation [m]."""

    section: str
    gauge: str
    pressure: float | None
    elevation: float | None
    error: float | None
    missing: tuple[Missing, ...]


class Heights:
    """Elevation and pressure of joints.

    Parameters
    ----------
    graph : LineGraph
    cutting : Cutting
    settings : Settings
    """

    def __init__(self, graph: LineGraph, cutting: Cutting, settings: Settings) -> None:
        self.graph = graph
        self.pieces = {p.id: p for p in cutting.pieces}
        self.couplings = cutting.couplings
        self.settings = settings
        self._stands: dict[tuple[str, str], tuple[Stand, ...]] = {}
        self._density: dict[str, float] = {}

    def elevation(self, j: JointPlace) -> float | None:
        """Centre of the socket's mouth on the drawing's datum.

        Parameters
        ----------
        j : JointPlace

        Returns
        -------
        float or None
            None if the walk did not start on the datum, or an unmeasured length goes up or down on the
            way. [m]
        """
        part = self.graph.parts.get(j.socket[0])
        if part is not None and j.kind is not JointKind.SADDLE:
            return _mouth(part, j.socket[1])
        piece = self.pieces.get(j.spigot[0])
        return None if piece is None else self._on_run(j, piece)

    def _on_run(self, j: JointPlace, piece: Piece) -> float | None:
        """A coupling, bell or saddle on a run: its place rests on the run's start and the piece's length."""
        run = self.graph.runs[piece.run]
        if not self.graph.parts[run.a[0]].datum:
            return None
        if abs(run.way[2]) <= LEVEL:
            return run.start[2]
        if j.kind is JointKind.SADDLE:
            return j.place[2]
        known = piece.exact is not None and run.off_a is not None and run.depth_a is not None
        return j.place[2] if known else None

    def stands(self, line: str, other: str) -> tuple[Stand, ...]:
        """The sections that hold a joint between these two lines (one and the same for most)."""
        key = (line, other)
        known = self._stands.get(key)
        if known is None:
            found: dict[str, Section] = {}
            for name in dict.fromkeys(key):
                found.update((s.id, s) for s in self.settings.sections_of(name))
            known = self._stands[key] = tuple(self._stand(s) for s in found.values())
        return known

    def _stand(self, section: Section) -> Stand:
        gauge = self.settings.gauge(section.gauge) if section.gauge else None
        missing = []
        pressure = section.pressure
        if gauge is None:
            missing.append(lacks("gauge", section=section.id))
        else:
            pressure = pressure if pressure is not None else gauge.pressure
            if gauge.elevation is None:
                missing.append(lacks("gauge-elevation", gauge=gauge.id))
            if gauge.error is None:
                missing.append(lacks("gauge-error", gauge=gauge.id))
        if pressure is None:
            missing.append(lacks("section-pressure", section=section.id))
        return Stand(
            section.id,
            section.gauge,
            pressure,
            gauge.elevation if gauge else None,
            gauge.error if gauge else None,
            tuple(missing),
        )

    def density(self, line: str) -> float:
        """Density of what the line is tested with, rounded up. [kg/m3]"""
        known = self._density.get(line)
        if known is None:
            duty = self.settings.duty(line)
            salt = duty is not None and duty.chemical is not None and duty.chemical.name is Chemicals.SEAWATER
            known = self._density[line] = SEAWATER if salt else WATER
        return known

    def pressure(self, j: JointPlace) -> JointPressure:
        """Pressure at a joint, the highest over the sections that hold it.

        Parameters
        ----------
        j : JointPlace

        Returns
        -------
        JointPressure
            None with what is missing where section, gauge, its elevation or error, planned pressure or the
            joint's elevation is not known.
        """
        z = self.elevation(j)
        part = self.graph.parts.get(j.socket[0])
        stands = self.stands(j.line, part.line if part is not None else j.line)
        missing: list[Missing] = []
        if z is None:
            missing.append(lacks("elevation", line=j.line))
        if not stands:
            missing.append(lacks("section", line=j.line))
        for stand in stands:
            missing += stand.missing
        if missing or z is None:
            return JointPressure(z, None, missing=tuple(missing))
        density = self.density(j.line)
        found = max((_at(s, z, density), s.section, s.gauge) for s in stands)
        return JointPressure(z, *found)


def _at(s: Stand, z: float, density: float) -> float:
    # what is missing was settled before: none of the three is None here
    return pressure_at(
        gauge=s.pressure or 0.0, gauge_height=s.elevation or 0.0, height=z, density=density,
        gauge_error=s.error or 0.0,
    )  # fmt: skip


def _mouth(part: Part, port: str) -> float | None:
    if not part.datum:
        return None
    at = part.port(port)
    base = part.centre[2] + at.shift[2]
    if abs(at.out[2]) <= LEVEL:
        return base
    return None if at.reach is None else base + at.out[2] * at.reach
