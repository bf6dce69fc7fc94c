"""The door to the site's network: paired phones only, each within what its person does."""

from __future__ import annotations

import hashlib
import hmac
import ipaddress
from collections.abc import Callable, Sequence
from http.cookies import CookieError, SimpleCookie

from starlette.datastructures import Headers
from starlette.types import Scope

from lineproof.desk.lan.addresses import range_of
from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.phones import Phone, Phones
from lineproof.desk.lan.rates import Rate, asker
from lineproof.desk.web.access import SIGNING, Role, Row
from lineproof.desk.web.guard import Refusal, name_of
from lineproof.desk.web.tongue import t
from lineproof.desk.web.who import Who
from lineproof.floor.errors import LineproofError
from lineproof.job.settings import Settings

COOKIE = "__Host-lineproof"
"""A browser takes a cookie of this name over https only, for this very host only, and lets no other host and
no plain page set it (prefix ``__Host-``; RFC 6265bis, from memory): nobody can plant a session."""

STEADY_DAYS = 7
"""How long a browser that came by name insists on https. [d]"""
KEPT_DAYS = 400
"""How long a browser keeps the session; the server forgets it sooner if the phone does not come. [d]"""
TRIES = 5
"""Wrong codes from one address before it has to wait. [-]"""
ALL_TRIES = 40
"""Wrong codes from anywhere before every open code is closed. [-]"""


class Lan:
    """The network door of one job.

    Parameters
    ----------
    phones : Phones
    audit : Audit
    settings : callable
        job.toml as it stands.
    names : callable
        Names the server is called by at this moment: ``<name>.local`` and its addresses.
    name : str
        ``<name>.local``.
    """

    origin_needed = True

    def __init__(
        self,
        phones: Phones,
        audit: Audit,
        settings: Callable[[], Settings],
        names: Callable[[], frozenset[str]],
        name: str,
    ) -> None:
        self.phones = phones
        self.audit = audit
        self.settings = settings
        self.name = name
        self._names = names
        self.strangers = Rate(60, 1.0)
        self.known = Rate(400, 40.0)
        self.tries = Rate(TRIES, 1 / 120)
        self.wrong = 0

    def names(self) -> frozenset[str]:
        """Names the server is called by at this moment."""
        return self._names()

    def who(self, scope: Scope, headers: Headers) -> Who | Refusal:
        """The person of the phone whose session the cookie carries; nobody with a role for a stranger."""
        if not near(scope):
            return Refusal(403, t("door.far"))
        session = session_of(headers)
        phone = self.phones.by_session(session)
        if phone is None:
            wait = self.strangers.wait(address_of(scope))
            return _slower(wait) if wait else Who(key=_key(session or "nobody"))
        wait = self.known.wait(phone.id)
        if wait:
            return _slower(wait)
        try:
            roles = self.roles_of(phone)
        except LineproofError as error:
            return Refusal(409, str(error))
        return Who(key=_key(session), device=phone.id, person=phone.person, roles=roles)

    def roles_of(self, phone: Phone) -> frozenset[Role]:
        """What the person of a phone does by now: who signs as what stands in job.toml, not on the phone.

        Parameters
        ----------
        phone : Phone

        Returns
        -------
        frozenset of Role
            A viewer is what is left of somebody who is no longer named; nothing of one who is not on the job.
        """
        settings = self.settings()
        if phone.person not in {p.id for p in settings.people}:
            return frozenset()
        signs = set(settings.signs.role_of(phone.person))
        left = frozenset(r for r in phone.roles if r not in SIGNING or r.value in signs)
        return left or frozenset({Role.VIEWER})

    def stranger(self, scope: Scope, row: Row | None) -> Refusal:
        """Where a phone is paired."""
        del row
        headers = Headers(scope=scope)
        if scope["method"] == "GET" and headers.get("sec-fetch-mode", "navigate") == "navigate":
            if "text/html" in headers.get("accept", ""):
                return Refusal(303, t("door.not_paired", name=self.name), (("location", "/pair"),))
        return Refusal(401, t("door.not_paired", name=self.name))

    def refused(self, scope: Scope, who: Who | None, code: int) -> None:
        """Count it."""
        if code == 303:
            return
        why = _WHY.get(code, "other")
        self.audit.refused(why if who is None or not who.device else f"{why}, paired", address_of(scope))

    def headers(self, scope: Scope) -> Sequence[tuple[str, str]]:
        """Who came by the job's own name comes by https only from then on, and cannot click a warning away.

        Never said for ``localhost`` or an address: plain http is at home there.
        """
        if name_of(Headers(scope=scope).get("host", "")) != self.name:
            return ()
        return (("strict-transport-security", f"max-age={STEADY_DAYS * 86400}"),)

    def wrong_code(self, scope: Scope) -> None:
        """Somebody told a code that is not open."""
        self.audit.refused("wrong code", address_of(scope))
        self.wrong += 1
        if self.wrong >= ALL_TRIES:
            self.wrong = 0
            self.audit.codes_closed(self.phones.close_codes())

    def right_code(self, scope: Scope) -> None:
        """Somebody told an open code: what came before were slips."""
        self.wrong = 0
        self.tries.forget(address_of(scope))

    def try_wait(self, scope: Scope) -> float:
        """How long whoever asks has to wait before the next code; 0 if not. [s]"""
        return self.tries.wait(address_of(scope))


_WHY = {
    400: "not readable", 401: "not paired", 403: "not allowed", 408: "too slow", 413: "too large",
    415: "wrong type", 421: "wrong name", 429: "too often",
}  # fmt: skip


def address_of(scope: Scope) -> str:
    """Whom the address of a request counts as."""
    client = scope.get("client") or ("", 0)
    return asker(str(client[0]))


def near(scope: Scope) -> bool:
    """Whether a request comes from the site's network or this machine, not from the open internet."""
    client = scope.get("client") or ("", 0)
    try:
        address = ipaddress.ip_address(str(client[0]).partition("%")[0])
    except ValueError:
        return False
    if address.version == 6 and address.ipv4_mapped is not None:
        address = address.ipv4_mapped
    return address.is_loopback or address.is_link_local or range_of(address) is not None


def session_of(headers: Headers) -> str:
    """The session that a cookie carries; empty if there is none that can be read."""
    try:
        told = SimpleCookie(headers.get("cookie", "")).get(COOKIE)
    except CookieError:
        return ""
    return "" if told is None else told.value


def cookie(session: str) -> str:
    """The cookie of a session: over https only, to this host only, and unreadable for scripts."""
    return f"{COOKIE}={session}; Path=/; Secure; HttpOnly; SameSite=Lax; Max-Age={KEPT_DAYS * 86400}"


def _key(session: str) -> str:
    """What the forms of a session carry: it follows from the session and cannot be turned back into it."""
    return hmac.new(session.encode(), b"lineproof forms", hashlib.sha256).hexdigest()


def _slower(wait: float) -> Refusal:
    again = max(1, int(wait + 0.999))
    return Refusal(429, t("door.often", seconds=again), (("retry-after", str(again)),))


__all__ = ["COOKIE", "Lan", "address_of", "cookie", "name_of", "session_of"]
