"""Verbs ``may fill`` and ``may raise``: the answer for a section, and the release given on it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

import typer

from lineproof.desk.answer_raise import RaiseAnswer, ReleaseWords
from lineproof.desk.as_json import dumps
from lineproof.desk.may_words import others, row, verdict_lines
from lineproof.desk.raise_keep import keep
from lineproof.desk.say import listed, say
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.verbs_record import mind_releases
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown, show
from lineproof.floor.units import parse
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.may_raise import MayRaise, may_raise
from lineproof.plan.section_at import Asked

CLAIMED = "claimed: the name was typed on this machine, nothing proves it"
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
    known_person(site, by)
    replay = bool(when) or known is not None
    if release:
        must_be_in_charge(site, by, replay=replay)
    found = may_raise(asked, site.work, site.progress)
    answer = answer_of(site, found)
    if by and not replay:
        answer = keep(site, answer, gauge, release=release, good_for=good_for, reaches=found.lines)
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


def known_person(site: SiteKnown, by: str) -> None:
    """Refuse a person whom job.toml does not name.

    Parameters
    ----------
    site : SiteKnown
    by : str
        Id of a person, or empty.

    Raises
    ------
    BadInput
    """
    people = [p.id for p in site.job.settings.people]
    if by and by not in people:
        raise BadInput(
            f"nobody is called {by!r}", allowed=", ".join(people) or "a person of job.toml",
            next="use the id of a person in job.toml",
        )  # fmt: skip


def must_be_in_charge(site: SiteKnown, by: str, *, replay: bool) -> None:
    """Refuse a release by anybody but the person in charge of the test, or for another time than now.

    Parameters
    ----------
    site : SiteKnown
    by : str
    replay : bool
        Another moment, or less than all that is known, was asked.

    Raises
    ------
    BadInput
    """
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
        row("", f"by {release.by}" + (f", {CLAIMED}" if release.claimed else "")),
        *(row("void by" if not n else "", text) for n, text in enumerate(release.voids)),
        row("", "the section counts as UNDER PRESSURE from now until an open vent proves zero (zero_proved)"),
    ]
