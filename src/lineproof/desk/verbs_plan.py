"""Verbs that plan: ``plan`` and ``demo``."""

from __future__ import annotations

import shutil
import tempfile
from importlib import resources
from pathlib import Path

import typer

import lineproof
from lineproof.desk.answer_pack import pack_answer
from lineproof.desk.as_json import dumps, envelope
from lineproof.desk.papers.answer import confirm_words
from lineproof.desk.say import say
from lineproof.floor.errors import BadInput
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.make_pack import Made, make_pack
from lineproof.plan.pack import Pack

PAPERS = ("a4", "letter")
WIDTH = 13
"""Columns of the verdict word on the screen. [-]"""


def run_plan(
    folder: Path, *, issue: bool, paper: str, day: str, line: str, no_paper: bool, as_json: bool
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
    as_json : bool
        Print the pack as JSON instead of the answer.

    Returns
    -------
    int
        Exit code of the verdict.
    """
    from lineproof.job.folder import read_job

    if paper and paper.lower() not in PAPERS:
        raise BadInput(
            f"{paper} is not a paper we print on", allowed=" or ".join(PAPERS), next="leave it out"
        )
    job = read_job(folder)
    made = make_pack(job, issuing=issue)
    if line and line not in made.pack.work.graph.lines:
        raise BadInput(f"no line is named {line!r}", allowed=", ".join(made.pack.work.graph.lines))
    if day and day not in made.pack.days:
        listed = (
            ", ".join(made.pack.days) or "no day: job.toml has no start, no crew, or a size without labour"
        )
        raise BadInput(f"no joint is planned for {day!r}", allowed=listed, next="name one of these days")
    pack = issued(folder, made) if issue else made.pack
    written = [] if no_paper else write_out(pack, paper, day=day, line=line)
    if as_json:
        typer.echo(dumps("pack", pack_answer(pack)))
    else:
        for text in answer_lines(pack):
            typer.echo(text)
        if written:
            typer.echo(f"{'pack':<{WIDTH}} {', '.join(str(p) for p in written)}")
    return pack.verdict.exit_code


def issued(folder: Path, made: Made) -> Pack:
    """Issue the plan and hand back the pack with its number."""
    from dataclasses import replace

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
    return replace(pack, issue=str(kept.number))


def write_out(pack: Pack, paper: str, *, day: str, line: str) -> list[Path]:
    """Make every paper first, then write them into out/, each whole or not at all."""
    from lineproof.desk.papers.make import papers
    from lineproof.desk.papers.spreadsheet import xlsx
    from lineproof.job.write import write_whole

    job = pack.work.job
    size = paper.lower() or ("letter" if job.settings.shown.units == "us" else "a4")
    made = dict(papers(pack, paper=size, day=day or None, line=line or None))
    made["lists.xlsx"] = xlsx(pack)
    made["pack.json"] = dumps("pack", pack_answer(pack), compact=True).encode()
    out = job.folder / "out"
    out.mkdir(exist_ok=True)
    for name, content in made.items():
        write_whole(out / name, content)
    return [out / name for name in made]


def pack_data(pack: Pack) -> dict[str, object]:
    """The pack as plain values (docs/schemas/pack.json)."""
    return envelope("pack", pack_answer(pack))


def answer_lines(pack: Pack) -> list[str]:
    """The answer on the screen: verdict, findings by line, counts, confirmations."""
    job = pack.work.job
    shown = job.settings.shown.shown
    invented = " (invented data)" if job.settings.job.invented else ""
    issue = f" · issue {pack.issue}" if pack.issue else " · not issued"
    rows = [f"{job.settings.job.name}{invented} · {len(pack.work.graph.lines)} lines{issue}"]
    for line in pack.work.graph.lines.values():
        drawing = f" · drawing {line.drawing} rev {line.rev}" if line.drawing else ""
        service = f" {line.service}" if line.service else ""
        rows.append(
            f"  {line.name}{service} · {line.size.text} {line.material.upper()} {line.series}{drawing}"
        )
    rows.append(f"{pack.verdict.word:<{WIDTH}} for the whole pack")
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


def run_demo(folder: Path, *, paper: str) -> None:
    """Run the main job on the built-in treatment works and say what it found."""
    source = resources.files("lineproof") / "demo" / "brackstow"
    if folder.exists() and any(folder.iterdir()):
        if not (folder / "job.toml").exists():
            raise BadInput(
                f"{folder} is there and is no job folder",
                allowed="an empty or a new folder",
                next="name another",
            )
        typer.echo(f"Using the job folder {folder} as it stands.")
    else:
        with resources.as_file(source) as there:
            whole = Path(tempfile.mkdtemp(prefix=".demo-", dir=folder.absolute().parent))
            shutil.copytree(there, whole, dirs_exist_ok=True)
            if folder.exists():
                folder.rmdir()
            whole.chmod(0o755)
            whole.rename(folder)
        typer.echo(f"Made the job folder {folder}: an invented treatment works, five lines.")
    from lineproof.job.folder import read_job

    made = make_pack(read_job(folder))
    pack = made.pack
    written = write_out(pack, paper, day=next(iter(pack.days), ""), line="")
    for text in answer_lines(pack):
        typer.echo(text)
    stops = [f for f in pack.findings if f.verdict is Verdict.STOP]
    typer.echo("")
    typer.echo(f"{len(pack.joints)} joints planned, {len(stops)} things stop work, {len(pack.work.tape.rows)} rows "
               f"to tape. The work pack lies in {written[0].parent}:")  # fmt: skip
    for path in written:
        typer.echo(f"  {path.name:<18} {_what(path.name)}")
    typer.echo(f"Next: open {written[0]}, tape what the tape list asks, then: lineproof plan --job {folder}")


def _what(name: str) -> str:
    return {
        "pack.pdf": "answer, cautions, tape list, lines, cut list, order list, sources",
        "joint-cards.pdf": "one card a joint of the first day",
        "wrap-strips.pdf": "strips to wrap round the pipe, 1:1",
        "lists.xlsx": "cut list and order list",
        "pack.json": "everything, for machines",
    }.get(name, "")
