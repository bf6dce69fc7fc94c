"""Printing a walk as text that reads back as the same walk."""

from __future__ import annotations

from lineproof.floor.units import Shown
from lineproof.job.statements import Head, Remark, Statement, Walk
from lineproof.job.walk_cells import cells_of, text_of
from lineproof.job.walk_numbers import Numbers
from lineproof.job.walk_read import hidden_mark


def numbers_for(statement: Statement, before: Numbers, shown: Shown | None) -> Numbers:
    """Return how numbers are written from this statement on: by the size of its line unless shown says."""
    if not isinstance(statement, Head):
        return before
    metric = statement.size.metric if shown is None else shown.length == "mm"
    return Numbers(metric=metric, stations_metric=statement.size.metric)


def print_walk(walk: Walk, *, shown: Shown | None = None) -> str:
    """Print a walk in its canonical text.

    Parameters
    ----------
    walk : Walk
        The statements.
    shown : Shown, optional
        Feet and inches or millimetres first; without it a line in NPS sizes has feet and inches,
        a line in d sizes millimetres. A length that they do not hit exactly is written with the
        decimals it takes.

    Returns
    -------
    str
        The text; reading it gives the same statements, values and comments.

    Raises
    ------
    BadInput
        If a name or comment holds a break or an unseen mark, so that it cannot be written.
    """
    numbers = Numbers(metric=shown is not None and shown.length == "mm")
    rows: list[str] = []
    for statement in walk.statements:
        numbers = numbers_for(statement, numbers, shown)
        row = print_statement(statement, numbers)
        _writable(row, walk.file, len(rows) + 1)
        rows.append(row)
    return "".join(row + "\n" for row in rows)


def print_statement(statement: Statement, numbers: Numbers) -> str:
    """Print one statement with its comment, without a line break.

    Parameters
    ----------
    statement : Statement
        Any statement or remark.
    numbers : Numbers
        How its numbers are written.

    Returns
    -------
    str
        Such as ``go north 6'-0"  # to the wall``.
    """
    note = f"# {statement.comment}".rstrip(" \t") if statement.comment else ""
    if isinstance(statement, Remark):
        return note
    text, _ = text_of(*cells_of(statement, numbers))
    return f"{text}  {note}" if note else text


def _writable(row: str, file: str, line: int) -> None:
    wrong = hidden_mark(row)
    if wrong is not None:
        raise wrong.at(file=file, line=line)
