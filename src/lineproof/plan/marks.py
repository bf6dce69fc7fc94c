"""Marks on a piece: depth marks, second marks, and rotation marks round the pipe from its top line."""

from __future__ import annotations

import math

from lineproof.job.graph import Part, Vec
from lineproof.job.parts import Form, PartKind
from lineproof.job.places import guess_reach, top_line
from lineproof.plan.model import Turned
from lineproof.sums.vectors import cross, dot, norm, scale, sub

FLUSH = 0.02
"""Sine below which a feature points along the pipe and needs no mark."""


def angle_round(way: Vec, feature: Vec) -> float | None:
    """Angle of a feature round the pipe from its top line, clockwise seen along ``way``.

    Parameters
    ----------
    way : tuple of float
        Unit vector along the pipe in walking direction. [1]
    feature : tuple of float
        Where the feature points. [1]

    Returns
    -------
    float or None
        From 0 up to 2 pi; None if the feature points along the pipe. [rad]
    """
    across = sub(feature, scale(way, dot(feature, way)))
    if norm(across) < FLUSH:
        return None
    top = top_line(way)
    right = cross(way, top)  # seen along the walk, clockwise from the top comes the right-hand side
    angle = math.atan2(dot(across, right), dot(across, top))
    angle = angle % (2 * math.pi)
    return 0.0 if 2 * math.pi - angle < 1e-9 else angle


def rotation_marks(
    part: Part, port: str, way: Vec, od: float | None, bolts: int | None
) -> tuple[Turned, ...]:
    """Rotation marks for one pipe end that enters a part.

    Parameters
    ----------
    part : Part
        The fitting.
    port : str
        The port the pipe enters.
    way : tuple of float
        Walking direction along the pipe. [1]
    od : float or None
        Outside diameter of the pipe; None leaves the arc out. [m]
    bolts : int or None
        Bolt holes of a one-piece flange.

    Returns
    -------
    tuple of Turned
        One mark for an elbow, tee or handle, one for the first bolt hole of a flange; empty otherwise.
    """
    marks = []

    def add(feature: str, towards: Vec) -> None:
        angle = angle_round(way, towards)
        if angle is not None:
            marks.append(Turned(feature, angle, math.nan if od is None else angle * od / 2))

    if part.kind in (PartKind.ELBOW, PartKind.TEE, PartKind.OTHER):
        for other in part.ports:
            if other.name != port:
                add("branch" if other.name == "c" else "other leg", other.out)
    if part.kind is PartKind.REDUCER and norm(part.ports[-1].shift) > 0.0:
        # the small end lies off the large one towards the flat side
        large, small = sorted(part.ports, key=lambda p: -guess_reach(p.size))
        add("flat side", sub(small.shift, large.shift))
    if part.handle is not None:
        add("handle", part.handle)
    if part.kind is PartKind.FLANGE and bolts and part.port("a").form is Form.FLANGE:
        angle = math.pi / bolts
        marks.append(Turned("first bolt hole", angle, math.nan if od is None else angle * od / 2))
    return tuple(marks)
