"""The verb ``sequence``: how the last joint of every loop closes, and in what order joints are made."""

from __future__ import annotations

from pathlib import Path

import typer

from lineproof.desk.answer_sequence import sequence_answer
from lineproof.desk.as_json import dumps
from lineproof.desk.sequence_told import Told
from lineproof.desk.verbs_plan import WIDTH, carried
from lineproof.desk.words import ENGLISH, SPANISH
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Finding, worst
from lineproof.plan.sequence.sheet import StepLine

SAID = 12
"""Steps of a day that the screen shows before the rest is counted. [-]"""


def run_sequence(
    folder: Path, *, day: int, seconds: float, paper: str, no_paper: bool, language: str, as_json: bool
) -> int:
    """Find closure and order of a job and print the answer.

    Parameters
    ----------
    folder : Path
    day : int
        The day whose steps are shown in full; 0 for the first, in short. [-]
    seconds : float
        Guard on the search for openings. [s]
    paper : str
        ``"a4"``, ``"letter"`` or empty.
    no_paper : bool
        Only the answer.
    language : str
        ``"en"`` or ``"es"``.
    as_json : bool

    Returns
    -------
    int
        Exit code of the verdict.
    """
    from lineproof.desk.record_book import record_of
    from lineproof.job.folder import read_job
    from lineproof.plan.facts_sequence import sequence_findings
    from lineproof.plan.joints import joint_plans
    from lineproof.plan.make_pack import named_work, newest_input
    from lineproof.plan.sequence.whole import sequence_of
    from lineproof.plan.work import work

    carried(paper)
    if language not in (ENGLISH, SPANISH):
        raise BadInput(
            f"{language} is not spoken here", allowed="en or es", next="leave --in out for English"
        )
    job = read_job(folder)
    stays, _ = record_of(folder, job.settings)
    done, _ = named_work(work(job, nest=False, recorded=stays), recorded=stays)
    joints = joint_plans(done.graph, done.cutting, job.settings, done.book, catalogue=job.parts)
    ordered = sequence_of(done, joints, seconds=seconds)
    if day and day not in ordered.days:
        days = f"1 to {max(ordered.days)}" if ordered.days else "none: no order was found"
        raise BadInput(f"the order has no day {day}", allowed=days, next="leave --day out")
    findings = sequence_findings(done, ordered, joints)
    told = Told(done, ordered, language)
    written = None
    if not no_paper and ordered.steps:
        from lineproof.desk.papers.sequence import sequence_pdf
        from lineproof.job.write import write_whole

        size = paper.lower() or ("letter" if job.settings.shown.units == "us" else "a4")
        made = sequence_pdf(told, joints, findings, newest_input(job), paper=size)
        written = folder / "out" / "sequence.pdf"
        written.parent.mkdir(exist_ok=True)
        write_whole(written, made)
    if as_json:
        typer.echo(dumps("sequence", sequence_answer(done, ordered, findings, newest_input(job))))
    else:
        for text in lines(told, findings, day):
            typer.echo(text)
        if written is not None:
            typer.echo(f"{told.words['papers']:<{WIDTH}} {written}")
    return worst(findings).exit_code


def lines(told: Told, findings: tuple[Finding, ...], day: int) -> list[str]:
    """The answer on the screen."""
    settings = told.work.job.settings
    invented = " (invented data)" if settings.job.invented else ""
    rows = [f"{settings.job.name}{invented} · {told.words['title']}"]
    rows += [f"{f.verdict.word:<{WIDTH}} {told.finding(f)}" for f in findings]
    rows += [f"{label:<{WIDTH}} {text}" for label, text in told.rows()]
    days = told.ordered.days
    if days:
        shown = day or min(days)
        steps = days[shown]
        most = len(steps) if day else SAID
        label = told.fill("day", day=shown)
        rows += [
            f"{label if n == 0 else '':<{WIDTH}} {step_line(told, s)}" for n, s in enumerate(steps[:most])
        ]
        if len(steps) > most:
            rows.append(f"{'':<{WIDTH}} + {len(steps) - most}: lineproof sequence --day {shown}")
    rows.append(told.words["caution"])
    return rows


def step_line(told: Told, s: StepLine) -> str:
    """One step on the screen."""
    names = told.words["and"].join(s.joints) or ", ".join(b.replace("/", " ") for b in s.bolts)
    at = told.fill("join", at=told.at(s.join_at, s.day))
    move = f" · {told.fill('move', at=told.at(s.move_at, s.day))}" if s.joints else ""
    rest = "; ".join(told.remarks(s))
    return f"{s.n}. {names}: {told.step(s)} · {at}{move}" + (f" · {rest}" if rest else "")
