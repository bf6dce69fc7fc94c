"""The command line of the logbook: ``lineproof record ...``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

record = typer.Typer(
    name="record",
    help="Write down what happened, and read it back; nothing in the logbook is changed or lost.",
    no_args_is_help=True,
    rich_markup_mode=None,
)

JobFolder = Annotated[
    Path, typer.Option("--job", metavar="DIR", help="The job folder; the folder you stand in unless said.")
]
AsJson = Annotated[bool, typer.Option("--json", help="Print the answer as JSON (docs/schemas).")]
By = Annotated[
    str, typer.Option("--by", help="Who writes this, by the id in job.toml; whoever wrote last unless said.")
]
Insist = Annotated[
    str,
    typer.Option("--insist", help="Why an odd entry or an unknown name is kept all the same; it is flagged."),
]
Fields = Annotated[
    list[str] | None,
    typer.Argument(metavar="KEY=VALUE...", help="Fields with units, such as joint-temp=52F."),
]
HERE = Path()


@record.command()
def kinds(
    kind: Annotated[str, typer.Argument(help="One kind; all of them unless said.")] = "", json: AsJson = False
) -> None:
    """The kinds of entries: what each says, its fields, an example."""
    from lineproof.desk.verbs_record import show_kinds

    show_kinds(kind, as_json=json)


@record.command()
def add(
    kind: Annotated[str, typer.Argument(help="What happened: a kind, see `lineproof record kinds`.")],
    words: Annotated[
        list[str] | None,
        typer.Argument(metavar="SUBJECT KEY=VALUE...", help="What it is about, then fields with units."),
    ] = None,
    by: By = "",
    insist: Insist = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Write one entry; once this says written, it is on the disk."""
    from lineproof.desk.verbs_record import add as write

    write(job, kind, words or [], by=by, insist=insist, as_json=json)


@record.command()
def joint(
    name: Annotated[str, typer.Argument(help="The joint, such as B-201/J31.")],
    words: Fields = None,
    by: By = "",
    insist: Insist = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Write that a joint was made: pipe-end, socket, pulls, calls, can, primer, joint-temp, air-temp, ..."""
    from lineproof.desk.verbs_record import add as write

    write(job, "joint_made", [name, *(words or [])], by=by, insist=insist, as_json=json)


@record.command("list")
def list_entries(
    subject: Annotated[str, typer.Argument(help="A joint, can, tag, section or kind; all unless said.")] = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """What was written, newest last; corrections as old -> new."""
    from lineproof.desk.verbs_record import show_list

    show_list(job, subject, as_json=json)


@record.command()
def head(job: JobFolder = HERE, json: AsJson = False) -> None:
    """The head seal: one number for everything in the logbook; papers carry its first 16 figures."""
    from lineproof.desk.verbs_record_keep import show_head

    show_head(job, as_json=json)


@record.command()
def verify(
    seal: Annotated[str, typer.Option("--head", help="A head seal from a paper, 16 or 64 figures.")] = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Check that the logbook is as written; with a head from a paper, that nothing was cut off since."""
    from lineproof.desk.verbs_record_keep import run_verify

    raise typer.Exit(run_verify(job, head=seal, as_json=json))


@record.command()
def backup(
    file: Annotated[Path, typer.Argument(help="The copy to make; a new file.")],
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Copy the logbook while others write, and verify the copy."""
    from lineproof.desk.verbs_record_keep import run_backup

    raise typer.Exit(run_backup(job, file, as_json=json))


@record.command()
def export(
    file: Annotated[Path, typer.Argument(help="The file to write; a new one.")],
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Write the whole logbook into one file to carry to another copy of the job."""
    from lineproof.desk.verbs_record_keep import run_export

    run_export(job, file, as_json=json)


@record.command("import")
def import_file(
    file: Annotated[Path, typer.Argument(help="An export, a phone's entries, or texts of its codes.")],
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Take in what another copy of the job has recorded; nothing here is lost."""
    from lineproof.desk.verbs_record_keep import run_import

    run_import(job, file, as_json=json)


@record.command()
def settle(
    stand: Annotated[
        list[str] | None,
        typer.Argument(metavar="ENTRY...", help="Entries that stand; none: list what is open."),
    ] = None,
    reason: Annotated[str, typer.Option("--reason", help="Why these stand.")] = "",
    second: Annotated[str, typer.Option("--second", help="Who else stands by it, by id.")] = "",
    by: By = "",
    insist: Insist = "",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Say which of contradicting entries stand: forks, and joints told to be made twice."""
    from lineproof.desk.verbs_settle import settle as write

    write(job, stand or [], reason=reason, second=second, by=by, insist=insist, as_json=json)


@record.command("print")
def print_paper(
    paper_of: Annotated[
        str,
        typer.Argument(
            metavar="PAPER", help="joints (their record), stickers, cans, ledger, release or cautions."
        ),
    ],
    subjects: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="SUBJECT...", help="Joints, lines, sections, cans or releases; all unless said."
        ),
    ] = None,
    day: Annotated[
        str, typer.Option("--day", help="Joints made, or cans opened, on that day, such as 2027-05-04.")
    ] = "",
    when: Annotated[
        str, typer.Option("--when", help="The moment judged, such as 2027-05-04T14:00; now unless said.")
    ] = "",
    known: Annotated[
        int | None, typer.Option("--known", min=0, help="Only what the logbook had by this receipt counts.")
    ] = None,
    dampest: Annotated[
        str, typer.Option("--dampest", help="Highest humidity since the joints were made, such as 55%.")
    ] = "",
    paper: Annotated[str, typer.Option("--paper", help="a4 or letter.")] = "",
    language: Annotated[str, typer.Option("--in", metavar="en|es", help="en: English; es: Spanish.")] = "en",
    job: JobFolder = HERE,
    json: AsJson = False,
) -> None:
    """Print the record of joints, stickers, the cure ledger or a release form, as PDF into out/."""
    from lineproof.desk.verbs_record_print import run_print

    run_print(
        job, paper_of, subjects or (), day=day, when=when, known=known, dampest=dampest, paper=paper,
        language=language, as_json=json,
    )  # fmt: skip
