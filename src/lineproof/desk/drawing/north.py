"""The north arrow."""

from __future__ import annotations

from lineproof.desk.drawing.ink import Box, Stroke, Words
from lineproof.desk.drawing.project import North, way_on_paper
from lineproof.desk.drawing.widths import LETTER_MM, text_width


def north_arrow(box: Box, north: North) -> tuple[list[Stroke], list[Words]]:
    """The north arrow with up beside it.

    Parameters
    ----------
    box : Box
        Room for it. [mm]
    north : North

    Returns
    -------
    tuple
        Strokes and words.
    """
    d = way_on_paper((0.0, 1.0, 0.0), north)
    n = (-d[1], d[0])
    middle = box.centre
    tail = (middle[0] - d[0] * 7.5, middle[1] - d[1] * 7.5 + 1.0)
    tip = (middle[0] + d[0] * 5.5, middle[1] + d[1] * 5.5 + 1.0)
    back = (tip[0] - d[0] * 4.0, tip[1] - d[1] * 4.0)
    head = (tip, (back[0] + n[0] * 1.3, back[1] + n[1] * 1.3), (back[0] - n[0] * 1.3, back[1] - n[1] * 1.3))
    w = text_width("N", bold=True)
    at = (tip[0] + d[0] * 2.6 - w / 2, tip[1] + d[1] * 2.6 + LETTER_MM / 2)
    return (
        [
            Stroke((tail, back), "north", thick=True),
            Stroke(head, "north", closed=True, filled=True),
        ],
        [Words(at[0], at[1], "N", "north", bold=True)],
    )
