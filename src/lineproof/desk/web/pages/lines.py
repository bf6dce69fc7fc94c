"""Lines and their drawings."""

from __future__ import annotations

from collections import Counter

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.drawing.sheets import line_sheets
from lineproof.desk.papers.lines import legs, line_words
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import language, refused, t

router = APIRouter()
LEGS = ("leg", "from", "way", "centre", "face", "to", "note")
SHEET = (250.0, 160.0)
"""Room of a sheet on the screen; it is drawn as on paper and scaled. [mm]"""


def side_words() -> tuple[str, ...]:
    """Words over the side table of a sheet, in the language of the page."""
    head = (t("lines.side_title"), t("lines.side_key"), t("lines.side_what"))
    return (*head, t("lines.side_name"), t("lines.side_where"))


@router.get("/lines", response_class=HTMLResponse)
def lines(request: Request) -> HTMLResponse:
    """All lines of the job."""
    pack = request.app.state.site.pack()
    count = Counter(j.place.line for j in pack.joints)
    rows = [
        {"name": name, "words": line_words(pack, name, language()), "joints": count[name]}
        for name in pack.work.graph.lines
    ]
    return page(request, "lines.html", title=t("lines.title"), rows=rows)


@router.get("/lines/{name}", response_class=HTMLResponse)
def line(request: Request, name: str) -> HTMLResponse:
    """One line as drawn, and its legs."""
    pack = request.app.state.site.pack()
    names = list(pack.work.graph.lines)
    if name not in names:
        raise refused("lines.no_such", name=name[:60], names=names)
    sheets = line_sheets(pack.work, name, width_mm=SHEET[0], height_mm=SHEET[1])
    shown = pack.work.job.settings.shown.shown
    return page(
        request, "line.html", title=t("lines.line", name=name), name=name,
        words=line_words(pack, name, language()),
        sheets=[s.on_screen(side_words()) for s in sheets],
        legs=legs(pack.work.graph, name, shown, language()),
        legs_head=[f"lines.{key}" for key in LEGS],
    )  # fmt: skip
