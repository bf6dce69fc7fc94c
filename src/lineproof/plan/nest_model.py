"""The values of nesting: what is wanted, what there is to cut from, and the plan that comes out.

Lengths are floats in metres. A stick, an offcut and a belled piece are measured *overall*: from the plain end
to the mouth of the bell. Nothing here computes; ``plan.nest`` does.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Want:
    """One pipe piece to cut.

    Attributes
    ----------
    id : str
        The piece's name, used once.
    length : float
        Cut length, overall: a belled piece is measured to the mouth of its bell. [m]
    bell : bool
        The piece keeps a factory bell, so it is the bell end of its stick. A stick has one bell.
    order : int
        Crew order: the sticks that hold the lowest numbers are cut first.
    """

    id: str
    length: float
    bell: bool = False
    order: int = 0


@dataclass(frozen=True, slots=True)
class Stick:
    """A stock kind, of which any number of new sticks may be taken.

    Attributes
    ----------
    id : str
        Name of the stock kind.
    length : float
        Overall length of a new stick. [m]
    belled : bool
        One end is a factory bell.
    bell_length : float
        Length lost with the bell when no piece keeps it. [m]
    trim : float
        Lost at each plain end of a new stick, the saw cut that takes it included. [m]
    """

    id: str
    length: float
    belled: bool = False
    bell_length: float = 0.0
    trim: float = 0.0


@dataclass(frozen=True, slots=True)
class Offcut:
    """A kept piece of pipe, used before new sticks. Its plain ends are clean: nothing is trimmed again.

    Attributes
    ----------
    id : str
        Name of the offcut, used once.
    length : float
        Overall length. [m]
    bell : bool
        One end is a factory bell.
    bell_length : float
        Length lost with the bell when no piece keeps it. [m]
    """

    id: str
    length: float
    bell: bool = False
    bell_length: float = 0.0


@dataclass(frozen=True, slots=True)
class CutStick:
    """One stick or kept offcut with its pieces in the order they are sawn.

    Positions are measured from the end the saw starts at: the bell mouth when a piece keeps the bell, else a
    plain end. What is left lies at the other end, so an unused bell stays on it.

    Attributes
    ----------
    stick_id : str
        Id of the stock kind (new) or of the offcut.
    source : str
        ``"new"`` or ``"offcut"``.
    overall : float
        Overall length before cutting. [m]
    pieces : tuple of str
        Want ids in saw order: the belled piece first, then longest first.
    starts : tuple of float
        Where each piece begins. [m]
    cuts : tuple of float
        The saw marks in order; the blade stands on the far side of the mark. Before the first piece there
        is a mark only when a plain end is trimmed. [m]
    offcut_length : float
        What is left after the last cut, its bell included; the trim of a plain end is not counted. [m]
    kept : bool
        What is left is a useful offcut (its plain part is at least the least useful length).
    offcut_bell : bool
        What is left still has the factory bell.
    bell_used_by : str or None
        The piece that keeps the bell.
    """

    stick_id: str
    source: str
    overall: float
    pieces: tuple[str, ...]
    starts: tuple[float, ...]
    cuts: tuple[float, ...]
    offcut_length: float
    kept: bool
    offcut_bell: bool = False
    bell_used_by: str | None = None


@dataclass(frozen=True, slots=True)
class Nesting:
    """A cutting plan with the proof of how good it is.

    Attributes
    ----------
    sticks : tuple of CutStick
        Every stick and offcut that is cut, in the order to cut them.
    new_sticks : int
        New sticks used.
    bound : int
        No plan needs fewer new sticks than this: the rounded-up linear-programming bound, or more where an
        exact search proved more. It holds for lengths on ``grid`` (see ``exact_grid``).
    gap : int
        ``new_sticks - bound``.
    method : str
        How the plan was found, in words.
    complete : bool
        Proved optimal: ``gap`` is 0.
    not_placed : tuple of str
        Always empty: a piece that cannot be placed raises instead.
    waste : float
        Pipe of the sticks used that is neither a piece nor a kept offcut: saw cuts, trims, scraps, lost
        bells. [m]
    kept_offcuts : tuple of Offcut
        What goes back on the rack, named ``stick_id/number`` with the number of the stick in this plan.
    unused_offcuts : tuple of str
        Offcuts that were offered and not cut.
    patterns : int
        Different ways of cutting a stick in this plan.
    grid : float
        Step on which lengths were added up. [m]
    exact_grid : bool
        All lengths given lie on the grid. If not, pieces were rounded up and sticks down, less than one step
        each, so the plan can be cut, and the bound is that of the rounded lengths.
    """

    sticks: tuple[CutStick, ...]
    new_sticks: int
    bound: int
    gap: int
    method: str
    complete: bool
    not_placed: tuple[str, ...]
    waste: float
    kept_offcuts: tuple[Offcut, ...]
    unused_offcuts: tuple[str, ...] = ()
    patterns: int = 0
    grid: float = 0.0
    exact_grid: bool = True
