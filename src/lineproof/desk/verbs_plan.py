"""Verbs that plan: ``plan`` and ``demo``."""

from __future__ import annotations

import shlex
from collections.abc import Iterable
from importlib import resources
from pathlib import Path

import typer

import lineproof
from lineproof.desk.answer_pack import pack_answer
from lineproof.desk.as_json import dumps, envelope
from lineproof.desk.papers.answer import confirm_words
from lineproof.desk.papers.first import first_things
from lineproof.desk.papers.words import plural
from lineproof.desk.say import say
from lineproof.desk.words_pipe import lines_in_groups
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.duty import matches
from lineproof.plan.ask import read_answer
from lineproof.plan.make_pack import Made, make_pack
from lineproof.plan.pack import Pack

PAPERS = ("a4", "letter")
WIDTH = 13
"""Columns of the verdict word on the screen. [-]"""


def run_plan(
    folder: Path,
    *,
    issue: bool,
    paper: str,
    day: str,
    line: str,
    no_paper: bool,
    same: Iterable[str],
    as_json: bool,
) -> int:
    """Plan a job, write its papers and print the answer.

    Parameters
    ----------
    folder : Path
    issue : bool
        Give the pack to the crew.
    paper : str
        ``"a4"``, ``"letter"`` or empty: Letter for US jobs, A4 for metric ones.
    day, line : str
        What the joint cards and the day sheet are for.
    no_paper : bool
        Only the answer.
    same : iterable of str
        Answers to questions about joints that moved.
    as_json : bool
        Print the pack as JSON instead of the answer.

    Returns
    -------
    int
        Exit code of the verdict.
    """
    from lineproof.desk.record_book import record_of
    from lineproof.job.folder import read_job

    carried(paper)
    job = read_job(folder)
    answers = [read_answer(text) for text in same]
    stays, progress = record_of(folder, job.settings)
    made = make_pack(job, issuing=issue, recorded=stays, answers=answers, progress=progress)
    check_choice(made.pack, day=day, line=line)
    pack, is_new = issued(folder, made) if issue else (made.pack, False)
    written = [] if no_paper else write_out(pack, paper, day=day, line=line)
    if as_json:
        typer.echo(dumps("pack", pack_answer(pack)))
    else:
        for text in answer_lines(pack):
            typer.echo(text)
        if issue:
            said = "for the crew" if is_new else "stands: nothing new since"
            typer.echo(f"{'issue':<{WIDTH}} {pack.issue} {said}, kept in {folder / 'issued' / pack.issue}")
        if written:
            typer.echo(f"{'pack':<{WIDTH}} {', '.join(str(p) for p in written)}")
    return pack.verdict.exit_code


def carried(paper: str) -> None:
    """Refuse a paper we do not print on."""
    if paper and paper.lower() not in PAPERS:
        raise BadInput(
            f"{paper} is not a paper we print on", allowed=" or ".join(PAPERS), next="leave it out"
        )


def check_choice(pack: Pack, *, day: str, line: str) -> None:
    """Refuse a day or a line that is not in the pack, before anything is issued or written."""
    lines = pack.work.graph.lines
    if line and not any(matches(line, name) for name in lines):
        raise BadInput(f"no line is named {line!r}", allowed=", ".join(lines), next="name one of these")
    if day and not pack.days:
        raise BadInput(
            f"no joint is planned for {day!r}, no day is planned at all",
            allowed="a day of the plan, once job.toml has a start and a crew, and every size has its labour",
            next="leave it out",
        )
    if day and day not in pack.days:
        raise BadInput(
            f"no joint is planned for {day!r}", allowed=", ".join(pack.days), next="name one of these days"
        )


def issued(folder: Path, made: Made, *, person: str = "", mind: bool = True) -> tuple[Pack, bool]:
    """Issue the plan; the pack with its number, and whether there was anything new to issue.

    Parameters
    ----------
    folder : Path
    made : Made
        Planned for an issue.
    person : str
        Id of the person who gives it; whoever wrote last on this machine unless said.
    mind : bool
        Judge again the releases that stand, and print what that takes back.

    Returns
    -------
    Pack, bool
    """
    from dataclasses import replace

    from lineproof.desk.record_book import write_issue
    from lineproof.desk.verbs_record import mind_releases
    from lineproof.plan.issue import issue

    pack = made.pack
    kept = issue(
        folder,
        named=made.named,
        graph=pack.work.graph,
        cutting=pack.work.cutting,
        inputs=pack.work.job.inputs,
        tables={f"{c.table} {c.source.edition}" for c in pack.cells()},
        software=lineproof.__version__,
        when=pack.stamp.isoformat(),
    )
    write_issue(folder, pack.work.job.settings, kept, person=person)
    if kept.new and mind:
        mind_releases(folder, pack.work.job.settings, [], as_json=True, anyway=True)
    return replace(pack, issue=str(kept.number)), kept.new


def write_out(pack: Pack, paper: str, *, day: str, line: str) -> list[Path]:
    """Make every paper first, then write them into out/, each whole or not at all."""
    from lineproof.desk.papers.make import papers
    from lineproof.desk.papers.spreadsheet import xlsx
    from lineproof.desk.record_book import head_of
    from lineproof.job.write import why, write_whole

    job = pack.work.job
    size = paper.lower() or ("letter" if job.settings.shown.units == "us" else "a4")
    head = head_of(job.folder)
    made = dict(papers(pack, paper=size, day=day or None, line=line or None, head=head))
    made["lists.xlsx"] = xlsx(pack, head=head)
    made["pack.json"] = dumps("pack", pack_answer(pack), compact=True).encode()
    out = job.folder / "out"
    try:
        out.mkdir(exist_ok=True)
    except OSError as error:
        raise BadInput(
            f"the folder {out} cannot be written: {why(error)}",
            allowed="a folder named out, for what we print",
            next="move what stands there",
        ) from error
    for name, content in made.items():
        write_whole(out / name, content)
    return [out / name for name in made]


def pack_data(pack: Pack) -> dict[str, object]:
    """The pack as plain values (docs/schemas/pack.json)."""
    return envelope("pack", pack_answer(pack))


def answer_lines(pack: Pack) -> list[str]:
    """The answer on the screen: verdict, what to do first, findings, counts, confirmations."""
    job = pack.work.job
    shown = job.settings.shown.shown
    invented = " (invented data)" if job.settings.job.invented else ""
    issue = f" · issue {pack.issue}" if pack.issue else " · not issued"
    rows = [f"{job.settings.job.name}{invented} · {plural(len(pack.work.graph.lines), 'line')}{issue}"]
    rows += [f"  {text}" for text in lines_in_groups(pack.work.graph.lines.values())]
    rows.append(f"{pack.verdict.word:<{WIDTH}} for the whole pack")
    rows += [
        f"{'first' if n == 1 else '':<{WIDTH}} {n} {text}" for n, text in enumerate(first_things(pack), 1)
    ]
    rows += [finding_line(f, shown) for f in pack.findings]
    rows += count_lines(pack)
    rows += [f"{'confirm':<{WIDTH}} {confirm_words(c)}" for c in pack.confirmations]
    return rows


def finding_line(finding: Finding, shown: Shown) -> str:
    """One finding as a line: its word, then its sentence."""
    return f"{finding.verdict.word:<{WIDTH}} {say(finding, shown)}"


def count_lines(pack: Pack) -> list[str]:
    """How many joints and pieces stand where, and the sticks."""
    counts = pack.counts
    rows = []
    for verdict in sorted(set(counts.joints) | set(counts.pieces), key=int):
        joints, pieces = counts.joints.get(verdict, 0), counts.pieces.get(verdict, 0)
        rows.append(
            f"{verdict.word:<{WIDTH}} {joints} of {sum(counts.joints.values())} joints · "
            f"{pieces} of {sum(counts.pieces.values())} pieces"
        )
    gap = counts.sticks - counts.bound
    rows.append(
        f"{'sticks':<{WIDTH}} {counts.sticks} (bound {counts.bound}{', gap ' + str(gap) if gap else ''})"
    )
    return rows


def run_demo(folder: Path, *, paper: str, as_json: bool) -> None:
    """Run the main job on the built-in treatment works and say what it found."""
    from lineproof.desk.record_book import recorded
    from lineproof.job.folder import new_job, read_job

    carried(paper)
    here = folder.is_dir() and (folder / "job.toml").exists()
    if not here:
        new_job(folder, like=resources.files("lineproof") / "demo" / "brackstow")
    pack = make_pack(read_job(folder), recorded=recorded(folder)).pack
    written = write_out(pack, paper, day=next(iter(pack.days), ""), line="")
    if as_json:
        typer.echo(dumps("pack", pack_answer(pack)))
        return
    if here:
        typer.echo(f"Using the job folder {folder} as it stands.")
    else:
        typer.echo(f"Made the job folder {folder}: an invented treatment works, five lines.")
    for text in answer_lines(pack):
        typer.echo(text)
    stops = sum(f.verdict is Verdict.STOP for f in pack.findings)
    typer.echo("")
    typer.echo(
        f"{plural(len(pack.joints), 'joint')} planned, {plural(stops, 'STOP')}, "
        f"{plural(len(pack.work.tape.rows), 'row')} to tape. The work pack lies in {written[0].parent}:"
    )
    typed = shlex.quote(str(folder))
    for path in written:
        typer.echo(f"  {path.name:<18} {_WHAT.get(path.name, '')}".rstrip())
    typer.echo(f"Next: open {written[0]}, tape what the tape list asks, then: lineproof plan --job {typed}")
    typer.echo("The same works two weeks on, partly built, and may it be tested: lineproof demo --built")


_WHAT = {
    "pack.pdf": "answer, cautions, tape list, lines, cut list, order list, sources",
    "joint-cards.pdf": "one card a joint of the first day",
    "wrap-strips.pdf": "strips to wrap round the pipe, 1:1",
    "tags.pdf": "one tag a joint, to be read by a phone",
    "lists.xlsx": "cut list and order list",
    "pack.json": "everything, for machines",
}
