"""Wrap strips at true size: arc length from the top line with clock positions, for each outside diameter."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.desk.papers import words
from lineproof.plan.pack import Pack

STRIP_MM = {"a4": 250.0, "us-letter": 235.0}
"""Scale on one strip of a landscape page; the rest of the page's width is for the joining tabs. [mm]"""


ROOM_FOR_TEXT = 6.0
"""A figure needs so much of the strip after its tick. [mm]"""


@dataclass(frozen=True, slots=True)
class Tick:
    """A mark on a strip: where [mm], how tall [mm], what it says."""

    at: float
    tall: float
    text: str = ""


def wrap_sheet(pack: Pack, paper: str) -> dict[str, object] | None:
    """A strip for every outside diameter of the job; None where no diameter is known.

    Parameters
    ----------
    pack : Pack
    paper : str
        ``"a4"`` or ``"us-letter"``.

    Returns
    -------
    dict or None
        For ``templates/wrap.typ``.
    """
    shown = pack.work.job.settings.shown.shown
    known: dict[str, tuple[float, list[str]]] = {}
    for p in pack.work.cutting.pieces:
        dims = pack.work.pipes.dims(p.size, p.material, p.series)
        if dims is None:
            continue
        key = f"{dims.od:.6f}"
        names = known.setdefault(key, (dims.od, []))[1]
        name = words.pipe_words(p.size, p.material, p.series)
        if name not in names:
            names.append(name)
    if not known:
        return None
    longest = STRIP_MM[paper]
    sizes = []
    for od, names in sorted(known.values(), reverse=True):
        around = math.pi * od * 1e3
        count = math.ceil(around / longest - 1e-9)
        sizes.append(
            {
                "name": words.listed(names, 4),
                "od": words.diameter(od, shown),
                "around": words.inches(od * math.pi, shown),
                "strips": [
                    strip(n, count, around / count, around, inch=shown.length == "in") for n in range(count)
                ],
            }
        )
    return {
        "kind": "wrap",
        "name": "Wrap strips",
        "where": "print at 100 %, check the bar, cut out",
        "sizes": sizes,
    }


def strip(n: int, count: int, longest: float, around: float, *, inch: bool) -> dict[str, object]:
    """One strip of a wrap.

    Parameters
    ----------
    n, count : int
        Which strip of how many. [-]
    longest : float
        Scale on one strip. [mm]
    around : float
        Circumference. [mm]
    inch : bool
        Whole inches and eighths instead of centimetres and millimetres.

    Returns
    -------
    dict
        Ticks in millimetres from the strip's own start.
    """
    begin, end = n * longest, min((n + 1) * longest, around)
    return {
        "w": end - begin,
        "which": f"strip {n + 1} of {count}",
        "join_left": chr(64 + n) if n else "",
        "join_right": chr(65 + n) if n < count - 1 else "",
        "ticks": [_said(t, begin, end) for t in ruler(begin, end, inch=inch)],
        "clocks": [_said(t, begin, end) for t in clocks(begin, end, around)],
    }


def _said(t: Tick, begin: float, end: float) -> list[float | str]:
    """A tick from the strip's start; its text is left out where it would stand outside the frame."""
    return [t.at - begin, t.tall, t.text if end - t.at > ROOM_FOR_TEXT else ""]


def ruler(begin: float, end: float, *, inch: bool) -> list[Tick]:
    """Ticks of arc length between two places on the strip. [mm]"""
    step, major, half = (25.4 / 8, 8, 4) if inch else (1.0, 10, 5)
    ticks = []
    k = math.ceil(begin / step - 1e-6)
    while k * step <= end + 1e-6:
        tall = 5.0 if k % major == 0 else 3.4 if k % half == 0 else 2.2
        text = str(k // major if inch else k) if k % major == 0 else ""
        ticks.append(Tick(k * step, tall, text))
        k += 1
    return ticks


def clocks(begin: float, end: float, around: float) -> list[Tick]:
    """Half-hour clock positions between two places on the strip. [mm]"""
    ticks = []
    for k in range(25):
        at = around * k / 24
        if begin - 1e-6 <= at <= end + 1e-6:
            hour = (k // 2) % 12 or 12
            ticks.append(Tick(at, 6.0 if k % 2 == 0 else 3.0, f"{hour}" if k % 2 == 0 else ""))
    return ticks
