"""Where a key stands in the text of a TOML file.

The standard library reads TOML but forgets where things stood. This scanner reads text that has already been
read without fault, and notes the place of every key and list entry. It is only run when an error must say
file and line.
"""

from __future__ import annotations

import contextlib
import re
import tomllib

Path = tuple[str | int, ...]

_BLANK = re.compile(r"[ \t]*")
_BETWEEN = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BARE_KEY = re.compile(r"[A-Za-z0-9_-]+")
_BASIC = re.compile(r'"(?:[^"\\\n]|\\.)*"')
_LITERAL = re.compile(r"'[^'\n]*'")
_LONG_BASIC = re.compile(r'"""(?:[^\\]|\\.)*?"{3,5}(?!")', re.DOTALL)
_LONG_LITERAL = re.compile(r"'''.*?'{3,5}(?!')", re.DOTALL)
_PLAIN = re.compile(r"[^,\]}#\n]*")


class _Lost(Exception):
    """The text is not what the scanner expected; what was found so far stands."""


class _Scan:
    def __init__(self, text: str) -> None:
        self.text = text
        self.at = 0
        self.found: dict[Path, int] = {(): 0}
        self.last: dict[Path, int] = {}  # list of tables -> index of its newest table

    def take(self, pattern: re.Pattern[str]) -> str:
        hit = pattern.match(self.text, self.at)
        if hit is None:
            raise _Lost
        self.at = hit.end()
        return hit.group()

    def next_is(self, mark: str) -> bool:
        return self.text.startswith(mark, self.at)

    def eat(self, mark: str) -> None:
        if not self.next_is(mark):
            raise _Lost
        self.at += len(mark)

    def key(self) -> tuple[str, ...]:
        parts: list[str] = []
        while True:
            self.take(_BLANK)
            if self.next_is('"'):
                parts.append(str(tomllib.loads(f"k = {self.take(_BASIC)}")["k"]))
            elif self.next_is("'"):
                parts.append(self.take(_LITERAL)[1:-1])
            else:
                parts.append(self.take(_BARE_KEY))
            self.take(_BLANK)
            if not self.next_is("."):
                return tuple(parts)
            self.at += 1

    def note(self, path: Path, at: int) -> None:
        for i in range(1, len(path) + 1):
            self.found.setdefault(path[:i], at)

    def pair(self, table: Path) -> None:
        at = self.at
        path = table + self.key()
        self.note(path, at)
        self.eat("=")
        self.take(_BLANK)
        self.value(path)

    def value(self, path: Path) -> None:
        if self.next_is('"""'):
            self.take(_LONG_BASIC)
        elif self.next_is("'''"):
            self.take(_LONG_LITERAL)
        elif self.next_is('"'):
            self.take(_BASIC)
        elif self.next_is("'"):
            self.take(_LITERAL)
        elif self.next_is("["):
            self.entries(path)
        elif self.next_is("{"):
            self.inline(path)
        else:
            self.take(_PLAIN)

    def entries(self, path: Path) -> None:
        self.eat("[")
        index = 0
        self.take(_BETWEEN)
        while not self.next_is("]"):
            entry = (*path, index)
            self.note(entry, self.at)
            self.value(entry)
            index += 1
            self.take(_BETWEEN)
            if self.next_is(","):
                self.at += 1
                self.take(_BETWEEN)
        self.at += 1

    def inline(self, path: Path) -> None:
        self.eat("{")
        self.take(_BETWEEN)
        while not self.next_is("}"):
            self.pair(path)
            self.take(_BETWEEN)
            if self.next_is(","):
                self.at += 1
                self.take(_BETWEEN)
        self.at += 1

    def header(self) -> Path:
        at = self.at
        many = self.next_is("[[")
        self.eat("[[" if many else "[")
        keys = self.key()
        self.eat("]]" if many else "]")
        path: Path = ()
        for i, key in enumerate(keys):
            path = (*path, key)
            if many and i == len(keys) - 1:
                self.note(path, at)
                self.last[path] = self.last.get(path, -1) + 1
            if path in self.last:
                path = (*path, self.last[path])
        self.note(path, at)
        return path

    def run(self) -> None:
        table: Path = ()
        while True:
            self.take(_BETWEEN)
            if self.at >= len(self.text):
                return
            if self.next_is("["):
                table = self.header()
            else:
                self.pair(table)


def place_of(text: str, path: Path) -> tuple[int, int]:
    r"""Line and column, from 1, where a key stands, or the nearest table above it that is there.

    Parameters
    ----------
    text : str
        TOML that was read without fault.
    path : tuple
        Keys and list indices, such as ``("cans", 2, "lot")``.

    Returns
    -------
    tuple of int
        Line and column.

    Examples
    --------
    >>> place_of('[[cans]]\nid = "a"\n[[cans]]\nid = "b"', ("cans", 1, "id"))
    (4, 1)
    """
    return place_all(text, [path])[0]


def place_all(text: str, paths: list[Path]) -> list[tuple[int, int]]:
    """Line and column of each path, as :func:`place_of`, reading the text once."""
    plain = text.replace("\r\n", "\n")
    scan = _Scan(plain)
    # Where the scanner loses its way, what it found so far stands: a table above is near enough.
    with contextlib.suppress(_Lost, RecursionError, tomllib.TOMLDecodeError):
        scan.run()
    return [_line_and_column(plain, _nearest(scan.found, path)) for path in paths]


def _nearest(found: dict[Path, int], path: Path) -> int:
    while path not in found:
        path = path[:-1]
    return found[path]


def _line_and_column(text: str, at: int) -> tuple[int, int]:
    return text.count("\n", 0, at) + 1, at - (text.rfind("\n", 0, at) + 1) + 1
