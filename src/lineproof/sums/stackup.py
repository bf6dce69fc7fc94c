"""Stack-up: how far the last two faces of a loop are likely to miss each other.

Lengthwise, sideways and in angle.
Every error on the way round is a small shift, a small turn at a place, or both, in the directions it has
there. Errors of one cause (the same tape, the same saw stop) are one draw: they add up, or cancel, before
they are squared.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from lineproof.floor.errors import OutsideTable
from lineproof.sums.vectors import Vector

Floats = NDArray[np.float64]

EVEN, BELL = "even", "bell"
SHARES: dict[str, float] = {EVEN: 1.0 / math.sqrt(3.0), BELL: 1.0}
"""Standard deviation of one unit: of a limit within which all is alike likely, and of itself. [-]"""
LIKELY = 0.95
_BY = "the valid range of this sum"


@dataclass(frozen=True, slots=True, kw_only=True)
class Play:
    """One error on the way round a loop.

    Parameters
    ----------
    name : str
        The piece, fitting or joint it comes from.
    shift : Vector
        How far it moves everything after it, at one unit: direction times size. [m]
    turn : Vector
        How far it turns everything after it, at one unit. [rad]
    at : Vector
        Place it turns about. [m]
    shape : str
        ``EVEN``: one unit is a limit, all within it alike likely; ``BELL``: one unit is a standard deviation.
    shared : str
        Name of the one cause of several errors; empty for an error of its own.
    lean : float
        Units by which it is out on the average. [-]
    """

    name: str
    shift: Vector = (0.0, 0.0, 0.0)
    turn: Vector = (0.0, 0.0, 0.0)
    at: Vector = (0.0, 0.0, 0.0)
    shape: str = EVEN
    shared: str = ""
    lean: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class Misfit:
    """How far two faces are likely to miss each other.

    Parameters
    ----------
    mean : array (6,)
        Shift and turn on the average, in the face's own axes: along it, two across. [m], [rad]
    spread : array (6, 6)
        Covariance of the same. [m2], [m rad], [rad2]
    worst : array (6,)
        All errors at their limits at once, against each axis; for ``BELL`` errors three standard deviations.
        [m], [rad]
    """

    mean: Floats
    spread: Floats
    worst: Floats

    @property
    def length(self) -> float:
        """Too long or too short by, likely at most. [m]"""
        return _one(self.mean[0], self.spread[0, 0])

    @property
    def sideways(self) -> float:
        """Out of line sideways by, likely at most. [m]"""
        return _two(self.mean[1:3], self.spread[1:3, 1:3])

    @property
    def angle(self) -> float:
        """Faces not parallel by, likely at most. [rad]"""
        return _two(self.mean[4:6], self.spread[4:6, 4:6])

    @property
    def twist(self) -> float:
        """Bolt holes turned by, likely at most. [rad]"""
        return _one(self.mean[3], self.spread[3, 3])


@dataclass(frozen=True, slots=True, kw_only=True, eq=False)
class TapeChoice:
    """A piece left for taping, and what is left to miss then.

    Parameters
    ----------
    piece : str
    misfit : Misfit
    less : float
        Standard deviation of the shift that it takes away, all directions together. [m]
    """

    piece: str
    misfit: Misfit
    less: float


def misfit(plays: Sequence[Play], *, face: Vector, along: Vector) -> Misfit:
    """How far the closing faces of a loop are likely to miss each other.

    Parameters
    ----------
    plays : sequence of Play
        Every error on the way round, from one face to the other.
    face : Vector
        Place of the closing face. [m]
    along : Vector
        Axis of the closing face. [m]

    Returns
    -------
    Misfit
        In the axes of the face.

    Raises
    ------
    OutsideTable
        If a shape is not known, errors of one cause differ in shape, or a number is not finite.

    Valid range
    -----------
    Small turns: sin a = a.

    Notes
    -----
    An error moves the face by shift + turn x (face - at). Errors of one cause are added before they are
    squared: spread = sum over causes of s s^T u^2, u = 1/sqrt(3) for a limit, 1 for a standard deviation.
    Likely is 95 %: 1.96 standard deviations in one direction, sqrt(-2 ln 0.05) of the widest in two (never
    too small).

    References
    ----------
    .. [1] JCGM 100:2008 (GUM), 4.3.7 rectangular distribution a/sqrt(3); 5.2.2 correlated input quantities.
    """
    causes = _causes(plays, face)
    axes = face_axes(along)
    turned = np.kron(np.eye(2), axes)
    unit = np.array([SHARES[c.shape] for c in causes])
    reach = np.array([1.0 if c.shape == EVEN else 3.0 for c in causes])
    effects = np.array([c.effect for c in causes]).reshape(-1, 6) @ turned.T if causes else np.zeros((0, 6))
    lean = np.array([c.lean for c in causes]).reshape(-1, 6) @ turned.T if causes else np.zeros((0, 6))
    sized = effects * unit[:, None]
    mean = lean.sum(axis=0)
    return Misfit(
        mean=mean, spread=sized.T @ sized, worst=np.abs(mean) + (np.abs(effects) * reach[:, None]).sum(axis=0)
    )


def face_axes(along: Vector) -> Floats:
    """Axes of a face as rows: along it, then two across it, the second as upright as it can be.

    Parameters
    ----------
    along : Vector
        Axis of the face. [m]

    Returns
    -------
    array (3, 3)
        [-]
    """
    x = np.asarray(along, np.float64)
    size = np.linalg.norm(x)
    if not (size > 0.0 and np.isfinite(size)):
        raise OutsideTable("the face points nowhere", allowed="a direction", by=_BY)
    x = x / size
    guide = np.array([0.0, 1.0, 0.0]) if math.hypot(x[0], x[1]) < 1e-9 else np.array([0.0, 0.0, 1.0])
    z = guide - (guide @ x) * x
    z /= np.linalg.norm(z)
    return np.stack([x, np.cross(z, x), z])


def which_to_tape(
    plays: Sequence[Play], pieces: Sequence[tuple[Play, ...]], *, face: Vector, along: Vector
) -> tuple[TapeChoice, ...]:
    """Which piece to leave for taping: the one that takes most away first.

    Parameters
    ----------
    plays : sequence of Play
        Every error on the way round, from one face to the other.
    pieces : sequence of tuple of Play
        For each piece that may be left: its own errors once it is cut to the taped gap (tape and cut), each
        with a shift along the piece. They replace all that was out along that piece, from whatever cause.
    face : Vector
        Place of the closing face. [m]
    along : Vector
        Axis of the closing face. [m]

    Returns
    -------
    tuple of TapeChoice
        Ties in the order of names.

    Notes
    -----
    A piece cut to the gap takes up what the faces miss along it; across it, and in angle, nothing changes.
    """
    before = _width(misfit(plays, face=face, along=along))
    found = []
    for own in pieces:
        way = np.asarray(own[0].shift, np.float64)
        size = np.linalg.norm(way)
        if not size > 0.0:
            raise OutsideTable(f"{own[0].name} has no direction", allowed="a shift along the piece", by=_BY)
        across = np.eye(3) - np.outer(way, way) / size**2
        others = [p for p in plays if p.name != own[0].name]
        left = [replace(p, shift=_vector(across @ _shift_at(p, face)), at=face) for p in others]
        rest = misfit([*left, *own], face=face, along=along)
        found.append(TapeChoice(piece=own[0].name, misfit=rest, less=before - _width(rest)))
    return tuple(sorted(found, key=lambda c: (-round(c.less, 12), c.piece)))


def lengthwise(name: str, along: Vector, size: float, *, shared: str = "", shape: str = EVEN) -> Play:
    """An error along a direction: of a cut, a take-out, a stop gap, or of a tape.

    Parameters
    ----------
    name : str
        Where it comes from.
    along : Vector
        Direction, of any length. [m]
    size : float
        Its limit, or its standard deviation. [m]
    shared : str
        Name of the one cause of several errors.
    shape : str
        ``EVEN`` or ``BELL``.

    Returns
    -------
    Play
    """
    way = np.asarray(along, np.float64)
    return Play(name=name, shift=_vector(way / np.linalg.norm(way) * size), shape=shape, shared=shared)


def out_of_line(
    name: str, spot: Vector, along: Vector, angle: float, *, twist: float = 0.0
) -> tuple[Play, ...]:
    """What a joint or fitting adds that is made out of line: a turn each way across it, and one about it.

    Parameters
    ----------
    name : str
        Where it comes from.
    spot : Vector
        Where it is. [m]
    along : Vector
        Axis of the pipe there. [m]
    angle : float
        How far out of line it may be. [rad]
    twist : float
        How far it may be turned about its axis. [rad]

    Returns
    -------
    tuple of Play
    """
    axes = face_axes(along)
    turns = [(axes[1], angle), (axes[2], angle), *([(axes[0], twist)] if twist else [])]
    return tuple(Play(name=name, turn=_vector(axis * amount), at=spot) for axis, amount in turns)


@dataclass(frozen=True, slots=True)
class _Cause:
    shape: str
    effect: Floats
    lean: Floats


def _causes(plays: Sequence[Play], face: Vector) -> list[_Cause]:
    """Errors of one cause added up; each cause by its effect at the face."""
    found: dict[str, _Cause] = {}
    for number, p in enumerate(plays):
        if p.shape not in SHARES:
            raise OutsideTable(f"{p.name}: an error of shape {p.shape!r}", allowed=f"{EVEN}, {BELL}", by=_BY)
        effect = np.concatenate([_shift_at(p, face), p.turn])
        if not np.all(np.isfinite(effect)) or not math.isfinite(p.lean):
            raise OutsideTable(f"{p.name}: an error that is not a number", allowed="finite numbers", by=_BY)
        key = f"={p.shared}" if p.shared else f"#{number}"
        known = found.get(key)
        if known is not None and known.shape != p.shape:
            raise OutsideTable(
                f"{p.name}: errors of {p.shared} are told in two shapes",
                allowed="one shape for one cause",
                by=_BY,
            )
        lean = effect * p.lean
        if known is not None:
            effect, lean = known.effect + effect, known.lean + lean
        found[key] = _Cause(p.shape, effect, lean)
    return list(found.values())


def _shift_at(p: Play, face: Vector) -> Floats:
    arm = np.asarray(face, np.float64) - np.asarray(p.at, np.float64)
    return np.asarray(p.shift, np.float64) + np.cross(np.asarray(p.turn, np.float64), arm)


def _vector(a: Floats) -> Vector:
    return (float(a[0]), float(a[1]), float(a[2]))


def _width(m: Misfit) -> float:
    return math.sqrt(float(np.trace(m.spread[:3, :3])))


_IN_ONE = 1.959963984540054
"""95 % of a bell lies within so many standard deviations."""


def _one(mean: float, variance: float) -> float:
    return abs(float(mean)) + _IN_ONE * math.sqrt(max(float(variance), 0.0))


def _two(mean: Floats, spread: Floats) -> float:
    widest = float(np.linalg.eigvalsh(spread)[-1])
    return float(np.linalg.norm(mean)) + math.sqrt(-2.0 * math.log(1.0 - LIKELY) * max(widest, 0.0))
