"""``lineproof now --short``: five plain lines that can be read over the radio, each under 160 characters.

Nothing that is in doubt is said to be free to move; no moment is said without *then ask again*.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence

from lineproof.desk.answer_now import NowAnswer
from lineproof.desk.now_lines import NowWords, doubtful, held, holding, waiting
from lineproof.desk.now_read import movable
from lineproof.desk.words import SPANISH
from lineproof.desk.words_ranges import fitting
from lineproof.desk.words_when import earliest
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Verdict

ROOM = 159
"""Characters of a line. [-]"""
SPANISH_LETTERS = "áéíóúüñÁÉÍÓÚÜÑ¿¡"


def short_lines(answer: NowAnswer, shown: Shown, language: str) -> list[str]:
    """The five lines: how far, hands off, may be moved, pressure and tags, cans and signatures.

    Parameters
    ----------
    answer : NowAnswer
    shown : Shown
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    list of str
        Exactly five, each under 160 characters: ASCII in English, plain Spanish letters in Spanish.
    """
    told = NowWords(answer, shown, language)
    lines = (_first(told), _hands_off(told), _move(told), _pressure(told), _rest(told))
    return [plain(line, language) for line in lines]


def plain(text: str, language: str) -> str:
    """Without letters that a radio log or a text message cannot carry.

    Parameters
    ----------
    text : str
    language : str

    Returns
    -------
    str

    Examples
    --------
    >>> plain("Gästehaus – Straße", "en"), plain("revisión", "en"), plain("revisión – sí", "es")
    ('Gastehaus - Strasse', 'revision', 'revisión - sí')
    """
    kept = SPANISH_LETTERS if language == SPANISH else ""
    found = []
    for letter in text.replace("–", "-").replace("ß", "ss").replace("·", "-"):
        if letter in kept or " " <= letter <= "~":
            found.append(letter)
        else:
            bare = unicodedata.normalize("NFKD", letter).encode("ascii", "ignore").decode()
            found.append(bare or "?")
    return re.sub(r"\s+", " ", "".join(found)).strip()


def in_doubt(answer: NowAnswer) -> bool:
    """Whether the record as a whole is in doubt: entries missing, forks, newer software."""
    return any(d.what in ("hole", "newer", "pending") for d in answer.doubts)


def _first(told: NowWords) -> str:
    a = told.answer
    made = sum(n for state, n in a.counts.items() if state not in ("to make", "cut out"))
    every = sum(n for state, n in a.counts.items() if state != "cut out")
    parts = [told.tell("s_made", made=made, all=every)]
    for key, count in (
        ("n_hands_off", sum(len(g.joints) for g in waiting(a))),
        ("n_holding", sum(len(g.joints) for g in holding(a))),
        ("n_stop", sum(len(g.joints) for g in a.joints if g.verdict is Verdict.STOP)),
        ("n_doubt", sum(len(g.joints) for g in doubtful(a) if g.verdict is not Verdict.STOP)),
    ):
        if count:
            parts.append(told.tell(key, n=count))
    when = f"{a.when:%Y-%m-%d %H:%M}"
    return told.tell("s1", job=a.job[:40], when=when, told=", ".join(parts))


def _hands_off(told: NowWords) -> str:
    a = told.answer
    if in_doubt(a):
        return told.tell("s2_all")
    groups = (*holding(a), *waiting(a), *doubtful(a))
    names = [n for g in groups for n in g.joints]
    if not names:
        return told.tell("s2_none")
    times = [g.until.astimezone(a.when.tzinfo) for g in groups if g.until is not None]
    if not times:
        return _with(told, "s2_body_unknown" if held(a) else "s2_unknown", names)
    when = earliest(max(times), a.when, told.language)
    if told.language == SPANISH:
        when = f"d{when}" if when.startswith("el ") else f"de {when}"
    key = "s_wait" if len(times) == len(groups) else "s_wait_some"
    return _with(told, "s2_body" if held(a) else "s2", names, not_before=told.tell(key, when=when))


def _move(told: NowWords) -> str:
    names = () if in_doubt(told.answer) else movable(told.answer)
    if not names:
        return told.tell("s3_none")
    # Only what is named may be moved: those there is no room for are among the others.
    room = ROOM - len(told.tell("s3", joints=""))
    text, _ = fitting(names, room, told.tell("to"))
    return told.tell("s3", joints=text) if text else told.tell("s3_none")


def _pressure(told: NowWords) -> str:
    a = told.answer
    tags = [told.tell("s4_tag", tag=t.tag, on=told.names(t.on, 2)) for t in a.tags]
    hang = told.tell("s4_tags", names="") if tags else told.tell("s4_no_tags")
    sections = [s.section for s in a.sections]
    under = told.tell("s4_under", sections=_some(told, sections, 70))
    first = under if sections else told.tell("s4_none")
    room = ROOM - len(first) - len(hang) - 3
    return told.tell("s4", told=f"{first}. {hang}{_some(told, tags, room)}")


def _rest(told: NowWords) -> str:
    a = told.answer
    cans = [f"{c.can or c.lot} {told.moment(c.dies) if not c.dead else told.tell('s_dead')}" for c in a.cans]
    looks = next((len(o.names) for o in a.owed if o.what == "looked at"), 0)
    others = sum(len(o.names) for o in a.owed if o.what not in ("looked at", "photo"))
    tail = []
    if looks:
        tail.append(told.tell("s5_looks", n=looks))
    if others:
        tail.append(told.tell("s5_owed", n=others))
    if a.doubts:
        tail.append(told.tell("s5_record", n=len(a.doubts)))
    head = told.tell("s5_cans", names="") if cans else told.tell("s5_no_cans")
    behind = "".join(f". {t[0].upper()}{t[1:]}" for t in tail)
    return told.tell("s5", told=f"{head}{_some(told, cans, ROOM - len(head) - len(behind) - 1)}{behind}")


def _with(told: NowWords, key: str, names: Sequence[str], **values: object) -> str:
    """A line with as many joints as there is room for; how many more is said, none is dropped unsaid."""
    room = ROOM - len(told.tell(key, joints="", **values))
    text, left = fitting(names, room, told.tell("to"))
    if left:
        room -= len(told.tell("s_more", n=len(names))) + 1
        text, left = fitting(names, room, told.tell("to"))
        text = f"{text} {told.tell('s_more', n=left)}".strip()
    return told.tell(key, joints=text, **values)


def _some(told: NowWords, names: Sequence[str], room: int) -> str:
    """As many names as fit, the rest counted."""
    for most in range(len(names), -1, -1):
        left = len(names) - most
        text = ", ".join(names[:most])
        if left:
            text = f"{text} {told.tell('s_more', n=left)}".strip()
        if len(text) <= room or most == 0:
            return text
    return ""
