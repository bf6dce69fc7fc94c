"""What pipe and lines are called, on papers and on the screen."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from lineproof.book.sizes import Size
from lineproof.job.graph import LaidLine

_BRANCH = re.compile(r"[-./ ]?([A-Za-z]{1,2}\d{0,3})")


def pipe_words(size: Size, material: str, series: str) -> str:
    """Pipe as the trade says it.

    Examples
    --------
    >>> from lineproof.book.sizes import Size
    >>> pipe_words(Size("nps", 12), "pvc", "sch80")
    '12 in PVC Sch 80'
    """
    return f"{size.text} {material.upper()} {series_words(series)}".strip()


def series_words(series: str) -> str:
    """Schedule, SDR, series or PN with a space before its number."""
    found = re.fullmatch(r"([a-z]+)([\d.]+)", series)
    if not found:
        return series
    word, number = found.groups()
    return f"{'Sch' if word == 'sch' else word.upper()} {number}"


def line_words(line: LaidLine, branches: Sequence[str] = ()) -> str:
    """A line in one row: name, branches, service, pipe, drawing.

    Parameters
    ----------
    line : LaidLine
    branches : sequence of str
        What its branches add to its name.

    Returns
    -------
    str
        Such as ``"B-201 with branches a to e backwash · 12 in PVC Sch 80 · drawing M-204 rev 3"``.
    """
    name = line.name
    if branches:
        name += f" with {'branch' if len(branches) == 1 else 'branches'} {rows_of(branches)}"
    service = f" {line.service}" if line.service else ""
    rev = f" rev {line.rev}" if line.rev else ""
    drawing = f" · drawing {line.drawing}{rev}" if line.drawing else ""
    return f"{name}{service} · {pipe_words(line.size, line.material, line.series)}{drawing}"


def lines_in_groups(lines: Iterable[LaidLine]) -> list[str]:
    """Lines as rows of text, branches told with the line they belong to.

    Parameters
    ----------
    lines : iterable of LaidLine
        In the order written.

    Returns
    -------
    list of str
        A branch is told with its line if its name is that of the line and a letter or two with a number
        behind, and drawing, pipe and service are the same; the service may say more after a comma.
    """
    heads: list[LaidLine] = []
    branches: dict[str, list[str]] = {}
    for line in sorted(lines, key=lambda one: len(one.name)):
        for head in heads:
            ending = _ending(head, line)
            if ending:
                branches[head.name].append(ending)
                break
        else:
            heads.append(line)
            branches[line.name] = []
    order = {line.name: n for n, line in enumerate(lines)}
    heads.sort(key=lambda head: order[head.name])
    return [line_words(head, sorted(branches[head.name], key=_sorting)) for head in heads]


def _ending(head: LaidLine, line: LaidLine) -> str:
    if not line.name.startswith(head.name) or head.name == line.name:
        return ""
    alike = (head.drawing, head.rev, head.size, head.material, head.series)
    if alike != (line.drawing, line.rev, line.size, line.material, line.series):
        return ""
    if line.service != head.service and not line.service.startswith(f"{head.service},"):
        return ""
    found = _BRANCH.fullmatch(line.name[len(head.name) :])
    return found[1] if found else ""


def rows_of(endings: Sequence[str]) -> str:
    """Letters or numbered letters in words, three or more in a row by their first and last.

    Examples
    --------
    >>> rows_of(["a", "b", "c", "d", "f"]), rows_of(["a", "b"]), rows_of(["t1", "t2", "t3"])
    ('a to d and f', 'a and b', 't1 to t3')
    """
    rows: list[list[str]] = []
    for ending in endings:
        if rows and _next(rows[-1][-1]) == ending:
            rows[-1].append(ending)
        else:
            rows.append([ending])
    told: list[str] = []
    for row in rows:
        told += [f"{row[0]} to {row[-1]}"] if len(row) > 2 else row
    return " and ".join(", ".join(told).rsplit(", ", 1))


def _next(ending: str) -> str:
    letters, number = _parts(ending)
    return f"{letters}{number + 1}" if number else letters[:-1] + chr(ord(letters[-1]) + 1)


def _parts(ending: str) -> tuple[str, int]:
    letters = ending.rstrip("0123456789")
    return letters, int(ending[len(letters) :] or 0)


def _sorting(ending: str) -> tuple[int, str, int]:
    letters, number = _parts(ending)
    return len(letters), letters, number
