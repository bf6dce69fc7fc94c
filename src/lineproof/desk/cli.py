"""The command line: ``lineproof VERB``. Only the desk prints and turns our errors into an exit code."""

from __future__ import annotations

import sys
from typing import Annotated

import typer

import lineproof
from lineproof.floor.errors import LineproofError

BAD_USAGE = 64

app = typer.Typer(
    name="lineproof",
    help="From a drawing to a proven line of solvent-cemented plastic pressure pipe.",
    no_args_is_help=True,
    add_completion=False,
    pretty_exceptions_enable=False,
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


def main() -> None:
    """Run the verb that was typed and exit with its code; bad usage and bad input exit with 64."""
    try:
        app(prog_name="lineproof")
    except LineproofError as error:
        typer.echo(str(error), err=True)
        sys.exit(BAD_USAGE)
    except SystemExit as stop:
        sys.exit(BAD_USAGE if stop.code == 2 else stop.code)  # 2 is how the reader of options says bad usage
