"""The days as a drawing: a strip a day from left to right, a row a crew, joints, waits, tests and rain."""

from __future__ import annotations

from datetime import datetime, time, timedelta
from xml.etree.ElementTree import Element, SubElement, tostring

from lineproof.desk.answer_days import DaysAnswer
from lineproof.desk.days_sentences import said
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_when import day_and_hour
from lineproof.job.weather import WeatherRow

HOUR_PX, ROW_PX, LEFT, TOP = 9.0, 26.0, 96.0, 46.0
INK, PALE, WET, TEST = "#1b1b1b", "#d9d9d9", "#7aa6c2", "#8a5a00"


def days_svg(answer: DaysAnswer, weather: tuple[WeatherRow, ...] = (), language: str = ENGLISH) -> str:
    """Draw a plan.

    Parameters
    ----------
    answer : DaysAnswer
    weather : tuple of WeatherRow
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        SVG. A filled bar is a joint, the thin line behind it its hands-off time; an outlined bar is a test;
        a shaded column is rain. Every bar says its name, hours and crews when it is pointed at.
    """
    bars = [(who, j) for j in answer.joints for who in j.who]
    rows = sorted({who for who, _ in bars}) + sorted({t.pump or "test" for t in answer.tests})
    moments = [j.first for j in answer.joints] + [t.first for t in answer.tests]
    if not moments:
        return '<svg xmlns="http://www.w3.org/2000/svg" width="10" height="10"/>'
    zone = moments[0].tzinfo
    first = datetime.combine(min(moments).date(), time(), tzinfo=zone)
    last = max([j.end for j in answer.joints] + [t.end for t in answer.tests])
    count = (last.date() - first.date()).days + 1

    def x(moment: datetime) -> float:
        return LEFT + (moment - first).total_seconds() / 3600 * HOUR_PX

    width, height = LEFT + count * 24 * HOUR_PX + 12, TOP + len(rows) * ROW_PX + 20
    svg = Element(
        "svg", xmlns="http://www.w3.org/2000/svg", width=f"{width:.0f}", height=f"{height:.0f}",
        viewBox=f"0 0 {width:.0f} {height:.0f}", role="img",
    )  # fmt: skip
    SubElement(svg, "title").text = f"{answer.job}: {len(answer.joints)} + {len(answer.tests)}"
    SubElement(svg, "rect", width="100%", height="100%", fill="#ffffff")
    style = {"font-family": "sans-serif", "font-size": "12", "fill": INK}
    for row in weather:
        if row.rain and row.last > first and row.first < first + timedelta(days=count):
            _rect(
                svg,
                x(row.first.astimezone(zone)),
                TOP,
                x(row.last.astimezone(zone)),
                height - 20,
                WET,
                "0.35",
            )
    for n in range(count + 1):
        at = x(first) + n * 24 * HOUR_PX
        SubElement(svg, "line", x1=f"{at:.1f}", x2=f"{at:.1f}", y1="24", y2=f"{height - 20:.1f}", stroke=PALE)
        if n < count:
            day = datetime.combine(first.date() + timedelta(days=n), time(), tzinfo=zone)
            SubElement(svg, "text", style, x=f"{at + 4:.1f}", y="20").text = day_and_hour(day, language)[:-6]
            for hour in (6, 12, 18):
                mark = SubElement(svg, "text", style, x=f"{at + hour * HOUR_PX:.1f}", y="38")
                mark.text = str(hour)
                mark.set("text-anchor", "middle")
    for n, who in enumerate(rows):
        y = TOP + n * ROW_PX
        SubElement(svg, "text", style, x="4", y=f"{y + 17:.1f}").text = who
        SubElement(svg, "line", x1="0", x2=f"{width:.0f}", y1=f"{y:.1f}", y2=f"{y:.1f}", stroke=PALE)
    for who, j in bars:
        y = TOP + rows.index(who) * ROW_PX
        off = min(x(j.hands_off_until), width - 12)
        SubElement(
            svg, "line", x1=f"{x(j.end):.1f}", x2=f"{off:.1f}", y1=f"{y + 21:.1f}", y2=f"{y + 21:.1f}",
            stroke=INK,
        ).set("stroke-width", "1.5")  # fmt: skip
        bar = _rect(svg, x(j.first), y + 4, max(x(j.end), x(j.first) + 2), y + 18, INK)
        bar.set("stroke", "#ffffff")
        SubElement(bar, "title").text = f"{j.id} {j.size} {j.first:%H:%M}-{j.end:%H:%M} {', '.join(j.who)}"
    for t in answer.tests:
        y = TOP + rows.index(t.pump or "test") * ROW_PX
        bar = _rect(svg, x(t.first), y + 4, x(t.end), y + 20, "#ffffff")
        bar.set("stroke", TEST)
        bar.set("stroke-width", "2")
        SubElement(bar, "title").text = f"{t.section} {t.first:%H:%M}-{t.end:%H:%M}"
        name = SubElement(svg, "text", style, x=f"{x(t.first) + 3:.1f}", y=f"{y + 16:.1f}")
        name.text = t.section
    SubElement(svg, "text", style, x="4", y=f"{height - 5:.1f}").text = said("drawn", language)
    return tostring(svg, encoding="unicode") + "\n"


def _rect(svg: Element, x1: float, y1: float, x2: float, y2: float, fill: str, opacity: str = "") -> Element:
    box = SubElement(
        svg, "rect", x=f"{x1:.1f}", y=f"{y1:.1f}", width=f"{max(x2 - x1, 0.5):.1f}",
        height=f"{y2 - y1:.1f}", fill=fill,
    )  # fmt: skip
    if opacity:
        box.set("opacity", opacity)
    return box
