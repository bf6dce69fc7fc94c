"""A line as a scene: places, legs between them, what stands at their ends, and every word to be said.

Nothing here knows paper. A place is where legs meet or end; flanges and adapters that only carry a
pipe to the place beside them are no places of their own, they are mates at the end of a leg.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.desk.drawing.sections import SectionMark
from lineproof.job.graph import Vec


class Sign(StrEnum):
    """What is drawn at a place."""

    NONE = "nothing"
    AXIS = "second axis of a reducer"
    BEND = "bend"
    TEE = "tee"
    VALVE = "valve"
    COUPLING = "coupling"
    REDUCER = "reducer"
    UNION = "union"
    FLANGES = "flange pair"
    FLANGE = "flange"
    THREAD = "threaded pair"
    CAP = "cap"
    BLIND = "blind"
    STANDS = "standing end"
    OPEN = "open end"
    BRANCH = "branch of another line"
    EXPANSION = "expansion joint"
    BOX = "part in the line"
    MATCH = "match line"


class Mate(StrEnum):
    """What carries the pipe to the place at the end of a leg."""

    NONE = ""
    FLANGE = "flange"
    RING = "stub and ring"
    THREAD = "thread"


class Kind(StrEnum):
    """What a label tells; the order is the order in which labels are shown in the side table."""

    JOINT = "joint"
    PIECE = "piece"
    LENGTH = "length"
    TAPE = "tape"
    SLOPE = "slope"
    ROLL = "roll"
    END = "end"
    BRANCH = "branch"
    MATCH = "match"
    PART = "part"
    LEVEL = "elevation"


@dataclass(frozen=True, slots=True)
class JointMark:
    """A joint as drawn: its name beside the bar, its id or key, and where it is in words."""

    name: str
    ref: str
    where: str
    bell: int = 0
    """Of a bell: 1 if the bell is on the side ahead of the bar, -1 behind it, 0 for no bell."""


@dataclass(frozen=True, slots=True)
class Bit:
    """One piece of a leg with the joints at its two ends (None where there is no joint)."""

    letter: str
    ref: str
    taped_later: bool = False
    a: JointMark | None = None
    b: JointMark | None = None
    sleeve_after: bool = False
    """A coupling follows before the next bit."""
    word: bool = True
    """The word ``tape`` stands beside it (else it stands with the length)."""


@dataclass(frozen=True, slots=True)
class Stub:
    """An open branch, or where the line goes on over the match line: its direction and words."""

    way: Vec
    words: str
    ref: str
    match: bool = False
    section: SectionMark | None = None
    """Of the line it leads to, where that is another one than this line's."""


@dataclass(frozen=True, slots=True)
class Saddle:
    """A saddle on the pipe of a leg, and how far along it sits (0 to 1)."""

    share: float
    stub: Stub
    joint: JointMark | None


@dataclass(frozen=True, slots=True)
class Spot:
    """A place of the scene.

    Parameters
    ----------
    at : tuple of float
        East, north, up. [m]
    sign : Sign
    ref : str
        Part id, empty where nothing stands.
    name : str
        What it is called in words for the side table.
    words : tuple of (Kind, str)
        Labels that belong to it.
    stubs : tuple of Stub
    along : tuple of float
        Direction of the part's axis, from its port a to its port b; zero if it has none. [1]
    handle : tuple of float or None
    narrow : bool
        Of a reducer: narrow ahead along ``along``.
    """

    at: Vec
    sign: Sign = Sign.NONE
    ref: str = ""
    name: str = ""
    words: tuple[tuple[Kind, str], ...] = ()
    stubs: tuple[Stub, ...] = ()
    along: Vec = (0.0, 0.0, 0.0)
    handle: Vec | None = None
    narrow: bool = True


@dataclass(frozen=True, slots=True)
class Leg:
    """A straight stretch between two places.

    Parameters
    ----------
    a, b : int
        Numbers of the places.
    way : tuple of float
        Unit vector from a to b. [1]
    run : str
        Run id; empty where two parts are tied without a pipe.
    mate_a, mate_b : Mate
    bits : tuple of Bit
    tie : JointMark or None
        The joint of two parts tied without a pipe.
    tie_flanged : bool
        Two parts tied flange to flange without a pipe.
    length : str
        Centre to centre, as the job shows lengths; empty on the second part of a leg cut by a match line.
    slope : str
        Such as ``1:100``; empty if it is level, upright or steep.
    falls_ahead : bool
    roll : str
        Components of a leg that follows no axis.
    saddles : tuple of Saddle
    """

    a: int
    b: int
    way: Vec
    run: str = ""
    mate_a: Mate = Mate.NONE
    mate_b: Mate = Mate.NONE
    bits: tuple[Bit, ...] = ()
    tie: JointMark | None = None
    tie_flanged: bool = False
    length: str = ""
    slope: str = ""
    falls_ahead: bool = True
    roll: str = ""
    saddles: tuple[Saddle, ...] = ()
    where: str = ""


@dataclass(frozen=True, slots=True)
class LineScene:
    """Everything there is to draw of one line.

    Parameters
    ----------
    line : str
    title : str
        Size, material and service in words.
    drawing : str
        Drawing and revision.
    spots : tuple of Spot
    legs : tuple of Leg
        In walking order.
    loose : tuple of (int, Vec, JointMark)
        Joints that belong to no leg: place, direction, mark.
    issued : bool
        Every joint has its issued number.
    section : SectionMark or None
        The test section of the line; None if the job has none.
    """

    line: str
    title: str
    drawing: str
    spots: tuple[Spot, ...]
    legs: tuple[Leg, ...]
    loose: tuple[tuple[int, Vec, JointMark], ...] = ()
    issued: bool = True
    section: SectionMark | None = None


@dataclass(slots=True)
class SpotList:
    """Collects places; two points within half a millimetre on each axis are one place."""

    spots: list[Spot] = field(default_factory=list)
    _cells: dict[tuple[int, int, int], list[int]] = field(default_factory=dict)

    def number(self, at: Vec, near: float = 5e-4) -> int:
        """Number of the place at a point; a new one if there is none yet."""
        cell = (round(at[0] / 2e-3), round(at[1] / 2e-3), round(at[2] / 2e-3))
        for de in (0, -1, 1):
            for dn in (0, -1, 1):
                for du in (0, -1, 1):
                    for n in self._cells.get((cell[0] + de, cell[1] + dn, cell[2] + du), ()):
                        p = self.spots[n].at
                        if max(abs(p[0] - at[0]), abs(p[1] - at[1]), abs(p[2] - at[2])) <= near:
                            return n
        self.spots.append(Spot(at))
        self._cells.setdefault(cell, []).append(len(self.spots) - 1)
        return len(self.spots) - 1
