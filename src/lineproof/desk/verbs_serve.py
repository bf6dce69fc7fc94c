"""The verb ``serve``: pages of one job on this machine."""

from __future__ import annotations

import socket
from pathlib import Path

import typer

from lineproof.desk.record_book import settings_of
from lineproof.floor.errors import BadInput

LOOPBACK = "127.0.0.1"


def run_serve(folder: Path, *, port: int) -> None:
    """Serve the pages of a job until somebody stops it.

    Parameters
    ----------
    folder : Path
    port : int
        [-]

    Raises
    ------
    BadInput
        The folder holds no job, or something listens there already.
    """
    import uvicorn

    from lineproof.desk.web.app import create_app

    name = settings_of(folder).job.name
    with socket.socket() as probe:
        if probe.connect_ex((LOOPBACK, port)) == 0:
            raise BadInput(
                f"something listens at port {port} already", allowed="a port that is free",
                next="choose another with --port",
            )  # fmt: skip
    typer.echo(f"{name}: http://localhost:{port}/  (this machine only; stop it with Ctrl-C)")
    uvicorn.run(
        create_app(folder), host=LOOPBACK, port=port, log_level="warning", access_log=False,
        server_header=False, date_header=False,
    )  # fmt: skip
