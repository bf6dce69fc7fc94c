"""Pull-in: how hard a socket grips a pipe, and the force to bring it home."""

from __future__ import annotations

import math

from lineproof.floor.errors import OutsideTable
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, not_negative, positive


@figure(
    "contact-pressure",
    formula="p = E i (D_o^2 - D^2) (D^2 - d^2)/(2 D^3 (D_o^2 - d^2))",
    symbols={
        "modulus": ("E", "modulus", "modulus of pipe and fitting at this temperature and time"),
        "interference": ("i", "length", "interference on the diameter, as measured"),
        "od": ("D", "length", "outside diameter of the pipe"),
        "bore": ("d", "length", "inside diameter of the pipe"),
        "socket_od": ("D_o", "length", "outside diameter of the socket"),
    },
    result=("p", "pressure", "contact pressure"),
    source="thick-walled cylinders (Lame)",
)
def contact_pressure(
    *, modulus: float, interference: float, od: float, bore: float, socket_od: float
) -> float:
    """Pressure between a pipe and a tighter socket of the same material.

    Parameters
    ----------
    modulus : float
        Modulus of pipe and fitting at this temperature and time. [Pa]
    interference : float
        Interference on the diameter, as measured. [m]
    od : float
        Outside diameter of the pipe. [m]
    bore : float
        Inside diameter of the pipe. [m]
    socket_od : float
        Outside diameter of the socket. [m]

    Returns
    -------
    float
        Contact pressure. [Pa]

    Valid range
    -----------
    modulus > 0; interference >= 0; 0 <= bore < od < socket_od.

    Notes
    -----
    p = E i (D_o^2 - D^2) (D^2 - d^2)/(2 D^3 (D_o^2 - d^2)). Elastic, both of one material; the
    textbook form with the radial interference is half of i. Once primer has softened the skin it is
    an upper bound.

    Examples
    --------
    >>> round(contact_pressure(modulus=207e9, interference=4e-5, od=0.04, bore=0.02, socket_od=0.08) / 1e6, 2)
    62.1

    References
    ----------
    .. [1] Thick-walled cylinders (Lame), shrink fit of one material, as in textbooks of machine
           design.
    """
    positive("modulus", modulus, unit="Pa")
    not_negative("interference", interference, unit="m")
    positive("od", od, unit="m")
    not_negative("bore", bore, unit="m")
    positive("socket_od", socket_od, unit="m")
    if not bore < od < socket_od:
        raise OutsideTable(
            f"bore {bore:g} m, pipe {od:g} m, socket {socket_od:g} m are not in rising order",
            allowed="bore < pipe outside diameter < socket outside diameter",
            by="the valid range of this sum",
            next="check the three diameters",
        )
    outer, middle, inner = socket_od * socket_od, od * od, bore * bore
    return modulus * interference * (outer - middle) * (middle - inner) / (2.0 * od**3 * (outer - inner))


@figure(
    "pull-in-force",
    formula="F = μ p π D L/2",
    symbols={
        "friction": ("μ", "plain", "friction between the two faces"),
        "contact_pressure": ("p", "pressure", "contact pressure when home"),
        "od": ("D", "length", "outside diameter of the pipe"),
        "grip": ("L", "length", "length over which the two faces grip when home"),
    },
    result=("F", "force", "force along the pipe"),
    source="statics; friction assumed",
    note="stand aside from straps and hooks; the joint pushes back with the same force",
)
def pull_in_force(*, friction: float, contact_pressure: float, od: float, grip: float) -> float:
    """Force to push a pipe home in a tapered socket that grips from the entrance on.

    Parameters
    ----------
    friction : float
        Friction between the two faces. [-]
    contact_pressure : float
        Contact pressure when home. [Pa]
    od : float
        Outside diameter of the pipe. [m]
    grip : float
        Length over which the two faces grip when home. [m]

    Returns
    -------
    float
        Force along the pipe. [N]

    Valid range
    -----------
    friction from 0 to 2; pressure and grip >= 0; od > 0.

    Notes
    -----
    F = μ p π D L/2. The half is for a taper: pressure grows from nothing at first contact. Friction
    is assumed (0.05 wet cement, 0.15 tacky, 0.4 dry): measure. The joint pushes back with the same
    force: hold it.

    Examples
    --------
    >>> round(pull_in_force(friction=0.15, contact_pressure=0.34e6, od=0.219, grip=0.06))
    1053

    References
    ----------
    .. [1] Friction on a cylinder (statics); friction values assumed.
    """
    between("friction", friction, low=0.0, high=2.0, unit="-")
    not_negative("contact_pressure", contact_pressure, unit="Pa")
    positive("od", od, unit="m")
    not_negative("grip", grip, unit="m")
    return friction * contact_pressure * math.pi * od * grip / 2.0
