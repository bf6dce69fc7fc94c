"""Addresses of this machine on the site's network, and the private ranges they lie in."""

from __future__ import annotations

import ipaddress
from collections.abc import Iterable

Address = ipaddress.IPv4Address | ipaddress.IPv6Address
Network = ipaddress.IPv4Network | ipaddress.IPv6Network

PRIVATE: tuple[Network, ...] = tuple(
    ipaddress.ip_network(told)
    for told in ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "100.64.0.0/10", "fc00::/7")
)
"""Ranges that no machine of the open internet has (RFC 1918 section 3, RFC 6598, RFC 4193; from memory)."""


def addresses() -> tuple[Address, ...]:
    """Private addresses of this machine as they are now.

    Returns
    -------
    tuple of addresses
        Without loopback, without link-local ones and without those of the open internet.
    """
    import ifaddr

    found: set[Address] = set()
    for adapter in ifaddr.get_adapters():
        for one in adapter.ips:
            told = one.ip if isinstance(one.ip, str) else one.ip[0]
            found |= set(private([told]))
    return tuple(sorted(found, key=lambda a: (a.version, a)))


def private(told: Iterable[str]) -> tuple[Address, ...]:
    """Those that lie in a private range, in the order told.

    Parameters
    ----------
    told : iterable of str

    Returns
    -------
    tuple of addresses
    """
    read = (ipaddress.ip_address(one) for one in told)
    return tuple(a for a in read if range_of(a) is not None)


def range_of(address: Address) -> Network | None:
    """The private range an address lies in; None if it lies in none."""
    return next((n for n in PRIVATE if n.version == address.version and address in n), None)


def ranges_of(told: Iterable[Address]) -> tuple[Network, ...]:
    """The private ranges that addresses lie in, each once."""
    found = {range_of(a) for a in told} - {None}
    return tuple(n for n in PRIVATE if n in found)


def host_of(address: Address) -> str:
    """An address as a Host header and a link write it."""
    return f"[{address}]" if address.version == 6 else str(address)
