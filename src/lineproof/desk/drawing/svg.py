"""Writes a sheet as SVG: the same bytes for the same input."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from xml.etree import ElementTree

from lineproof.desk.drawing.ink import THICK, THIN, Stroke, Words
from lineproof.desk.drawing.sections import dashes
from lineproof.desk.drawing.widths import FAMILY

_SPACE = "http://www.w3.org/2000/svg"
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
DASH: dict[str, str] = {"pipe": "3.2 1.4", "match": "5 1.2 0.8 1.2", "aid": "1 1.4", "stub": "1.6 1"}
"""Line patterns by role. [mm]"""
INK = "#000"
SIDE_WORDS = ("Key letters on this sheet", "key", "what", "name", "where")
"""Over the side table, and over its columns."""


def number(value: float) -> str:
    """A number with at most two decimals and no minus before zero. [mm]"""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text in ("-0", "") else text


def plain(text: str) -> str:
    """Text without the signs that XML does not allow."""
    return _CONTROL.sub("?", text)


def svg_text(
    *,
    name: str,
    title: str,
    about: str,
    width: float,
    height: float,
    strokes: Iterable[Stroke],
    words: Iterable[Words],
) -> str:
    """A drawing as SVG.

    Parameters
    ----------
    name : str
        Start of every id in it; different for every sheet of a page.
    title, about : str
        For those who cannot see it.
    width, height : float
        Of the sheet. [mm]
    strokes : iterable of Stroke
    words : iterable of Words

    Returns
    -------
    str
        XML that stands alone or inside a page.
    """
    slug = re.sub(r"[^A-Za-z0-9_-]+", "-", name).strip("-") or "line"
    root = ElementTree.Element(
        "svg",
        {
            "xmlns": _SPACE,
            "id": f"d-{slug}",
            "width": f"{number(width)}mm",
            "height": f"{number(height)}mm",
            "viewBox": f"0 0 {number(width)} {number(height)}",
            "role": "img",
            "aria-labelledby": f"d-{slug}-title d-{slug}-about",
            "fill": "none",
            "stroke": INK,
            "stroke-width": number(THIN),
            "stroke-linecap": "butt",
            "stroke-linejoin": "round",
        },
    )
    ElementTree.SubElement(root, "title", {"id": f"d-{slug}-title"}).text = plain(title)
    ElementTree.SubElement(root, "desc", {"id": f"d-{slug}-about"}).text = plain(about)
    by_role: dict[str, list[Stroke]] = {}
    for s in strokes:
        by_role.setdefault(s.role, []).append(s)
    for role in sorted(by_role):
        group = ElementTree.SubElement(root, "g", {"class": role})
        for s in by_role[role]:
            group.append(_path(s))
    text = ElementTree.SubElement(
        root, "g", {"class": "words", "fill": INK, "stroke": "none", "font-family": FAMILY}
    )
    for n, w in enumerate(words):
        text.append(_text(w, f"d-{slug}-{n}"))
    ElementTree.indent(root, space="", level=0)
    return ElementTree.tostring(root, encoding="unicode") + "\n"


def side_table(rows: Iterable[tuple[str, str, str, str]], words: Sequence[str] = SIDE_WORDS) -> str:
    """The side table of a sheet as HTML, to stand below its drawing; empty if nothing is in it.

    Parameters
    ----------
    rows : iterable of tuple of str
        Key letters, what it is, its text, what it belongs to.
    words : sequence of str
        Its title, and what stands over its four columns.

    Returns
    -------
    str
    """
    told = list(rows)
    if not told:
        return ""
    table = ElementTree.Element("table", {"class": "side"})
    ElementTree.SubElement(table, "caption").text = words[0]
    head = ElementTree.SubElement(ElementTree.SubElement(table, "thead"), "tr")
    for word in words[1:]:
        ElementTree.SubElement(head, "th", {"scope": "col"}).text = word
    body = ElementTree.SubElement(table, "tbody")
    for key, *cells in told:
        row = ElementTree.SubElement(body, "tr")
        ElementTree.SubElement(row, "th", {"scope": "row"}).text = plain(key)
        for cell in cells:
            ElementTree.SubElement(row, "td").text = plain(cell)
    return ElementTree.tostring(table, encoding="unicode", method="html")


def _path(s: Stroke) -> ElementTree.Element:
    points = " L".join(f"{number(x)} {number(y)}" for x, y in s.points)
    given = {"d": f"M{points}{' Z' if s.closed else ''}"}
    if s.ref:
        given["data-ref"] = plain(s.ref)
    if s.thick:
        given["stroke-width"] = number(THICK)
    if s.dashed:
        given["stroke-dasharray"] = DASH.get(s.role, "2 1.2")
    elif s.pattern:
        given["stroke-dasharray"] = dashes(s.pattern)
        if s.start:
            given["stroke-dashoffset"] = number(s.start)
    if s.filled:
        given["fill"] = INK
    return ElementTree.Element("path", given)


def _text(w: Words, id: str) -> ElementTree.Element:
    given = {"id": id, "x": number(w.x), "y": number(w.y), "font-size": number(w.size), "class": w.role}
    if w.ref:
        given["data-ref"] = plain(w.ref)
    if w.bold:
        given["font-weight"] = "bold"
    made = ElementTree.Element("text", given)
    made.text = plain(w.text)
    return made
