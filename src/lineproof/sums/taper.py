"""Taper: how far a dry pipe goes into a tapered socket, and what the depth says about the fit."""

from __future__ import annotations

from enum import StrEnum
from typing import NamedTuple

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, narrowing, positive

# A nominal pair sits exactly on 2/3; the last bit of a float must not move it into the next band.
_HAIR = 1e-9


class Band(StrEnum):
    """Dry-fit band by contact fraction: where in the socket the dry pipe stops."""

    TIGHT = "tight"
    GOOD = "good"
    NET = "net"
    LOOSE = "loose"


class BandDepths(NamedTuple):
    """Upper ends of the dry-fit bands as depths from the face [m]; a pipe that bottoms with play is loose."""

    tight: float
    good: float
    net: float


@figure(
    "contact-fraction",
    formula="f = (A - D)/(A - B)",
    symbols={
        "entrance": ("A", "length", "socket diameter at the entrance"),
        "bottom": ("B", "length", "socket diameter at the bottom"),
        "od": ("D", "length", "mean outside diameter of the pipe"),
    },
    result=("f", "plain", "contact fraction: 0 at the entrance, 1 at the bottom, above 1 loose"),
    source="geometry of a linear taper",
)
def contact_fraction(*, entrance: float, bottom: float, od: float) -> float:
    """Share of the socket depth at which a dry pipe first touches all round.

    Parameters
    ----------
    entrance : float
        Socket diameter at the entrance. [m]
    bottom : float
        Socket diameter at the bottom. [m]
    od : float
        Mean outside diameter of the pipe. [m]

    Returns
    -------
    float
        Contact fraction: 0 at the entrance, 1 at the bottom, above 1 loose. [-]

    Valid range
    -----------
    entrance > bottom > 0; od > 0.

    Notes
    -----
    f = (A - D)/(A - B). 0 or below: the pipe will not enter. All three diameters at one
    temperature.

    Examples
    --------
    >>> round(contact_fraction(entrance=4.518, bottom=4.491, od=4.5), 4)
    0.6667

    References
    ----------
    .. [1] Linear taper of the socket from entrance to bottom (geometry).
    .. [2] Design rule seen in the socket diameters of ASTM D2466 and D2467, NPS 1/2 to 12 (sizes to
           6 read in the sister standard D2468; the rest from memory): A = OD + 2 t, B = OD - t.
    """
    positive("od", od, unit="m")
    narrowing(entrance, bottom)
    return (entrance - od) / (entrance - bottom)


@figure(
    "dry-fit",
    formula="x = L min(1, max(0, (A - D)/(A - B)))",
    symbols={
        "od": ("D", "length", "mean outside diameter of the pipe"),
        "entrance": ("A", "length", "socket diameter at the entrance"),
        "bottom": ("B", "length", "socket diameter at the bottom"),
        "depth": ("L", "length", "depth of the socket to its stop"),
    },
    result=("x", "length", "dry depth from the face: 0 will not enter, the full depth when it bottoms"),
    source="geometry of a linear taper; bands of ASTM F3328-18 (abstract read)",
    note=("tight below 1/3 of the depth, good to 2/3, net to the bottom; bottoms with play is loose: stop"),
)
def contact_depth(*, od: float, entrance: float, bottom: float, depth: float) -> float:
    """Depth at which a dry pipe stops in a tapered socket.

    Parameters
    ----------
    od : float
        Mean outside diameter of the pipe. [m]
    entrance : float
        Socket diameter at the entrance. [m]
    bottom : float
        Socket diameter at the bottom. [m]
    depth : float
        Depth of the socket to its stop. [m]

    Returns
    -------
    float
        Dry depth from the face: 0 will not enter, the full depth when it bottoms. [m]

    Valid range
    -----------
    entrance > bottom > 0; od > 0. depth > 0.

    Notes
    -----
    x = L min(1, max(0, (A - D)/(A - B))). Below 1/3 of the depth the fit is tight, to 2/3 good, to
    the bottom net; bottoms with play is loose: stop. Half of all pairs within tolerance go past
    2/3, so net alone is no defect. The dry depth is never the cemented depth.

    Examples
    --------
    >>> round(contact_depth(od=6.625, entrance=6.647, bottom=6.614, depth=3.0), 6)
    2.0

    References
    ----------
    .. [1] Linear taper of the socket from entrance to bottom (geometry).
    .. [2] Design rule seen in the socket diameters of ASTM D2466 and D2467, NPS 1/2 to 12 (sizes to
           6 read in the sister standard D2468; the rest from memory): A = OD + 2 t, B = OD - t.
    .. [3] ASTM F3328-18, abstract: interference in one third to two thirds of the socket depth.
    """
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    narrowing(entrance, bottom)
    return depth * min(1.0, max(0.0, (entrance - od) / (entrance - bottom)))


def dry_fit_bands(depth: float) -> BandDepths:
    """Depths at which the dry-fit bands end, to be marked or measured on the pipe.

    Parameters
    ----------
    depth : float
        Depth of the socket to its stop. [m]

    Returns
    -------
    BandDepths
        Where tight, good and net end. [m]

    Valid range
    -----------
    depth > 0; tapered sockets only. A metric socket is judged by its gap at mid depth.

    Notes
    -----
    One third and two thirds of the depth, and the depth itself.

    Examples
    --------
    >>> dry_fit_bands(0.1875)
    BandDepths(tight=0.0625, good=0.125, net=0.1875)

    References
    ----------
    .. [1] ASTM F3328-18, abstract: interference in one third to two thirds of the socket depth.
    .. [2] The net band: from memory of the practice of ASTM D2855, not read.
    """
    positive("depth", depth, unit="m")
    return BandDepths(tight=depth / 3.0, good=2.0 * depth / 3.0, net=depth)


def dry_fit_band(fraction: float) -> Band:
    """Band of a contact fraction.

    Parameters
    ----------
    fraction : float
        Contact fraction (see ``contact_fraction``). [-]

    Returns
    -------
    Band
        Tight below 1/3, good to 2/3, net to 1, loose above.

    Valid range
    -----------
    fraction finite; the ends 1/3, 2/3 and 1 belong to good, good and net.

    Notes
    -----
    At 0 or below the pipe does not enter at all: tight, and likely the wrong size or system.

    Examples
    --------
    >>> dry_fit_band(2 / 3).value, dry_fit_band(1.2).value
    ('good', 'loose')

    References
    ----------
    .. [1] ASTM F3328-18, abstract; the net band from memory of the practice of ASTM D2855.
    """
    finite("fraction", fraction, unit="-")
    if fraction < 1.0 / 3.0 - _HAIR:
        return Band.TIGHT
    if fraction <= 2.0 / 3.0 + _HAIR:
        return Band.GOOD
    return Band.NET if fraction <= 1.0 + _HAIR else Band.LOOSE


@figure(
    "contact-from-tolerance",
    formula="f = (2 + v - u)/3",
    symbols={
        "u": ("u", "plain", "pipe: deviation of its mean diameter over its tolerance"),
        "v": ("v", "plain", "socket: deviation of its diameters over their tolerance"),
    },
    result=("f", "plain", "contact fraction"),
    source=(
        "derived from the design rule A = OD + 2 t, B = OD - t of ASTM D2466 and D2467 (in part from memory)"
    ),
)
def fraction_from_tolerance(u: float, v: float) -> float:
    """Contact fraction of a pair from where both lie in their tolerance.

    Parameters
    ----------
    u : float
        Pipe: deviation of its mean diameter over its tolerance. [-]
    v : float
        Socket: deviation of its diameters over their tolerance. [-]

    Returns
    -------
    float
        Contact fraction. [-]

    Valid range
    -----------
    u and v from -1 to 1; sockets that follow the design rule, NPS 1/2 to 12.

    Notes
    -----
    f = (2 + v - u)/3. Follows from A = OD + 2 t and B = OD - t with one tolerance t for pipe and
    socket.

    Examples
    --------
    >>> fraction_from_tolerance(u=1.0, v=-1.0)
    0.0

    References
    ----------
    .. [1] Design rule seen in the socket diameters of ASTM D2466 and D2467, NPS 1/2 to 12 (sizes to
           6 read in the sister standard D2468; the rest from memory): A = OD + 2 t, B = OD - t.
    """
    between("u", u, low=-1.0, high=1.0, unit="-")
    between("v", v, low=-1.0, high=1.0, unit="-")
    return (2.0 + v - u) / 3.0


@figure(
    "od-at-contact",
    formula="D = A - f (A - B)",
    symbols={
        "entrance": ("A", "length", "socket diameter at the entrance"),
        "bottom": ("B", "length", "socket diameter at the bottom"),
        "fraction": ("f", "plain", "contact fraction"),
    },
    result=("D", "length", "outside diameter"),
    source="geometry of a linear taper",
)
def od_at_contact(*, entrance: float, bottom: float, fraction: float) -> float:
    """Outside diameter that makes a dry pipe stop at a given contact fraction.

    Parameters
    ----------
    entrance : float
        Socket diameter at the entrance. [m]
    bottom : float
        Socket diameter at the bottom. [m]
    fraction : float
        Contact fraction. [-]

    Returns
    -------
    float
        Outside diameter. [m]

    Valid range
    -----------
    entrance > bottom > 0; fraction finite.

    Notes
    -----
    D = A - f (A - B)

    Examples
    --------
    >>> round(od_at_contact(entrance=6.647, bottom=6.614, fraction=2 / 3), 6)
    6.625

    References
    ----------
    .. [1] Linear taper of the socket from entrance to bottom (geometry).
    """
    finite("fraction", fraction, unit="-")
    narrowing(entrance, bottom)
    return entrance - fraction * (entrance - bottom)
