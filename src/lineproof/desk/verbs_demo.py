"""The verb ``demo --built``: the invented treatment works partly built, and this afternoon's test."""

from __future__ import annotations

import shlex
from importlib import resources
from pathlib import Path

import typer

from lineproof.desk import demo_built as built
from lineproof.desk.record_book import FILE, joints_of
from lineproof.desk.verbs_now import run_now
from lineproof.desk.verbs_plan import issued
from lineproof.desk.verbs_raise import run_raise
from lineproof.job.folder import new_job, read_job
from lineproof.plan.make_pack import make_pack
from lineproof.plan.section_at import section_named
from lineproof.plan.section_reach import EQUIPMENT, reach_of


def run_built(folder: Path, *, as_json: bool) -> None:
    """Write the works as they stand on the day, and answer whether the line may be tested this afternoon.

    Parameters
    ----------
    folder : Path
        Where to put the job; one that is there is used as it stands.
    as_json : bool
        Print the answer as JSON (schema ``may-raise``) and nothing else.
    """
    here = (folder / FILE).exists()
    if not here:
        _make(folder)
    if not as_json:
        did = "Using" if here else "Made"
        typer.echo(f"{did} the job folder {folder}: the invented works, line {built.LINE} built.")
        typer.echo("")
        _typed(folder, f"may raise {built.SECTION} --gauge 135psi --at {built.GAUGE} --medium water")
    run_raise(
        "raise", folder, built.SECTION, gauge=built.PRESSURE, at=built.GAUGE, medium="water", by="",
        release=False, good_for="", when=built.ASKED_AT, known=None, as_json=as_json,
    )  # fmt: skip
    if as_json:
        return
    typer.echo("")
    _typed(folder, "now --short")
    run_now(folder, when=built.ASKED_AT, known=None, dampest="", short=True, language="en", as_json=False)


def _typed(folder: Path, words: str) -> None:
    typer.echo(f"$ lineproof {words} --when {built.ASKED_AT} --job {shlex.quote(str(folder))}")


def _make(folder: Path) -> None:
    new_job(folder, like=resources.files("lineproof") / "demo" / "brackstow")
    settings = folder / "job.toml"
    settings.write_text(settings.read_text("utf-8") + built.MORE_TOML, "utf-8")
    job = read_job(folder)
    pack, _ = issued(folder, make_pack(job, issuing=True))
    reach = reach_of(section_named(pack.work, built.SECTION), pack.work.graph, {})
    ends = [end.boundary for end in reach.ends if end.what == EQUIPMENT]
    joints = [n for n in joints_of(folder).newest if n.partition("/")[0] in reach.own]
    built.write_story(folder, joints, ends, job.zone)
