"""The words of the walk: names and comments, and saying in the trade's words what was expected."""

from __future__ import annotations

import difflib
import re
from collections.abc import Iterable, Mapping
from functools import cache
from importlib import resources

# Primes, curly quotes, dashes and hard spaces that pocket computers put in for the plain marks. One for one,
# so that columns stay true.
PLAIN_MARKS = str.maketrans("’‘′“”″−–‑\u00a0\u202f\u2009×", "'''\"\"\"---   x")

_BARE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_./+:-]*\Z")
_BODY = re.compile(r'(?:[^"#]+|(?<=[\d.])"|"(?:[^"]|"")*(?:"|\Z))*')


def split_comment(text: str) -> tuple[str, str | None]:
    """Cut one line into what it says and its comment (None if there is no ``#``).

    A ``#`` inside quotes is text; a ``"`` straight after a digit is an inch mark.
    """
    if "#" not in text:
        return text, None
    found = _BODY.match(text)
    cut = found.end() if found else 0
    return (text[:cut], text[cut + 1 :]) if cut < len(text) else (text, None)


def plain_marks(body: str) -> str:
    """Typographic primes, quotes and dashes as plain ones, outside plain quotes. Same length."""
    if body.isascii():
        return body
    parts: list[str] = []
    done = 0
    for found in re.finditer(r'(?<![\d.])"(?:[^"]|"")*"', body):
        parts += [body[done : found.start()].translate(PLAIN_MARKS), found.group()]
        done = found.end()
    return "".join([*parts, body[done:].translate(PLAIN_MARKS)])


@cache
def key_words() -> frozenset[str]:
    """Every key word of the walk, lower case; a name that is one of them stands in quotes."""
    text = resources.files("lineproof.job").joinpath("walk.lark").read_text("utf-8")
    code = "\n".join(row for row in text.splitlines() if not row.startswith("//"))
    return frozenset(re.findall(r'"([a-z][a-z-]*)"', code))


def quoted(name: str) -> str:
    """Return a name in quotes."""
    return '"' + name.replace('"', '""') + '"'


def bare_or_quoted(name: str) -> str:
    """Return a name as it is if it can stand bare, else in quotes."""
    return name if _BARE.match(name) and name.lower() not in key_words() else quoted(name)


# ------------------------------------------------------------------ what was expected, in the trade's words
WAYS = ("north", "south", "east", "west", "up", "down")
LENGTH = "a length such as 12'-6 1/2\" or 3.2 m"
SIZE = "a size such as 12in or d315"
STATEMENTS = (
    "drawing", "line", "starts", "go", "offset", "no joint", "put", "tee", "saddle", "reduce",
    "union", "flanges", "coupling", "repair coupling", "stub and ring", "thread", "expansion joint",
    "bells", "spool", "ends",
)  # fmt: skip
_NAMES = {
    "LINE": "the name of the line, such as B-201",
    "DRAWING": "the name of the drawing, such as M-204",
    "REV": "the revision, such as 3",
    "PIPE": "the material (pvc or cpvc) and the wall, such as sch80 or sdr26",
    "OD": "the family of outside diameters (ips, irrigation, cast-iron, metric)",
    "FOR": 'what the line is for, such as "backwash"',
    "BRANCH": "the name of the branch, such as B-201a",
    "LOT": "a lot, such as E12-3",
    "PUT": 'the tag of a part in parts.csv, such as "V-7"',
    "AS": "a name for the branch, such as B-201a",
    "SPOOL": 'the name of the spool, such as "TD"',
}
_PHRASES = {
    "at": "at", "test": "test cap, test blind", "may": "may unbolt", "in": "in plan", "stub": "stub and ring",
    "no": "no joint", "expansion": "expansion joint", "drop-out": "drop-out union",
    "repair": "repair coupling", "with": "with 45", "eccentric": "eccentric flat top", "as": "as NAME",
    "lot": "lot NAME", "reduce": "reduce to",
}  # fmt: skip

# Words that people begin a statement with where the walk has another one, and what to write.
FIRST_HINTS: Mapping[str, str] = {
    **dict.fromkeys(
        ("elbow", "ell", "el", "bend", "turn", "90", "45"),
        'leave it out: the next "go" in another direction makes the elbow',
    ),
    **dict.fromkeys(
        ("valve", "gauge", "strainer", "meter", "check"), 'write put "TAG" for a part of parts.csv'
    ),
    **dict.fromkeys(("slip", "slider", "slip-coupling"), 'write "repair coupling"'),
    **dict.fromkeys(("reducer", "increase", "swage"), 'write "reduce to" and the new size'),
    "flange": 'write "flanges" for a pair in the line, "ends at flange" for an end',
    **dict.fromkeys(("cap", "blind", "plug"), 'write "ends at cap", "ends at blind" or "ends at test cap"'),
    **dict.fromkeys(
        ("sleeve", "nojoint"), 'write "no joint" with the stretch, such as no joint 4\' to 6\'-6"'
    ),
    **dict.fromkeys(("begin", "begins", "start", "from"), 'write "starts at"'),
    **dict.fromkeys(("finish", "stop", "end", "finishes"), 'write "ends at"'),
    **dict.fromkeys(("branch", "outlet"), 'write "tee west 6in as NAME" or "saddle west 2in as NAME"'),
    "roll": "write the legs of a rolling offset in one go: go north 10' west 6' up 8'",
}
# The same where a direction is wanted.
WAY_HINTS: Mapping[str, str] = {
    "n": "write the direction in full: north",
    "s": "write the direction in full: south",
    "e": "write the direction in full: east",
    "w": "write the direction in full: west",
    **dict.fromkeys(
        ("northwest", "northeast", "southwest", "southeast", "nw", "ne", "sw", "se"),
        "write two directions with a length each, such as north 5' west 5'",
    ),
    **dict.fromkeys(
        ("left", "right", "ahead", "forward"), "write a direction of the plant grid, such as north"
    ),
    "rise": 'write "up"',
    "drop": 'write "down"',
}


def expected(accepts: Iterable[str], words: Mapping[str, str], before: str) -> tuple[str, list[str]]:
    """Say what could have stood here.

    Parameters
    ----------
    accepts : iterable of str
        Names of the terminals the parser would take.
    words : mapping
        Terminal name to key word.
    before : str
        Name of the terminal before the fault; empty at the start of a line.

    Returns
    -------
    tuple
        The phrase, and the key words in it (for the nearest-word search).
    """
    names = set(accepts)
    plain = sorted(words[n] for n in names if n in words and words[n] != ",")
    if not before:
        return "a statement: " + ", ".join(STATEMENTS), plain
    parts: list[str] = []
    if set(WAYS) <= set(plain):
        parts.append(f"a direction ({', '.join(WAYS)})")
    if "DSIZE" in names:
        parts.append(SIZE)
    elif "RATIO" in names:
        parts += [LENGTH, "a slope such as 1:100"]
    elif "CHAINAGE" in names:
        parts.append("a station such as 12+40")
    elif "NUMBER" in names:
        parts.append({"WITH": "an angle such as 45", "AT": LENGTH, "COMMA": LENGTH}.get(before, LENGTH))
    if "NAME" in names or "QUOTED" in names:
        parts.append(_NAMES.get(before, 'a name in quotes, such as "pump P-3"'))
    parts += [_PHRASES.get(w, w) for w in plain if w not in WAYS or not parts or "direction" not in parts[0]]
    if "COMMA" in names:
        parts.append("a comma, as in at EAST, NORTH, UP")
    if "$END" in names:
        parts.append("the end of the line")
    return ", ".join(dict.fromkeys(parts)), plain


def nearest(word: str, among: Iterable[str]) -> str:
    """Return the word most like ``word``, or an empty string."""
    found = difflib.get_close_matches(word.lower(), list(among), n=1, cutoff=0.6)
    return found[0] if found else ""


def fit(text: str, most: int = 40) -> str:
    """Return a text fit for one line of an error: unseen marks by their number, cut to a length."""
    if not text.isprintable():
        text = "".join(c if c.isprintable() else f"U+{ord(c):04X}" for c in text)
    return text if len(text) <= most else text[: most - 3] + "..."
