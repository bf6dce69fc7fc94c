"""How often somebody may ask: a bucket for each, refilled steadily; the oldest are forgotten, never all."""

from __future__ import annotations

import ipaddress
import time
from collections import OrderedDict
from collections.abc import Callable

MOST = 4096
"""Addresses remembered at once. [-]"""


class Rate:
    """A bucket for every name.

    Parameters
    ----------
    burst : float
        How much may come at once. [-]
    each_s : float
        How much comes again in a second. [1/s]
    now : callable
        A clock that only goes on. [s]
    """

    def __init__(self, burst: float, each_s: float, now: Callable[[], float] = time.monotonic) -> None:
        self.burst = burst
        self.each_s = each_s
        self.now = now
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def wait(self, name: str) -> float:
        """Take one.

        Parameters
        ----------
        name : str

        Returns
        -------
        float
            0 if there was one; otherwise how long until there is. [s]
        """
        now = self.now()
        left, then = self._left.pop(name, (self.burst, now))
        left = min(self.burst, left + (now - then) * self.each_s)
        wait = 0.0 if left >= 1 else (1 - left) / self.each_s
        self._left[name] = (left - 1 if left >= 1 else left, now)
        while len(self._left) > MOST:
            self._left.popitem(last=False)
        return wait

    def forget(self, name: str) -> None:
        """Give a full bucket again."""
        self._left.pop(name, None)


def asker(address: str) -> str:
    """Whom an address counts as: itself, or its /64 for IPv6, where one device has as many as it likes.

    Parameters
    ----------
    address : str
        As the socket tells it.

    Returns
    -------
    str
    """
    try:
        read = ipaddress.ip_address(address.partition("%")[0])
    except ValueError:
        return "unknown"
    if read.version == 6:
        if read.ipv4_mapped is not None:
            return str(read.ipv4_mapped)
        return str(ipaddress.ip_network((read, 64), strict=False))
    return str(read)
