"""Every sum as a hand calculator: value, formula, substitution, sources."""

from __future__ import annotations

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse

from lineproof.desk.figure_verb import find, lines_of, metric_typed, read_inputs
from lineproof.desk.web.page import page
from lineproof.desk.web.tongue import t
from lineproof.floor.shown import Shown
from lineproof.sums.figures import load_all

router = APIRouter()


@router.get("/figures", response_class=HTMLResponse)
def figures(request: Request) -> HTMLResponse:
    """The list."""
    rows = [{"name": n, "title": f.title.rstrip(".")} for n, f in sorted(load_all().items())]
    return page(request, "figures.html", title=t("figures.title"), rows=rows)


@router.get("/figures/{name}", response_class=HTMLResponse)
def figure(request: Request, name: str) -> HTMLResponse:
    """One sum: its inputs, and once they are filled in its working."""
    found = find(name)
    typed = {n: request.query_params.get(n, "").strip() for n in found.symbols}
    lines: list[str] = []
    if any(typed.values()):
        words = [f"{n}={value}" for n, value in typed.items() if value]
        shown = Shown.metric() if metric_typed(words) else Shown.us()
        lines = lines_of(found, found.work(reading=None, **read_inputs(found, words)), shown)
    inputs = [
        {
            "name": n, "letter": s.letter, "words": s.words, "unit": s.quantity.replace("_", " "),
            "value": typed[n], "may": n in found.defaults and found.defaults[n] is not None,
        }
        for n, s in found.symbols.items()
    ]  # fmt: skip
    return page(
        request, "figure.html", title=found.title.rstrip("."), name=name, formula=found.formula,
        inputs=inputs, lines=lines, source=found.source,
    )  # fmt: skip
