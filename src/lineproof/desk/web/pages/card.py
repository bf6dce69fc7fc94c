"""The joint card on a phone: one small shell for every joint, and the worker that keeps it there."""

from __future__ import annotations

import hashlib
import json
from pathlib import Path

from fastapi import APIRouter, Request
from fastapi.responses import HTMLResponse, Response

from lineproof.desk.web.told import Words
from lineproof.desk.words_card import card_words

router = APIRouter(prefix="/card")


class Manifest(Response):
    """What puts a page on the home screen of a phone."""

    media_type = "application/manifest+json"


class Script(Response):
    """A script."""

    media_type = "text/javascript"


STATIC = Path(__file__).parent.parent / "static"
SHELL = "/card/"
WORDS = "/card/words.json"
_KEPT = (
    "bytes", "card", "carry", "clock", "codes", "frames", "measure", "outbox", "panels", "photo", "shelf",
    "signals", "words", "writer",
)  # fmt: skip


def _shell() -> bytes:
    return (STATIC / "card" / "card.html").read_bytes()


def _words() -> bytes:
    return json.dumps(card_words(), ensure_ascii=False, sort_keys=True).encode()


def kept() -> dict[str, str]:
    """What the phone keeps, each by its SHA-256: a page that somebody else answers with is never kept.

    Returns
    -------
    dict
        Path to 64 hex figures.
    """
    files = {f"/static/card/{name}.js": STATIC / "card" / f"{name}.js" for name in _KEPT}
    files["/static/card/card.css"] = STATIC / "card" / "card.css"
    files["/static/vendor/qr.js"] = STATIC / "vendor" / "qr.js"
    files["/static/mark.svg"] = STATIC / "mark.svg"
    told = {path: file.read_bytes() for path, file in files.items()}
    told |= {SHELL: _shell(), WORDS: _words(), "/card/card.webmanifest": _manifest()}
    return {path: hashlib.sha256(content).hexdigest() for path, content in sorted(told.items())}


def _manifest() -> bytes:
    told = {
        "name": "Lineproof joint card", "short_name": "Joint card", "start_url": SHELL, "scope": SHELL,
        "display": "standalone", "background_color": "#ffffff", "theme_color": "#000000",
        "icons": [{"src": "/static/mark.svg", "sizes": "any", "type": "image/svg+xml"}],
    }  # fmt: skip
    return json.dumps(told).encode()


def _html() -> HTMLResponse:
    return HTMLResponse(_shell())


@router.get("/", response_class=HTMLResponse)
def shell() -> HTMLResponse:
    """The card, before a joint is chosen."""
    return _html()


@router.get("/words.json", response_model=Words)
def words() -> Response:
    """The words of the card in its languages."""
    return Response(_words(), media_type="application/json")


@router.get(
    "/card.webmanifest",
    response_class=Manifest,
    responses={200: {"content": {Manifest.media_type: {"schema": {"type": "object"}}}}},
)
def manifest() -> Response:
    """What a phone needs to put the card on its home screen."""
    return Manifest(_manifest())


@router.get("/worker.js", response_class=Script)
def worker() -> Response:
    """The service worker, with the hash of everything it keeps: one changed file is a new worker."""
    told = json.dumps(kept())
    name = hashlib.sha256(told.encode()).hexdigest()[:16]
    head = f'const KEPT = {told};\nconst NAME = "card-{name}";\n'
    return Script(head.encode() + (STATIC / "card" / "worker.js").read_bytes())


@router.get("/{line}/{number}", response_class=HTMLResponse)
def card(request: Request, line: str, number: str) -> HTMLResponse:
    """The card of one joint: the same shell, which reads its joint from the address."""
    del request, line, number
    return _html()
