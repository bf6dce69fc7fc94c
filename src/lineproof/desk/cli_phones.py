"""The command line of paired phones: ``lineproof phones ...``."""

from __future__ import annotations

from typing import Annotated

import typer

from lineproof.desk.cli_record import HERE, AsJson, JobFolder

phones = typer.Typer(
    name="phones",
    help="Phones that are let in by lineproof serve --lan: the list, a code for a new one, one dropped.",
    no_args_is_help=False,
    pretty_exceptions_enable=False,
    rich_markup_mode=None,
)
By = Annotated[str, typer.Option("--by", help="Who does it: an id of job.toml; the name is only typed.")]


@phones.callback(invoke_without_command=True)
def listed(context: typer.Context, job: JobFolder = HERE, json: AsJson = False) -> None:
    """Say which phones are paired: whose, as what, and when they were last seen."""
    if context.invoked_subcommand is None:
        from lineproof.desk.verbs_phones import show_phones

        show_phones(job, as_json=json)


@phones.command()
def pair(
    person: Annotated[str, typer.Argument(help="Whose phone it is: an id of job.toml.")],
    roles: Annotated[
        list[str],
        typer.Option(
            "--as",
            help="lead, joiner, inspector, engineer, test_in_charge, witness or viewer; may be given again.",
        ),
    ],
    again: Annotated[
        str, typer.Option("--again", help="A phone of that person that is paired again, such as ph-3f7a2c.")
    ] = "",
    by: By = "",
    job: JobFolder = HERE,
) -> None:
    """Make a code with its picture: it pairs one phone, once, within ten minutes."""
    from lineproof.desk.verbs_phones import pair_phone

    pair_phone(job, person, roles, by=by, again=again)


@phones.command()
def drop(
    phone: Annotated[str, typer.Argument(help="The phone, such as ph-3f7a2c.")],
    reason: Annotated[str, typer.Option("--reason", help="Why, such as lost.")] = "",
    by: By = "",
    job: JobFolder = HERE,
) -> None:
    """End the session of a phone that is lost or no longer needed."""
    from lineproof.desk.verbs_phones import drop_phone

    drop_phone(job, phone, reason, by=by)
