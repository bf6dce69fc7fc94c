"""Builds the parts that stand at a place of a walk, with their ports set in space."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field, replace
from typing import TypeVar

from lineproof.book.sizes import Size
from lineproof.floor.errors import OurFault
from lineproof.job.graph import Connection, Part, Port, Tie, Vec, Wait
from lineproof.job.parts import Form, Outlet, PartKind
from lineproof.job.resolve import Found, Resolver
from lineproof.job.statements import Measure, Spot
from lineproof.sums.vectors import add, dot, scale, sub, unit

NEAR_DEG = 3.0
"""How far an angle may be from a fitting's to be taken as that fitting with a leftover (own rule). [deg]"""

SAME_DEG = 0.01
"""Angles smaller than this are the same direction. [deg]"""

UP: Vec = (0.0, 0.0, 1.0)
NORTH: Vec = (0.0, 1.0, 0.0)
LEVEL = 1e-6
"""A direction that rises less than this for its length is level. [1]"""
RISER = 0.985
"""A pipe steeper than 80 degrees counts as a riser, whose top line is plant north (own rule)."""


def top_line(way: Vec) -> Vec:
    """Reference direction across an axis: plant up, or plant north on a riser.

    Parameters
    ----------
    way : tuple of float
        Unit vector of the axis. [1]

    Returns
    -------
    tuple of float
        Unit vector across the axis. [1]
    """
    base = NORTH if abs(way[2]) > RISER else UP
    return unit(sub(base, scale(way, dot(base, way))))


def opposite(v: Vec) -> Vec:
    """The vector turned round."""
    return (-v[0], -v[1], -v[2])


T = TypeVar("T")


def must(value: T | None) -> T:
    """A value that the steps before have made sure of."""
    if value is None:
        raise OurFault("a place was walked without an open end", next="send us the walk file")
    return value


@dataclass(slots=True)
class Face:
    """One open end of a place: which port, and how far it lies from the place's centre.

    ``off`` is from the centre to the mouth or face along the axis [m], None if a reach is unmeasured;
    ``guess`` stands in for it where a position must be drawn all the same [m].
    """

    part: str
    port: Port
    off: float | None
    guess: float

    @property
    def reached(self) -> float:
        """The measured offset, or the provisional one. [m]"""
        return self.guess if self.off is None else self.off


@dataclass(slots=True)
class Place:
    """A place on the walk: its centre and its open ends."""

    centre: Vec
    enter: Face | None = None
    leave: Face | None = None
    branch: Face | None = None
    fixed: bool = False


@dataclass(slots=True)
class Bench:
    """Collects the parts and connections of one line while it is walked."""

    line: str
    material: str
    series: str
    file: str
    resolver: Resolver
    gasket: Callable[[Size], float]
    """Gasket thickness by size. [m]"""
    exposed: float
    recent: list[str] = field(default_factory=list)
    """Parts made since the last arrival began."""
    parts: dict[str, Part] = field(default_factory=dict)
    datum: bool = False
    """Heights of what is put now stand on the drawing's datum."""
    connections: list[Connection] = field(default_factory=list)
    spool: str = ""
    spool_no: int = 0
    """How many spools were opened: repeats of one name are told apart by it."""
    _count: dict[str, int] = field(default_factory=dict)

    def new_id(self, letter: str) -> str:
        """The next running name of a letter in this line."""
        n = self._count.get(letter, 0) + 1
        self._count[letter] = n
        return f"{self.line}/{letter}{n}"

    def find(
        self, kind: PartKind, size: Size, size2: Size | None = None, angle_deg: float = 0.0, lot: str = ""
    ) -> Found:
        """Take one fitting of a type for this line."""
        return self.resolver.type(
            kind,
            material=self.material,
            series=self.series,
            size=size,
            size2=size2,
            angle_deg=angle_deg,
            lot=lot,
        )

    def port(self, name: str, outlet: Outlet, out: Vec, *, material: str = "", series: str = "") -> Port:
        """A port from an outlet, set in a direction."""
        return Port(
            name=name,
            out=out,
            ref=top_line(out),
            form=outlet.form,
            size=outlet.size,
            material=material or self.material,
            series=series or self.series,
            reach=outlet.reach,
            depth=outlet.depth,
            face=outlet.face,
        )

    def put(
        self,
        found: Found,
        kind: PartKind,
        letter: str,
        centre: Vec,
        ports: tuple[Port, ...],
        key: str,
        spot: Spot,
        *,
        size: Size,
        size2: Size | None = None,
        angle_deg: float = 0.0,
        name: str = "",
        handle: Vec | None = None,
        mixed: bool = False,
        tagged: bool = False,
        label: str = "",
        style: str = "",
    ) -> Part:
        """Add a part to the line."""
        part = Part(
            id=self.new_id(letter),
            key=key,
            line=self.line,
            kind=kind,
            type=None if tagged else found.key,
            name=name or (found.row.tag if found.row else "") or label,
            centre=centre,
            ports=ports,
            size=size,
            size2=size2 if size2 != size else None,
            angle_deg=angle_deg,
            row=found.row,
            wait=found.wait,
            file=self.file,
            spot=spot,
            spool=self.spool,
            handle=handle,
            mixed=mixed,
            lot=found.lot,
            label=label,
            style=style,
            datum=self.datum,
        )
        self.parts[part.id] = part
        self.recent.append(part.id)
        return part

    def ground(
        self,
        form: Form,
        name: str,
        centre: Vec,
        out: Vec,
        size: Size,
        key: str,
        spot: Spot,
        *,
        face: str = "",
        fixed: bool = True,
        may_unbolt: bool = False,
    ) -> Part:
        """Add something that stands: its one port faces ``out``."""
        row = self.resolver.tagged(name) if name else None
        outlet = row.outlets[0] if row and row.outlets else Outlet(form, size, 0.0, None, face)
        wait = Wait.NONE
        if form is Form.SOCKET and outlet.depth is None:
            wait = Wait.NOT_MEASURED if row else Wait.NO_ROW
        port = self.port(
            "b",
            Outlet(
                form,
                size,
                outlet.reach if outlet.reach is not None else 0.0,
                outlet.depth,
                face or outlet.face,
            ),
            out,
            material=row.material if row else "",
            series=row.series if row else "",
        )
        part = Part(
            id=self.new_id("X"), key=key, line=self.line, kind="ground", type=None, name=name, centre=centre,
            ports=(port,), size=size, size2=None, angle_deg=0.0, row=row, wait=wait, file=self.file,
            spot=spot, spool=self.spool, fixed=fixed, may_unbolt=may_unbolt, datum=self.datum,
        )  # fmt: skip
        self.parts[part.id] = part
        self.recent.append(part.id)
        return part

    def face(self, part: Part, name: str, centre: Vec, guess: float) -> Face:
        """The open end of a part as seen from the centre of its place."""
        port = part.port(name)
        shift = dot(sub(add(part.centre, port.shift), centre), port.out)
        return Face(part.id, port, None if port.reach is None else shift + port.reach, shift + guess)

    def companion(self, face: Face, centre: Vec, key: str, spot: Spot) -> Face:
        """What our pipe needs to meet a flange, stub, thread or spigot: its mate, and the new open end.

        Parameters
        ----------
        face : Face
            The flange face, stub face or thread to meet.
        centre : tuple of float
            Centre of the place that ``face`` belongs to. [m]
        key : str
        spot : Spot

        Returns
        -------
        Face
            The socket of the mate.
        """
        port = face.port
        flanged = port.form in (Form.FLANGE, Form.STUB)
        spigot = port.form in (Form.SPIGOT, Form.PLAIN)
        kind = _MATES.get(port.form, PartKind.FLANGE)
        found = self.find(kind, port.size)
        gap = self.gasket(port.size) if flanged else 0.0
        inner, outer = found.outlets[:2] if flanged or spigot else found.outlets[1::-1]
        base = face.off if face.off is not None else face.guess
        # an adapter's centre is the end of its thread; it screws in by the engaged length, as a spigot
        # goes into the coupling down to its stop
        known = 0.0 if flanged else -(inner.depth or 0.0)
        if spigot:
            known += inner.reach or 0.0
        at = add(centre, scale(port.out, base + gap + known))
        mate = self.port("a", inner, opposite(port.out))
        socket = self.port("b", outer, port.out)
        letter = "F" if flanged else "C" if spigot else "M"
        part = self.put(found, kind, letter, at, (mate, socket), key, spot, size=port.size)
        if face.off is None and abs(port.out[2]) > LEVEL:
            self.parts[part.id] = replace(part, datum=False)
        ringed = "ringed" in (port.face, mate.face)
        tie = Tie.CEMENTED if spigot else Tie.THREADED
        if flanged:
            tie = Tie.RINGED if ringed else Tie.FLANGED
        self.connections.append(Connection(tie, (face.part, port.name), (part.id, "a"), self.line, gap))
        off = None
        measured = flanged or (inner.depth is not None and (not spigot or inner.reach is not None))
        if face.off is not None and socket.reach is not None and measured:
            off = face.off + gap + known + socket.reach
        return Face(part.id, socket, off, base + gap + known + (socket.reach or guess_reach(port.size)))


_MATES = {
    Form.MALE: PartKind.FEMALE_ADAPTER,
    Form.FEMALE: PartKind.MALE_ADAPTER,
    Form.SPIGOT: PartKind.COUPLING,
    Form.PLAIN: PartKind.COUPLING,
}
"""What takes a pipe to such an end; a flange in all other cases."""


def guess_reach(size: Size) -> float:
    """A provisional centre-to-face for drawing only: about one nominal diameter; never cut from. [m]"""
    return size.nominal * (0.0254 if size.system == "nps" else 0.001)


@dataclass(slots=True)
class Leg:
    """The dimension being walked since the last place."""

    way: Vec
    cc: float
    spot: Spot
    exact: bool = True
    """What the dimension begins from is measured."""
    end_measure: Measure = Measure.CENTRE
    spool: str = ""
    """Spool that was open when the leg began."""
    spool_no: int = 0
    taped: bool = False
    """A field piece: cut after taping."""
    no_joint: list[tuple[float, float]] = field(default_factory=list)
    last_start: float = 0.0
    saddles: list[tuple[str, float]] = field(default_factory=list)
    """Saddle part ids and their distance from the start of the leg. [m]"""
    wants: Vec | None = None
    """Heading to come back to after an offset."""
