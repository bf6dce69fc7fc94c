"""The door of this machine: whoever sits at it may do everything, and nobody else gets here."""

from __future__ import annotations

import ipaddress
import secrets
from collections.abc import Iterable, Sequence

from starlette.datastructures import Headers
from starlette.types import Scope

from lineproof.desk.web.access import Row
from lineproof.desk.web.guard import LOOPBACK, Refusal
from lineproof.desk.web.tongue import t
from lineproof.desk.web.who import Who


class Machine:
    """Loopback.

    Parameters
    ----------
    names : iterable of str
        Names the server may be called by.
    """

    origin_needed = False

    def __init__(self, names: Iterable[str] = LOOPBACK) -> None:
        self._names = frozenset(names)
        self.me = Who(key=secrets.token_urlsafe(24), machine=True)

    def names(self) -> frozenset[str]:
        """Names of this machine for itself."""
        return self._names

    def who(self, scope: Scope, headers: Headers) -> Who | Refusal:
        """The one at this machine, if the request came in by loopback."""
        del headers
        if not _loopback(scope):
            return Refusal(421, t("door.other_door"))
        return self.me

    def stranger(self, scope: Scope, row: Row | None) -> Refusal:
        """Nobody is a stranger here; still, nothing is open by mistake."""
        del scope, row
        return Refusal(401, t("door.other_door"))

    def refused(self, scope: Scope, who: Who | None, code: int) -> None:
        """What this machine refuses to itself is told on the page only."""

    def headers(self, scope: Scope) -> Sequence[tuple[str, str]]:
        """None besides those of every answer."""
        del scope
        return ()


def _loopback(scope: Scope) -> bool:
    """Whether the socket that took the request is one of loopback: the server says so, not the request."""
    host = (scope.get("server") or ("", None))[0]
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return host == "localhost"  # a client inside this process has no address
