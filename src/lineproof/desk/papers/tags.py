"""Tags: a joint's name as a QR code, text and picture."""

from __future__ import annotations

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
    path = []
    for y, row in enumerate(rows):
        x = 0
        while x < len(row):
            if row[x]:
                end = x
                while end < len(row) and row[end]:
                    end += 1
                path.append(f"M{x} {y}h{end - x}v1h-{end - x}z")
                x = end
            else:
                x += 1
    return _svg(len(rows), "".join(path))


@cache
def _frame(width: int) -> str:
    return f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="-4 -4 {width + 8} {width + 8}">'


def _svg(width: int, path: str) -> str:
    return f'{_frame(width)}<path d="{path}" fill="#000" shape-rendering="crispEdges"/></svg>'
