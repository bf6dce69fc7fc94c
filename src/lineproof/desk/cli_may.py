"""The command line of the answers: ``lineproof may ...``, whose exit code is the verdict."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated, Any

import typer

from lineproof.desk.cli_record import HERE, AsJson, JobFolder

When = Annotated[
    str,
    typer.Option("--when", help="The moment judged, such as 2026-11-26T09:40 on the site; now unless said."),
]
KnownBy = Annotated[
    int | None, typer.Option("--known", min=0, help="Only what the logbook had by this receipt counts.")
]
Dampest = Annotated[
    str, typer.Option("--dampest", help="Highest humidity since the joints were made, such as 55%.")
]
may = typer.Typer(
    name="may",
    help="May it be done now? GO, NOT BEFORE a moment, STOP or CANNOT TELL; exits with the verdict.",
    no_args_is_help=True,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)

Subject = Annotated[
    str, typer.Argument(help="What is moved: a joint, a piece, a spool or a line, named as on the pack.")
]
NotMade = Annotated[
    list[str] | None,
    typer.Option(
        "--not-made", help="A joint without a record that is not made yet, or all; may be given again."
    ),
]


@may.command(name="move")
def may_be_moved(
    subject: Subject,
    when: When = "",
    known: KnownBy = None,
    not_made: NotMade = None,
    dampest: Dampest = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May it be moved: hold ended, hands-off time of the cement card behind every joint, no hold tag."""
    _moved("move", job, subject, when, known, not_made, dampest, json)


@may.command(name="lower")
def may_be_lowered(
    subject: Subject,
    when: When = "",
    known: KnownBy = None,
    not_made: NotMade = None,
    dampest: Dampest = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May it be lowered: the clocks of may move, and what the competent person answers on the spot."""
    _moved("lower", job, subject, when, known, not_made, dampest, json)


@may.command(name="load")
def may_be_loaded(
    subject: Subject,
    when: When = "",
    known: KnownBy = None,
    not_made: NotMade = None,
    dampest: Dampest = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May weight come on it, soil or a hung part: the clocks of may move, and every joint accepted."""
    _moved("load", job, subject, when, known, not_made, dampest, json)


@may.command(name="open")
def may_be_opened(
    subject: Annotated[str, typer.Argument(help="What is cut, unbolted or uncapped; or a whole section.")],
    when: When = "",
    known: KnownBy = None,
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May it be cut, unbolted or uncapped: zero proved by an open vent in every section that reaches it."""
    _moved("open", job, subject, when, known, None, "", json)


def _moved(
    verb: str,
    job: Path,
    subject: str,
    when: str,
    known: int | None,
    not_made: list[str] | None,
    dampest: str,
    json: bool,
) -> None:
    from lineproof.desk.verbs_may import run_may

    code = run_may(
        verb, job, subject, when=when, known=known, not_made=not_made or (), dampest=dampest, as_json=json
    )
    raise typer.Exit(code)


Section = Annotated[str, typer.Argument(help="The section, as under [[sections]] in job.toml.")]
AtGauge = Annotated[str, typer.Option("--at", help="Gauge place where the pressure is read, such as PG-2.")]
Medium = Annotated[str, typer.Option("--medium", help="What the line is filled with: water.")]
Asks = Annotated[str, typer.Option("--by", help="Who asks, by the id in job.toml; the answer is then kept.")]
Releases = Annotated[
    bool,
    typer.Option("--release", help="The person in charge of the test, named with --by, releases on GO."),
]
GoodFor = Annotated[
    str, typer.Option("--for", help="How long the release may be begun on, such as 30min; else 15 min.")
]


@may.command(name="fill")
def may_be_filled(
    section: Section,
    gauge: Annotated[
        str, typer.Option("--gauge", help="The most at the gauge place; the water's own column unless said.")
    ] = "",
    at: AtGauge = "",
    medium: Medium = "",
    by: Asks = "",
    release: Releases = False,
    good_for: GoodFor = "",
    when: When = "",
    known: KnownBy = None,
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May a section be filled: every joint at the pressure of the water that will stand on it."""
    _pressure(
        "fill", job, section, gauge=gauge, at=at, medium=medium, by=by, release=release, good_for=good_for,
        when=when, known=known, as_json=json,
    )  # fmt: skip


@may.command(name="raise")
def may_be_raised(
    section: Section,
    gauge: Annotated[str, typer.Option("--gauge", help="The pressure asked for, such as 135psi.")] = "",
    at: AtGauge = "",
    medium: Medium = "",
    by: Asks = "",
    release: Releases = False,
    good_for: GoodFor = "",
    when: When = "",
    known: KnownBy = None,
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """May a section be taken to a pressure: every joint at its own pressure, and all that stands around."""
    _pressure(
        "raise", job, section, gauge=gauge, at=at, medium=medium, by=by, release=release, good_for=good_for,
        when=when, known=known, as_json=json,
    )  # fmt: skip


def _pressure(verb: str, job: Path, section: str, **asked: Any) -> None:
    from lineproof.desk.verbs_raise import run_raise

    raise typer.Exit(run_raise(verb, job, section, **asked))
