"""Bond, dry fit, applicators and pull-in of a joint, from its two ends and the book."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book import cement, material, pipe, sockets
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec, od_families
from lineproof.floor.errors import BadInput, SizeNotListed
from lineproof.floor.sources import Reading
from lineproof.job.people import within
from lineproof.job.stock import Puller, Tools
from lineproof.plan.joint_needs import Bond, Brushes, DryFit, Missing, PullIn, lacks, would_help
from lineproof.plan.model import JointKind
from lineproof.sums.bond import bond_area
from lineproof.sums.diameters import mid_depth_gap
from lineproof.sums.hands import applicator_width, applicators
from lineproof.sums.pull import contact_pressure, pull_in_force
from lineproof.sums.taper import contact_fraction, dry_fit_bands

FRICTION = 0.15
"""Friction between the faces once the cement is tacky: assumed, measure it (0.05 wet, 0.4 dry). [-]"""

PULLERS_AT_ONCE = 2
"""Two pull-in tools, opposite each other, are the usual set (common practice, no source)."""


@dataclass(frozen=True, slots=True)
class Mates:
    """What meets in a joint, as far as the tables care.

    Parameters
    ----------
    kind : JointKind
    size : Size
        The socket's.
    depth : float or None
        Depth to the stop. [m]
    pipe_size : Size
    pipe_material, pipe_series : str
        Of what goes in.
    material, series : str
        Of the socket.
    od_family : str
        As the walk says; empty if it does not.
    hub : float or None
        Outside diameter of the socket, measured. [m]
    socket, line : str
        Ids for what is missing.
    """

    kind: JointKind
    size: Size
    depth: float | None
    pipe_size: Size
    pipe_material: str
    pipe_series: str
    material: str
    series: str
    od_family: str
    hub: float | None
    socket: str
    line: str


def spec_of(material: str, series: str, od_family: str) -> PipeSpec | None:
    """What kind of pipe it is; None where the family of diameters is not said and not certain.

    Parameters
    ----------
    material, series : str
    od_family : str
        Empty if not said.

    Returns
    -------
    PipeSpec or None
        None also for a material or series that is never cemented.
    """
    families = od_families(series)
    family = od_family if od_family in families else families[0] if len(families) == 1 else ""
    if not family:
        return None
    try:
        return PipeSpec(material, series, family)
    except BadInput:
        return None


def od_of(m: Mates, book: Book, reading: Reading) -> tuple[float | None, Missing | None]:
    """Outside diameter of what goes in.

    Parameters
    ----------
    m : Mates
    book : Book
    reading : Reading

    Returns
    -------
    tuple
        The diameter, or why there is none. [m]
    """
    spec = spec_of(m.pipe_material, m.pipe_series, m.od_family)
    if spec is None:
        return None, lacks("od-family", line=m.line, material=m.pipe_material, series=m.pipe_series)
    try:
        return pipe.od(book, m.pipe_size, spec, reading), None
    except SizeNotListed:
        return None, lacks("outside-diameter", size=m.pipe_size, series=m.pipe_series, line=m.line)


def plan_bond(m: Mates, book: Book) -> Bond:
    """Diameter, depth and area.

    Parameters
    ----------
    m : Mates
    book : Book

    Returns
    -------
    Bond
        Area is None without depth or diameter; a saddle's face is never guessed.
    """
    reading = Reading()
    od, why = od_of(m, book, reading)
    missing = [why] if why else []
    area = None
    if m.kind is JointKind.SADDLE:
        missing.append(lacks("saddle-face", part=m.socket))
    elif not m.depth:
        missing.append(lacks("depth", part=m.socket))
    elif od is not None:
        area = bond_area(od, m.depth)
    return Bond(od, m.depth or None, area, reading.as_tuple(), tuple(missing))


def plan_fit(m: Mates, book: Book) -> DryFit:
    """How the dry fit is judged: depth bands of a taper, the gap at mid depth of a metric socket.

    Parameters
    ----------
    m : Mates
    book : Book

    Returns
    -------
    DryFit
        The bands are common practice; the gap is what both standards' tolerances allow.
    """
    if m.kind is JointKind.SADDLE:
        return DryFit("")
    if not m.size.metric:
        return DryFit("bands", dry_fit_bands(m.depth) if m.depth else None)
    reading = Reading()
    half = m.depth / 2 if m.depth else None
    try:
        spec = spec_of(m.pipe_material, m.pipe_series, m.od_family)
        if spec is None or m.kind is JointKind.BELL:
            raise SizeNotListed("the bore at mid depth is not listed")
        dims = sockets.socket_dims(book, m.size, spec, reading)
        least = pipe.od(book, m.pipe_size, spec, reading)
        plus = pipe.od_tolerance(book, m.pipe_size, spec, reading)[1]
        if dims.mid_bore_min is None or dims.mid_bore_max is None or plus is None:
            raise SizeNotListed("the bore at mid depth is not listed")
        small = mid_depth_gap(dims.mid_bore_min, least + plus)
        large = mid_depth_gap(dims.mid_bore_max, least)
    except SizeNotListed:
        why = would_help("socket-bore", part=m.socket, size=m.size)
        return DryFit("gap", mid_depth=half, missing=(why,))
    return DryFit("gap", None, half, small, large, reading.as_tuple())


def plan_brushes(m: Mates, od: float | None, tools: Tools, book: Book) -> Brushes:
    """Applicators: half the diameter, up to the widest on the tool list, above that more of them.

    Parameters
    ----------
    m : Mates
    od : float or None
        Outside diameter. [m]
    tools : Tools
    book : Book

    Returns
    -------
    Brushes
        For one face.
    """
    reading = Reading()
    printed = cement.brush_width(book, m.pipe_size, Reading()) if m.pipe_size.metric else None
    if od is None:
        return Brushes(None, None, None, printed)
    wanted = cement.applicator_width(book, od, reading)
    widest = tools.widest_applicator
    if widest is None:
        why = would_help("applicators")
        return Brushes(wanted, None, None, printed, reading.as_tuple(), (why,))
    return Brushes(wanted, applicator_width(od, widest), applicators(od, widest), printed, reading.as_tuple())


def pullers_for(tools: Tools, size: Size) -> tuple[Puller, ...]:
    """Pull-in tools on the list that fit a size; one without sizes fits any."""
    return tuple(
        p
        for p in tools.pullers
        if p.count
        and (p.size_lo is None or within(size, p.size_lo, p.size_hi or size))
        and (p.size_hi is None or within(size, p.size_lo or size, p.size_hi))
    )


def plan_pull(m: Mates, od: float | None, temperature: float | None, tools: Tools, book: Book) -> PullIn:
    """Whether a pull-in device is called for, and the force against what the tools may pull.

    Parameters
    ----------
    m : Mates
    od : float or None
        Outside diameter. [m]
    temperature : float or None
        Pipe temperature. [K]
    tools : Tools
    book : Book

    Returns
    -------
    PullIn
        Forces only for taper sockets whose hub was measured.
    """
    reading = Reading()
    needed = None if m.kind is JointKind.SADDLE else cement.pull_in(book, m.size, reading)
    fits = pullers_for(tools, m.size)
    have = sum(p.count for p in fits)
    each = [c for p in fits for c in [p.capacity] * min(p.count, PULLERS_AT_ONCE) if c is not None]
    capacity = sum(sorted(each, reverse=True)[:PULLERS_AT_ONCE]) if each else None
    missing = []
    nominal = most = None
    if needed:
        if not have:
            missing.append(would_help("puller", size=m.size))
        elif capacity is None:
            missing.append(would_help("puller-capacity", size=m.size))
        if m.hub is None:
            missing.append(would_help("hub", part=m.socket))
        elif od is not None and m.depth and temperature is not None:
            nominal, most = forces(m, od, m.depth, m.hub, temperature, book, reading)
    enough = None if most is None or capacity is None else capacity >= most
    return PullIn(needed, nominal, most, FRICTION, have, capacity, enough, reading.as_tuple(), tuple(missing))


def forces(
    m: Mates, od: float, depth: float, hub: float, temperature: float, book: Book, reading: Reading
) -> tuple[float | None, float | None]:
    """Force to bring a pipe home at nominal sizes, and at the tightest that the tolerances allow.

    Parameters
    ----------
    m : Mates
    od, depth, hub : float
        Pipe, depth to the stop, outside of the socket. [m]
    temperature : float
        [K]
    book : Book
    reading : Reading

    Returns
    -------
    tuple of float or None
        Nominal and most; None where a table does not reach. [N]
    """
    pipe_spec = spec_of(m.pipe_material, m.pipe_series, m.od_family)
    fitting = spec_of(m.material, m.series, m.od_family)
    if m.kind is not JointKind.SOCKET or m.size.metric or pipe_spec is None or fitting is None:
        return None, None
    try:
        dims = sockets.socket_dims(book, m.size, fitting, reading)
        bore = pipe.bore(book, m.pipe_size, pipe_spec, reading)
        plus = pipe.od_tolerance(book, m.pipe_size, pipe_spec, reading)[1] or 0.0
    except SizeNotListed:
        return None, None
    stiff = material.modulus(book, m.pipe_material, temperature, reading)
    if stiff is None or dims.entrance is None or dims.bottom is None or hub <= od + plus:
        return None, None
    tol = dims.dia_tol or 0.0

    def force(entrance: float, bottom: float, outside: float) -> float:
        if outside <= bottom:
            return 0.0
        grip = depth * (1.0 - max(0.0, contact_fraction(entrance=entrance, bottom=bottom, od=outside)))
        squeeze = contact_pressure(
            modulus=stiff, interference=outside - bottom, od=outside, bore=bore, socket_od=hub
        )
        return pull_in_force(friction=FRICTION, contact_pressure=squeeze, od=outside, grip=grip)

    return (
        force(dims.entrance, dims.bottom, od),
        force(dims.entrance - tol, dims.bottom - tol, od + plus),
    )
