"""An answer on filling or raising, written down; and the release that is given on it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, timedelta

from lineproof.desk import record_book as book
from lineproof.desk.answer_raise import RaiseAnswer, ReleaseWords
from lineproof.desk.record_typed import measured
from lineproof.desk.site_known import SiteKnown
from lineproof.floor.errors import BadInput
from lineproof.floor.units import parse
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.entry import moment_text
from lineproof.plan.judge import told_together

GOOD_FOR = "15 min"
"""How long a release may be begun on unless said: as long as people-out is good for."""

LONGEST = timedelta(hours=12)
"""A release is never good for longer than a shift (own rule)."""

VOIDS = (
    "any joint made, cut, moved, disturbed or repaired in the section or beyond an end that does not hold",
    "a hold tag set on it",
    "a colder reading, a correction or a late entry that makes a wait longer",
    "another gauge, another source, another medium, a higher pressure",
    "people back in the area",
)
"""What ends a release at once; it is asked again then."""


def keep(
    site: SiteKnown,
    answer: RaiseAnswer,
    gauge: str,
    *,
    release: bool,
    good_for: str,
    reaches: Sequence[str],
    claimed: bool = True,
    id: str = "",
) -> RaiseAnswer:
    """Write the answer down, and the release on it, if nothing came in meanwhile.

    Parameters
    ----------
    site : SiteKnown
        By all that is known now.
    answer : RaiseAnswer
        With the id of the person who asks.
    gauge : str
        The pressure as typed.
    release : bool
        The person in charge of the test gives the release if the answer is GO.
    good_for : str
        How long the release may be begun on, with its unit; 15 min unless said.
    reaches : sequence of str
        Lines that the water can reach.
    claimed : bool
        The name was only typed: on one machine nothing proves who typed it.
    id : str
        UUID dealt to the form: that of the release, or of the answer where none is given.

    Returns
    -------
    RaiseAnswer

    Raises
    ------
    BadInput
        Something was recorded meanwhile, or the time is none.
    """
    lasts = lasting(good_for)
    settings = site.job.settings
    with book.opened(site.folder, job=book.job_uuid(settings)) as store, store.lock():
        if store.receipt().head != site.log.head:
            raise BadInput(
                "something was recorded while this was asked", allowed="an answer by all that is known",
                next="ask again",
            )  # fmt: skip
        pen = book.pen(site.folder, store, settings, person=answer.asker)
        gives = release and answer.verdict is Verdict.GO
        kept, _ = pen.write("answer", _answer_body(answer, gauge), id="" if gives else id)
        answer = replace(answer, kept=kept.id)
        if not gives:
            return answer
        given = ReleaseWords(
            id=f"{answer.section}/{answer.may}-{kept.id[:6]}",
            by=answer.asker,
            claimed=claimed,
            pressure=answer.pressure,
            gauge=answer.gauge,
            medium=answer.medium,
            at=answer.when,
            expires=(answer.when.astimezone(UTC) + lasts).astimezone(answer.when.tzinfo),
            voids=VOIDS,
            entry="",
        )
        body = {
            "release": given.id,
            "section": answer.section,
            "may": answer.may,
            "claimed": claimed,
            "expires": moment_text(given.expires),
            "voids": list(VOIDS),
            "answer": kept.id,
            "lines": list(reaches),
        }
        body |= {"pressure": measured(gauge, "pressure")} if gauge else {}
        body |= {k: v for k, v in (("gauge", answer.gauge), ("medium", answer.medium)) if v}
        entry, _ = pen.write("release_given", body, id=id)
    return replace(answer, release=replace(given, entry=entry.id))


def lasting(good_for: str) -> timedelta:
    """How long a release may be begun on.

    Parameters
    ----------
    good_for : str
        As typed; 15 min unless said.

    Returns
    -------
    timedelta
        Above 0, up to 12 h.

    Raises
    ------
    BadInput
        It is no such time.
    """
    lasts = timedelta(seconds=parse(good_for or GOOD_FOR, "time"))
    if not timedelta(0) < lasts <= LONGEST:
        raise BadInput(
            f"--for {good_for} is no time a release can be good for", allowed="up to 12 h",
            next="type such as 30min",
        )  # fmt: skip
    return lasts


def _answer_body(answer: RaiseAnswer, gauge: str) -> dict[str, object]:
    words = [f"may {answer.may} {answer.section}"]
    words += [f"--gauge {gauge}"] if gauge else []
    words += [f"--{k} {v}" for k, v in (("at", answer.gauge), ("medium", answer.medium)) if v]
    body: dict[str, object] = {
        "asked": " ".join(words),
        "verdict": answer.verdict.name,
        "inputs": {**answer.inputs, "record": answer.head},
        "known": answer.known,
        "section": answer.section,
        "at": moment_text(answer.when),
        "told": [
            {"check": f.id, "subject": f.subject, "verdict": f.verdict.name}
            for f in told_together(f for f in answer.findings if f.verdict is not Verdict.GO)
        ],
    }
    if answer.until is not None:
        body["until"] = moment_text(answer.until)
    if answer.governs is not None:
        body["governs"] = answer.governs.subject[:120]
    return body
