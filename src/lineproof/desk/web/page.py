"""How a page is put together: templates, the head with its pages, words and numbers as the job shows them."""

from __future__ import annotations

from datetime import datetime
from pathlib import Path
from typing import Any

from fastapi import Request
from fastapi.responses import HTMLResponse
from jinja2 import Environment, FileSystemLoader, StrictUndefined
from markupsafe import Markup

import lineproof
from lineproof.desk.web import tongue
from lineproof.desk.web.access import row_of
from lineproof.desk.web.patience import StillReading
from lineproof.desk.web.who import Who, who_of
from lineproof.desk.words_when import not_before
from lineproof.floor.errors import LineproofError
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict

HERE = Path(__file__).parent
PLACES = (
    ("/", "head.now"),
    ("/lines", "head.lines"),
    ("/pad", "head.pad"),
    ("/tape", "head.tape"),
    ("/pieces", "head.pieces"),
    ("/joints", "head.joints"),
    ("/may", "head.may"),
    ("/record", "head.record"),
    ("/settle", "head.settle"),
    ("/figures", "head.figures"),
    ("/people", "head.people"),
    ("/papers", "head.papers"),
    ("/phones", "head.phones"),
)
"""Pages in the head, one decision each, and the key of each one's name in the catalogue."""


class Pages:
    """Renders templates."""

    def __init__(self) -> None:
        self.templates = Environment(
            loader=FileSystemLoader(HERE / "templates"),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
        )
        self.templates.filters |= {"svg": Markup, "moment": tongue.moment, "verdict": tongue.verdict_word}
        self.templates.globals |= {"t": tongue.t}

    def text(self, request: Request, template: str, *, title: str, **values: Any) -> str:
        """A page as HTML.

        Parameters
        ----------
        request : Request
        template : str
        title : str
        **values
            What the template shows.

        Returns
        -------
        str
        """
        who = who_of(request)
        return self.templates.get_template(template).render(
            title=title,
            job=request.app.state.site.name(),
            lang=tongue.language(),
            other=tongue.other_language(
                request.url.path, request.url.query if request.method == "GET" else ""
            ),
            places=[(path, key) for path, key in PLACES if may_see(who, path)],
            here=request.url.path,
            key=who.key,
            me=who.person,
            pressed=pressed(request) if who.machine or who.roles else [],
            version=lineproof.__version__,
            **values,
        )


def may_see(who: Who, path: str) -> bool:
    """Whether a page of the head is open to whoever asks."""
    row = row_of("GET", path)
    return row is not None and who.may(row)


def page(request: Request, template: str, *, title: str, **values: Any) -> HTMLResponse:
    """A page as a response.

    Parameters
    ----------
    request : Request
    template : str
    title : str
    **values
        What the template shows.

    Returns
    -------
    HTMLResponse
    """
    pages: Pages = request.app.state.pages
    return HTMLResponse(pages.text(request, template, title=title, **values))


def pressed(request: Request) -> list[dict[str, str]]:
    """Sections that count as UNDER PRESSURE, for the head of every page.

    Parameters
    ----------
    request : Request

    Returns
    -------
    list of dict
        Section, and the sentence that says so.
    """
    site = request.app.state.site
    rows = []
    try:
        told = site.pressed()
    except StillReading:
        why = tongue.t("reading.title")
        return [{"section": "", "text": tongue.t("head.pressure_unknown", why=why)}]
    except LineproofError as error:  # nobody can say that there is no pressure
        return [{"section": "", "text": tongue.t("head.pressure_unknown", why=str(error))}]
    for name, release, clear in told:
        since = tongue.moment(release.at.astimezone(site.zone()))
        key = "head.under_pressure" if clear else "head.may_be_pressed"
        rows.append(
            {
                "section": name,
                "text": tongue.t(key, section=name, since=since, release=release.id),
                "release": release.id,
            }
        )
    return rows


def finding_row(f: Finding, shown: Shown) -> dict[str, str]:
    """A Finding as a row of a page: verdict, sentence and the language of the sentence.

    Parameters
    ----------
    f : Finding
    shown : Shown

    Returns
    -------
    dict
    """
    text, language = tongue.said(f, shown)
    return {"verdict": f.verdict.word, "text": text, "lang": language}


def verdict_head(verdict: Verdict, until: datetime | None, now: datetime) -> dict[str, str]:
    """The verdict as a page shows it first.

    Parameters
    ----------
    verdict : Verdict
    until : datetime or None
    now : datetime

    Returns
    -------
    dict
        Word, and from when on it may be asked again.
    """
    wait = "" if until is None else not_before(until, now, tongue.language())
    said = wait if verdict is Verdict.WAIT and wait else tongue.verdict_word(verdict.word)
    return {"word": verdict.word, "said": said, "also": "" if said == wait else wait}
