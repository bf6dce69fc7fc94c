"""A section at the moment it is asked for: its joints, strays, gauge, heights, and who wrote of it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime, timedelta

from lineproof.checks.conditions import FILL
from lineproof.floor.errors import BadInput
from lineproof.job.cards import CementCard
from lineproof.job.duty import PressureCap, Section, matches
from lineproof.job.graph import Part
from lineproof.job.progress import JointProgress, Progress
from lineproof.job.section_record import GaugeRecord, SectionRecord, WriterSeen
from lineproof.plan.drawn import Drawn
from lineproof.plan.facts_move import field_joints_beside
from lineproof.plan.joint_pressure import WATER
from lineproof.plan.section_reach import reach_of
from lineproof.plan.work import Work
from lineproof.sums.pressure import pressure_at


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What is asked for.

    Parameters
    ----------
    verb : str
        ``"fill"`` or ``"raise"``.
    section : str
    pressure : float or None
        Reading of the gauge; for filling None stands for the water's own column. [Pa]
    gauge : str
        Gauge place; for filling it may be empty.
    medium : str
        ``"water"``, ``"air"``, ``"gas"``, or empty if nobody said.
    asker : str
        Id of the person who asks; empty if not said.
    """

    verb: str
    section: str
    pressure: float | None = None
    gauge: str = ""
    medium: str = ""
    asker: str = ""


@dataclass(frozen=True, slots=True)
class GaugeAt:
    """Where the asked pressure is read: height [m], reading and error [Pa]; None where not known."""

    height: float | None
    reading: float | None
    error: float | None

    def at(self, z: float | None, density: float) -> float | None:
        """Pressure at a height, gauge error added; None where something for it is not known.

        Parameters
        ----------
        z : float or None
            [m]
        density : float
            Of the water. [kg/m3]

        Returns
        -------
        float or None
            [Pa]
        """
        if z is None or self.height is None or self.reading is None or self.error is None:
            return None
        return pressure_at(
            gauge=self.reading, gauge_height=self.height, height=z, density=density, gauge_error=self.error
        )


def section_named(work: Work, id: str) -> Section:
    """The section of that name.

    Parameters
    ----------
    work : Work
    id : str

    Returns
    -------
    Section

    Raises
    ------
    BadInput
        There is none.
    """
    for section in work.job.settings.sections:
        if section.id == id:
            return section
    raise BadInput(
        f"there is no section {id!r}",
        allowed=", ".join(s.id for s in work.job.settings.sections) or "none is in job.toml",
        next="name it as in job.toml, under [[sections]]",
    )


class SectionAt:
    """A section, what is asked of it, and all that the drawing and the record know of it.

    Parameters
    ----------
    asked : Asked
    work : Work
        With named joints.
    progress : Progress
    drawn : Drawn, optional
        What was read from the same work before.

    Raises
    ------
    BadInput
        There is no such section or gauge place.
    """

    def __init__(self, asked: Asked, work: Work, progress: Progress, drawn: Drawn | None = None) -> None:
        self.asked = asked
        self.work = work
        self.progress = progress
        self.section = section_named(work, asked.section)
        self.record = progress.section(asked.section)
        drawn = Drawn(work) if drawn is None else drawn
        self.drawn = drawn
        self.reach = reach_of(self.section, work.graph, self.record.ends, drawn.ways)
        self.others = self._others()
        self.parts = drawn.parts
        self.places = drawn.places
        self._cards: dict[tuple[str, str], CementCard | None] = {}
        self.inside = drawn.inside(self.reach.lines)
        self.density = max((drawn.planner.heights.density(n) for n in self.reach.lines), default=WATER)
        told = [progress.of(name) for name in self.inside]
        self.strays = self._strays()
        self.out = tuple(sorted(j.id for j in told if j.cut_out and not j.unclear and self._replaced(j)))
        self.made_of = tuple(j for j in told if j.id not in self.out)
        self.writers = self._writers()
        self.changed = max((j.changed for j in (*told, *self.strays) if j.changed is not None), default=None)
        self.since = self._since()
        self.gauge = self._gauge()

    def pullers(self, joint: str) -> bool | None:
        """Whether a joint is pulled in with a device; None if no table says."""
        return self.drawn.pullers(joint)

    def height(self, joint: str) -> float | None:
        """How high a joint lies; None if that is not known. [m]"""
        return self.drawn.height(joint)

    def card(self, named: str, line: str) -> CementCard | None:
        """The cement card a joint was made by: the one named, else that of its line."""
        key = (named, "" if named else line)
        if key not in self._cards:
            settings = self.work.job.settings
            self._cards[key] = settings.card(named) if named else self.drawn.planner.papers(line).card
        return self._cards[key]

    @property
    def now(self) -> datetime:
        """The moment judged, on the clocks of the site."""
        return self.progress.now.astimezone(self.work.job.zone)

    def here(self, when: datetime | None) -> datetime | None:
        """A moment on the clocks of the site."""
        return None if when is None else when.astimezone(self.work.job.zone)

    def _others(self) -> tuple[SectionRecord, ...]:
        """Records of sections that share a line with this one, and of those that job.toml does not name."""
        named = {s.id: s for s in self.work.job.settings.sections}
        lines = self.reach.lines
        beside = {n for n, s in named.items() if any(matches(p, line) for p in s.lines for line in lines)}
        told = self.progress.sections
        return tuple(r for n, r in told.items() if n != self.section.id and (n in beside or n not in named))

    def caps(self) -> tuple[PressureCap, ...]:
        """Pressure caps that hold for it today."""
        return self.work.job.settings.caps_of(self.section.id, self.now.date())

    @property
    def medium(self) -> str:
        """What it is tested with: what is asked for, or what job.toml says if that is not water."""
        planned = self.section.medium
        return self.asked.medium if planned in ("", "water") else planned

    def parts_inside(self) -> list[Part]:
        """Parts of every line that counts."""
        return [p for line in self.reach.lines for p in self.parts.get(line, [])]

    def hung(self) -> list[GaugeRecord]:
        """Gauges recorded at the gauge place."""
        return [g for g in self.progress.gauges.values() if self.asked.gauge and g.place == self.asked.gauge]

    def _gauge(self) -> GaugeAt:
        if not self.asked.gauge:
            if self.asked.verb != FILL:
                return GaugeAt(None, self.asked.pressure, None)
            return GaugeAt(self.top(), self.asked.pressure or 0.0, 0.0)
        gauges = self.work.job.settings.gauges
        place = next((g for g in gauges if g.id == self.asked.gauge), None)
        if place is None:
            raise BadInput(
                f"there is no gauge place {self.asked.gauge!r}",
                allowed=", ".join(g.id for g in gauges) or "none is in job.toml",
                next="name it as in job.toml, under [[gauges]]",
            )
        heights = [h for h in (place.elevation, *(g.elevation for g in self.hung())) if h is not None]
        errors = [abs(e) for e in (place.error, *(g.error for g in self.hung())) if e is not None]
        return GaugeAt(max(heights, default=None), self.asked.pressure, max(errors, default=None))

    def top(self) -> float | None:
        """The highest that a part of the section stands; None while one height is not known. [m]"""
        tops: list[float] = []
        for part in self.parts_inside():
            if not part.datum:
                return None
            tops += [part.centre[2], *(part.centre[2] + p.out[2] * (p.reach or 0.0) for p in part.ports)]
        return max(tops, default=None)

    def lowest(self) -> float | None:
        """The lowest that a part of the section stands; None while one height is not known. [m]"""
        lows: list[float] = []
        for part in self.parts_inside():
            if not part.datum:
                return None
            lows += [part.centre[2], *(part.centre[2] + p.out[2] * (p.reach or 0.0) for p in part.ports)]
        return min(lows, default=None)

    def _replaced(self, joint: JointProgress) -> bool:
        """A joint cut out leaves the line open, unless what was made in its place since is asked itself."""
        known = {*self.inside, *(j.id for j in self.strays)}
        return bool(joint.replaced_by) and all(
            name in known and self._since_then(self.progress.of(name).assembled, joint.ended)
            for name in joint.replaced_by
        )

    @staticmethod
    def _since_then(made: datetime | None, then: datetime | None) -> bool:
        """One that is not made yet is asked as such."""
        return made is None or then is None or made >= then

    def _strays(self) -> tuple[JointProgress, ...]:
        """Joints made on site that are not on the drawing: of this section, or of nobody knows which."""
        near = set(field_joints_beside(self.inside, self.progress))
        placed = set(field_joints_beside(self.places, self.progress))
        sections = {s.id for s in self.work.job.settings.sections}
        found = []
        for joint in self.progress.joints.values():
            if joint.id in self.places or joint.cut_out:
                continue
            here = joint.id in near or joint.section == self.section.id
            if joint.replaced_by and self._drawn_since(joint, here=here):
                continue  # it was drawn since, under the id of the drawing
            if here or (joint.section not in sections and joint.id not in placed):
                found.append(joint)
        return tuple(found)

    def _drawn_since(self, joint: JointProgress, *, here: bool) -> bool:
        """Whether all that stand for it are drawn, here if it is here, and were recorded after it was."""
        drawn: Collection[str] = self.inside if here else self.places
        told = [self.progress.of(name) for name in joint.replaced_by if name in drawn]
        return len(told) == len(joint.replaced_by) and all(
            j.changed is None or joint.begun is None or j.changed >= joint.begun for j in told
        )

    def _writers(self) -> tuple[WriterSeen, ...]:
        known = {*self.inside, *(j.id for j in self.strays)}
        sections = {self.section.id, *(r.id for r in self.others)}
        return tuple(
            w
            for w in self.progress.writers
            if not known.isdisjoint(w.joints) or not sections.isdisjoint(w.sections)
        )

    def _since(self) -> datetime:
        """Up to when the record of the section is known: the last word of the phone heard longest ago."""
        heard = [w.heard for w in self.writers if not w.here and w.heard is not None]
        told = min(heard) if heard else self.changed or self.now - timedelta(hours=24)
        return min(told, self.now)
