"""Many joints in few words: ``B-201 J14 to J22, J31; B-202 J3``."""

from __future__ import annotations

import re
from collections.abc import Iterable

LEAST = 100
"""With at least so much room the first range is told, however long its names are. [-]"""
_NUMBERED = re.compile(r"(?P<line>.*)/(?P<letters>[A-Za-z]+)(?P<number>\d{1,9})")


def by_line(names: Iterable[str], to: str = "to") -> list[tuple[str, list[tuple[str, int]]]]:
    """Joints by their line, neighbours in number told by the first and the last.

    Parameters
    ----------
    names : iterable of str
        Joint ids.
    to : str
        The word between first and last.

    Returns
    -------
    list of tuple
        Line, then words and how many joints they stand for, in order; a name without a number stands by
        itself.

    Examples
    --------
    >>> by_line(["B-201/J14", "B-201/J16", "B-201/J15", "B-201/J31", "B-2/J1"])
    [('B-2', [('J1', 1)]), ('B-201', [('J14 to J16', 3), ('J31', 1)])]
    """
    lines: dict[str, list[tuple[str, int, str]]] = {}
    for name in names:
        found = _NUMBERED.fullmatch(name)
        if found:
            lines.setdefault(found["line"], []).append(
                (found["letters"], int(found["number"]), found["number"])
            )
        else:
            line, _, rest = name.rpartition("/")
            lines.setdefault(line, []).append((rest, -1, ""))
    told = []
    for line in sorted(lines, key=_natural):
        rows: list[list[tuple[str, int, str]]] = []
        for one in sorted(lines[line]):
            last = rows[-1][-1] if rows else None
            if last is not None and one[1] >= 0 and (one[0], one[1] - 1) == last[:2]:
                rows[-1].append(one)
            else:
                rows.append([one])
        told.append((line, [(_row(row, to), len(row)) for row in rows]))
    return told


def _row(row: list[tuple[str, int, str]], to: str) -> str:
    first, last = f"{row[0][0]}{row[0][2]}", f"{row[-1][0]}{row[-1][2]}"
    if len(row) == 1:
        return first
    return f"{first}, {last}" if len(row) == 2 else f"{first} {to} {last}"


def _natural(text: str) -> list[tuple[int, int, str]]:
    return [(0, int(p), "") if p.isdigit() else (1, 0, p) for p in re.findall(r"\d+|\D+", text)]


def ranges(names: Iterable[str], to: str = "to") -> str:
    """The same as one text.

    Parameters
    ----------
    names : iterable of str
    to : str

    Returns
    -------
    str

    Examples
    --------
    >>> ranges(["B-201/J14", "B-201/J16", "B-201/J15", "B-201/J31", "B-2/J1"])
    'B-2 J1; B-201 J14 to J16, J31'
    """
    return "; ".join(f"{line} {', '.join(w for w, _ in rows)}".strip() for line, rows in by_line(names, to))


def fitting(names: Iterable[str], room: int, to: str = "to") -> tuple[str, int]:
    """As many joints in words as there is room for, whole ranges only.

    Parameters
    ----------
    names : iterable of str
    room : int
        Letters. [-]
    to : str

    Returns
    -------
    tuple of str and int
        The text, and how many joints it leaves out. [-]

    Examples
    --------
    >>> fitting(["A/J1", "A/J2", "A/J3", "B/J7"], 12)
    ('A J1 to J3', 1)
    """
    text, left = "", 0
    for line, rows in by_line(names, to):
        for n, (row, count) in enumerate(rows):
            more = f"{'; ' if text else ''}{line} {row}".rstrip() if n == 0 else f", {row}"
            if left or (len(text) + len(more) > room and (text or room < LEAST)):
                left += count
            else:
                text += more
    return text, left
