"""Writes a sheet as SVG: the same bytes for the same input."""

from __future__ import annotations

import re
from collections.abc import Iterable
from xml.etree import ElementTree

from lineproof.desk.drawing.ink import THICK, THIN, Stroke, Words
from lineproof.desk.drawing.widths import FAMILY

_SPACE = "http://www.w3.org/2000/svg"
_CONTROL = re.compile(r"[\x00-\x08\x0b\x0c\x0e-\x1f\ufffe\uffff\ud800-\udfff]")
DASH: dict[str, str] = {"pipe": "3.2 1.4", "match": "5 1.2 0.8 1.2", "aid": "1 1.4", "stub": "1.6 1"}
"""Line patterns by role. [mm]"""
INK = "#000"


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


def _path(s: Stroke) -> ElementTree.Element:
    points = " L".join(f"{number(x)} {number(y)}" for x, y in s.points)
    given = {"d": f"M{points}{' Z' if s.closed else ''}"}
    if s.ref:
        given["data-ref"] = plain(s.ref)
    if s.thick:
        given["stroke-width"] = number(THICK)
    if s.dashed:
        given["stroke-dasharray"] = DASH.get(s.role, "2 1.2")
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
