"""Errors that speak: given, and where; what is allowed; by whom; what to do next.

Every error that Lineproof raises on purpose derives from :class:`LineproofError`.
A verdict is never an exception (see ``floor.verdicts``).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Self


@dataclass(frozen=True, slots=True)
class Place:
    """Where in an input file something stands (lines and columns count from 1; 0 = not known)."""

    file: str = ""
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        if not self.file:
            return f"line {self.line}, column {self.column}" if self.line else ""
        text = self.file
        if self.line:
            text += f":{self.line}"
            if self.column:
                text += f":{self.column}"
        return text


class LineproofError(Exception):
    """The base of every error raised on purpose; reads as one clear sentence.

    Parameters
    ----------
    given : str
        What was found, in the user's own words where possible.
    allowed : str
        What would have been accepted.
    by : str
        The document, file or rule that allows it.
    next : str
        What to do now, starting with a verb.
    place : Place
        File, line and column.
    """

    exit_code = 64

    def __init__(
        self, given: str, *, allowed: str = "", by: str = "", next: str = "", place: Place | None = None
    ) -> None:
        super().__init__(given)
        self.given = given
        self.allowed = allowed
        self.by = by
        self.next = next
        self.place = place or Place()

    def at(self, *, file: str = "", line: int = 0, column: int = 0) -> Self:
        """Fill in the parts of the place that are not known yet and return the same error."""
        now = self.place
        self.place = replace(now, file=now.file or file, line=now.line or line, column=now.column or column)
        return self

    def __str__(self) -> str:
        where = str(self.place)
        text = f"{where}: {self.given}" if where else self.given
        if self.allowed:
            text += f"; allowed: {self.allowed}"
        if self.by:
            text += f" (by {self.by})"
        if self.next:
            text += f"; next: {self.next}"
        # What was given may hold control marks that would move a terminal's cursor: said, not sent.
        text = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)
        return text if text.endswith(".") else text + "."

    def __reduce__(self) -> tuple[object, ...]:
        return (_rebuild, (type(self), self.given, self.allowed, self.by, self.next, self.place))


def _rebuild(
    kind: type[LineproofError], given: str, allowed: str, by: str, next: str, place: Place
) -> LineproofError:
    return kind(given, allowed=allowed, by=by, next=next, place=place)


class BadInput(LineproofError):
    """A file or an argument could not be read as what it should be."""


class UnitMissing(BadInput):
    """A number came without its unit."""


class SizeNotListed(LineproofError):
    """A size, schedule or class is not in the table asked."""


class OutsideTable(LineproofError):
    """A value lies outside what the table or formula covers; nothing is extrapolated."""


class SourceMissing(LineproofError):
    """A number has no source, so it may not be used."""


class DrawingMismatch(LineproofError):
    """The drawing contradicts itself: a walk does not end where it is said to end, or ends differ."""


class PlanImpossible(LineproofError):
    """It is proved that no plan meets the limits named."""


class EntrySealed(LineproofError):
    """A sealed entry would have been changed."""


class OurFault(LineproofError):
    """A check of our own work failed; the result was thrown away."""

    exit_code = 70
