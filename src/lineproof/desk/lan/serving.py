"""Three listeners in one process: this machine, paired phones over https, and the certificate over http."""

from __future__ import annotations

import asyncio
import contextlib
import signal
import socket
from collections.abc import Callable, Iterator, Sequence
from pathlib import Path
from typing import Any

import uvicorn
from fastapi import FastAPI

from lineproof.desk.lan.addresses import Address, addresses
from lineproof.desk.lan.network import Network
from lineproof.desk.web.app import create_app
from lineproof.desk.web.patience import PATIENCE_S
from lineproof.floor.errors import BadInput, LineproofError

LOOK_EVERY = 30.0
"""How often addresses and the life of the certificate are looked at. [s]"""
MOST_CONNECTIONS = 400
"""Connections from the network at once; the next is told to come again. [-]"""
IDLE = 20
"""How long a connection may say nothing between two requests. [s]"""


class Listener(uvicorn.Server):
    """A listener that leaves the signals to whoever runs all of them."""

    @contextlib.contextmanager
    def capture_signals(self) -> Iterator[None]:
        """None of its own."""
        yield


class Listeners:
    """The listeners of one job.

    Parameters
    ----------
    folder : Path
        The job folder.
    port : int
        This machine's; the two after it are the network's. 0 takes free ones. [-]
    host : str
        Where the network's listen.
    here : callable
        Addresses of this machine at this moment.
    patience : float or None
        As for ``create_app``. [s]
    """

    def __init__(
        self,
        folder: Path,
        *,
        port: int,
        host: str = "",
        here: Callable[[], Sequence[Address]] = addresses,
        patience: float | None = None,
    ) -> None:
        self.app: FastAPI = create_app(folder, patience=patience)
        own, pages, trust = (one if port else 0 for one in range(port, port + 3))
        self._sockets = [_bound(("127.0.0.1",), own)]
        hosts = (host,) if host else ("0.0.0.0", "::")
        self._sockets += [_bound(hosts, pages), _bound(hosts, trust)]
        self.ports = [sockets[0].getsockname()[1] for sockets in self._sockets]
        self.network = Network(self.app, folder, port=self.ports[1], trust_port=self.ports[2], here=here)
        plain: dict[str, Any] = {
            "log_level": "error", "access_log": False, "server_header": False, "date_header": False,
            "proxy_headers": False, "timeout_keep_alive": IDLE,
        }  # fmt: skip
        away = {**plain, "lifespan": "off", "limit_concurrency": MOST_CONNECTIONS}
        safe = uvicorn.Config(self.network.app, **away, ssl_context_factory=lambda _c, _d: self.network.tls())
        self.servers = [
            Listener(uvicorn.Config(self.app, **plain, lifespan="on")),
            Listener(safe),
            Listener(uvicorn.Config(self.network.trust, **away)),
        ]

    async def run(self, started: Callable[[], None] = lambda: None) -> None:
        """Serve until `stop`."""
        look = asyncio.create_task(self._look())
        try:
            serving = [
                asyncio.create_task(server.serve(sockets))
                for server, sockets in zip(self.servers, self._sockets, strict=True)
            ]
            while not all(s.started or s.should_exit for s in self.servers):
                await asyncio.sleep(0.02)
            started()
            await asyncio.gather(*serving)
        finally:
            look.cancel()
            await asyncio.to_thread(self.network.close)
            for one in (s for sockets in self._sockets for s in sockets):
                one.close()

    def stop(self) -> None:
        """Let answers that are under way end, then stop."""
        for server in self.servers:
            server.should_exit = True

    async def _look(self) -> None:
        """A new certificate when one is due, and sums of refusals into the logbook."""
        while True:
            await asyncio.sleep(LOOK_EVERY)
            with contextlib.suppress(LineproofError, OSError):  # the one that is there goes on being used
                await asyncio.to_thread(self.network.renew)
            if self.network.audit.due():
                await asyncio.to_thread(self.network.audit.tell_quietly)


def serve_on_network(folder: Path, *, port: int, say: Callable[[str], None]) -> None:
    """Serve a job to this machine and to paired phones until somebody stops it.

    Parameters
    ----------
    folder : Path
    port : int
        This machine's; the two after it are the network's. [-]
    say : callable
        Takes lines for the terminal.
    """
    from lineproof.desk.lan.calling import Calling

    listeners = Listeners(folder, port=port, patience=PATIENCE_S)
    network = listeners.network
    network.phones.about("address", network.address)
    for line in told(network):
        say(line)

    async def whole() -> None:
        loop = asyncio.get_running_loop()
        for one in (signal.SIGINT, signal.SIGTERM):
            loop.add_signal_handler(one, listeners.stop)
        calling = Calling(network)
        trouble = await calling.begin()
        if trouble:
            say(trouble)
        try:
            await listeners.run()
        finally:
            await calling.end()

    asyncio.run(whole())


def told(network: Network) -> list[str]:
    """What the terminal says once it listens.

    Parameters
    ----------
    network : Network

    Returns
    -------
    list of str
    """
    until = network.authority.certificate.not_valid_after_utc
    prints = network.authority.fingerprint.split()
    lines = [f"on the site's network, for paired phones: {network.address}/"]
    lines += [f"    the same by address: {other}/" for other in network.others]
    lines += ["once on each phone, the certificate of this job:"]
    lines += [f"    {at}" for at in network.trust_at]
    lines += [
        f"its fingerprint (SHA-256), good until {until:%Y-%m-%d}; compare it on the phone, figure by figure:"
    ]
    lines += [f"    {' '.join(prints[n : n + 4])}" for n in (0, 4)]
    lines += ["then pair it: lineproof phones pair PERSON --as ROLE, or on the page Phones"]
    if not network.addresses:
        lines += ["NO PHONE GETS HERE YET: this machine has no address on a private network"]
    lines += [
        f"    {a} came later and is not in the certificate: use the name (docs/access.md, A new network)"
        for a in network.outside
    ]
    return lines


def _bound(hosts: Sequence[str], port: int) -> list[socket.socket]:
    """Listening sockets at one port; IPv6 only where this machine has it."""
    sockets: list[socket.socket] = []
    for host in hosts:
        family = socket.AF_INET6 if ":" in host else socket.AF_INET
        try:
            one = socket.socket(family, socket.SOCK_STREAM)
            one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            if family == socket.AF_INET6:
                one.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 1)
            one.bind((host, port or (sockets[0].getsockname()[1] if sockets else 0)))
        except OSError as error:
            if sockets:
                continue
            raise BadInput(
                f"port {port} cannot be used: {error.strerror}", allowed="a port that is free",
                next="choose another with --port",
            ) from error  # fmt: skip
        sockets.append(one)
    return sockets
