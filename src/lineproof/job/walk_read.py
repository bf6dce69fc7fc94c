"""Reading a walk: text to statements, line by line, with errors that point at line and column."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache, lru_cache
from typing import TYPE_CHECKING

from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.job.statements import Remark, Spot, Statement, Walk
from lineproof.job.walk_order import Order
from lineproof.job.walk_values import Draft, slip
from lineproof.job.walk_words import (
    FIRST_HINTS,
    WAY_HINTS,
    expected,
    fit,
    key_words,
    nearest,
    plain_marks,
    split_comment,
)

if TYPE_CHECKING:
    from lark import Lark, UnexpectedToken

LONGEST_LINE = 2_000  # characters; a longer line is a damaged file
LONGEST_GIVEN = 200  # characters of what was found, so that an error stays a sentence
MOST_LINES = 200_000
MOST_ERRORS = 100  # after that many the file is not a walk
# Unseen marks that could show a reader another text than the one that is read.
_HIDDEN = re.compile("[\x00-\x08\x0a-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
_INDENT = re.compile(r"[ \t]*")
_WORD = re.compile(r"""[^\s,"]+""")


@cache
def _parser() -> Lark:
    # Read late: the parser's library takes longer to load than a short answer takes to give.
    from lineproof.job.walk_build import Builder
    from lineproof.job.walk_lexer import grammar

    return grammar(Builder())


@cache
def _words() -> Mapping[str, str]:
    from lark.lexer import PatternStr

    return {t.name: t.pattern.value for t in _parser().terminals if isinstance(t.pattern, PatternStr)}


@lru_cache(maxsize=8192)
def read_statement(body: str) -> Draft:
    """Read one statement without indent or comment.

    Parameters
    ----------
    body : str
        Such as ``go north 6'-0"``.

    Returns
    -------
    Draft
        The statement without its place and comment.

    Raises
    ------
    BadInput
        With the column of the fault, counted from 1 in ``body``.
    """
    from lark import UnexpectedToken

    try:
        draft = _parser().parse(plain_marks(body))
    except UnexpectedToken as fault:
        raise _explain(body, fault) from None
    return draft  # type: ignore[return-value]  # the builder turns every tree into a draft


def _explain(body: str, fault: UnexpectedToken) -> BadInput:
    """Turn the parser's complaint into the trade's words."""
    from lineproof.job.walk_lexer import tokens

    token = fault.token
    position = len(body.rstrip()) if token.type == "$END" else token.start_pos or 0
    earlier = [t for t in tokens(plain_marks(body), _words()) if (t.start_pos or 0) < position]
    before = earlier[-1].type if earlier else ""
    phrase, among = expected(fault.accepts, _words(), before)
    if token.type == "$END":
        return slip(position, "the statement stops too early", allowed=phrase, next="add what is missing")
    if token.type == "UNCLOSED":
        next_step = 'add the second "'
        return slip(position, "the quote that opens here is not closed", allowed='"text"', next=next_step)
    found = _WORD.match(body, position)
    word = fit(found.group() if found else str(token))
    lower = word.lower()
    hint = (FIRST_HINTS if not before else WAY_HINTS if "north" in among else {}).get(lower, "")
    if hint:
        return slip(position, f'"{word}" is not a word of the walk', allowed=phrase, next=hint)
    if near := nearest(word, among):
        given = f'"{word}" is not understood here (did you mean {near}?)'
        return slip(position, given, allowed=phrase, next=f"write {near}, if that is meant")
    next_step = "write one statement a line" if "$END" in fault.accepts else "write one of these here"
    if token.type in ("NUMBER", "CHAINAGE", "RATIO", "DSIZE", "QUOTED"):
        given = f"{fit(str(token).strip())} has no place here"
        if before == "GO":
            next_step = "write the direction first: go north 6'"
    elif token.type == "COMMA":
        given = "a comma has no place here"
        if before == "NUMBER" and body[position + 1 : position + 2].isdigit():
            next_step = "write decimals with a point (3.2)"
    elif lower in key_words():
        given = f'"{word}" has no place here'
    else:
        given = f'"{word}" is not understood here'
        if before == "NUMBER" and token.type == "WORD" and earlier[-1].isdecimal():
            next_step = "write one of the units mm, cm, m, in, ft, or a mark, straight after the number"
    if "a name" in phrase and token.type in ("WORD", *_words()):
        next_step = f'put it in quotes if it is a name: "{word}"'
    return slip(position, given, allowed=phrase, next=next_step)


class Reader:
    """Takes the rows of one file, keeps the statements and the errors.

    Parameters
    ----------
    file : str
        Name of the file, for places.
    every : bool
        Collect all errors instead of raising the first.
    """

    def __init__(self, file: str, *, every: bool) -> None:
        self.file = file
        self.every = every
        self.statements: list[Statement] = []
        self.errors: list[LineproofError] = []
        self.order = Order()

    def refuse(self, error: LineproofError, line: int, column: int = 0) -> None:
        """Raise the error with its place, or keep it."""
        error.place = Place(self.file, line, column or error.place.column or 1)
        error.given = fit(error.given, LONGEST_GIVEN)
        if not self.every:
            raise error
        self.errors.append(error)
        if len(self.errors) >= MOST_ERRORS:
            last = BadInput(
                f"more than {MOST_ERRORS - 1} errors; the rest was not read", next="mend these first"
            )
            last.place = Place(self.file, line, 1)
            raise last

    def take(self, body: str, column: int, line: int, comment: str) -> None:
        """Read one statement that begins at a column (from 1) of a line."""
        try:
            draft = read_statement(body)
            statement = draft.statement(Spot(line, column), comment, self.order.metric)
        except LineproofError as error:
            self.order.skip(body)
            self.refuse(error, line, column + max(error.place.column, 1) - 1)
            return
        self.keep(statement, draft, column, line)

    def keep(self, statement: Statement, draft: Draft, column: int, line: int) -> None:
        """Check where a statement stands among the others, and keep it."""
        try:
            self.order.check(statement, draft.marks)
        except LineproofError as error:
            self.refuse(error, error.place.line or line, column + max(error.place.column, 1) - 1)
            return
        self.statements.append(statement)

    def remark(self, line: int, column: int, comment: str) -> None:
        """Keep a line without a statement."""
        self.statements.append(Remark(spot=Spot(line, column), comment=comment))

    def finish(self) -> Walk:
        """Check what the end of the file leaves open."""
        for error in self.order.finish():
            self.refuse(error, error.place.line, error.place.column)
        return Walk(self.file, tuple(self.statements))


def _rows(text: str, file: str) -> list[str]:
    rows = text.removeprefix("\ufeff").replace("\r\n", "\n").replace("\r", "\n").split("\n")
    if rows[-1] == "":
        rows.pop()
    if len(rows) > MOST_LINES:
        raise BadInput(
            f"the file has {len(rows):,} lines",
            allowed=f"up to {MOST_LINES:,}",
            next="split it, one file a line of pipe",
            place=Place(file, MOST_LINES + 1, 1),
        )
    return rows


def hidden_mark(text: str) -> LineproofError | None:
    """Return an error for a row that is too long or holds an unseen control mark."""
    if len(text) > LONGEST_LINE:
        return slip(
            LONGEST_LINE,
            f"the line has {len(text):,} characters",
            allowed=f"up to {LONGEST_LINE:,}",
            next="write one statement a line",
        )
    found = _HIDDEN.search(text)
    if found is None:
        return None
    name = (
        "a line break" if found.group() == "\n" else unicodedata.name(found.group(), "a control mark").lower()
    )
    return slip(
        found.start(),
        f"the line holds {name} (U+{ord(found.group()):04X}), which cannot be seen",
        allowed="letters, figures, marks, blanks and tabs",
        next="type the line anew",
    )


def _read(text: str, file: str, *, every: bool) -> tuple[Walk | None, list[LineproofError]]:
    reader = Reader(file, every=every)
    try:
        for line, row in enumerate(_rows(text, file), start=1):
            if wrong := hidden_mark(row):
                reader.order.skip(row[:LONGEST_LINE])
                reader.refuse(wrong, line)
                continue
            said, comment = split_comment(row)
            note = (comment or "").removeprefix(" ").rstrip(" \t")
            body = said.strip(" \t\u00a0")
            indent = len(said) - len(said.lstrip(" \t\u00a0"))
            if body:
                reader.take(body, indent + 1, line, note)
            else:
                reader.remark(line, indent + 1, note)
        walk = reader.finish()
    except LineproofError as error:
        if not every:
            raise
        return None, [*reader.errors, error]
    return (walk if not reader.errors else None), reader.errors


def read_walk(text: str, file: str) -> Walk:
    """Read a walk.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Its name, for the errors.

    Returns
    -------
    Walk
        Every line as a statement, in order; comments and empty lines are kept.

    Raises
    ------
    LineproofError
        At the first fault, with file, line and column, what was expected and the nearest valid word.
    """
    walk, _ = _read(text, file, every=False)
    return walk or Walk(file, ())


def read_walk_all(text: str, file: str) -> tuple[Walk | None, list[LineproofError]]:
    """Read a walk and gather all its errors.

    Parameters
    ----------
    text : str
        The whole file.
    file : str
        Its name, for the errors.

    Returns
    -------
    tuple
        The walk (None if there is any error) and the errors in order of lines.
    """
    return _read(text, file, every=True)


def read_walk_bytes(data: bytes, file: str) -> Walk:
    """Read a walk from the bytes of its file.

    Parameters
    ----------
    data : bytes
        UTF-8, with or without a byte-order mark.
    file : str
        Its name, for the errors.

    Returns
    -------
    Walk
        As :func:`read_walk`.

    Raises
    ------
    LineproofError
        If the bytes are not UTF-8 text, at the line and column of the first wrong byte; or as
        :func:`read_walk`.
    """
    return read_walk(decode(data, file), file)


def decode(data: bytes, file: str) -> str:
    """Return the text of UTF-8 bytes, or say where they are none."""
    if data[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise BadInput(
            "the file is saved as UTF-16",
            allowed="UTF-8 text",
            next="save it again as UTF-8",
            place=Place(file, 1, 1),
        )
    try:
        return data.decode("utf-8")
    except UnicodeDecodeError as fault:
        good = data[: fault.start].decode("utf-8").replace("\r\n", "\n").replace("\r", "\n")
        line, column = good.count("\n") + 1, len(good) - good.rfind("\n")
        raise BadInput(
            f"the byte 0x{data[fault.start]:02X} is not UTF-8 text",
            allowed="UTF-8 text",
            next="save the file as UTF-8, or type the letter anew",
            place=Place(file, line, column),
        ) from None
