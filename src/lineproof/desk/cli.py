"""The command line: ``lineproof VERB``. Only the desk prints and turns our errors into an exit code.

Each verb loads what it needs when it runs, so that ``--help`` is quick.
"""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import Annotated

import typer

import lineproof
from lineproof.desk.cli_may import Dampest, KnownBy, When, may
from lineproof.desk.cli_phones import phones
from lineproof.desk.cli_record import HERE, AsJson, JobFolder, record
from lineproof.floor.errors import LineproofError

BAD_USAGE = 64
OUR_FAULT = 70
CUT_OFF = 141
"""What a shell says of a program whose reader has gone: 128 + SIGPIPE."""
VERDICT_VERBS = frozenset({"plan", "may", "sequence", "verify"})
"""Verbs whose exit code is a verdict, where 0 means GO."""

app = typer.Typer(
    name="lineproof",
    help="From a drawing to a proven line of solvent-cemented plastic pressure pipe.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)


def _version(asked: bool) -> None:
    if asked:
        typer.echo(f"lineproof {lineproof.__version__}")
        raise typer.Exit


@app.callback()
def before_any_verb(
    version: Annotated[
        bool, typer.Option("--version", help="Say which version this is.", callback=_version, is_eager=True)
    ] = False,
) -> None:
    """From a drawing to a proven line of solvent-cemented plastic pressure pipe."""


@app.command()
def new(
    folder: Annotated[Path, typer.Argument(help="The folder to make; it must be empty or not there yet.")],
    json: AsJson = False,
) -> None:
    """Make a job folder whose comments teach, with one short line to write over."""
    from lineproof.desk.verbs_job import make_new

    make_new(folder, as_json=json)


@app.command()
def walk(
    line: Annotated[str, typer.Argument(help="One line; all lines unless said.")] = "",
    job: JobFolder = HERE,
    as_csv: Annotated[bool, typer.Option("--csv", help="Print the walk as CSV.")] = False,
    as_text: Annotated[bool, typer.Option("--text", help="Print the walk in its plain form.")] = False,
    json: AsJson = False,
) -> None:
    """Read the walked lines back: legs, turns, offsets, where each line ends."""
    from lineproof.desk.verbs_job import show_walk

    show_walk(job, line, as_csv=as_csv, as_text=as_text, as_json=json)


@app.command()
def taped(
    line: Annotated[str, typer.Argument(help="The line, such as B-201.")],
    face_a: Annotated[str, typer.Argument(help="The face the tape was held at, as named on the pack.")],
    to: Annotated[str, typer.Argument(metavar="to", help="The word: to")],
    face_b: Annotated[str, typer.Argument(help="The other face.")],
    length: Annotated[str, typer.Argument(help="What the tape read between the two faces, with its unit.")],
    by: Annotated[str, typer.Option("--by", help="Who held the tape.")] = "",
    note: Annotated[str, typer.Option("--note", help="Remarks.")] = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    r"""Enter a taped gap; what is not made yet is cut anew.

    Such as: lineproof taped B-201 "pump P-3" to E1 "12'-6 1/2\""
    """
    from lineproof.desk.verbs_job import enter_taped

    enter_taped(job, line, face_a, to, face_b, length, by=by, note=note, as_json=json)


@app.command()
def plan(
    job: JobFolder = HERE,
    issue: Annotated[
        bool,
        typer.Option("--issue", help="Give the pack to the crew: joints get their ids, a revision is kept."),
    ] = False,
    paper: Annotated[str, typer.Option("--paper", help="a4 or letter.")] = "",
    day: Annotated[str, typer.Option("--day", help="Joint cards for this day, such as 2027-05-04.")] = "",
    line: Annotated[str, typer.Option("--line", help="Joint cards for this line, or for B-2*.")] = "",
    no_paper: Annotated[bool, typer.Option("--no-paper", help="Only the answer on the screen.")] = False,
    same: Annotated[
        list[str] | None,
        typer.Option(
            "--same", help="Answers which joint is which, as the question says how; may be given again."
        ),
    ] = None,
    json: AsJson = False,
) -> None:
    """Plan the job and print its work pack into out/; exits with the verdict of the whole."""
    from lineproof.desk.verbs_plan import run_plan

    raise typer.Exit(
        run_plan(
            job,
            issue=issue,
            paper=paper,
            day=day,
            line=line,
            no_paper=no_paper,
            same=same or (),
            as_json=json,
        )
    )


@app.command()
def sequence(
    job: JobFolder = HERE,
    day: Annotated[int, typer.Option("--day", min=0, help="Show every step of this day, 1 the first.")] = 0,
    seconds: Annotated[
        float, typer.Option("--seconds", min=0.0, help="How long the search for openings may take.")
    ] = 60.0,
    paper: Annotated[str, typer.Option("--paper", help="a4 or letter.")] = "",
    no_paper: Annotated[bool, typer.Option("--no-paper", help="Only the answer on the screen.")] = False,
    language: Annotated[str, typer.Option("--in", metavar="en|es", help="en: English; es: Spanish.")] = "en",
    json: AsJson = False,
) -> None:
    """In what order the joints are made, and how the last one closes; exits with the verdict."""
    from lineproof.desk.verbs_sequence import run_sequence

    raise typer.Exit(
        run_sequence(
            job, day=day, seconds=seconds, paper=paper, no_paper=no_paper, language=language, as_json=json
        )
    )


@app.command()
def figure(
    name: Annotated[str, typer.Argument(help="Name of the figure; lists them all unless said.")] = "",
    inputs: Annotated[
        list[str] | None,
        typer.Argument(metavar="NAME=VALUE...", help="Inputs with units, such as od=6.625in."),
    ] = None,
    json: AsJson = False,
) -> None:
    """A sum as a hand calculator: value, formula, substitution, sources."""
    from lineproof.desk.verbs_job import show_figure

    show_figure(name, inputs or [], as_json=json)


@app.command()
def demo(
    folder: Annotated[
        Path | None, typer.Argument(help="Where to put the demo job; demo-job or demo-built unless said.")
    ] = None,
    paper: Annotated[str, typer.Option("--paper", help="a4 or letter.")] = "",
    built: Annotated[
        bool, typer.Option("--built", help="The works partly built: the record, and may it be tested.")
    ] = False,
    json: AsJson = False,
) -> None:
    """Run the main job on the built-in invented treatment works: five lines, 341 joints."""
    if built:
        from lineproof.desk.verbs_demo import run_built

        run_built(folder or Path("demo-built"), as_json=json)
        return
    from lineproof.desk.verbs_plan import run_demo

    run_demo(folder or Path("demo-job"), paper=paper, as_json=json)


@app.command()
def serve(
    job: JobFolder = HERE,
    port: Annotated[
        int,
        typer.Option("--port", min=1, max=65533, help="Where it listens; --lan takes the two after it too."),
    ] = 8642,
    lan: Annotated[
        bool, typer.Option("--lan", help="Let paired phones on the site's network in, each as its person.")
    ] = False,
) -> None:
    """Show the job as pages in a browser on this machine; nothing leaves it. Stop it with Ctrl-C."""
    from lineproof.desk.verbs_serve import run_serve

    run_serve(job, port=port, lan=lan)


app.add_typer(record)
app.add_typer(phones)


Language = Annotated[str, typer.Option("--in", metavar="en|es", help="en: English; es: Spanish.")]


@app.command()
def now(
    short: Annotated[
        bool, typer.Option("--short", help="Five plain lines to read over the radio, each under 160 letters.")
    ] = False,
    language: Language = "en",
    when: When = "",
    known: KnownBy = None,
    dampest: Dampest = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """What happens now: clocks, what may be moved, what must not be touched, who owes a signature."""
    from lineproof.desk.verbs_now import run_now

    run_now(job, when=when, known=known, dampest=dampest, short=short, language=language, as_json=json)


@app.command()
def days(
    first_day: Annotated[
        str, typer.Option("--from", help="First day of joining; that of job.toml unless said.")
    ] = "",
    seconds: Annotated[
        float, typer.Option("--seconds", min=1, max=3600, help="How long each plan may be looked for.")
    ] = 20.0,
    seed: Annotated[int, typer.Option("--seed", min=0, help="Another seed tries other plans.")] = 0,
    workers: Annotated[
        int,
        typer.Option(
            "--workers", min=1, max=64, help="Searches side by side; more than 1: not the same twice."
        ),
    ] = 1,
    try_crews: Annotated[
        int, typer.Option("--try-crews", min=0, max=9, help="What if: so many more crews like the first.")
    ] = 0,
    try_tent: Annotated[
        list[str] | None,
        typer.Option("--try-tent", help="What if: a tent over this line, or B-2*; may be given again."),
    ] = None,
    try_colder: Annotated[
        str,
        typer.Option(
            "--try-colder", help="What if: so much colder, such as 5C, or 5C/2027-04-19/2027-04-25."
        ),
    ] = "",
    try_lost: Annotated[
        list[str] | None, typer.Option("--try-lost", help="What if: this day is lost; may be given again.")
    ] = None,
    strip: Annotated[
        bool, typer.Option("--strip", help="A strip for each day, half an hour a letter.")
    ] = False,
    keep: Annotated[
        bool, typer.Option("--keep", help="Write out/days.svg, and the plan to hold the next one against.")
    ] = False,
    language: Language = "en",
    when: When = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Which joints on which days by which crews, when the tests are, and what a change would do."""
    from lineproof.desk.verbs_days import run_days

    run_days(
        job, first_day=first_day, when=when, seconds=seconds, seed=seed, workers=workers, crews=try_crews,
        tent=try_tent or (), colder=try_colder, lost=try_lost or (), strip=strip, keep=keep,
        language=language, as_json=json,
    )  # fmt: skip


@app.command()
def hours(
    line: Annotated[str, typer.Option("--line", help="Line; that with the largest joint unless said.")] = "",
    days: Annotated[int, typer.Option("--days", help="How many days, 1 to 14.")] = 3,
    colour: Annotated[str, typer.Option("--colour", help="Of the pipe: white, grey or black.")] = "grey",
    shade: Annotated[bool, typer.Option("--shade", help="A cover keeps sun and sky off the pipe.")] = False,
    tent: Annotated[str, typer.Option("--tent", help="It stands in a tent; its air, such as 60F.")] = "",
    heater_out: Annotated[
        bool | None,
        typer.Option("--heater-out/--heater-in", help="The heater is out before primer is opened, or not."),
    ] = None,
    heat_off: Annotated[
        bool | None,
        typer.Option("--heat-off/--heat-on", help="No heat points at the joint, or it does."),
    ] = None,
    pipe: Annotated[str, typer.Option("--pipe", help="Pipe temperature as read at it, such as 61F.")] = "",
    dry_hand: Annotated[
        bool, typer.Option("--dry-hand", help="A dry hand was run over pipe and socket and stayed dry.")
    ] = False,
    read_at: Annotated[str, typer.Option("--read-at", help="When both were read; now unless said.")] = "",
    svg: Annotated[Path | None, typer.Option("--svg", help="Writes the strip as a picture.")] = None,
    language: Language = "en",
    when: When = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Which hours of the coming days a joint can be made in, what binds each, and what would lift it."""
    from lineproof.desk.verbs_hours import run_hours

    run_hours(
        job, when=when, days=days, line=line, colour=colour, shade=shade, tent=tent, heater_out=heater_out,
        heat_off=heat_off, pipe=pipe, dry_hand=dry_hand, read_at=read_at, svg=svg, language=language,
        as_json=json,
    )  # fmt: skip


app.add_typer(may)


def _nobody_reads() -> int:
    """Exit code where the reader of our output has gone, as in ``lineproof figure | head``.

    0, but for verbs whose code is a verdict: an answer that nobody read to its end is not GO.
    """
    os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
    return CUT_OFF if VERDICT_VERBS & set(sys.argv[1:3]) else 0


def main() -> None:
    """Run the verb that was typed and exit with its code; bad usage and bad input exit with 64."""
    # A verb makes its values once and ends: walking through them again and again only takes time.
    gc.set_threshold(200_000, 50, 50)
    try:
        app(prog_name="lineproof")
    except LineproofError as error:
        typer.echo(str(error), err=True)
        sys.exit(error.exit_code)
    except BrokenPipeError:
        sys.exit(_nobody_reads())
    except SystemExit as stop:
        if isinstance(stop.__context__, BrokenPipeError):  # the reader of options met it first and says 1
            sys.exit(_nobody_reads())
        sys.exit(BAD_USAGE if stop.code == 2 else stop.code)  # 2 is how the reader of options says bad usage
    except Exception as fault:  # the last fence: a fault of ours is said in one line, never as a traceback
        if os.environ.get("LINEPROOF_TRACEBACK"):
            raise
        what = f"{type(fault).__name__}: {fault}".splitlines()[0][:300]
        typer.echo(
            f"a fault of ours, not of your files: {what}. Nothing half-written was kept; next: run again "
            "with LINEPROOF_TRACEBACK=1 and send us what it prints.",
            err=True,
        )
        sys.exit(OUR_FAULT)
