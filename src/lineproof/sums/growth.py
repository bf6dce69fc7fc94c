"""Growth: free change of length with temperature, and the length to saw for the joining temperature."""

from __future__ import annotations

from lineproof.floor.worked import figure
from lineproof.sums.limits import between, finite, not_negative

# Kelvin. Pipe of this kind is neither sawn nor joined outside of it.
_COLDEST, _HOTTEST = 230.0, 350.0


@figure(
    "growth",
    formula="ΔL = α L ΔT",
    symbols={
        "length": ("L", "length", "length of the run"),
        "alpha": ("α", "expansion", "expansion coefficient of the material"),
        "dT_K": ("ΔT", "temperature_step", "later temperature less earlier temperature"),
    },
    result=("ΔL", "length", "change in length, positive when the pipe grows"),
    source="definition of the expansion coefficient",
)
def length_change(*, length: float, alpha: float, dT_K: float) -> float:
    """Free change in length of a pipe run that nothing holds.

    Parameters
    ----------
    length : float
        Length of the run. [m]
    alpha : float
        Expansion coefficient of the material. [1/K]
    dT_K : float
        Later temperature less earlier temperature. [K]

    Returns
    -------
    float
        Change in length, positive when the pipe grows. [m]

    Valid range
    -----------
    length >= 0; alpha from 0 to 0.001 per K, from a row of ``book`` that carries a source; dT_K
    finite.

    Notes
    -----
    ΔL = α L ΔT

    Examples
    --------
    >>> round(length_change(length=30.0, alpha=6.0e-5, dT_K=25.0), 4)
    0.045

    References
    ----------
    .. [1] Linear expansion, dL = alpha L dT, for a constant coefficient (definition of alpha).
    """
    not_negative("length", length, unit="m")
    between("alpha", alpha, low=0.0, high=1e-3, unit="1/K")
    finite("dT_K", dT_K, unit="K")
    return alpha * length * dT_K


@figure(
    "length-when-cut",
    formula="L_c = L/(1 + α (T_j - T_c))",
    symbols={
        "length": ("L", "length", "length wanted at the temperature of joining"),
        "alpha": ("α", "expansion", "expansion coefficient of the material"),
        "temperature_cut": ("T_c", "temperature", "pipe temperature when it is cut"),
        "temperature_joined": ("T_j", "temperature", "pipe temperature when it is joined"),
    },
    result=("L_c", "length", "length to saw"),
    source="definition of the expansion coefficient",
    note="for a piece between two fixed points; never to service temperature",
)
def length_when_cut(
    *, length: float, alpha: float, temperature_cut: float, temperature_joined: float
) -> float:
    """Length to saw so that a piece between two fixed points has its length at joining.

    Parameters
    ----------
    length : float
        Length wanted at the temperature of joining. [m]
    alpha : float
        Expansion coefficient of the material. [1/K]
    temperature_cut : float
        Pipe temperature when it is cut. [K]
    temperature_joined : float
        Pipe temperature when it is joined. [K]

    Returns
    -------
    float
        Length to saw. [m]

    Valid range
    -----------
    length >= 0; alpha from 0 to 0.001 per K; temperatures from 230 to 350 K.

    Notes
    -----
    L_c = L/(1 + α (T_j - T_c)). Joining temperature only, never service: making a piece short on
    purpose is cold spring and the engineer's. The tape is taken as not growing; a steel tape as
    warm as the pipe takes back about a fifth.

    Examples
    --------
    >>> cut = length_when_cut(length=10.0, alpha=5.4e-5, temperature_cut=308.15, temperature_joined=283.15)
    >>> round(cut, 5)
    10.01352

    References
    ----------
    .. [1] Linear expansion, dL = alpha L dT, for a constant coefficient (definition of alpha).
    """
    not_negative("length", length, unit="m")
    between("alpha", alpha, low=0.0, high=1e-3, unit="1/K")
    between("temperature_cut", temperature_cut, low=_COLDEST, high=_HOTTEST, unit="K")
    between("temperature_joined", temperature_joined, low=_COLDEST, high=_HOTTEST, unit="K")
    return length / (1.0 + alpha * (temperature_joined - temperature_cut))


@figure(
    "length-at-joining",
    formula="L = L_c (1 + α (T_j - T_c))",
    symbols={
        "cut": ("L_c", "length", "length as sawn"),
        "alpha": ("α", "expansion", "expansion coefficient of the material"),
        "temperature_cut": ("T_c", "temperature", "pipe temperature when it is cut"),
        "temperature_joined": ("T_j", "temperature", "pipe temperature when it is joined"),
    },
    result=("L", "length", "length at joining"),
    source="definition of the expansion coefficient",
)
def length_at_joining(
    *, cut: float, alpha: float, temperature_cut: float, temperature_joined: float
) -> float:
    """Length that a piece sawn at one pipe temperature has when it is joined at another.

    Parameters
    ----------
    cut : float
        Length as sawn. [m]
    alpha : float
        Expansion coefficient of the material. [1/K]
    temperature_cut : float
        Pipe temperature when it is cut. [K]
    temperature_joined : float
        Pipe temperature when it is joined. [K]

    Returns
    -------
    float
        Length at joining. [m]

    Valid range
    -----------
    cut >= 0; alpha from 0 to 0.001 per K; temperatures from 230 to 350 K.

    Notes
    -----
    L = L_c (1 + α (T_j - T_c))

    Examples
    --------
    >>> cold = length_at_joining(cut=10.0, alpha=5.4e-5, temperature_cut=308.15, temperature_joined=283.15)
    >>> round(cold, 4)
    9.9865

    References
    ----------
    .. [1] Linear expansion, dL = alpha L dT, for a constant coefficient (definition of alpha).
    """
    not_negative("cut", cut, unit="m")
    between("alpha", alpha, low=0.0, high=1e-3, unit="1/K")
    between("temperature_cut", temperature_cut, low=_COLDEST, high=_HOTTEST, unit="K")
    between("temperature_joined", temperature_joined, low=_COLDEST, high=_HOTTEST, unit="K")
    return cut * (1.0 + alpha * (temperature_joined - temperature_cut))
