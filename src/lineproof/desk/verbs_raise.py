"""Verbs ``may fill`` and ``may raise``: the answer for a section, and the release given on it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from datetime import UTC, timedelta
from pathlib import Path

import typer

from lineproof.desk import record_book as book
from lineproof.desk.answer_raise import RaiseAnswer, ReleaseWords
from lineproof.desk.as_json import dumps
from lineproof.desk.may_words import others, row, verdict_lines
from lineproof.desk.record_typed import measured
from lineproof.desk.say import listed, say
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.verbs_record import mind_releases
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown, show
from lineproof.floor.units import parse
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.logbook.entry import moment_text
from lineproof.plan.judge import told_together
from lineproof.plan.may_raise import MayRaise, may_raise
from lineproof.plan.section_at import Asked

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

CAUTION = (
    "These are the clocks and the record. They make no joint safe: the approved procedure, the container, "
    "local codes and the person in charge of the test govern. Water only; nobody at the line while it rises."
)


def run_raise(
    verb: str,
    folder: Path,
    section: str,
    *,
    gauge: str,
    at: str,
    medium: str,
    by: str,
    release: bool,
    good_for: str,
    when: str,
    known: int | None,
    as_json: bool,
) -> int:
    """Answer whether a section may be filled or raised; keep the answer; release on it if that is asked.

    Parameters
    ----------
    verb : str
        ``"fill"`` or ``"raise"``.
    folder : Path
    section : str
    gauge : str
        The pressure asked for, with its unit; empty for filling to the highest point.
    at : str
        Gauge place.
    medium : str
    by : str
        Id of the person who asks; empty if nobody said.
    release : bool
        The person in charge of the test gives the release if the answer is GO.
    good_for : str
        How long the release may be begun on, with its unit.
    when, known
        As for ``may move``.
    as_json : bool

    Returns
    -------
    int
        Exit code of the verdict.

    Raises
    ------
    BadInput
        Something typed is not understood, or a release is asked for that cannot be given.
    """
    asked = asked_of(verb, section, gauge=gauge, at=at, medium=medium, by=by)
    site = site_known(folder, when=when, known=known)
    _known_people(site, by)
    replay = bool(when) or known is not None
    if release:
        _may_release(site, by, replay=replay)
    found = may_raise(asked, site.work, site.progress)
    answer = answer_of(site, found)
    if by and not replay:
        answer = _keep(site, answer, gauge, release=release, good_for=good_for, reaches=found.lines)
        if found.verdict is not Verdict.GO and site.log.state.releases:
            # What does not go now may have been released before: by job.toml or a drawing that changed since.
            mind_releases(folder, site.job.settings, [], as_json=True, anyway=True)
    for text in site.log.warnings:
        typer.echo(text, err=True)
    if as_json:
        typer.echo(dumps("may-raise", answer))
    else:
        for text in lines_of(answer, site.job.settings.shown.shown):
            typer.echo(text)
    return found.verdict.exit_code


def asked_of(verb: str, section: str, *, gauge: str, at: str, medium: str, by: str) -> Asked:
    """What was typed, read.

    Parameters
    ----------
    verb, section, gauge, at, medium, by
        As for ``run_raise``.

    Returns
    -------
    Asked

    Raises
    ------
    BadInput
        Something typed is not understood.
    """
    pressure = parse(gauge, "pressure") if gauge else None
    _sensible(verb, pressure, at, medium)
    return Asked(verb=verb, section=section, pressure=pressure, gauge=at, medium=medium, asker=by)


def _sensible(verb: str, pressure: float | None, at: str, medium: str) -> None:
    if medium not in ("", "water", "air", "gas"):
        raise BadInput(f"--medium {medium[:40]!r} is not known", allowed="water, air, gas", next="type water")
    if verb == "raise" and (pressure is None or not at):
        raise BadInput(
            "a pressure has a place, and one of the two is not said",
            allowed="--gauge with the pressure and its unit, --at with the gauge place",
            next="type such as: lineproof may raise B-2 --gauge 135psi --at PG-2 --medium water",
        )
    if pressure is not None and not at:
        raise BadInput(
            "a pressure is asked for and no place where it is read",
            allowed="--at with a gauge place of job.toml",
            next="add --at",
        )
    if pressure is not None and not 0.0 <= pressure < 1e8:
        raise BadInput(
            "that pressure cannot be asked for",
            allowed="0 or more, gauge pressure",
            next="type such as 135psi",
        )


def _known_people(site: SiteKnown, by: str) -> None:
    people = [p.id for p in site.job.settings.people]
    if by and by not in people:
        raise BadInput(
            f"nobody is called {by!r}", allowed=", ".join(people) or "a person of job.toml",
            next="use the id of a person in job.toml",
        )  # fmt: skip


def _may_release(site: SiteKnown, by: str, *, replay: bool) -> None:
    charge = site.job.settings.signs.test_in_charge
    may = charge or "nobody is named under [signs] in job.toml"
    if replay:
        raise BadInput(
            "a release is given for now, by all that is known", allowed="no --when and no --known",
            next="leave them out",
        )  # fmt: skip
    if not charge or by != charge:
        raise BadInput(
            f"{by or 'nobody'} may not release the line",
            allowed=f"the person in charge of the test: {may}",
            next="have that person ask with --by and --release",
        )


def answer_of(site: SiteKnown, found: MayRaise) -> RaiseAnswer:
    """The answer as values.

    Parameters
    ----------
    site : SiteKnown
    found : MayRaise

    Returns
    -------
    RaiseAnswer
    """
    zone = site.job.zone
    return RaiseAnswer(
        may=found.asked.verb,
        section=found.asked.section,
        pressure=found.asked.pressure,
        gauge=found.asked.gauge,
        medium=found.asked.medium,
        asker=found.asked.asker,
        when=site.now.wall.astimezone(zone),
        known=site.log.receipt,
        head=site.log.head,
        verdict=found.verdict,
        until=None if found.until is None else found.until.astimezone(zone),
        governs=found.governs,
        governing_pressure=found.governing_pressure,
        findings=found.findings,
        to_answer_then=found.then,
        since=found.since.astimezone(zone),
        joints=found.joints,
        left_out=found.left_out,
        beyond=found.beyond,
        signs=site.job.settings.signs.test_in_charge,
        release=None,
        kept="",
        inputs=dict(site.job.inputs),
    )


def _keep(
    site: SiteKnown, answer: RaiseAnswer, gauge: str, *, release: bool, good_for: str, reaches: Sequence[str]
) -> RaiseAnswer:
    """Write the answer down, and the release on it, if nothing came in meanwhile."""
    settings = site.job.settings
    lasts = timedelta(seconds=parse(good_for or GOOD_FOR, "time"))
    if not timedelta(0) < lasts <= LONGEST:
        raise BadInput(
            f"--for {good_for} is no time a release can be good for", allowed="up to 12 h",
            next="type such as 30min",
        )  # fmt: skip
    with book.opened(site.folder, job=book.job_uuid(settings)) as store, store.lock():
        if store.receipt().head != site.log.head:
            raise BadInput(
                "something was recorded while this was asked", allowed="an answer by all that is known",
                next="ask again",
            )  # fmt: skip
        pen = book.pen(site.folder, store, settings, person=answer.asker)
        kept, _ = pen.write("answer", _answer_body(answer, gauge))
        answer = replace(answer, kept=kept.id)
        if not release or answer.verdict is not Verdict.GO:
            return answer
        given = ReleaseWords(
            id=f"{answer.section}/{answer.may}-{kept.id[:6]}",
            by=answer.asker,
            claimed=True,  # on one machine nothing proves who typed the name
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
            "claimed": True,
            "expires": moment_text(given.expires),
            "voids": list(VOIDS),
            "answer": kept.id,
            "lines": list(reaches),
        }
        body |= {"pressure": measured(gauge, "pressure")} if gauge else {}
        body |= {k: v for k, v in (("gauge", answer.gauge), ("medium", answer.medium)) if v}
        entry, _ = pen.write("release_given", body)
    return replace(answer, release=replace(given, entry=entry.id))


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


def lines_of(answer: RaiseAnswer, shown: Shown) -> list[str]:
    """The answer on the screen: the verdict, what governs, the rest, what is answered on the spot, who signs.

    Parameters
    ----------
    answer : RaiseAnswer
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    list of str
    """
    a = answer
    rows = verdict_lines(a.verdict, a.until, a.when, a.governs, _asked(a, shown), shown)
    rows += [row(f.verdict.word, say(f, shown)) for f in others(a.verdict, a.governs, a.findings)]
    if answer.beyond:
        rows.append(row("beyond", f"{listed(answer.beyond)}: nothing that holds lies between, so it counts"))
    if answer.left_out:
        rows.append(row("left out", f"{listed(answer.left_out)}: cut out and replaced"))
    since = day_and_hour(answer.since)
    rows.append(row("since", f"was any joint made, cut, moved or repaired since {since}?"))
    if answer.to_answer_then:
        rows.append(row("to answer then", " · ".join(_then(answer.to_answer_then))))
    rows.append(row("release", f"{answer.signs or 'nobody is named'}: the person in charge of the test"))
    if answer.release is not None:
        rows += _released(answer.release, shown)
    elif answer.verdict is Verdict.GO:
        rows.append(row("", "GO is not the release: it is given with --by and --release"))
    if not answer.asker:
        rows.append(row("not kept", "nobody is named who asks: say --by to keep this answer"))
    rows.append(f"Judged for {day_and_hour(answer.when)}, known by receipt {answer.known}. {CAUTION}")
    return rows


def _then(findings: Iterable[Finding]) -> list[str]:
    told: dict[str, None] = {}
    for f in findings:
        told[f"word of {f.subject}" if f.id == "RAI-05" else str(f.facts.get("condition", f.subject))] = None
    return list(told)


def _asked(answer: RaiseAnswer, shown: Shown) -> str:
    what = f"may {answer.may} {answer.section}"
    if answer.pressure is not None:
        what += f" to {show(answer.pressure, 'pressure', shown)} at {answer.gauge}"
    count = len(answer.joints)
    return f"{what} ({answer.medium or 'medium not said'}, {count} joint{'' if count == 1 else 's'})"


def _released(release: ReleaseWords, shown: Shown) -> list[str]:
    what, until = release.medium, day_and_hour(release.expires)
    if release.pressure is not None:
        what = f"{show(release.pressure, 'pressure', shown)} at {release.gauge}, {what}"
    return [
        row("RELEASED", f"{release.id}: {what}; to be begun by {until}"),
        row("", f"by {release.by}, claimed: the name was typed on this machine, nothing proves it"),
        *(row("void by" if not n else "", text) for n, text in enumerate(release.voids)),
        row("", "the section counts as UNDER PRESSURE from now until an open vent proves zero (zero_proved)"),
    ]
