"""Flange bolts: how long they must be for what they go through, and the length that is bought."""

from __future__ import annotations

import math

from lineproof.floor.worked import figure
from lineproof.sums.limits import not_negative, positive

WASHER_SHARE = 0.22
"""Thickness of a plain washer over bolt diameter: no common washer is thicker (from memory). [-]"""
NUT_SHARE = 1.0
"""Height of a nut over bolt diameter: no common nut is higher (from memory). [-]"""
PITCH_SHARE = 1 / 6.5
"""Pitch of a coarse thread over bolt diameter: none is coarser from 1/2 in or M12 up (from memory). [-]"""


@figure(
    "bolt-length",
    formula="L = T + S + g + 2 w + m + 2 p",
    symbols={
        "thickness_a": ("T", "length", "thickness of one side, as measured"),
        "thickness_b": ("S", "length", "thickness of the other side, as measured"),
        "gasket": ("g", "length", "thickness of the gasket, with the filler if there is one"),
        "washer": ("w", "length", "thickness of one washer, one under the head and one under the nut"),
        "nut": ("m", "length", "height of the nut"),
        "pitch": ("p", "length", "pitch of the thread; two threads stand out of the nut"),
    },
    result=("L", "length", "least length of a bolt, from under its head"),
    source="common practice, no source",
    note="only from thicknesses measured on the flanges in hand; torque by the flange's own paper",
)
def bolt_length(
    *, thickness_a: float, thickness_b: float, gasket: float, washer: float, nut: float, pitch: float
) -> float:
    """Least length of a flange bolt, from under its head to its end.

    Parameters
    ----------
    thickness_a : float
        What the bolt goes through on one side (a stub's shoulder and its ring together), as measured. [m]
    thickness_b : float
        The same on the other side. [m]
    gasket : float
        Gasket, with the filler if there is one. [m]
    washer : float
        One washer; there are two. [m]
    nut : float
        Height of the nut. [m]
    pitch : float
        Pitch of the thread. [m]

    Returns
    -------
    float
        Least length of a bolt. [m]

    Valid range
    -----------
    thickness_a, thickness_b, nut and pitch > 0; gasket and washer >= 0.

    Notes
    -----
    L = T + S + g + 2 w + m + 2 p. Two full threads beyond the nut is common practice, no source. A bolt
    with two nuts (a stud) needs one more nut and two more threads.

    Examples
    --------
    >>> bolt = bolt_length(
    ...     thickness_a=0.03, thickness_b=0.025, gasket=0.003, washer=0.003, nut=0.016, pitch=0.002
    ... )
    >>> round(bolt, 4)
    0.084

    References
    ----------
    .. [1] Common practice, no source.
    """
    positive("thickness_a", thickness_a, unit="m")
    positive("thickness_b", thickness_b, unit="m")
    not_negative("gasket", gasket, unit="m")
    not_negative("washer", washer, unit="m")
    positive("nut", nut, unit="m")
    positive("pitch", pitch, unit="m")
    return thickness_a + thickness_b + gasket + 2.0 * washer + nut + 2.0 * pitch


@figure(
    "bolt-bought",
    formula="L = s ceil(l/s - 0.000001)",
    symbols={
        "length": ("l", "length", "least length of the bolt"),
        "step": ("s", "length", "step in which bolts are sold"),
    },
    result=("L", "length", "length to buy"),
    source="common practice, no source",
)
def bolt_bought(length: float, step: float) -> float:
    """The next length in which bolts are sold.

    Parameters
    ----------
    length : float
        Least length of the bolt. [m]
    step : float
        Step in which bolts are sold. [m]

    Returns
    -------
    float
        Length to buy. [m]

    Valid range
    -----------
    length > 0; step > 0.

    Notes
    -----
    L = s ceil(l/s - 0.000001): up to the next step. A step of 1/4 in or 5 mm is common practice, no source.

    Examples
    --------
    >>> round(bolt_bought(length=0.0841, step=0.005), 4)
    0.085

    References
    ----------
    .. [1] Common practice, no source.
    """
    positive("length", length, unit="m")
    positive("step", step, unit="m")
    return step * math.ceil(length / step - 1e-6)


def longest_fittings(bolt_dia: float) -> tuple[float, float, float]:
    """Washer thickness, nut height and pitch that no common bolt set of this diameter goes over.

    Parameters
    ----------
    bolt_dia : float
        Diameter of the bolt. [m]

    Returns
    -------
    tuple of float
        Washer, nut, pitch. [m]

    Valid range
    -----------
    bolt_dia of 1/2 in or M12 and more.

    Notes
    -----
    Shares of the diameter, from memory; they make the bolt rather too long than too short.

    Examples
    --------
    >>> [round(v * 1000, 2) for v in longest_fittings(0.016)]
    [3.52, 16.0, 2.46]

    References
    ----------
    .. [1] From memory: the thickest plain washers, full nuts, coarse threads.
    """
    positive("bolt_dia", bolt_dia, unit="m")
    return WASHER_SHARE * bolt_dia, NUT_SHARE * bolt_dia, PITCH_SHARE * bolt_dia
