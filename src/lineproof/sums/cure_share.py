"""Share of a printed wait that is behind a joint at one constant temperature, for the hand calculator."""

from __future__ import annotations

from lineproof.floor.worked import figure
from lineproof.sums.limits import not_negative, positive


@figure(
    "cure-share",
    formula="f = e/w",
    symbols={
        "elapsed": ("e", "time", "time since the last of hold end, pullers off and disturbance"),
        "wait": ("w", "time", "printed wait of the coldest band met, times all factors"),
    },
    result=("f", "plain", "share of the wait that is behind the joint; whole at 1"),
    source="the wait is the cement card's own; arithmetic of the trade: common practice, no source",
    note="one band only; never a permission: ask the release, and the container and the procedure govern",
)
def cure_share(*, elapsed: float, wait: float) -> float:
    """Share of a printed wait that is behind a joint.

    Parameters
    ----------
    elapsed : float
        Time since the last of hold end, pullers off and disturbance, with readings behind it. [s]
    wait : float
        Printed wait of the coldest band met, times all factors. [s]

    Returns
    -------
    float
        Share; the wait is whole at 1. [-]

    Valid range
    -----------
    elapsed >= 0; wait > 0, from a printed row: nothing is interpolated.

    Notes
    -----
    f = e/w. For one band only; where it gets colder the row of the coldest band applies to the whole time.

    Examples
    --------
    >>> cure_share(elapsed=43200.0, wait=172800.0)
    0.25

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    not_negative("elapsed", elapsed, unit="s")
    positive("wait", wait, unit="s")
    return elapsed / wait
