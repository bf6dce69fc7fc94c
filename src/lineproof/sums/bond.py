"""Bond: area of a joint, cement and primer by the wet film, cans, brushes and hands."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative, positive, whole


@figure(
    "bond-area",
    formula="A = π D L",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "depth": ("L", "length", "depth of the socket to its stop"),
    },
    result=("A", "area", "bond area"),
    source="area of a cylinder",
)
def bond_area(od: float, depth: float) -> float:
    """Area of one cemented joint.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    depth : float
        Depth of the socket to its stop. [m]

    Returns
    -------
    float
        Bond area. [m2]

    Valid range
    -----------
    od > 0; depth > 0.

    Notes
    -----
    A = π D L

    Examples
    --------
    >>> round(bond_area(od=0.1683, depth=0.0762) * 1e4, 1)
    402.9

    References
    ----------
    .. [1] Area of a cylinder.
    """
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    return math.pi * od * depth


@figure(
    "cement-volume",
    formula="V = n t π D L",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "depth": ("L", "length", "depth of the socket to its stop"),
        "film": ("t", "length", "wet film of one full coat"),
        "coats": ("n", "plain", "full films on the bond area, pipe and socket together"),
    },
    result=("V", "volume", "cement, net"),
    source=("derived film model; film by class of cement from ASTM D2564 and D2855-96 (from memory)"),
    note="net; the label's joints per can or the crew's weighed factor beat it",
)
def cement_volume(*, od: float, depth: float, film: float, coats: float = 2.5) -> float:
    """Cement that one joint takes by its wet film, without allowance.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    depth : float
        Depth of the socket to its stop. [m]
    film : float
        Wet film of one full coat. [m]
    coats : float
        Full films on the bond area, pipe and socket together. [-]

    Returns
    -------
    float
        Cement, net. [m3]

    Valid range
    -----------
    od and depth > 0; film from 0 to 3 mm; coats > 0.

    Notes
    -----
    V = n t π D L. Allowance for squeeze-out, brush and tin is kept apart. Joints per can from the
    label, or the crew's own weighed factor, beat this model.

    Examples
    --------
    >>> round(cement_volume(od=0.0603, depth=0.0381, film=0.0003, coats=2.5) * 1e6, 1)
    5.4

    References
    ----------
    .. [1] Film model: full coat on the pipe, half a film in the socket, second full coat on the
           pipe: 2.5 films on the bond area (derived). Film by class of cement: ASTM D2564 and
           D2855-96, from memory.
    """
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    between("film", film, low=0.0, high=0.003, unit="m")
    positive("coats", coats, unit="-")
    return coats * film * math.pi * od * depth


@figure(
    "with-allowance",
    formula="V = k V_n",
    symbols={
        "volume": ("V_n", "volume", "net volume"),
        "allowance": ("k", "plain", "factor for squeeze-out, brush and tin; 1 is none"),
    },
    result=("V", "volume", "volume with allowance"),
    source="common practice, no source",
)
def with_allowance(volume: float, allowance: float) -> float:
    """Volume to order once squeeze-out, brush and tin are allowed for.

    Parameters
    ----------
    volume : float
        Net volume. [m3]
    allowance : float
        Factor for squeeze-out, brush and tin; 1 is none. [-]

    Returns
    -------
    float
        Volume with allowance. [m3]

    Valid range
    -----------
    volume >= 0; 1.0 <= allowance <= 10.0.

    Notes
    -----
    V = k V_n. A factor of 2 is our own assumption until the crew has weighed tins before and after
    the first joints.

    Examples
    --------
    >>> with_allowance(volume=0.5, allowance=2.0)
    1.0

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("volume", volume, unit="m3")
    between("allowance", allowance, low=1.0, high=10.0, unit="-")
    return allowance * volume


@figure(
    "primer-by-share",
    formula="V = s V_c",
    symbols={
        "cement": ("V_c", "volume", "net cement of the joint"),
        "share": ("s", "plain", "primer for each volume of cement"),
    },
    result=("V", "volume", "primer, net"),
    source="from memory: one third to one quarter of the cement",
)
def primer_by_share(cement: float, share: float = 1 / 3) -> float:
    """Primer that one joint takes as a share of its cement.

    Parameters
    ----------
    cement : float
        Net cement of the joint. [m3]
    share : float
        Primer for each volume of cement. [-]

    Returns
    -------
    float
        Primer, net. [m3]

    Valid range
    -----------
    cement >= 0; 0.0 <= share <= 1.0.

    Notes
    -----
    V = s V_c. One third to one quarter is from memory.

    Examples
    --------
    >>> round(primer_by_share(cement=0.03, share=1 / 3), 6)
    0.01

    References
    ----------
    .. [1] From memory: primer one third to one quarter of the cement.
    """
    not_negative("cement", cement, unit="m3")
    between("share", share, low=0.0, high=1.0, unit="-")
    return share * cement


@figure(
    "primer-by-film",
    formula="V = n t π D L",
    symbols={
        "od": ("D", "length", "outside diameter of the pipe"),
        "depth": ("L", "length", "depth of the socket to its stop"),
        "film": ("t", "length", "film of one pass"),
        "passes": ("n", "plain", "passes on the bond area: socket, pipe, socket again"),
    },
    result=("V", "volume", "primer, net"),
    source="derived film model; film and passes assumed",
)
def primer_by_film(*, od: float, depth: float, film: float = 5.0e-5, passes: float = 3.0) -> float:
    """Primer that one joint takes by its passes.

    Parameters
    ----------
    od : float
        Outside diameter of the pipe. [m]
    depth : float
        Depth of the socket to its stop. [m]
    film : float
        Film of one pass. [m]
    passes : float
        Passes on the bond area: socket, pipe, socket again. [-]

    Returns
    -------
    float
        Primer, net. [m3]

    Valid range
    -----------
    od and depth > 0; film from 0 to 1 mm; passes > 0.

    Notes
    -----
    V = n t π D L. Three passes of 0.05 mm is our own assumption.

    Examples
    --------
    >>> round(primer_by_film(od=0.1683, depth=0.0762, film=5e-5, passes=3.0) * 1e6, 2)
    6.04

    References
    ----------
    .. [1] Film model (derived); film and passes are our own assumption.
    """
    positive("od", od, unit="m")
    positive("depth", depth, unit="m")
    between("film", film, low=0.0, high=0.001, unit="m")
    positive("passes", passes, unit="-")
    return passes * film * math.pi * od * depth


@figure(
    "joints-per-can",
    formula="N = floor(C/V)",
    symbols={
        "container": ("C", "volume", "content of the can"),
        "volume": ("V", "volume", "volume for one joint, allowance included"),
    },
    result=("N", "count", "whole joints"),
    source="common practice, no source",
)
def joints_per_can(container: float, volume: float) -> int:
    """Whole joints that one can makes.

    Parameters
    ----------
    container : float
        Content of the can. [m3]
    volume : float
        Volume for one joint, allowance included. [m3]

    Returns
    -------
    int
        Whole joints. [-]

    Valid range
    -----------
    container > 0; volume > 0.

    Notes
    -----
    N = floor(C/V)

    Examples
    --------
    >>> joints_per_can(container=1.0, volume=0.3)
    3

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("container", container, unit="m3")
    positive("volume", volume, unit="m3")
    return math.floor(container / volume + 1e-9)


@figure(
    "cans-needed",
    formula="n = ceil(J/N)",
    symbols={
        "joints": ("J", "count", "number of joints"),
        "per_can": ("N", "plain", "joints that one can makes"),
    },
    result=("n", "count", "whole cans"),
    source="common practice, no source",
)
def cans_needed(joints: float, per_can: float) -> int:
    """Cans that a number of joints takes.

    Parameters
    ----------
    joints : float
        Number of joints. [-]
    per_can : float
        Joints that one can makes. [-]

    Returns
    -------
    int
        Whole cans. [-]

    Valid range
    -----------
    joints a whole number, at least 0; per_can > 0.

    Notes
    -----
    n = ceil(J/N)

    Examples
    --------
    >>> cans_needed(joints=7, per_can=3)
    3

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    whole("joints", joints, low=0)
    positive("per_can", per_can, unit="-")
    return math.ceil(joints / per_can - 1e-9)
