"""Rounding to a step, and along a run so that the sum never drifts.

Work is laid out to a sixteenth of an inch or a millimetre. Rounding each length by itself lets the sum
wander; here the residue is carried to the next length, and the carry restarts where the caller says
(a fixed face, a recorded piece, each repeated spool).
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from lineproof.floor.errors import BadInput, OutsideTable

# Half of this share of a step is float noise, not a measurement: a half that fell just short still goes up.
NOISE = 1e-9


def steps(value: float, step: float) -> int:
    """Nearest whole number of steps; a half goes up (never to the even neighbour).

    Parameters
    ----------
    value : float
        What is rounded, any finite number. [unit of step]
    step : float
        Size of one step, greater than zero. [unit of value]

    Returns
    -------
    int
        Number of steps.

    Raises
    ------
    OutsideTable
        If the value is not finite or the step is not a positive finite number.

    Examples
    --------
    >>> steps(2.5, 1.0), steps(3.5, 1.0), steps(-2.5, 1.0)
    (3, 4, -2)
    """
    if not (step > 0.0 and math.isfinite(step)):
        raise OutsideTable(f"a rounding step of {step:g}", allowed="a finite number above 0")
    count = value / step
    if not math.isfinite(count):
        raise OutsideTable(
            f"{value:g} cannot be rounded to steps of {step:g}", allowed="a finite number of steps"
        )
    return math.floor(count + 0.5 + 0.5 * NOISE)


def to_step(value: float, step: float) -> float:
    """Nearest multiple of a step; a half goes up.

    Parameters
    ----------
    value : float
        What is rounded, any finite number. [unit of step]
    step : float
        Size of one step, greater than zero. [unit of value]

    Returns
    -------
    float
        The rounded value. [unit of value]

    Raises
    ------
    OutsideTable
        If the value is not finite or the step is not a positive finite number.

    Examples
    --------
    >>> to_step(7.0, 2.0)
    8.0
    """
    return steps(value, step) * step


def round_run(lengths: Sequence[float], step: float, *, restart: Sequence[bool] | None = None) -> list[float]:
    """Round the lengths of a run, each carrying its residue to the next.

    From each restart on, the sum of the rounded lengths is the nearest step to the sum of the exact ones,
    so it never drifts by more than half a step; one length moves by a step at most.

    Parameters
    ----------
    lengths : sequence of float
        Exact lengths in the order of the run, finite. [unit of step]
    step : float
        Size of one step, greater than zero. [unit of lengths]
    restart : sequence of bool, optional
        One for each length; True drops the carry before that length.

    Returns
    -------
    list of float
        The rounded lengths, each a multiple of the step. [unit of lengths]

    Raises
    ------
    BadInput
        If ``restart`` has not one entry for each length.
    OutsideTable
        If a length is not finite or the step is not a positive finite number.

    Examples
    --------
    >>> round_run([1.4, 1.4, 1.4], 1.0)
    [1.0, 2.0, 1.0]
    >>> round_run([1.4, 1.4, 1.4], 1.0, restart=[False, True, False])
    [1.0, 1.0, 2.0]
    """
    if restart is not None and len(restart) != len(lengths):
        raise BadInput(
            f"{len(restart)} restart marks for {len(lengths)} lengths",
            allowed="one for each length",
            next="give each length its mark",
        )
    rounded: list[float] = []
    total = lost = 0.0  # sum since the restart, and the digits it lost (Neumaier): 10,000 lengths stay exact
    done = 0
    for i, length in enumerate(lengths):
        if restart is not None and restart[i]:
            total = lost = 0.0
            done = 0
        new = total + length
        lost += (total - new) + length if abs(total) >= abs(length) else (length - new) + total
        total = new
        reached = steps(total + lost, step)
        rounded.append((reached - done) * step)
        done = reached
    return rounded
