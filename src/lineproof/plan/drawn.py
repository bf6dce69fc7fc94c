"""What the drawing alone says of joints and lines, read once and asked of many times."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from lineproof.checks.pressure import Rated, lowest
from lineproof.job.graph import Part
from lineproof.plan.facts_site import parts_by_line, rated
from lineproof.plan.joints import Planner
from lineproof.plan.model import JointPlace
from lineproof.plan.section_reach import Ways
from lineproof.plan.subjects import Subjects, joint_name
from lineproof.plan.work import Work


class Drawn:
    """Joints, parts, heights and what is pulled in, by the work of a job; nothing of the record.

    Parameters
    ----------
    work : Work
        With named joints.
    """

    def __init__(self, work: Work) -> None:
        self.work = work
        self.planner = Planner(work.graph, work.cutting, work.job.settings, work.book, work.job.parts)
        self.parts: dict[str, list[Part]] = parts_by_line(work)
        self.places: dict[str, JointPlace] = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
        self.ways = Ways(work.graph)
        self._weakest: dict[tuple[str, ...], tuple[Rated, ...]] = {}
        self._inside: dict[tuple[str, ...], dict[str, JointPlace]] = {}
        self._pullers: dict[str, bool | None] = {}
        self._heights: dict[str, float | None] = {}

    @cached_property
    def names(self) -> Subjects:
        """Indices of the work, for what is rated."""
        return Subjects(self.work)

    def weakest(self, lines: tuple[str, ...]) -> tuple[Rated, ...]:
        """Of everything that holds pressure on some lines the lowest of each kind.

        Parameters
        ----------
        lines : tuple of str

        Returns
        -------
        tuple of Rated
        """
        if lines not in self._weakest:
            of = [r for n in lines for r in rated(self.work, self.names, n, self.parts.get(n, []))]
            self._weakest[lines] = lowest(tuple(of))
        return self._weakest[lines]

    def inside(self, lines: tuple[str, ...]) -> Mapping[str, JointPlace]:
        """Joints of some lines, and those that tie them to others.

        Parameters
        ----------
        lines : tuple of str

        Returns
        -------
        mapping
            Id to place, in the order of the drawing.
        """
        if lines not in self._inside:
            of = set(lines)
            self._inside[lines] = {
                name: j
                for name, j in self.places.items()
                if j.line in of or any(end[0].partition("/")[0] in of for end in (j.socket, j.spigot))
            }
        return self._inside[lines]

    def pullers(self, joint: str) -> bool | None:
        """Whether a joint is pulled in with a device; None if no table says.

        Parameters
        ----------
        joint : str
            Id of one that is drawn.

        Returns
        -------
        bool or None
        """
        if joint not in self._pullers:
            planner, place = self.planner, self.places[joint]
            part, spigot = planner.part(place.socket[0]), planner.part(place.spigot[0])
            piece = planner.heights.pieces.get(place.spigot[0])
            mates = planner.mates(place, part, spigot, piece)
            self._pullers[joint] = planner.needs(mates, planner.papers(place.line)).pull_in.needed
        return self._pullers[joint]

    def height(self, joint: str) -> float | None:
        """How high a joint lies; None if that is not known. [m]

        Parameters
        ----------
        joint : str
            Id of one that is drawn.

        Returns
        -------
        float or None
        """
        if joint not in self._heights:
            self._heights[joint] = self.planner.heights.elevation(self.places[joint])
        return self._heights[joint]
