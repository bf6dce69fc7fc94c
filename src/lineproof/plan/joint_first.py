"""Line zero of a joint card: the ring, nut or coupling that goes on the pipe before the joint is made."""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.job.graph import LineGraph, Part
from lineproof.job.parts import Catalogue, Form, PartKind
from lineproof.job.places import opposite
from lineproof.plan.joint_model import LineZero
from lineproof.plan.model import JointKind, JointPlace, Piece

RING, NUT, FLANGE_RING, SLIDER = "backing ring", "union nut", "flange ring", "repair coupling"
"""What the trade calls it."""


def goes_first(part: Part, catalogue: Catalogue) -> tuple[str, bool]:
    """What must be on the pipe before this part is cemented to it.

    Parameters
    ----------
    part : Part
    catalogue : Catalogue
        Rows of the part's type, where its own is not settled yet.

    Returns
    -------
    tuple
        What, empty if nothing; and whether this end of the part carries it for certain.
    """
    told = _told(part, catalogue)
    if part.kind is PartKind.STUB:
        return (RING if told in ("", "ring") else told), True
    if part.kind is PartKind.UNION:
        return (NUT if told in ("", "nut") else told), False
    if part.kind is PartKind.REPAIR:
        return (told or SLIDER), True
    if told == "ring":
        return FLANGE_RING, True
    if told == "nut":
        # a valve with union ends carries a nut at each end; another part says only that it has one
        return NUT, part.kind is PartKind.VALVE or len(_sockets(part)) < 2
    return told, True


def _told(part: Part, catalogue: Catalogue) -> str:
    if part.row is not None:
        return part.row.first_on
    rows = catalogue.of_type(part.type, part.lot) if part.type is not None else ()
    return next((r.first_on for r in rows if r.first_on), "")


def _sockets(part: Part) -> list[str]:
    return [p.name for p in part.ports if p.form is Form.SOCKET]


def line_zero(
    j: JointPlace,
    socket: Part | None,
    piece: Piece | None,
    graph: LineGraph,
    couplings: Mapping[str, Part],
    catalogue: Catalogue,
) -> tuple[LineZero, ...]:
    """What must be on the pipe before a joint is made, and which way it faces.

    Parameters
    ----------
    j : JointPlace
    socket : Part or None
        The part with the socket; None for a bell.
    piece : Piece or None
        The pipe that goes in; None where a fitting's spigot does.
    graph : LineGraph
    couplings : mapping
        Couplings that split legs got.
    catalogue : Catalogue

    Returns
    -------
    tuple of LineZero
        Empty for most joints.
    """
    if socket is None or j.kind is JointKind.SADDLE:
        return ()
    what, sure = goes_first(socket, catalogue)
    if not what:
        return ()
    faces = opposite(socket.port(j.socket[1]).out)
    on, side = j.spigot
    # A ring goes on over an open pipe end only: once both ends carry something, it is too late.
    capital = piece is not None and carries(piece, "a" if side == "b" else "b", graph, couplings)
    return (LineZero(what, socket.id, on, side, faces, capital, sure),)


def carries(piece: Piece, side: str, graph: LineGraph, couplings: Mapping[str, Part]) -> bool:
    """Whether an end of a piece carries, or will carry, something that a ring cannot pass.

    Parameters
    ----------
    piece : Piece
    side : str
        ``"a"`` or ``"b"``.
    graph : LineGraph
    couplings : mapping

    Returns
    -------
    bool
        True for a fitting, a bell, the next pipe's bell, or a socket that stands.
    """
    end = piece.a if side == "a" else piece.b
    if end.bell or "#" in end.part:
        return True
    part = couplings.get(end.part) or graph.parts.get(end.part)
    return part is not None and part.port(end.port).form is Form.SOCKET
