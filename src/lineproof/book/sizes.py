"""Sizes as the trade names them: nominal pipe size in inches, or nominal outside diameter d in mm."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from lineproof.floor.errors import BadInput

NPS = "nps"
METRIC = "d"

_D = re.compile(r"d\s*(\d+(?:\.\d+)?)\s*(?:mm)?", re.IGNORECASE)
_NPS = re.compile(
    r"(?:nps\s*)?(?:(\d+)[\s-]+(\d+)/(\d+)|(\d+)/(\d+)|(\d+(?:\.\d+)?))\s*(in|inch|\"|″)?", re.IGNORECASE
)
_EIGHTHS = {0.125: "1/8", 0.25: "1/4", 0.375: "3/8", 0.5: "1/2", 0.625: "5/8", 0.75: "3/4", 0.875: "7/8"}


@dataclass(frozen=True, slots=True, order=True)
class Size:
    """A nominal size.

    Parameters
    ----------
    system : str
        ``"nps"`` (inches) or ``"d"`` (millimetres).
    nominal : float
        The number of the name: 12 for 12 in, 315 for d315. It is a name, not a measure.
    """

    system: str
    nominal: float

    @classmethod
    def parse(cls, text: str) -> Size:
        """Read a size: ``12in``, ``12"``, ``NPS 12``, ``1-1/2in``, ``d315``.

        Parameters
        ----------
        text : str
            What was written.

        Returns
        -------
        Size
            The size.

        Raises
        ------
        BadInput
            If it is no size, or a number without saying inches or d.
        """
        asked = text.strip()
        metric = _D.fullmatch(asked)
        if metric:
            return cls._checked(METRIC, float(metric.group(1)), text)
        inch = _NPS.fullmatch(asked)
        if inch and (inch.group(7) or asked.lower().startswith("nps")):
            whole, over, under, over1, under1, plain = inch.groups()[:6]
            try:
                if plain:
                    nominal = Fraction(plain)
                elif over1:
                    nominal = Fraction(int(over1), int(under1))
                else:
                    nominal = int(whole) + Fraction(int(over), int(under))
            except ZeroDivisionError:
                nominal = Fraction(0)
            return cls._checked(NPS, float(nominal), text)
        raise BadInput(
            f"{text!r} is not a size",
            allowed="12in, 1-1/2in, NPS 12 or d315",
            next="write the size with in, NPS or d",
        )

    @classmethod
    def _checked(cls, system: str, nominal: float, text: str) -> Size:
        if not 0 < nominal <= 5000:
            raise BadInput(f"{text!r} is not a size of pipe", allowed="1/2 to 24 in, d16 to d400")
        return cls(system, nominal)

    @property
    def text(self) -> str:
        """The size as shown: ``12 in``, ``1-1/2 in``, ``d315``."""
        if self.system == METRIC:
            return f"d{self.nominal:g}"
        whole, part = divmod(self.nominal, 1)
        fraction = _EIGHTHS.get(part)
        if not part:
            return f"{whole:g} in"
        if fraction is None:
            return f"{self.nominal:g} in"
        return f"{whole:g}-{fraction} in" if whole else f"{fraction} in"

    @property
    def key(self) -> str:
        """The size as the first part of a row key: ``12``, ``1.5``, ``315``."""
        return f"{self.nominal:g}"

    @property
    def metric(self) -> bool:
        """True for a d size."""
        return self.system == METRIC

    def __str__(self) -> str:
        return self.text
