"""Answering to ``<name>.local`` on the site's network (multicast DNS, RFC 6762): phones find the job."""

from __future__ import annotations

import contextlib
from typing import TYPE_CHECKING

import zeroconf
from zeroconf import ServiceInfo
from zeroconf.asyncio import AsyncZeroconf

if TYPE_CHECKING:
    from lineproof.desk.lan.network import Network


class Calling:
    """Answers to the name while the job is served.

    Parameters
    ----------
    network : Network
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self._zero: AsyncZeroconf | None = None

    async def begin(self) -> str:
        """Begin to answer.

        Returns
        -------
        str
            What keeps it from answering, in one sentence; empty if nothing does.
        """
        here = [a.packed for a in self.network.addresses]
        if not here:
            return ""
        name = self.network.authority.name
        info = ServiceInfo(
            "_https._tcp.local.",
            f"{name.removesuffix('.local')}._https._tcp.local.",
            addresses=here,
            port=self.network.port,
            server=f"{name}.",
        )
        try:
            self._zero = AsyncZeroconf(interfaces=[str(a) for a in self.network.addresses])
            await self._zero.async_register_service(info)
        except (OSError, zeroconf.Error, RuntimeError) as error:  # the addresses still work
            with contextlib.suppress(OSError, zeroconf.Error, RuntimeError):
                await self.end()
            return f"{name} cannot be announced here ({type(error).__name__}): phones use the address instead"
        return ""

    async def end(self) -> None:
        """Answer no more."""
        if self._zero is not None:
            zero, self._zero = self._zero, None
            await zero.async_unregister_all_services()
            await zero.async_close()
