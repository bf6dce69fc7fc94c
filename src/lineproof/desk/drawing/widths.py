"""How wide a text is on paper: advance widths of DejaVu Sans, in one place.

Widths were read from the font's own table of advances (DejaVu Sans 2.37, regular and bold). A sign
that is not in the table counts as wide as its widest letter, so that a box is never too small.
"""

from __future__ import annotations

CAP_HEIGHT = 0.729
"""Height of a capital over the size of the type (DejaVu Sans, from its outlines). [1]"""

LETTER_MM = 2.5
"""Height of the capitals on paper: the nominal size 2,5 of ISO 3098 (from memory). [mm]"""

TYPE_MM = LETTER_MM / CAP_HEIGHT
"""Size of the type that gives it. [mm]"""

FAMILY = "DejaVu Sans, sans-serif"

_BELOW = 0.24
"""How far letters such as g and a comma hang below the base line. [1]"""

_FIRST = 32
_REGULAR = (
    318, 401, 460, 838, 636, 950, 780, 275, 390, 390, 500, 838, 318, 361, 318, 337, 636, 636, 636, 636, 636,
    636, 636, 636, 636, 636, 337, 337, 838, 838, 838, 531, 1000, 684, 686, 698, 770, 632, 575, 775, 752, 295,
    295, 656, 557, 863, 748, 787, 603, 787, 695, 635, 611, 732, 684, 989, 685, 611, 685, 390, 337, 390, 838,
    500, 500, 613, 635, 550, 635, 615, 352, 635, 634, 278, 278, 579, 278, 974, 634, 612, 635, 635, 411, 521,
    392, 634, 592, 818, 592, 592, 525, 636, 337, 636, 838,
)  # fmt: skip
_BOLD = (
    348, 456, 521, 838, 696, 1002, 872, 306, 457, 457, 523, 838, 380, 415, 380, 365, 696, 696, 696, 696, 696,
    696, 696, 696, 696, 696, 400, 400, 838, 838, 838, 580, 1000, 774, 762, 734, 830, 683, 683, 821, 837, 372,
    372, 775, 637, 995, 837, 850, 733, 850, 770, 720, 682, 812, 774, 1103, 771, 724, 725, 457, 365, 457, 838,
    500, 500, 675, 716, 593, 716, 678, 435, 716, 712, 343, 343, 665, 343, 1042, 712, 687, 716, 716, 493, 595,
    478, 712, 652, 924, 645, 652, 582, 712, 365, 712, 838,
)  # fmt: skip
_WIDEST = 1103
_DEGREE = 500


def text_width(text: str, *, size: float = TYPE_MM, bold: bool = False) -> float:
    """Width of a line of text.

    Parameters
    ----------
    text : str
    size : float
        Size of the type. [mm]
    bold : bool

    Returns
    -------
    float
        Sum of the advances. [mm]
    """
    table = _BOLD if bold else _REGULAR
    total = 0
    for sign in text:
        n = ord(sign) - _FIRST
        total += table[n] if 0 <= n < len(table) else _DEGREE if sign == "°" else _WIDEST
    return total * size / 1000.0


def text_height(*, size: float = TYPE_MM) -> tuple[float, float]:
    """How far a line of text reaches above and below its base line.

    Parameters
    ----------
    size : float
        Size of the type. [mm]

    Returns
    -------
    tuple of float
        Above (a capital) and below (a hanging letter). [mm]
    """
    return CAP_HEIGHT * size, _BELOW * size


def shorten(text: str, width: float, *, size: float = TYPE_MM) -> str:
    """Text that fits a width, cut with dots where it must be.

    Parameters
    ----------
    text : str
    width : float
        Room there is. [mm]
    size : float
        Size of the type. [mm]

    Returns
    -------
    str
        The text itself if it fits.
    """
    if text_width(text, size=size) <= width:
        return text
    while text and text_width(text + "...", size=size) > width:
        text = text[:-1]
    return text.rstrip() + "..."
