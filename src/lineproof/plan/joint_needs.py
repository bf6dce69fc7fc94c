"""What a joint needs that does not hang on its height: bond, dry fit, brushes, cement, hands, pull-in.

Nothing here is a sentence: the desk says it. A number comes with the cells it was read from; a number
that cannot be told is None and its input is named under ``missing``.
"""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell
from lineproof.sums.taper import BandDepths

PIPE_END, SOCKET, PULLS, CALLS_TIME = ROLES = ("pipe end", "socket", "pulls", "calls time")
"""The four named boxes of a joint card."""


@dataclass(frozen=True, slots=True)
class Missing:
    """An input that is missing: a code, what goes into its sentence, and whether an answer waits for it.

    ``blocks`` is False for advice whose worst outcome is rework, such as the coating time.
    """

    code: str
    facts: tuple[tuple[str, object], ...] = ()
    blocks: bool = True

    @property
    def name(self) -> str:
        """Short and stable, for a Finding: the code and its facts."""
        told = " ".join(str(value) for _, value in self.facts if isinstance(value, str | Size))
        return f"{self.code} {told}".strip()


def lacks(code: str, /, **facts: object) -> Missing:
    """A missing input that an answer waits for.

    Parameters
    ----------
    code : str
        What is missing (see the catalogue of the desk).
    **facts : object
        What goes into its sentence; SI floats or plain values.

    Returns
    -------
    Missing
        The value.
    """
    return Missing(code, tuple(facts.items()))


def would_help(code: str, /, **facts: object) -> Missing:
    """A missing input of advice whose worst outcome is rework; no answer waits for it.

    Parameters
    ----------
    code : str
        What is missing.
    **facts : object
        What goes into its sentence; SI floats or plain values.

    Returns
    -------
    Missing
        The value, with ``blocks`` False.
    """
    return Missing(code, tuple(facts.items()), blocks=False)


@dataclass(frozen=True, slots=True)
class Bond:
    """The bond: outside diameter, depth to the stop [m], area [m2]."""

    od: float | None
    depth: float | None
    area: float | None
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class DryFit:
    """How the dry fit is judged.

    Parameters
    ----------
    rule : str
        ``"bands"`` (taper socket) or ``"gap"`` (metric socket: gap on the diameter at mid depth).
    bands : BandDepths or None
        Ends of tight, good and net as depths from the face. [m]
    mid_depth : float or None
        Where the gap of a metric socket is measured, from the face. [m]
    gap_least, gap_most : float or None
        Gap on the diameter that pipe and socket within their standards can have; negative is
        interference. [m]
    """

    rule: str
    bands: BandDepths | None = None
    mid_depth: float | None = None
    gap_least: float | None = None
    gap_most: float | None = None
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Brushes:
    """Applicators for one face of the joint.

    Parameters
    ----------
    wanted : float or None
        Half the pipe diameter. [m]
    width : float or None
        The width to take: as wanted, or the widest on the tool list if that is less. [m]
    per_face : int or None
        How many work side by side on one face.
    printed : float or None
        Brush that an association instruction prints for this metric size. [m]
    """

    wanted: float | None
    width: float | None
    per_face: int | None
    printed: float | None = None
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Wet:
    """Cement and primer for one joint.

    Parameters
    ----------
    body_wanted : str
        Lightest body for this size and an interference fit; empty where no class reaches the size.
    body_if_net : str
        The body a net fit asks for; empty likewise.
    card, card_body : str
        Id of the cement card and the body it names.
    heavy_enough : bool or None
        Whether the card's body is at least the one wanted; None if either is unknown.
    suits : bool or None
        Whether the card says it is made for this size.
    film : float or None
        Wet film of one full coat. [m]
    pipe_coats, socket_coats : int or None
        Coats of cement by the procedure.
    net, allowance, volume : float or None
        Cement by the wet film [m3], the factor for squeeze-out, brush and tin, and their product; where
        joints per can are known the volume comes from them and the allowance is 1.
    volume_by : str
        ``"film model"``, ``"joints per can"`` or empty.
    volume_source : str
        Words of the card's row where joints per can were used.
    primer_passes : int or None
        Passes in all; 0 for one-step.
    primer_net, primer_volume : float or None
        Primer without and with allowance. [m3]
    primer_by : str
        ``"passes"`` or ``"share of cement"``, whichever asks for more; empty if neither can be told.
    """

    body_wanted: str
    body_if_net: str
    card: str
    card_body: str
    heavy_enough: bool | None
    suits: bool | None
    film: float | None
    pipe_coats: int | None
    socket_coats: int | None
    net: float | None
    allowance: float | None
    volume: float | None
    volume_by: str
    volume_source: str
    primer_passes: int | None
    primer_net: float | None
    primer_volume: float | None
    primer_by: str
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Box:
    """One empty box for names on the joint card: the role and how many hands it takes."""

    role: str
    hands: int


@dataclass(frozen=True, slots=True)
class Hands:
    """Who is needed.

    Parameters
    ----------
    hands : int or None
        People at the joint; the greatest of the three below.
    floor : int or None
        What the crew rule asks for.
    floor_by : str
        ``"procedure"``, ``"crew"`` or ``"table"``.
    by_brushes : int or None
        People so that every applicator of one face has a hand.
    by_time : int or None
        People so that all coats are on within the working time.
    boxes : tuple of Box
        Pipe end, socket, pulls, calls time.
    doubling : int or None
        Boxes that somebody fills beside another one; who doubles up is the lead's to say.
    coats : int or None
        Times the area is brushed, pipe and socket together.
    coating_time : float or None
        For one pair of hands, all coats. [s]
    working_time : float or None
        From first coat to home, by the cement card. [s]
    """

    hands: int | None
    floor: int | None
    floor_by: str
    by_brushes: int | None
    by_time: int | None
    boxes: tuple[Box, ...]
    doubling: int | None
    coats: int | None
    coating_time: float | None
    working_time: float | None
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class PullIn:
    """The pull-in device.

    Parameters
    ----------
    needed : bool or None
        Called for at this size; None above the sizes named.
    force_nominal, force_most : float or None
        Force to bring the pipe home at nominal sizes and at the tightest that both tolerances allow. [N]
    friction : float
        Friction assumed for both. [-]
    tools : int
        Pull-in tools on the tool list for this size.
    capacity : float or None
        What two of them pull together (one, if there is one). [N]
    enough : bool or None
        Whether the capacity reaches ``force_most``; None if either is unknown.
    """

    needed: bool | None
    force_nominal: float | None
    force_most: float | None
    friction: float
    tools: int
    capacity: float | None
    enough: bool | None
    cells: tuple[Cell, ...] = ()
    missing: tuple[Missing, ...] = ()


@dataclass(frozen=True, slots=True)
class Needs:
    """Everything about a joint that does not hang on its own height: shared by joints that are alike."""

    bond: Bond
    fit: DryFit
    brushes: Brushes
    wet: Wet
    hands: Hands
    pull_in: PullIn
