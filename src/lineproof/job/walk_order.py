"""What may follow what in a walk: a line begins, starts, goes, ends."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping

from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.floor.shown import Shown, show_length
from lineproof.job import statements as s
from lineproof.job.walk_values import slip

_FIRST = re.compile(r"[A-Za-z]+")
_HAIR = 1e-9  # [m] float noise of a sum of lengths; no tape reads it


class Order:
    """Follows the statements of one file and refuses what cannot stand where it does."""

    def __init__(self) -> None:
        self.line: s.Head | None = None
        self.open = False  # a line has begun and has not ended
        self.started = False
        self.spool: s.Spool | None = None
        self.leg: s.Go | s.Offset | None = None
        self.last: s.Statement | None = None
        self.lines: dict[str, int] = {}
        self.labels: dict[str, int] = {}
        self.doubt = False  # a statement was not understood: what hangs on it is not complained of

    @property
    def metric(self) -> bool:
        """Whether the line counts in metres where no unit is said (d sizes)."""
        return self.line is not None and self.line.size.metric

    def skip(self, body: str) -> None:
        """Step over a statement that could not be read, so that one slip gives one error."""
        self.doubt = True
        found = _FIRST.search(body)
        word = found.group().lower() if found else ""
        if word.startswith("lin"):
            self.open, self.started, self.spool, self.leg = True, False, None, None
        elif word.startswith("star"):
            self.started = True
        elif word.startswith("end"):
            self.open = False

    def check(self, statement: s.Statement, marks: Mapping[str, int]) -> None:
        """Refuse a statement out of place; the error carries a column from 1 in the statement."""
        match statement:
            case s.Remark() | s.Drawing():
                return
            case s.Head():
                self._head(statement, marks)
            case _:
                self._inside(statement, marks)
        self.last = statement

    def finish(self) -> Iterator[LineproofError]:
        """Yield what the end of the file leaves open."""
        if (wrong := self._unended()) is not None:
            yield wrong

    # ------------------------------------------------------------- parts
    def _unended(self) -> LineproofError | None:
        if not self.open or self.line is None or self.last is None:
            return None
        where = self.last.spot
        name = self.line.name
        if not self.started and not self.doubt:
            given, mend = f"line {name} has no start and no end", 'add "starts at" and "ends at" below'
        elif not self.doubt:
            given, mend = f"line {name} has no end", 'add "ends at ..." as its last statement'
        else:
            return None
        return BadInput(
            given, allowed="ends at flange, socket, cap, branch, open and the like", next=mend,
            place=Place("", where.line, where.column),
        )  # fmt: skip

    def _head(self, head: s.Head, marks: Mapping[str, int]) -> None:
        wrong = self._unended()
        key = head.name.casefold()
        before = self.lines.get(key)
        self.lines.setdefault(key, head.spot.line)
        self.line, self.open, self.started, self.doubt = head, True, False, False
        self.spool, self.leg = None, None
        if wrong is not None:
            self.last = head
            raise wrong
        if before is not None:
            raise slip(
                marks.get("name", 0),
                f"line {head.name} stands in this file already, at line {before}",
                allowed="each line once",
                next="give this one its own name",
            )

    def _inside(self, statement: s.Statement, marks: Mapping[str, int]) -> None:
        if not self.open:
            if self.doubt and not self.line:
                return
            if self.line is None:
                raise slip(
                    0,
                    "nothing can stand before the first line",
                    allowed='drawing, or line B-201 size 12in pipe pvc sch80 for "backwash"',
                    next="begin with line, its size and its pipe",
                )
            if self.doubt:
                return
            raise slip(
                0,
                f"line {self.line.name} has ended already",
                allowed="drawing, line",
                next='move this above "ends at", or begin a new line',
            )
        if isinstance(statement, s.Starts):
            if self.started and not self.doubt:
                raise slip(
                    0, "this line has started already", allowed="one start a line", next="leave one out"
                )
            self.started = True
            return
        if not self.started and not self.doubt and not isinstance(statement, s.Bells):
            self.started = True  # said once is enough
            raise slip(
                0,
                "the line has not started yet",
                allowed='starts at flange fixed "pump P-3" at 0, 0, 0 facing north',
                next='put "starts at ..." straight below "line"',
            )
        self._label(statement, marks)
        match statement:
            case s.Go() | s.Offset():
                self.leg = statement
            case s.NoJoint():
                self._no_joint(statement, marks)
            case s.Spool():
                self._spool(statement)
            case s.Ends():
                self._end(statement)

    def _label(self, statement: s.Statement, marks: Mapping[str, int]) -> None:
        if not isinstance(statement, s.Tee | s.Saddle):
            return
        key = statement.label.casefold()
        if key in self.labels:
            raise slip(
                marks.get("label", 0),
                f"the branch {statement.label} is named already, at line {self.labels[key]}",
                allowed="each branch its own name",
                next="give this one another name",
            )
        self.labels[key] = statement.spot.line

    def _no_joint(self, stretch: s.NoJoint, marks: Mapping[str, int]) -> None:
        if self.leg is None:
            if self.doubt:
                return
            raise slip(
                0,
                "there is no leg above for this stretch",
                allowed='"no joint" below the "go" it belongs to',
                next="move it below its leg",
            )
        lengths = [step.length for step in self.leg.steps]
        if isinstance(self.leg, s.Go) and len(lengths) == 1 and lengths[0] is not None:
            if self.leg.slope is None and not self.leg.to_invert and stretch.end > lengths[0] + _HAIR:
                metric = self.line is not None and self.line.size.metric
                past = show_length(stretch.end - lengths[0], Shown.metric() if metric else Shown.us())
                raise slip(
                    marks.get("end", 0),
                    f"the stretch ends {past} beyond the leg above",
                    allowed="a stretch inside the leg",
                    next="check both lengths",
                )

    def _spool(self, spool: s.Spool) -> None:
        if spool.name and self.spool is not None:
            raise slip(
                0,
                f"spool {self.spool.name} is still open, from line {self.spool.spot.line}",
                allowed="one spool at a time",
                next='write "spool ends" first',
            )
        if not spool.name and self.spool is None and not self.doubt:
            raise slip(
                0,
                "no spool is open here",
                allowed='spool "TD" above it',
                next='open the spool first, or leave "spool ends" out',
            )
        self.spool = spool if spool.name else None

    def _end(self, _ends: s.Ends) -> None:
        spool, self.spool, self.open = self.spool, None, False
        if spool is not None and not self.doubt:
            raise slip(
                0,
                f"spool {spool.name} is still open, from line {spool.spot.line}",
                allowed="spool ends",
                next='write "spool ends" above this line',
            )
