"""Labour: man-hours of a joint by size, and joints a day."""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.floor.errors import SizeNotListed
from lineproof.floor.worked import figure
from lineproof.sums.limits import between, positive, whole


@figure(
    "joint-work",
    formula="W = 0.15 h n",
    symbols={
        "nps": ("n", "plain", "nominal size in inches"),
    },
    result=("W", "time", "work on one joint, all hands together"),
    source="derived from the estimating handbook's table, NPS 2-1/2 to 12; carried on above",
    note="work, not waiting: hold, set and cure come on top",
)
def joint_work(nps: float) -> float:
    """Work on one solvent-cemented joint by the rule of 0.15 man-hours an inch.

    Parameters
    ----------
    nps : float
        Nominal size in inches. [-]

    Returns
    -------
    float
        Work on one joint, all hands together. [s]

    Valid range
    -----------
    nps from 2.5 to 24; above 12 the rule is carried on (derived).

    Notes
    -----
    W = 0.15 h n. Cut, square, ream, fit up and make the joint. Hold, set and cure are waits, not
    work.

    Examples
    --------
    >>> joint_work(12.0) / 3600
    1.8

    References
    ----------
    .. [1] Industrial Process Plant Construction Estimating and Man-Hour Analysis, sec. 2.7.4, PVC
           piping: hours per joint to NPS 12 (read).
    .. [2] Above NPS 12: carried on by the same rule (derived).
    """
    between("nps", nps, low=2.5, high=24.0, unit="-")
    return 540.0 * nps


def joint_work_listed(nps: float, table: Mapping[float, float]) -> float:
    """Work on one joint as a table lists it.

    Parameters
    ----------
    nps : float
        Nominal size in inches. [-]
    table : mapping of float to float
        Nominal size to work on one joint. [s]

    Returns
    -------
    float
        Work on one joint, all hands together. [s]

    Raises
    ------
    SizeNotListed
        If the table has no such size; nothing is interpolated.

    Valid range
    -----------
    Sizes in the table.

    Notes
    -----
    A plain look-up; the table brings its own source.

    Examples
    --------
    >>> joint_work_listed(6.0, {4.0: 2160.0, 6.0: 3240.0})
    3240.0

    References
    ----------
    .. [1] The table's own.
    """
    if nps not in table:
        raise SizeNotListed(
            f"size {nps:g} is not in the labour table",
            allowed=", ".join(f"{size:g}" for size in sorted(table)),
            by="the table given",
            next="use the rule by size, or enter the crew's own figure",
        )
    return table[nps]


@figure(
    "joint-time",
    formula="t = W/c",
    symbols={
        "work": ("W", "time", "work on one joint, all hands together"),
        "crew": ("c", "count", "people in the crew"),
    },
    result=("t", "time", "time for one joint"),
    source="common practice, no source",
)
def joint_time(work: float, crew: float) -> float:
    """Time that a crew is busy with one joint.

    Parameters
    ----------
    work : float
        Work on one joint, all hands together. [s]
    crew : float
        People in the crew. [-]

    Returns
    -------
    float
        Time for one joint. [s]

    Valid range
    -----------
    work > 0; crew a whole number, at least 1.

    Notes
    -----
    t = W/c

    Examples
    --------
    >>> joint_time(work=6480.0, crew=4) / 60
    27.0

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("work", work, unit="s")
    whole("crew", crew, low=1)
    return work / crew


@figure(
    "joints-a-day",
    formula="N = η d/t",
    symbols={
        "day": ("d", "time", "hours of the shift"),
        "joint_time": ("t", "time", "time for one joint"),
        "productive": ("η", "plain", "share of the shift that is spent on joints"),
    },
    result=("N", "plain", "joints a day"),
    source="common practice, no source",
    note="hold and set waits push real figures lower",
)
def joints_a_day(*, day: float, joint_time: float, productive: float = 1.0) -> float:
    """Joints that one crew makes in a day if nothing waits.

    Parameters
    ----------
    day : float
        Hours of the shift. [s]
    joint_time : float
        Time for one joint. [s]
    productive : float
        Share of the shift that is spent on joints. [-]

    Returns
    -------
    float
        Joints a day. [-]

    Valid range
    -----------
    day and joint_time > 0; productive from 0.01 to 1.

    Notes
    -----
    N = η d/t. Hold and set waits push real figures lower.

    Examples
    --------
    >>> joints_a_day(day=28800.0, joint_time=1600.0, productive=0.75)
    13.5

    References
    ----------
    .. [1] Arithmetic of the trade: common practice, no source.
    """
    positive("day", day, unit="s")
    positive("joint_time", joint_time, unit="s")
    between("productive", productive, low=0.01, high=1.0, unit="-")
    return productive * day / joint_time
