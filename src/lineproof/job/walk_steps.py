"""Steps on the text of a walk: one statement added, changed, taken out or split; other rows stay as they are.

A step works on rows of the file, so comments, blanks and line ends of untouched rows are kept to the byte.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from difflib import SequenceMatcher

from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.floor.units import parse_length
from lineproof.job.statements import Basis, Go, Head, Measure, NoJoint, Spot, Statement
from lineproof.job.walk_cells import FORMS, How, text_of
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_read import hidden_mark, read_statement
from lineproof.job.walk_words import fit, nearest, split_comment
from lineproof.job.walk_write import print_statement

_BLANKS = " \t\u00a0"
_ROW = re.compile(r"[^\r\n]*(?:\r\n|\r|\n)|[^\r\n]+\Z")
_NO_JOINT = re.compile(r"\s*no\s+joint\b", re.IGNORECASE)
_POINT = ("east", "north", "up")
HAIR = 1e-9
"""Lengths closer than this are one length. [m]"""


@dataclass(frozen=True, slots=True)
class Add:
    """Put a statement below row ``after`` (0: on top)."""

    after: int
    said: str


@dataclass(frozen=True, slots=True)
class Change:
    """Say the statement of a row anew; its comment stays unless a new one is said."""

    row: int
    said: str


@dataclass(frozen=True, slots=True)
class Delete:
    """Take a row out; a leg takes its "no joint" stretches with it."""

    row: int


@dataclass(frozen=True, slots=True)
class Split:
    """Make two legs of one at a length from where it begins, with a statement between them if said."""

    row: int
    at: str
    between: str = ""


Step = Add | Change | Delete | Split


@dataclass(frozen=True, slots=True)
class Stepped:
    """A text after a step.

    Parameters
    ----------
    text : str
        The whole file.
    row : int
        Where the walk stands now, from 1; 0 on top. [-]
    told : str
        What was done beyond the step itself, in words; empty if nothing was.
    """

    text: str
    row: int
    told: str = ""


def rows_of(text: str) -> list[str]:
    """Rows of a text with their line ends.

    Parameters
    ----------
    text : str

    Returns
    -------
    list of str
        Joined they are the text.
    """
    return _ROW.findall(text)


def line_end(text: str) -> str:
    """The line end that most rows of a text have; a plain line feed if there is none.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
    """
    crlf = text.count("\r\n")
    plain = text.count("\n") - crlf
    old = text.count("\r") - crlf
    return "\r\n" if crlf > max(plain, old) else "\r" if old > max(plain, crlf) else "\n"


def said_with(word: str, cells: Mapping[str, str]) -> str:
    """A statement from its word and its cells, as typed.

    Parameters
    ----------
    word : str
        Such as ``go`` or ``tee``.
    cells : mapping
        Column to what was typed; empty ones are left out.

    Returns
    -------
    str
        The statement; not read yet.

    Raises
    ------
    BadInput
        There is no such word, or it has no such cell.
    """
    if word not in FORMS:
        near = nearest(fit(word), FORMS)
        raise BadInput(
            f'"{fit(word)}" is no statement' + (f" (did you mean {near}?)" if near else ""),
            allowed=", ".join(FORMS), next="choose one of these",
        )  # fmt: skip
    parts = {part.column: part for part in FORMS[word]}
    ready: dict[str, str] = {}
    for column, value in cells.items():
        if not value.strip():
            continue
        if column not in parts:
            raise BadInput(
                f'"{word}" has no use for "{fit(column)}"', allowed=", ".join(parts) or "nothing",
                next="leave it empty",
            )  # fmt: skip
        named = parts[column].how in (How.NAME, How.TEXT, How.END_NAME)
        ready[column] = value if named else value.strip()
    missing = [c for c in _POINT if c in parts and c not in ready]
    if missing and len(missing) < len(_POINT):
        raise BadInput(
            f"the point has no {missing[0]}", allowed="east, north and up, or none", next="fill it in"
        )
    return text_of(word, ready)[0]


def stepped(text: str, step: Step) -> Stepped:
    """The text after a step.

    Parameters
    ----------
    text : str
        The whole file.
    step : Add, Change, Delete or Split

    Returns
    -------
    Stepped

    Raises
    ------
    BadInput
        The statement cannot be read (column from 1 in what was said), or there is no such row.
    """
    rows = rows_of(text)
    end = line_end(text)
    match step:
        case Add(after=after, said=said):
            _there(rows, after, least=0)
            body = _readable(said)
            indent = _indent(rows, after)
            return _joined([*_ended(rows[:after], end), indent + body + end, *rows[after:]], after + 1)
        case Change(row=row, said=said):
            _there(rows, row)
            return _joined(_with_row(rows, row, _readable(said)), row)
        case Delete(row=row):
            _there(rows, row)
            with_it = _stretches(rows, row) if isinstance(_statement(rows[row - 1]), Go) else []
            gone = {row, *with_it}
            kept = [r for n, r in enumerate(rows, 1) if n not in gone]
            told = f'{len(with_it)} "no joint" of that leg went with it' if with_it else ""
            return _joined(kept, max(row - 1, 0), told)
        case Split():
            return _split(rows, step, end)


def _joined(rows: Iterable[str], row: int, told: str = "") -> Stepped:
    return Stepped("".join(rows), row, told)


def _there(rows: list[str], row: int, least: int = 1) -> None:
    if not least <= row <= len(rows):
        raise BadInput(
            f"the walk has no row {row}", allowed=f"{least} to {len(rows)}", next="choose a row of the list"
        )


def _readable(said: str) -> str:
    """What was said, read once so that a slip is told before anything changes."""
    wrong = hidden_mark(said)
    if wrong is not None:
        raise wrong
    body = said.strip(_BLANKS)
    part, comment = split_comment(body)
    if part.strip(_BLANKS):
        read_statement(part.strip(_BLANKS))
    elif comment is None:
        raise BadInput("nothing was said", allowed="a statement of the walk", next="type one")
    return body


def _ended(rows: list[str], end: str) -> list[str]:
    """Rows of which the last has a line end, so that another can follow."""
    if rows and not rows[-1].endswith(("\r", "\n")):
        return [*rows[:-1], rows[-1] + end]
    return rows


def _cut(row: str) -> tuple[str, str, str, str]:
    """A row as indent, statement, comment with the blanks before it, line end."""
    body = row.rstrip("\r\n")
    said, comment = split_comment(body)
    indent = said[: len(said) - len(said.lstrip(_BLANKS))]
    core = said.strip(_BLANKS)
    return indent, core, body[len(indent) + len(core) :] if comment is not None else "", row[len(body) :]


def _indent(rows: list[str], after: int) -> str:
    """The indent of the row that a new one follows; a byte-order mark is none."""
    return _cut(rows[after - 1])[0] if after else ""


def _with_row(rows: list[str], row: int, body: str) -> list[str]:
    mark = "\ufeff" if rows[row - 1].startswith("\ufeff") else ""
    indent, _, comment, end = _cut(rows[row - 1].removeprefix("\ufeff"))
    if split_comment(body)[1] is not None:
        comment = ""
    return [*rows[: row - 1], f"{mark}{indent}{body}{comment}{end}", *rows[row:]]


def _statement(row: str) -> Statement | None:
    """The statement of a row; None for a remark and for one that cannot be read."""
    _, core, _, _ = _cut(row.removeprefix("\ufeff"))
    if not core:
        return None
    try:
        return read_statement(core).statement(Spot(), "", metric=False)
    except LineproofError:
        return None


def _stretches(rows: list[str], row: int) -> list[int]:
    """Rows of the "no joint" stretches of a leg."""
    found: list[int] = []
    for n in range(row + 1, len(rows) + 1):
        core = _cut(rows[n - 1])[1]
        if _NO_JOINT.match(core):
            found.append(n)
        elif isinstance(_statement(rows[n - 1]), Go | Head) or core.lower().startswith(("offset", "ends")):
            break
    return found


# ------------------------------------------------------------------ one leg into two


def _split(rows: list[str], step: Split, end: str) -> Stepped:
    _there(rows, step.row)
    leg = _statement(rows[step.row - 1])
    allowed = "a plain leg with one direction and its length, such as go north 10'"
    if (
        not isinstance(leg, Go)
        or len(leg.steps) != 1
        or leg.steps[0].length is None
        or (leg.to_centre, leg.to_station, leg.to_invert) != (None, None, None)
    ):
        raise BadInput(
            f"row {step.row} is no leg that can be split", allowed=allowed,
            next="change this row to its first part and add the second below it",
        )  # fmt: skip
    at, whole = parse_length(step.at), leg.steps[0].length
    if not (HAIR < at < whole - HAIR):
        numbers = Numbers(metric=_metric(rows, step.row))
        raise BadInput(
            f"{fit(step.at)} is not inside the leg", allowed=f"above 0 and below {numbers.length(whole)}",
            next="give the length from where the leg begins",
        )  # fmt: skip
    numbers = Numbers(metric=_metric(rows, step.row))
    first = replace(leg, steps=(replace(leg.steps[0], length=at),), end_measure=Measure.CENTRE)
    rest_of = replace(leg.steps[0], length=round(whole - at, 10))
    second = replace(leg, steps=(rest_of,), start_measure=Measure.CENTRE, lot="")
    between = [_readable(step.between)] if step.between.strip() else []
    stretches = _stretches(rows, step.row)
    flat = math.hypot(1.0, leg.slope) if leg.slope is not None and leg.basis is Basis.PLAN else 1.0
    begun: list[str] = []
    after: list[str] = []
    for n in stretches:
        for side, part in zip((begun, after), _cut_stretch(rows[n - 1], at * flat), strict=True):
            if part is not None:
                side.append(_said_again(rows[n - 1], print_statement(part, numbers), end))
    upper = _with_row(rows, step.row, print_statement(first, numbers))[step.row - 1]
    indent = _cut(rows[step.row - 1].removeprefix("\ufeff"))[0]
    new = [*_ended([upper], end), *begun, *(indent + b + end for b in between)]
    below = len(new)
    new += [indent + print_statement(second, numbers) + end, *after]
    rest = [r for n, r in enumerate(rows, 1) if n > step.row and n not in stretches]
    told = f'{len(stretches)} "no joint" shared out' if stretches else ""
    return _joined([*rows[: step.row - 1], *new, *rest], step.row + below, told)


def _cut_stretch(row: str, at: float) -> tuple[NoJoint | None, NoJoint | None]:
    """What of a stretch stands on the first and on the second of two legs."""
    said = _statement(row)
    if not isinstance(said, NoJoint):
        return None, None
    first = second = None
    if said.start < at - HAIR:
        first = replace(said, end=round(min(said.end, at), 10))
    if said.end > at + HAIR:
        second = replace(said, start=round(max(said.start - at, 0.0), 10), end=round(said.end - at, 10))
    return first, second


def _said_again(row: str, body: str, end: str) -> str:
    indent, _, comment, was = _cut(row)
    return f"{indent}{body}{comment}{was or end}"


def _metric(rows: list[str], row: int) -> bool:
    """Whether the line that a row belongs to has metric sizes."""
    for n in range(row, 0, -1):
        said = _statement(rows[n - 1])
        if isinstance(said, Head):
            return said.size.metric
    return False


# ------------------------------------------------------------------ the same rows in two texts


def same_rows(old: str, new: str) -> dict[int, int]:
    """Rows of one text found again in another; a row said anew is the same row.

    Parameters
    ----------
    old, new : str

    Returns
    -------
    dict
        Row of the old text to row of the new one, both from 1.
    """
    a = [r.rstrip("\r\n") for r in rows_of(old)]
    b = [r.rstrip("\r\n") for r in rows_of(new)]
    found: dict[int, int] = {}
    for tag, i0, i1, j0, j1 in SequenceMatcher(None, a, b, autojunk=False).get_opcodes():
        if tag == "equal" or (tag == "replace" and i1 - i0 == j1 - j0):
            found |= {i + 1: j + 1 for i, j in zip(range(i0, i1), range(j0, j1), strict=True)}
    return found


def with_ends_of(old: str, typed: str) -> str:
    """A text typed into a form, with the line ends of the file it came from.

    Parameters
    ----------
    old : str
        The file.
    typed : str
        What a form sent; forms turn every line end into one of their own.

    Returns
    -------
    str
        Rows found again have their own line ends, new ones that of most rows.

    Raises
    ------
    BadInput
        It is no text of a walk.
    """
    rows = rows_of(old)
    end = line_end(old)
    mark = "\ufeff" if old.startswith("\ufeff") else ""
    before = [r.rstrip("\r\n").removeprefix("\ufeff") for r in rows]
    now = typed.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if now[-1] == "":
        now.pop()
    if any("\x00" in row for row in now):
        raise BadInput("the text holds an unseen mark", next="type it anew", place=Place())
    out = [row + end for row in now]
    for i, j, n in SequenceMatcher(None, before, now, autojunk=False).get_matching_blocks():
        for k in range(n):
            kept = rows[i + k].removeprefix("\ufeff")
            last = j + k == len(now) - 1
            out[j + k] = kept if kept.endswith(("\r", "\n")) or last else kept + end
    return mark + "".join(out)
