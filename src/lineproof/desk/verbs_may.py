"""Verbs ``may move`` and ``may lower``: the clocks and the record of what hangs on something."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import typer

from lineproof.desk.answer_may import MayAnswer
from lineproof.desk.as_json import dumps
from lineproof.desk.record_book import job_uuid, made_of, people_of
from lineproof.desk.say import listed, say
from lineproof.desk.words_when import day_and_hour, not_before
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.floor.units import parse
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.folder import Job, read_job
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.logbook.sqlite_store import SqliteStore
from lineproof.logbook.state import State
from lineproof.logbook.store import NO_RECEIPT
from lineproof.logbook.writing import DeviceClock
from lineproof.plan.judge import told_together
from lineproof.plan.make_pack import named_work
from lineproof.plan.may_move import MayMove, may_move
from lineproof.plan.work import work

MOVE, LOWER = "move", "lower"
LOGBOOK = "logbook.db"
WIDTH = 13
"""Columns of the verdict word on the screen. [-]"""

ONE_GOVERNS = (Verdict.GO, Verdict.WAIT)
"""Verdicts that hang on the one clock that runs longest."""

TO_ANSWER = ("has any joint of it been made, cut, knocked or moved that is not recorded?",)
TO_ANSWER_LOWER = (
    *TO_ANSWER,
    "nobody stands below it or in the trench under it",
    "slings, rigging and the trench: the competent person on the site",
)
"""What only counts on the spot; the verdict does not speak of it."""


@dataclass(frozen=True, slots=True)
class Known:
    """What the logbook held at one receipt."""

    state: State
    receipt: int
    head: str
    warnings: tuple[str, ...] = ()


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
    """Answer whether something may be moved or lowered.

    Parameters
    ----------
    verb : str
        ``"move"`` or ``"lower"``.
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
    job = read_job(folder)
    now = stamp_of(when, job.zone)
    humidity = _humidity(dampest)
    log = known_by(folder, known)
    stays = made_of(folder, log.state)
    made, _ = named_work(work(job, nest=False, recorded=stays), recorded=stays)
    progress = progress_of(log.state, now, people=people_of(job_uuid(job.settings), job.settings))
    found = may_move(subject, made, progress, not_made=not_made, dampest=humidity)
    spot = TO_ANSWER_LOWER if verb == LOWER else TO_ANSWER
    answer = _answer(verb, job, now, log, found, humidity, spot)
    for text in log.warnings:
        typer.echo(text, err=True)
    if as_json:
        typer.echo(dumps("may", answer))
    else:
        for text in lines_of(answer, job.settings.shown.shown):
            typer.echo(text)
    return found.verdict.exit_code


def stamp_of(when: str, zone: ZoneInfo) -> Stamp:
    """The moment judged, as a stamp.

    Parameters
    ----------
    when : str
        As typed; empty for what the clocks of this device say now.
    zone : ZoneInfo
        Of the site.

    Returns
    -------
    Stamp
        A moment that a person typed counts as confirmed.

    Raises
    ------
    BadInput
        It is no moment.
    """
    if not when:
        now = DeviceClock(zone.key).read()
        return Stamp(wall=now.wall, monotonic=now.monotonic, boot=now.boot, synchronised=now.synchronised)
    try:
        told = datetime.fromisoformat(when.strip())
    except ValueError:
        told = None
    if told is None or len(when.strip()) < len("2026-11-26T09:40"):
        raise BadInput(
            f"--when {when[:40]!r} is not a moment",
            allowed="a day and an hour of the site such as 2026-11-26T09:40",
            next="type it like that, or leave it out for now",
        )
    # In the hour that comes twice the earlier is meant: it never credits more time.
    return Stamp(wall=told if told.tzinfo else told.replace(tzinfo=zone), confirmed=True)


def _humidity(text: str) -> float | None:
    if not text:
        return None
    value = parse(text, "fraction")
    if not 0.0 <= value <= 1.0:
        raise BadInput(f"--dampest {text} is no humidity", allowed="0 % to 100 %", next="type it like 55%")
    return value


def known_by(folder: Path, receipt: int | None) -> Known:
    """What the logbook of a job held at a receipt.

    Parameters
    ----------
    folder : Path
        The job folder; it may have no logbook yet.
    receipt : int or None
        None for the newest. [-]

    Returns
    -------
    Known

    Raises
    ------
    BadInput
        There is no such receipt, or the logbook cannot be read.
    """
    path = folder / LOGBOOK
    if not path.is_file():
        if receipt:
            raise BadInput(
                f"there is no receipt {receipt}, as there is no logbook yet", next="leave --known out"
            )
        return Known(fold(()), 0, NO_RECEIPT.head)
    with SqliteStore(path) as store:
        taken = store.receipt(receipt)
        state = fold(store.read_since(), known_by=taken.number)
        return Known(state, taken.number, taken.head, tuple(store.warnings))


def _answer(
    verb: str,
    job: Job,
    now: Stamp,
    log: Known,
    found: MayMove,
    dampest: float | None,
    spot: tuple[str, ...],
) -> MayAnswer:
    return MayAnswer(
        may=verb,
        subject=found.subject,
        what=found.kind,
        when=now.wall.astimezone(job.zone),
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
    rows = []
    if answer.verdict is Verdict.WAIT and answer.until is not None:
        rows.append(not_before(answer.until, answer.when))
    else:
        rows.append(f"{answer.verdict.word:<{WIDTH}} {_asked(answer)}")
        if answer.until is not None:
            rows.append(_row("", not_before(answer.until, answer.when) + ", as far as is known"))
    if answer.governs is not None and answer.verdict in ONE_GOVERNS:
        rows.append(f"governed by {say(answer.governs, shown)}")
    rows += [_row(f.verdict.word, say(f, shown)) for f in others(answer)]
    if answer.left_out:
        rows.append(_row("left out", f"{listed(answer.left_out)}: cut out, or said not to be made"))
    if answer.dampest is not None:
        rows.append(_row("as said", f"humidity since then at most {answer.dampest * 100:g} %"))
    rows.append(_row("to answer then", " · ".join(answer.to_answer_then)))
    rows.append(
        f"Judged for {day_and_hour(answer.when)}, known by receipt {answer.known}. These are the clocks and "
        "the record; the container, the approved procedure and the competent person govern."
    )
    return rows


def _asked(answer: MayAnswer) -> str:
    count = len(answer.joints)
    return f"may {answer.may} {answer.subject} ({answer.what}, {count} joint{'' if count == 1 else 's'})"


def others(answer: MayAnswer) -> tuple[Finding, ...]:
    """Findings that are worse than GO and not told yet, alike ones in one."""
    told = answer.governs if answer.verdict in ONE_GOVERNS else None
    return told_together(f for f in answer.findings if f is not told and f.verdict is not Verdict.GO)


def _row(word: str, text: str) -> str:
    return f"{word:<{WIDTH}} {text}"
