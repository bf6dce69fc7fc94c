"""The verb ``serve``: pages of one job on this machine, and with ``--lan`` on the site's network."""

from __future__ import annotations

import socket
from pathlib import Path

import typer

from lineproof.desk.record_book import settings_of
from lineproof.floor.errors import BadInput

LOOPBACK = "127.0.0.1"


def run_serve(folder: Path, *, port: int, lan: bool = False) -> None:
    """Serve the pages of a job until somebody stops it.

    Parameters
    ----------
    folder : Path
    port : int
        On this machine; with ``lan`` the two after it are the network's. [-]
    lan : bool
        Paired phones on the site's network are let in as well.

    Raises
    ------
    BadInput
        The folder holds no job, or something listens there already.
    """
    import uvicorn

    from lineproof.desk.web.app import create_app
    from lineproof.desk.web.patience import PATIENCE_S

    name = settings_of(folder).job.name
    for one in range(port, port + (3 if lan else 1)):
        with socket.socket() as probe:
            if one > 65535 or probe.connect_ex((LOOPBACK, one)) == 0:
                raise BadInput(
                    f"something listens at port {one} already", allowed="a port that is free",
                    next="choose another with --port",
                )  # fmt: skip
    typer.echo(f"{name}: http://localhost:{port}/  (this machine only; stop it with Ctrl-C)")
    if lan:
        from lineproof.desk.lan.serving import serve_on_network

        serve_on_network(folder, port=port, say=typer.echo)
        return
    uvicorn.run(
        create_app(folder, patience=PATIENCE_S), host=LOOPBACK, port=port, log_level="warning",
        access_log=False, server_header=False, date_header=False, proxy_headers=False,
    )  # fmt: skip
