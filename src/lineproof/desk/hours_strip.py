"""The hours as a strip a day: on the screen and as a picture, from the same values; and their stretches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from html import escape
from itertools import groupby

from lineproof.desk.answer_hours import HoursAnswer
from lineproof.desk.say import Words, say
from lineproof.desk.words import SPANISH
from lineproof.desk.words_hours import BINDS, COLOURS_ES, SAID
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Verdict
from lineproof.plan.hours import HourRow

SIGNS = {Verdict.STOP: "#", Verdict.CANNOT_TELL: "?", Verdict.CARE: "!", Verdict.GO: "G"}
CLEAR = "o"
"""Nothing stands against the hour, and nobody read the pipe yet."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """Hours in a row that stand alike.

    Parameters
    ----------
    sign : str
        As in the strip.
    begins, ends : datetime
    first : HourRow
        Its first hour, whose sentence is told.
    """

    sign: str
    begins: datetime
    ends: datetime
    first: HourRow


def sign_of(row: HourRow) -> str:
    """The sign of one hour."""
    return CLEAR if row.verdict is Verdict.CARE and not row.binds else SIGNS[row.verdict]


def stretches(day: Sequence[HourRow]) -> tuple[Stretch, ...]:
    """Hours of a day that stand alike, together.

    Parameters
    ----------
    day : sequence of HourRow

    Returns
    -------
    tuple of Stretch
    """
    found = []
    for (sign, _), rows in groupby(day, key=lambda r: (sign_of(r), r.binds)):
        alike = list(rows)
        last = alike[-1].begins
        ends = datetime.fromtimestamp(last.timestamp() + 3600, last.tzinfo)
        found.append(Stretch(sign, alike[0].begins, ends, alike[0]))
    return tuple(found)


def screen_lines(answer: HoursAnswer, shown: Shown, language: str) -> list[str]:
    """The hours on the screen: the answer of this hour first, then a strip a day with its stretches.

    Parameters
    ----------
    answer : HoursAnswer
    shown : Shown
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    list of str
    """
    said, words = SAID[language], Words(shown, language)
    colour = COLOURS_ES[answer.colour] if language == SPANISH else answer.colour
    cover = words.fill(said[answer.cover], {"colour": colour, "air": answer.tent_air})
    head = {"line": answer.line, "size": answer.size, "cover": cover, "job": answer.job}
    verdict = verdict_word(answer.verdict, language)
    lines = [
        words.fill(said["head"], head),
        f"{verdict:<15}{said['now']}, {day_and_hour(answer.now, language)}",
    ]
    told = [answer.asked.finding if answer.asked else None, answer.tent]
    lines += ["  " + say(f, shown, language) for f in told if f is not None]
    if answer.asked is None:
        lines.append("  " + said["no_hour"])
    elif answer.asked.air is not None:
        a = answer.asked
        values = {"air": a.air, "pipe": a.pipe, "coldest": a.pipe_coldest, "dew": a.dew_point, "film": a.film}
        lines.append("  " + words.fill(said["numbers"], values))
    if answer.dry_wanted is not None:
        lines.append("  " + words.fill(said["dry"], {"wants": answer.dry_wanted}))
    lines.append("  " + said["hands"].format(told=_hands(answer, said)))
    lines += ["", said["key"]]
    for day in answer.days:
        if day:
            lines += ["", _label(day[0].begins, language), *_strip(day)]
            lines += [_stretch(s, language) for s in stretches(day)]
    lines += ["", said["caution"]]
    return lines


def verdict_word(verdict: Verdict, language: str) -> str:
    """A verdict as it is shown."""
    spanish = {
        Verdict.STOP: "ALTO",
        Verdict.CANNOT_TELL: "FALTA UN DATO",
        Verdict.CARE: "CUIDADO",
        Verdict.GO: "ADELANTE",
    }
    return spanish.get(verdict, verdict.word) if language == SPANISH else verdict.word


def _label(begins: datetime, language: str) -> str:
    return day_and_hour(begins, language).rsplit(" ", 1)[0]


def _strip(day: Sequence[HourRow]) -> list[str]:
    """Hours of the clock above, signs below; the hour that comes twice stands twice."""
    clock = "".join(f"{r.begins:%H} " for r in day)
    return ["  " + clock.rstrip(), "  " + "".join(f" {sign_of(r)} " for r in day).rstrip()]


def _stretch(s: Stretch, language: str) -> str:
    why = BINDS[language][s.first.binds] or SAID[language]["clear"]
    verdict = verdict_word(s.first.verdict, language)
    return f"  {s.begins:%H:%M}-{s.ends:%H:%M}  {s.sign} {verdict}: {why}"


def _hands(answer: HoursAnswer, said: Mapping[str, str]) -> str:
    told = []
    for h in answer.hands:
        key = "hands_none" if h.least is None else "hands_one" if h.least == h.most else "hands_range"
        told.append(said[key].format(size=h.size.text, least=h.least, most=h.most))
    return ", ".join(told) or "-"


CELL, TALL, LEFT = 26.0, 30.0, 96.0
FILLS = {"#": "#3b3b3b", "?": "#ffffff", "!": "#f0c869", CLEAR: "#d6e8f5", "G": "#8ecae6"}


def strip_svg(answer: HoursAnswer, language: str) -> str:
    """The strips as one picture: every hour a box with its sign, so that it reads without colour.

    Parameters
    ----------
    answer : HoursAnswer
    language : str

    Returns
    -------
    str
        XML that stands alone or inside a page; the same bytes for the same values.
    """
    days = [d for d in answer.days if d]
    wide = LEFT + CELL * max((len(d) for d in days), default=24) + 8
    tall = 24 + (TALL + 34) * len(days) + 22
    said = SAID[language]
    title = said["title"].format(line=answer.line, day=_label(answer.now, language))
    size = f'viewBox="0 0 {wide:g} {tall:g}" width="{wide:g}" height="{tall:g}"'
    parts = [
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} role="img" font-family="sans-serif" font-size="12">',
        f"<title>{escape(title)}</title>",
        f'<text x="4" y="16" font-weight="bold">{escape(title)}</text>',
    ]
    for n, day in enumerate(days):
        top = 44 + n * (TALL + 34)
        parts.append(f'<text x="4" y="{top + 20:g}">{escape(_label(day[0].begins, language))}</text>')
        for k, row in enumerate(day):
            parts += _box(row, LEFT + k * CELL, top, language)
    parts.append(f'<text x="4" y="{tall - 6:g}" font-size="11">{escape(said["key"])}</text></svg>')
    return "".join(parts) + "\n"


def _box(row: HourRow, x: float, top: float, language: str) -> list[str]:
    sign = sign_of(row)
    dashed = ' stroke-dasharray="3 2"' if sign == "?" else ""
    ink = "#ffffff" if sign == "#" else "#111111"
    why = BINDS[language][row.binds] or SAID[language]["clear"]
    told = f"{row.begins:%H:%M} {verdict_word(row.verdict, language)}: {why}"
    middle = f'x="{x + CELL / 2 - 1:g}" text-anchor="middle"'
    return [
        f"<g><title>{escape(told)}</title>",
        f'<rect x="{x:g}" y="{top:g}" width="{CELL - 2:g}" height="{TALL:g}" fill="{FILLS[sign]}" ',
        f'stroke="#111111"{dashed}/>',
        f'<text {middle} y="{top + 20:g}" font-weight="bold" fill="{ink}">{sign}</text></g>',
        f'<text {middle} y="{top - 4:g}" font-size="10">{row.begins:%H}</text>',
    ]
