"""The job on the site's network while it is served: certificates, names, and the doors to the pages."""

from __future__ import annotations

import ssl
from collections.abc import Callable, Sequence
from pathlib import Path

from fastapi import FastAPI
from starlette.types import Receive, Scope, Send

from lineproof.desk import record_book as book
from lineproof.desk.lan.addresses import Address, addresses, host_of
from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.authority import Authority, authority_of, leaf_of
from lineproof.desk.lan.door import Lan
from lineproof.desk.lan.phones import Phones
from lineproof.desk.lan.trust import Trust
from lineproof.desk.web.guard import DOOR


class Network:
    """One job on the network.

    Parameters
    ----------
    app : FastAPI
        The pages; the same as on this machine.
    folder : Path
        The job folder.
    port, trust_port : int
        Where the pages and the instructions are reached. [-]
    here : callable
        Addresses of this machine at this moment.
    """

    def __init__(
        self, app: FastAPI, folder: Path, *, port: int, trust_port: int,
        here: Callable[[], Sequence[Address]] = addresses,
    ) -> None:  # fmt: skip
        self.folder = folder
        self.port = port
        self.trust_port = trust_port
        self._here = here
        self._ssl: ssl.SSLContext | None = None
        settings = app.state.inbox.settings
        self.authority: Authority = authority_of(folder, settings().job.id, here)
        self.addresses: tuple[Address, ...] = ()
        self.phones = Phones(folder)
        self.audit = Audit(folder)
        self.door = Lan(self.phones, self.audit, settings, self.names, self.authority.name)
        self.trust = Trust(self)
        self.app = Through(app, self.door)
        app.state.network = self
        app.state.inbox.phones = self.phones
        self.renew()

    def names(self) -> frozenset[str]:
        """Names the pages may be called by now."""
        return frozenset({self.authority.name, "localhost", *(host_of(a) for a in self.addresses)})

    def renew(self) -> bool:
        """Look at the addresses and the life of the certificate; make a new one if either changed.

        Connections that are open go on; new ones get the new certificate. Nothing is started again.

        Returns
        -------
        bool
            Whether there is a new one.
        """
        self.addresses = tuple(a for a in self._here() if self.authority.covers(a))
        file, new = leaf_of(self.folder, self.authority, self.addresses)
        if self._ssl is not None and new:
            self._ssl.load_cert_chain(file)
        return new

    def tls(self) -> ssl.SSLContext:
        """What connections are made with; `renew` puts a new certificate into it."""
        if self._ssl is None:
            file, _ = leaf_of(self.folder, self.authority, self.addresses)
            self._ssl = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
            self._ssl.minimum_version = ssl.TLSVersion.TLSv1_2
            self._ssl.load_cert_chain(file)
        return self._ssl

    @property
    def address(self) -> str:
        """Where the pages are, by name."""
        return f"https://{self.authority.name}:{self.port}"

    @property
    def others(self) -> tuple[str, ...]:
        """The same by address."""
        return tuple(f"https://{host_of(a)}:{self.port}" for a in self.addresses)

    @property
    def outside(self) -> tuple[Address, ...]:
        """Addresses that the authority may not sign for: the machine came to another network."""
        return tuple(a for a in self._here() if not self.authority.covers(a))

    @property
    def trust_at(self) -> tuple[str, ...]:
        """Where phones get the certificate; by address, as no name is kept to plain http."""
        hosts = [host_of(a) for a in self._here()] or [self.authority.name]
        return tuple(f"http://{host}:{self.trust_port}/" for host in hosts)

    def close(self) -> None:
        """Let go of everything; what was refused is told first."""
        self.audit.tell_quietly()
        self.phones.close()


class Through:
    """The pages, entered by the network's door.

    Parameters
    ----------
    app : ASGI application
    door : Lan
    """

    def __init__(self, app: FastAPI, door: Lan) -> None:
        self.app = app
        self.door = door

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        await self.app({**scope, DOOR: self.door}, receive, send)


def job_name(folder: Path) -> str:
    """Name of the job in job.toml."""
    return book.settings_of(folder).job.name
