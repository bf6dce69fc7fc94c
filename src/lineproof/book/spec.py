"""What kind of pipe: material, wall series and family of outside diameters; the ISO 4065 wall rule."""

from __future__ import annotations

import re
from dataclasses import dataclass
from decimal import ROUND_CEILING, ROUND_HALF_UP, Decimal

from lineproof.floor.errors import BadInput

MATERIALS = ("pvc", "cpvc")
OD_FAMILIES = ("ips", "irrigation", "cast-iron", "metric")
_SERIES = re.compile(r"(sch|sdr|s|pn)(\d+(?:\.\d+)?)")

# Exact members of the R10 series behind the names of the pipe series (ISO 3, ISO 4065).
R10 = {
    "20": 10**1.3,
    "16": 10**1.2,
    "12.5": 10**1.1,
    "10": 10.0,
    "8": 10**0.9,
    "6.3": 10**0.8,
    "5": 10**0.7,
}


@dataclass(frozen=True, slots=True)
class PipeSpec:
    """What kind of pipe it is; the OD family is asked, never guessed from the nominal size.

    Parameters
    ----------
    material : str
        ``"pvc"`` or ``"cpvc"``.
    series : str
        ``"sch80"``, ``"sch40"``, ``"sch120"``, ``"sdr26"``, ``"s12.5"``, ``"pn10"``.
    od_family : str
        ``"ips"``, ``"irrigation"``, ``"cast-iron"`` or ``"metric"``.

    Raises
    ------
    BadInput
        If a word is not one of these.
    """

    material: str
    series: str
    od_family: str

    def __post_init__(self) -> None:
        if self.material not in MATERIALS:
            raise BadInput(
                f"{self.material!r} is not a pipe material we carry", allowed=" or ".join(MATERIALS)
            )
        if not _SERIES.fullmatch(self.series):
            raise BadInput(f"{self.series!r} is not a wall series", allowed="sch80, sdr26, s12.5 or pn10")
        if self.od_family not in OD_FAMILIES:
            raise BadInput(
                f"{self.od_family!r} is not a family of outside diameters", allowed=", ".join(OD_FAMILIES)
            )
        if self.od_family not in od_families(self.series):
            raise BadInput(
                f"{self.series} pipe has no {self.od_family} diameters",
                allowed=" or ".join(od_families(self.series)),
            )

    @property
    def kind(self) -> str:
        """``sch``, ``sdr``, ``s`` or ``pn``."""
        return self.series.rstrip("0123456789.")

    @property
    def number(self) -> str:
        """The number of the series as in a row key: ``80``, ``26``, ``12.5``."""
        return f"{float(self.series.removeprefix(self.kind)):g}"

    @property
    def text(self) -> str:
        """As shown: ``PVC Sch 80``, ``PVC SDR 26``, ``CPVC Sch 80``, ``PVC PN 10``."""
        word = {"sch": "Sch", "sdr": "SDR", "s": "S", "pn": "PN"}[self.kind]
        return f"{self.material.upper()} {word} {self.number}"

    def __str__(self) -> str:
        return self.text


def od_families(series: str) -> tuple[str, ...]:
    """The families of outside diameters that a wall series can have; more than one: ask.

    Parameters
    ----------
    series : str
        Such as ``"sdr26"``.

    Returns
    -------
    tuple of str
        Schedules are IPS, S and PN are metric; an SDR pipe is asked for.
    """
    if series.startswith("sch"):
        return ("ips",)
    return ("ips", "irrigation", "cast-iron") if series.startswith("sdr") else ("metric",)


def iso4065_wall_mm(d_mm: float, series: str) -> float:
    """Wall by the ISO 4065 formula and its rounding: to 0.01 mm first, then up to 0.1 mm.

    Parameters
    ----------
    d_mm : float
        Nominal outside diameter. [mm]
    series : str
        Pipe series S as named, such as ``"12.5"``.

    Returns
    -------
    float
        Smallest wall. [mm]

    Notes
    -----
    e = d / (2 S + 1) with the exact R10 value of S. The product floor of 1.5 mm (PVC-U) is the
    caller's. Plain rounding up misses d125 S8, d250 S8 and d355 S5 by 0.1 mm.
    """
    exact = Decimal(d_mm / (2 * R10[series] + 1))
    two = exact.quantize(Decimal("0.01"), rounding=ROUND_HALF_UP)
    return float(two.quantize(Decimal("0.1"), rounding=ROUND_CEILING))
