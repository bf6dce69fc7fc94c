"""Plain http for one thing: how a phone takes the certificate of the job, and the certificate itself."""

from __future__ import annotations

import base64
import hashlib
from html import escape
from typing import TYPE_CHECKING

from starlette.datastructures import Headers
from starlette.responses import Response
from starlette.types import Receive, Scope, Send

from lineproof.desk.lan.addresses import host_of
from lineproof.desk.lan.rates import Rate
from lineproof.desk.lan.trust_words import STEPS, WORDS
from lineproof.desk.web.guard import name_of

if TYPE_CHECKING:
    from lineproof.desk.lan.network import Network

FILE = "/job-ca.crt"
_STYLE = (
    "html{font:100%/1.5 system-ui,sans-serif;color:#111;background:#fff}body{max-width:40rem;margin:0 auto;"
    "padding:1rem}h1{font-size:1.5rem}li{margin:.5rem 0}code{font-size:1.3rem;word-spacing:.2em}"
    "a.b{display:flex;align-items:center;min-height:3.5rem;padding:0 1rem;background:#111;color:#fff;"
    "border-radius:.3rem;font-weight:700;text-decoration:none}"
    "section{border-top:2px solid #111;margin-top:2rem}"
)
_HASH = base64.b64encode(hashlib.sha256(_STYLE.encode()).digest()).decode()
HEADERS = {
    "content-security-policy": f"default-src 'none'; style-src 'sha256-{_HASH}'; base-uri 'none'; "
    "form-action 'none'; frame-ancestors 'none'",
    "x-content-type-options": "nosniff",
    "x-frame-options": "DENY",
    "referrer-policy": "no-referrer",
    "cache-control": "no-store",
}


class Trust:
    """The application of the plain port. It knows two paths, takes no body and sets no cookie.

    Parameters
    ----------
    network : Network
    """

    def __init__(self, network: Network) -> None:
        self.network = network
        self.rate = Rate(30, 0.5)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            return
        answer = self._answer(scope)
        for name, value in HEADERS.items():
            answer.headers.setdefault(name, value)
        await answer(scope, receive, send)

    def _answer(self, scope: Scope) -> Response:
        from lineproof.desk.lan.door import address_of, near

        host = name_of(Headers(scope=scope).get("host", ""))
        if host not in self._names() or not near(scope):
            return Response("this server is not called that", 421, media_type="text/plain")
        if self.rate.wait(address_of(scope)):
            return Response("too often", 429, {"retry-after": "5"}, media_type="text/plain")
        if scope["method"] not in ("GET", "HEAD"):
            return Response("this only shows", 405, {"allow": "GET"}, media_type="text/plain")
        if scope["path"] == "/":
            return Response(page(self.network), media_type="text/html")
        if scope["path"] == FILE:
            named = {"content-disposition": 'attachment; filename="job-ca.crt"'}
            return Response(self.network.authority.file, 200, named, media_type="application/x-x509-ca-cert")
        return Response(f"there is only / and {FILE} here", 404, media_type="text/plain")

    def _names(self) -> frozenset[str]:
        told = {self.network.authority.name, "localhost", "127.0.0.1"}
        return frozenset(told | {host_of(a) for a in (*self.network.addresses, *self.network.outside)})


def page(network: Network) -> str:
    """The instructions in both languages, with the fingerprint to compare.

    Parameters
    ----------
    network : Network

    Returns
    -------
    str
        HTML without a script.
    """
    parts = []
    for n, language in enumerate(("en", "es")):
        said = {key: both[n] for key, both in WORDS.items()}
        told = {
            "name": network.authority.name,
            "until": f"{network.authority.certificate.not_valid_after_utc:%Y-%m-%d}",
            "pair": f"{network.address}/pair",
        }
        steps = "".join(f"<li>{escape(both[n].format(**told))}</li>" for both in STEPS)
        prints = "<br>".join(
            escape(" ".join(network.authority.fingerprint.split()[k : k + 2])) for k in range(0, 8, 2)
        )
        parts.append(
            f'<section lang="{language}"><h1>{escape(said["title"])}</h1>'
            f"<p>{escape(said['what'].format(**told))}</p>"
            f'<p><a class="b" href="{FILE}">{escape(said["take"])}</a></p>'
            f"<p>{escape(said['compare'])}</p><p><code>{prints}</code></p><ol>{steps}</ol>"
            f"<p>{escape(said['wrong'])}</p></section>"
        )
    return (
        '<!doctype html><html lang="en"><head><meta charset="utf-8">'
        '<meta name="viewport" content="width=device-width, initial-scale=1">'
        f"<title>{escape(network.authority.name)}</title><style>{_STYLE}</style></head><body>{''.join(parts)}"
        "</body></html>"
    )
