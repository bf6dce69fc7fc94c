"""Tags: a joint's name as a QR code, text and picture."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache

import segno

VERSION = 3
"""Smallest code that carries our longest usual name at level M: 42 bytes."""


def tag_text(job: str, joint: str, issue: str) -> str:
    """What a tag says: ``LP:<job id>:<joint id>:<issue>``; an issue that is not there is 0.

    Examples
    --------
    >>> tag_text("BRK", "B-201/J14", "2")
    'LP:BRK:B-201/J14:2'
    """
    return f"LP:{job}:{joint}:{issue or '0'}"


def is_named(joint: str) -> bool:
    """Whether a joint has its number: joints of split legs get theirs when the pack is issued."""
    return bool(joint) and "(" not in joint


def tag_svg(text: str) -> str:
    """The code as SVG: one path, one unit a module, a quiet zone of four.

    Parameters
    ----------
    text : str

    Returns
    -------
    str
        SVG text.
    """
    # One fixed mask: choosing the prettiest of eight takes most of the time and no reader needs it.
    size = len(text.encode())
    version = VERSION if size <= 42 else None
    code = segno.make_qr(text, error="m", version=version, mask=0, boost_error=False)
    rows = list(code.matrix)
    return f'{_frame(len(rows))}<path d="{"".join(_run(y, row) for y, row in enumerate(rows))}"/></svg>'


def _run(y: int, row: Sequence[int]) -> str:
    """One row of modules as strokes, left to right."""
    path = [f"M0 {y}.5"]
    skip = length = 0
    for dark in (*row, 0):
        if dark:
            length += 1
        elif length:
            path.append(f"m{skip} 0h{length}" if skip else f"h{length}")
            skip, length = 1, 0
        else:
            skip += 1
    return "".join(path)


@cache
def _frame(width: int) -> str:
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-4 -4 {width + 8} {width + 8}" stroke="#000" '
        'stroke-width="1">'
    )
