"""Verbs ``may move``, ``lower``, ``load`` and ``open``: the clocks and the record of what hangs on it."""

from __future__ import annotations

from collections.abc import Collection
from pathlib import Path

import typer

from lineproof.desk.answer_may import MayAnswer
from lineproof.desk.as_json import dumps
from lineproof.desk.may_words import others, row, verdict_lines
from lineproof.desk.say import listed, say
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.floor.units import parse
from lineproof.plan.may_move import MayMove, may_move
from lineproof.plan.may_open import may_load, may_open

MOVE, LOWER, LOAD, OPEN = "move", "lower", "load", "open"
TO_ANSWER = ("has any joint of it been made, cut, knocked or moved that is not recorded?",)
TO_ANSWER_LOWER = (
    *TO_ANSWER,
    "nobody stands below it or in the trench under it",
    "slings, rigging and the trench: the competent person on the site",
)
SPOT = {
    MOVE: TO_ANSWER,
    LOWER: TO_ANSWER_LOWER,
    LOAD: (
        *TO_ANSWER,
        "supports, straps and bedding stand as drawn under all of it",
        "what is laid on it: the engineer says how much and when",
    ),
    OPEN: (
        "the vent is open now and nothing comes; what lies beyond every end is drained or cut off and tagged",
        "lockout and tags: the site's own rules and the person in charge",
        "nobody stands in line with a cap, a blind or the pipe's end",
    ),
}
"""What only counts on the spot; the verdict does not speak of it."""


def run_may(
    verb: str,
    folder: Path,
    subject: str,
    *,
    when: str,
    known: int | None,
    not_made: Collection[str],
    dampest: str,
    as_json: bool,
) -> int:
    """Answer whether something may be moved, lowered, loaded or opened.

    Parameters
    ----------
    verb : str
        ``"move"``, ``"lower"``, ``"load"`` or ``"open"``.
    folder : Path
    subject : str
        A joint, piece, spool or line.
    when : str
        The moment judged, in the site's zone unless it has an offset; empty for now.
    known : int or None
        Only entries taken by this receipt count; None for all. [-]
    not_made : collection of str
        Joints without a record that are said not to be made.
    dampest : str
        Highest humidity since, as said; empty if nobody says.
    as_json : bool

    Returns
    -------
    int
        Exit code of the verdict.
    """
    site = site_known(folder, when=when, known=known)
    answer = answer_may(site, verb, subject, not_made=not_made, dampest=humidity_of(dampest))
    for text in site.log.warnings:
        typer.echo(text, err=True)
    if as_json:
        typer.echo(dumps("may", answer))
    else:
        for text in lines_of(answer, site.job.settings.shown.shown):
            typer.echo(text)
    return answer.verdict.exit_code


def answer_may(
    site: SiteKnown,
    verb: str,
    subject: str,
    *,
    not_made: Collection[str] = (),
    dampest: float | None = None,
) -> MayAnswer:
    """Whether something may be moved, lowered, loaded or opened.

    Parameters
    ----------
    site : SiteKnown
    verb, subject, not_made
        As for ``run_may``.
    dampest : float or None
        [-]

    Returns
    -------
    MayAnswer
    """
    if verb == OPEN:
        found = may_open(subject, site.work, site.progress)
    else:
        ask = may_load if verb == LOAD else may_move
        found = ask(subject, site.work, site.progress, not_made=not_made, dampest=dampest)
    return _answer(verb, site, found, dampest, SPOT[verb])


def humidity_of(text: str) -> float | None:
    """A humidity as typed after --dampest; None if nothing was typed. [-]

    Raises
    ------
    BadInput
        It is no humidity.
    """
    if not text:
        return None
    value = parse(text, "fraction")
    if not 0.0 <= value <= 1.0:
        raise BadInput(f"--dampest {text} is no humidity", allowed="0 % to 100 %", next="type it like 55%")
    return value


def _answer(
    verb: str,
    site: SiteKnown,
    found: MayMove,
    dampest: float | None,
    spot: tuple[str, ...],
) -> MayAnswer:
    job, log = site.job, site.log
    return MayAnswer(
        may=verb,
        subject=found.subject,
        what=found.kind,
        when=site.now.wall.astimezone(job.zone),
        known=log.receipt,
        head=log.head,
        verdict=found.verdict,
        until=None if found.until is None else found.until.astimezone(job.zone),
        governs=found.governs,
        findings=found.findings,
        joints=found.joints,
        left_out=found.left_out,
        dampest=dampest,
        to_answer_then=spot,
        inputs=dict(job.inputs),
    )


def lines_of(answer: MayAnswer, shown: Shown) -> list[str]:
    """The answer on the screen: the verdict, what governs, the rest, what is answered on the spot.

    Parameters
    ----------
    answer : MayAnswer
    shown : Shown
        How the job shows its numbers.

    Returns
    -------
    list of str
    """
    rows = verdict_lines(answer.verdict, answer.until, answer.when, answer.governs, _asked(answer), shown)
    rows += [
        row(f.verdict.word, say(f, shown)) for f in others(answer.verdict, answer.governs, answer.findings)
    ]
    if answer.left_out:
        rows.append(row("left out", f"{listed(answer.left_out)}: cut out, or said not to be made"))
    if answer.dampest is not None:
        rows.append(row("as said", f"humidity since then at most {answer.dampest * 100:g} %"))
    rows.append(row("to answer then", " · ".join(answer.to_answer_then)))
    rows.append(
        f"Judged for {day_and_hour(answer.when)}, known by receipt {answer.known}. These are the clocks and "
        "the record; the container, the approved procedure and the competent person govern."
    )
    return rows


def _asked(answer: MayAnswer) -> str:
    count = len(answer.joints)
    return f"may {answer.may} {answer.subject} ({answer.what}, {count} joint{'' if count == 1 else 's'})"
