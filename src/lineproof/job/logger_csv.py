"""A logger's file: temperatures against the time of its own clock."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import tzinfo

import numpy as np

from lineproof.job.files import as_text
from lineproof.job.timed_csv import Columns, read_timed
from lineproof.sums.waits import Floats

COLDEST, HOTTEST = 213.15, 393.15
"""Outside -60 to 120 C a sensor or its cable has failed (own rule). [K]"""

_COLUMNS = Columns(
    numbers={"temperature": "temperature"},
    limits={"temperature": (COLDEST, HOTTEST)},
    words={},
    must=("temperature",),
    others=True,
)


@dataclass(frozen=True, slots=True, eq=False)
class LoggerRows:
    """The readings of one file, in order of time.

    Parameters
    ----------
    times : array
        Instants by the logger's clock, from the beginning of 1970, UTC. [s]
    values : array
        Temperatures. [K]
    """

    times: Floats
    values: Floats


def read_logger(content: bytes, name: str, zone: tzinfo) -> LoggerRows:
    """Read a logger's file.

    Parameters
    ----------
    content : bytes
        The CSV: a heading with ``time`` (or ``time UTC``, ``time site``) and ``temperature`` with its unit;
        other columns are left alone.
    name : str
        Its name, for errors.
    zone : tzinfo
        Of the site.

    Returns
    -------
    LoggerRows

    Raises
    ------
    BadInput
        With file and line: the first row that cannot be read; nothing of the file counts then.
    """
    rows = read_timed(as_text(content, name), name, _COLUMNS, zone)
    return LoggerRows(
        np.array([r.at.timestamp() for r in rows]), np.array([r.numbers["temperature"] for r in rows])
    )
