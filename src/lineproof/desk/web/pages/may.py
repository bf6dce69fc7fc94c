"""May we move, lower, load, open, fill or raise it: the answer first, then what stands against it."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated, Any
from urllib.parse import urlencode

from fastapi import APIRouter, Query, Request
from fastapi.responses import HTMLResponse, Response
from starlette.concurrency import run_in_threadpool

from lineproof.checks.conditions import ANYBODY, ASKER, CONDITIONS, HEARD_FOR, LEAD
from lineproof.desk import release_watch
from lineproof.desk.answer_may import MayAnswer
from lineproof.desk.answer_raise import RaiseAnswer
from lineproof.desk.may_words import others
from lineproof.desk.raise_keep import keep
from lineproof.desk.say import listed
from lineproof.desk.site_known import SiteKnown
from lineproof.desk.verbs_may import SPOT, answer_may, humidity_of
from lineproof.desk.verbs_raise import answer_of as answer_raise
from lineproof.desk.verbs_raise import asked_of, known_person
from lineproof.desk.web.next_record import record_link
from lineproof.desk.web.once import Form, dealt, read_form
from lineproof.desk.web.page import finding_row, page, verdict_head
from lineproof.desk.web.pages.record import people_of
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import signed, who_of
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.section_record import PRESSURE

router = APIRouter()
VERBS = ("move", "lower", "load", "open", "fill", "raise")
MEDIA = ("water", "air", "gas")
NEWEST = 8
"""Releases that the page lists. [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Question:
    """What is asked, as typed."""

    verb: str = ""
    subject: str = ""
    gauge: str = ""
    at: str = ""
    medium: str = ""
    by: str = ""
    dampest: str = ""
    not_made: str = ""
    when: str = ""
    known: str = ""

    @property
    def address(self) -> str:
        """The page that asks it again."""
        told = {k: v for k in self.__slots__ if (v := getattr(self, k))}
        return f"/may?{urlencode(told)}"

    @property
    def receipt(self) -> int | None:
        """Receipt by which it is judged; None for all."""
        if not self.known:
            return None
        if not self.known.isascii() or not self.known.isdigit():
            raise refused("may.receipt", known=self.known[:20])
        return int(self.known)


Short = Annotated[str, Query(max_length=200)]


@router.get("/may", response_class=HTMLResponse)
def may(
    request: Request,
    verb: Short = "",
    subject: Short = "",
    gauge: Short = "",
    at: Short = "",
    medium: Short = "",
    by: Short = "",
    dampest: Short = "",
    not_made: Short = "",
    when: Short = "",
    known: Short = "",
) -> HTMLResponse:
    """Ask, and be answered on the same page; nothing is written."""
    q = Question(
        verb=verb, subject=subject.strip(), gauge=gauge.strip(), at=at, medium=medium,
        by=who_of(request).person or by, dampest=dampest.strip(), not_made=not_made.strip(),
        when=when.strip(), known=known.strip(),
    )  # fmt: skip
    return may_page(request, q)


def may_page(request: Request, q: Question, said: str = "", kept: str = "") -> HTMLResponse:
    """The page of one question and its answer.

    Parameters
    ----------
    request : Request
    q : Question
    said : str
        What was just done about it.
    kept : str
        Id of the entry that keeps the answer.

    Returns
    -------
    HTMLResponse
    """
    site = request.app.state.site
    settings = site.pack().work.job.settings
    values: dict[str, Any] = {"answer": None}
    if q.subject:
        if q.verb in PRESSURE:
            now, told = ask_raise(request, q)
            values["answer"] = _raised(now, told, q, settings.shown.shown)
        elif q.verb in SPOT:
            not_made = tuple(x.strip() for x in q.not_made.split(",") if x.strip())
            now = site.known(q.when, q.receipt)
            moved = answer_may(now, q.verb, q.subject, not_made=not_made, dampest=humidity_of(q.dampest))
            values["answer"] = _moved(moved, q, settings.shown.shown)
        else:
            raise refused("may.verb", verb=q.verb[:40], verbs=", ".join(VERBS))
    return page(
        request, "may.html", title=t("may.title"), verbs=VERBS, media=MEDIA, asked=q, said=said, kept=kept,
        sections=[s.id for s in settings.sections], gauges=[g.id for g in settings.gauges],
        lines=list(site.pack().work.graph.lines), people=people_of(settings), once=dealt(),
        charge=settings.signs.test_in_charge, releases=releases_of(request), pressure=q.verb in PRESSURE,
        more=bool(q.dampest or q.not_made or q.when or q.known), replay=bool(q.when or q.known), **values,
    )  # fmt: skip


def ask_raise(request: Request, q: Question) -> tuple[SiteKnown, RaiseAnswer]:
    """Whether a section may be filled or raised, as ``lineproof may`` answers it.

    Parameters
    ----------
    request : Request
    q : Question

    Returns
    -------
    SiteKnown, RaiseAnswer
    """
    asked = asked_of(q.verb, q.subject, gauge=q.gauge, at=q.at, medium=q.medium, by=q.by)
    now, found = request.app.state.site.may_raise(asked, q.when, q.receipt)
    known_person(now, q.by)
    return now, answer_raise(now, found)


def releases_of(request: Request) -> list[dict[str, Any]]:
    """The newest releases, with how each of them stands."""
    site = request.app.state.site
    rows = []
    for name, thing in reversed(list(site.state().releases.items())):
        given = thing.of("release_given")
        if given:
            gone = bool(thing.of("release_withdrawn") or thing.of("release_expired"))
            rows.append({"id": name, "at": given[-1].at.astimezone(site.zone()), "gone": gone})
    return sorted(rows, key=lambda r: r["at"], reverse=True)[:NEWEST]


def _row(f: Finding, shown: Shown, q: Question, section: str) -> dict[str, Any]:
    return finding_row(f, shown) | {"record": record_link(f, section, q.at, q.address)}


def _common(
    told: RaiseAnswer | MayAnswer, q: Question, shown: Shown, section: str, left_out: Iterable[Finding] = ()
) -> dict[str, Any]:
    skip = {id(f) for f in left_out}
    rows = [f for f in others(told.verdict, None, told.findings) if f is not told.governs]
    return {
        "head": verdict_head(told.verdict, told.until, told.when),
        "governs": _row(told.governs, shown, q, section) if told.governs else None,
        "rows": [_row(f, shown, q, section) for f in rows if id(f) not in skip],
        "joints": len(told.joints),
        "when": told.when,
        "known": told.known,
        "spot": [],
        "signs": "",
        "go": told.verdict is Verdict.GO,
    }


def _moved(told: MayAnswer, q: Question, shown: Shown) -> dict[str, Any]:
    spot = [t(f"spot.{q.verb}_{n}") for n in range(len(told.to_answer_then))]
    extra = []
    if told.left_out:
        extra.append((t("may.left_out"), t("may.left_out_said", names=listed(told.left_out))))
    if told.dampest is not None:
        extra.append((t("may.as_said"), t("may.dampest_said", percent=f"{told.dampest * 100:g}")))
    return _common(told, q, shown, "") | {"then": spot, "extra": extra, "what": told.what}


def _raised(now: SiteKnown, told: RaiseAnswer, q: Question, shown: Shown) -> dict[str, Any]:
    lead, signs = now.job.settings.signs.lead, told.signs
    waits = [f for f in told.findings if f.id in ("RAI-05", "RAI-06") and f.verdict is Verdict.CANNOT_TELL]
    extra = []
    if told.beyond:
        extra.append((t("may.beyond"), t("may.beyond_said", names=listed(told.beyond))))
    if told.left_out:
        extra.append((t("may.left_out"), t("may.left_out_raise", names=listed(told.left_out))))
    extra.append((t("may.since"), t("may.since_said", when=told.since)))
    return _common(told, q, shown, q.subject, waits) | {
        "spot": [_spot(f, told, lead) for f in waits],
        "then": [_condition(f) for f in told.to_answer_then],
        "extra": extra,
        "signs": signs,
        "what": "",
    }


def _condition(f: Finding) -> str:
    if f.id == "RAI-05":
        return t("may.word_of", device=f.subject)
    return t(f"choice.{f.facts.get('condition', f.subject)}")


def _spot(f: Finding, told: RaiseAnswer, lead: str) -> dict[str, Any]:
    """A condition that is answered on the spot, with who may answer it."""
    if f.id == "RAI-05":
        about = str(f.facts.get("device", f.subject))
        asked = {
            "condition": HEARD_FOR,
            "who": ANYBODY,
            "place": False,
            "about": about,
            "since": "",
            "only": "",
        }
    else:
        of = CONDITIONS[str(f.facts["condition"])]
        only = {ASKER: told.asker, LEAD: lead}.get(of.who, "")
        since = told.since.replace(microsecond=0).isoformat() if of.who == ASKER else ""
        asked = {"condition": of.id, "who": of.who, "place": of.at_place, "about": "", "since": since,
                 "only": only}  # fmt: skip
    row = finding_row(f, Shown.us())
    return {**asked, "text": row["text"], "lang": row["lang"], "asker_needed": asked["who"] == ASKER}


@router.post(
    "/may",
    response_class=HTMLResponse,
    openapi_extra={
        "requestBody": {
            "required": True,
            "content": {"application/x-www-form-urlencoded": {"schema": {"type": "object"}}},
        }
    },
)
async def kept(request: Request) -> Response:
    """Keep an answer on filling or raising, with the name of the one who asked."""
    return await run_in_threadpool(_kept, request, await read_form(request))


def question_of(request: Request, sent: Form) -> Question:
    """A question as a form carries it; who asks is the one who sends it.

    Parameters
    ----------
    request : Request
    sent : Form

    Returns
    -------
    Question
    """
    by = signed(request, sent.get("by")).by
    if not by:
        raise refused("keep.no_by")
    told = {k: sent.get(k) for k in ("verb", "subject", "gauge", "at", "medium")}
    if told["verb"] not in PRESSURE:
        raise refused("may.verb", verb=told["verb"][:40], verbs=", ".join(PRESSURE))
    return Question(by=by, **told)


def _kept(request: Request, sent: Form) -> Response:
    q = question_of(request, sent)
    once = sent.get("once")

    def write() -> str:
        now, answer = ask_raise(request, q)
        done = keep(now, answer, q.gauge, release=False, good_for="", reaches=(), id=once)
        mind(request, now, answer)
        return done.kept

    done, before = request.app.state.site.once.do(once, write)
    return may_page(request, q, said=t("keep.again") if before else t("may.kept", entry=done[:8]), kept=done)


def mind(request: Request, now: SiteKnown, answer: RaiseAnswer) -> tuple[str, ...]:
    """What does not go now may have been released before: by job.toml or a drawing that changed since.

    Parameters
    ----------
    request : Request
    now : SiteKnown
    answer : RaiseAnswer

    Returns
    -------
    tuple of str
        Releases that were taken back, said loudly.
    """
    if answer.verdict is Verdict.GO or not now.log.state.releases:
        return ()
    folder = request.app.state.site.folder
    return tuple(release_watch.told(release_watch.watch(folder, now.job.settings, [], anyway=True)))
