"""The language of a page: chosen once on a device and kept there, and the words of the pages in it."""

from __future__ import annotations

from contextvars import ContextVar
from datetime import datetime
from http.cookies import CookieError, SimpleCookie
from typing import Any
from urllib.parse import parse_qs, parse_qsl, urlencode

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from lineproof.desk.say import Words, say, spoken
from lineproof.desk.web.words import catalogue
from lineproof.desk.words import ENGLISH, LANGUAGES, words_of
from lineproof.desk.words_when import day_and_hour
from lineproof.floor.errors import BadInput, OurFault
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding

ASKED = "in"
"""Name of the word in an address that chooses a language: ``?in=es``."""
KEPT = "language"
"""Name of the cookie that keeps the choice on the device."""
A_YEAR = 365 * 24 * 3600
"""How long the choice is kept. [s]"""

_language: ContextVar[str] = ContextVar("language of the page", default=ENGLISH)


class Tongues:
    """Gives every request its language.

    It is the one that the address asks for, else the one kept on the device, else the first that the browser
    names and we carry, else English.

    Parameters
    ----------
    app : ASGI application
    """

    def __init__(self, app: ASGIApp) -> None:
        self.app = app

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """One request."""
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        chosen = _chosen(scope)
        _language.set(chosen or _heard(Headers(scope=scope)))

        async def put(message: Message) -> None:
            if message["type"] == "http.response.start":
                headers = MutableHeaders(scope=message)
                if headers.get("content-type", "").startswith("text/html"):
                    headers.setdefault("content-language", language())
                if chosen:
                    kept = f"{KEPT}={chosen}; Path=/; Max-Age={A_YEAR}; SameSite=Lax; HttpOnly"
                    headers.append("set-cookie", kept)
            await send(message)

        await self.app(scope, receive, put)


def _chosen(scope: Scope) -> str:
    """The language that the address asks for; empty if it names none that we carry."""
    asked = parse_qs(scope.get("query_string", b"").decode("latin-1")).get(ASKED, [""])[-1]
    return asked if asked in LANGUAGES else ""


def _heard(headers: Headers) -> str:
    """The language kept on the device, else the first of the browser's that we carry."""
    try:
        cookie = SimpleCookie(headers.get("cookie", "")).get(KEPT)
    except CookieError:
        cookie = None
    if cookie is not None and cookie.value in LANGUAGES:
        return cookie.value
    weighed = []
    for n, told in enumerate(headers.get("accept-language", "")[:1000].split(",")):
        name, _, weight = told.partition(";")
        try:
            much = float(weight.partition("=")[2] or 1.0)
        except ValueError:
            continue
        weighed.append((-much, n, name.strip().lower().partition("-")[0]))
    return next((name for much, _, name in sorted(weighed) if much < 0 and name in LANGUAGES), ENGLISH)


def language() -> str:
    """The language of the page that is being made.

    Returns
    -------
    str
        ``"en"`` or ``"es"``.
    """
    return _language.get()


def t(key: str, /, **values: object) -> str:
    """Words of the catalogue in the language of the page.

    Parameters
    ----------
    key : str
        Such as ``tape.title``: the module of ``desk/web/words`` and the key in it.
    **values
        What the placeholders stand for; ``shown`` is how the job shows quantities, for words that have one.

    Returns
    -------
    str

    Raises
    ------
    OurFault
        There is no such key.
    """
    told = raw(key)
    shown = values.get("shown")
    words = Words(shown if isinstance(shown, Shown) else Shown.us(), language())
    return words.fill(told, values) if "{" in told else told


def raw(key: str) -> str:
    """Words of the catalogue with their placeholders as they stand, for a script to fill.

    Parameters
    ----------
    key : str

    Returns
    -------
    str

    Raises
    ------
    OurFault
        There is no such key.
    """
    both = catalogue().get(key)
    if both is None:
        raise OurFault(f"the pages have no words {key}", next="add them to desk/web/words")
    return both[LANGUAGES.index(language())]


def words_for_script(head: str) -> dict[str, str]:
    """All words whose keys begin so, for a script to fill.

    Parameters
    ----------
    head : str
        Such as ``pad.js_``.

    Returns
    -------
    dict
        By the rest of the key.
    """
    return {key.removeprefix(head): raw(key) for key in catalogue() if key.startswith(head)}


def verdict_word(word: str) -> str:
    """A verdict or a state of a joint, in the language of the page."""
    return words_of(language()).get(word, word)


def moment(when: datetime) -> str:
    """A moment with its day, in the language of the page."""
    return day_and_hour(when, language())


def said(f: Finding, shown: Shown) -> tuple[str, str]:
    """A Finding as one line, and the language it is told in.

    Parameters
    ----------
    f : Finding
    shown : Shown

    Returns
    -------
    tuple of str
        English where the Spanish catalogue has no sentence for it.
    """
    return say(f, shown, language()), spoken(f, language())


class Refused(BadInput):
    """Something that a page does not take, told in the language of that page."""

    def sentence(self) -> str:
        """The same as one sentence in that language.

        Returns
        -------
        str
        """
        told = self.given
        told += f"; {t('trouble.allowed')}: {self.allowed}" if self.allowed else ""
        told += f"; {t('trouble.next')}: {self.next}" if self.next else ""
        told = "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in told)
        return told if told.endswith(".") else told + "."


def refused(key: str, **values: object) -> Refused:
    """An error whose words are in the catalogue.

    Parameters
    ----------
    key : str
        Its words are ``<key>``, ``<key>_allowed`` and ``<key>_next``; the last two may be missing.
    **values
        What the placeholders stand for.

    Returns
    -------
    Refused
        To be raised.
    """
    there = catalogue()
    allowed, after = (f"{key}_{part}" if f"{key}_{part}" in there else "" for part in ("allowed", "next"))
    return Refused(
        t(key, **values),
        allowed=t(allowed, **values) if allowed else "",
        next=t(after, **values) if after else "",
    )


def other_language(path: str, query: str) -> dict[str, str]:
    """The link to the same page in the other language.

    Parameters
    ----------
    path, query : str
        Of the page.

    Returns
    -------
    dict
        Language, its own name for itself, and the address.
    """
    other = next(x for x in LANGUAGES if x != language())
    left: list[tuple[str, Any]] = [(k, v) for k, v in parse_qsl(query, keep_blank_values=True) if k != ASKED]
    return {"language": other, "href": f"{path}?{urlencode([*left, (ASKED, other)])}"}
