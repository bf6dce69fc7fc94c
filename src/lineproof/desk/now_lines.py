"""``lineproof now`` on the screen: the answer first, alike joints together, at most about forty rows."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from lineproof.desk.answer_now import NowAnswer, NowCan, NowJoints, NowOwed, NowSection, NowTag
from lineproof.desk.now_read import movable
from lineproof.desk.say import Words, listed, say
from lineproof.desk.words import SPANISH, words_of
from lineproof.desk.words_now import KINDS_ES, SAID
from lineproof.desk.words_ranges import fitting
from lineproof.desk.words_when import day_and_hour, not_before, same_day
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.store import SHORT

SCREEN = 80
"""Columns. [-]"""
WIDTH = 15
"""Columns of the heading. [-]"""
MOST = {"hands off": 7, "holding": 2, "do not touch": 9, "move": 3, "tags": 3, "pressure": 3, "cans": 4,
        "owed": 5, "doubts": 4}  # fmt: skip
"""Rows a part of the screen has at most. [-]"""
ROOM = 200
"""Letters that a list of joints may take before the rest is counted. [-]"""
MANY = 500
"""More joints than this with one reason: the reason takes the room. [-]"""
FEW = 6
"""More waits than this and those of one line are told together. [-]"""


class NowWords:
    """Words and moments of one answer in one language."""

    def __init__(self, answer: NowAnswer, shown: Shown, language: str) -> None:
        self.answer = answer
        self.shown = shown
        self.language = language
        self._said = SAID[language]
        self._words = Words(shown, language)

    def tell(self, key: str, **values: object) -> str:
        """A sentence of the catalogue."""
        return self._words.fill(self._said[key], values)

    def joints(self, names: Iterable[str], room: int = ROOM) -> str:
        """Joints in words; of very many as many as there is room for, and how many more."""
        told = tuple(names)
        text, left = fitting(told, room, self._said["to"])
        return f"{text} {self.tell('more_joints', n=left)}".strip() if left else text

    def kind(self, word: str) -> str:
        """A word of the record."""
        return KINDS_ES.get(word, word) if self.language == SPANISH else word

    def names(self, names: Sequence[str], most: int = 6) -> str:
        """Names in a row, the rest counted."""
        return listed(names, most, self.language)

    def moment(self, when: datetime | None) -> str:
        """A moment, with its day if it is not today."""
        if when is None:
            return words_of(self.language)["not_known"]
        return f"{when:%H:%M}" if same_day(when, self.answer.when) else day_and_hour(when, self.language)

    def not_before(self, until: datetime) -> str:
        """NOT BEFORE, then ask again."""
        return not_before(until.astimezone(self.answer.when.tzinfo), self.answer.when, self.language)


def lines_of(answer: NowAnswer, shown: Shown, language: str) -> list[str]:
    """The whole screen.

    Parameters
    ----------
    answer : NowAnswer
    shown : Shown
        How the job shows its numbers.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    list of str
        At most about forty rows of eighty columns.
    """
    told = NowWords(answer, shown, language)
    rows = [f"{answer.name} · {day_and_hour(answer.when, language)}", *textwrap.wrap(headline(told), SCREEN)]
    if not answer.entries:
        return [*rows, *_wrap("", told.tell("first_use")), *_foot(told)]
    for part in parts_of(told):
        rows += _part(told, part.key, part.items, part.empty)
    return [*rows, *_foot(told)]


@dataclass(frozen=True, slots=True)
class Part:
    """One heading of what happens now.

    Parameters
    ----------
    key : str
        Of its heading in the catalogue.
    items : sequence of str
    empty : str
        What is said where there is none; empty to leave the heading out.
    """

    key: str
    items: Sequence[str]
    empty: str = ""


def parts_of(told: NowWords) -> list[Part]:
    """Everything under its headings, the worst first.

    Parameters
    ----------
    told : NowWords

    Returns
    -------
    list of Part
    """
    answer = told.answer
    can_move = movable(answer)
    moves = [told.tell("moves", joints=told.joints(can_move))] if can_move else []
    nothing = told.tell("no_hands_off" if answer.joints else "no_joint")
    doubts = [
        told.tell(d.what, joints=told.joints(d.names), names=told.names(d.names, 3)) for d in answer.doubts
    ]
    return [
        Part("hands off", [*hands_off_rows(told), *held_rows(told)], nothing),
        Part("holding", holding_rows(told)),
        Part("do not touch", doubtful_rows(told)),
        Part("move", moves, told.tell("moves_none")),
        Part("tags", [_tag(told, t) for t in answer.tags], told.tell("no_tags")),
        Part("pressure", [_section(told, s) for s in answer.sections], told.tell("no_pressure")),
        Part("cans", can_rows(told), told.tell("no_cans" if answer.cans_recorded else "no_can_recorded")),
        Part("owed", [_owed(told, o) for o in answer.owed], told.tell("no_owed")),
        Part("doubts", doubts, told.tell("no_doubts")),
    ]


def headline(told: NowWords) -> str:
    """What counts most, in one row."""
    a = told.answer
    said = []
    if a.sections:
        said.append(told.tell("under", sections=told.names([s.section for s in a.sections])))
    for key, count in (
        ("n_stop", _count(a.joints, Verdict.STOP)),
        ("n_doubt", _count(doubtful(a), Verdict.CANNOT_TELL)),
        ("n_hands_off", _count(waiting(a))),
        ("n_holding", _count(holding(a))),
        ("n_held", _count(held(a))),
        ("n_move", len(movable(a))),
        ("n_tags", len(a.tags)),
    ):
        if count:
            said.append(told.tell(key, n=count))
    return " · ".join(said or [told.tell("quiet")])


def _count(groups: Iterable[NowJoints], verdict: Verdict | None = None) -> int:
    return sum(len(g.joints) for g in groups if verdict is None or g.verdict is verdict)


def waiting(answer: NowAnswer) -> tuple[NowJoints, ...]:
    """Joints whose hands-off clock runs and against which nothing else stands."""
    return tuple(g for g in answer.joints if g.verdict is Verdict.WAIT)


def holding(answer: NowAnswer) -> tuple[NowJoints, ...]:
    """Joints that are being held: nothing but the end of the hold is missing."""
    return tuple(
        g
        for g in answer.joints
        if g.state == "holding"
        and g.verdict is Verdict.CANNOT_TELL
        and g.why is not None
        and g.why.id == "MOV-01"
    )


def doubtful(answer: NowAnswer) -> tuple[NowJoints, ...]:
    """Joints that must not be touched for another reason than a clock."""
    hold = holding(answer)
    return tuple(g for g in answer.joints if g.verdict > Verdict.WAIT and g not in hold)


def held(answer: NowAnswer) -> tuple[NowJoints, ...]:
    """Joints that are over their own time, but hang together with one that may not be moved."""
    return tuple(g for g in answer.joints if g.held_by)


def held_rows(told: NowWords) -> list[str]:
    """They are told with the joint that holds them back."""
    rows = []
    for g in held(told.answer):
        joints, other = told.joints(g.joints), told.joints([g.held_by])
        when = told.not_before(g.until) if g.until is not None else told.tell("ask_first")
        rows.append(told.tell("held", joints=joints, other=other, not_before=when))
    return rows


def hands_off_rows(told: NowWords) -> list[str]:
    """Joints whose clock runs: by the moment, or by line where that would be many."""
    groups = [g for g in waiting(told.answer) if g.until is not None]
    if len(groups) <= FEW:
        return [
            told.tell("waits", joints=told.joints(g.joints), not_before=told.not_before(g.until))
            for g in groups
            if g.until is not None
        ]
    lines: dict[str, list[tuple[datetime, str]]] = {}
    for g in groups:
        for name in g.joints:
            if g.until is not None:
                lines.setdefault(name.rpartition("/")[0], []).append((g.until, name))
    rows = []
    for of_line in sorted(lines.values(), key=min):
        first, last = min(of_line)[0], max(of_line)[0]
        joints = told.joints(n for _, n in of_line)
        if first == last:
            rows.append(told.tell("waits", joints=joints, not_before=told.not_before(first)))
        else:
            rows.append(
                told.tell(
                    "waits_from_to", joints=joints, first=told.not_before(first), last=told.moment(last)
                )
            )
    return rows


def holding_rows(told: NowWords) -> list[str]:
    """Joints that are being held, or of which nobody recorded that pullers are off."""
    rows = []
    for g in holding(told.answer):
        why = g.why.facts.get("why") if g.why is not None else ""
        if why == "no_hold_end" or g.why is None:
            rows.append(told.tell("holds", joints=told.joints(g.joints)))
        else:
            rows.append(_why(told, g))
    return rows


def doubtful_rows(told: NowWords) -> list[str]:
    """STOP and CANNOT TELL: why, and what to do."""
    return [_why(told, g) for g in doubtful(told.answer)]


def _why(told: NowWords, group: NowJoints) -> str:
    """The reason with every joint of the group in the place of the first one."""
    word = words_of(told.language)[group.verdict.word]
    if group.why is None:
        return f"{word} {told.joints(group.joints)}"
    text = say(group.why, told.shown, told.language)
    joints = told.joints(group.joints, ROOM if len(group.joints) < MANY else ROOM // 2)
    # A sentence about the joint begins with its name: all of the group stand there then.
    own = f"{group.joints[0]}:"
    text = f"{joints}:{text[len(own) :]}" if text.startswith(own) else f"{joints}: {text}"
    if group.until is not None and group.verdict is not Verdict.STOP:
        text += " " + told.tell("as_far", not_before=told.not_before(group.until)) + "."
    return f"{word} {text}"


def _tag(told: NowWords, tag: NowTag) -> str:
    on = told.names(tag.on)
    if not tag.sure:
        return told.tell("tag_unsure", tag=tag.tag, on=on)
    who = told.tell("set_by", since=told.moment(tag.since), by=tag.by) if tag.by else ""
    return told.tell("tag", tag=tag.tag, on=on, reason=tag.reason, who=who)


def _section(told: NowWords, section: NowSection) -> str:
    key = "section" if section.sure else "section_unsure"
    return told.tell(
        key, section=section.section, since=told.moment(section.since), may=told.kind(section.may),
        told=section.told, release=section.release,
    )  # fmt: skip


def can_rows(told: NowWords) -> list[str]:
    """Cans: the dead in one row, those that die today by themselves, those nobody knows of in one row."""
    cans = told.answer.cans
    dead = [_name(c) for c in cans if c.dead]
    unknown = [_name(c) for c in cans if c.dies is None]
    rows = [told.tell("can_dead", names=told.names(dead))] if dead else []
    for can in cans:
        if can.dies is not None and not can.dead:
            why = told.tell(can.why, card=can.card)
            when = told.moment(can.dies)
            holds = told.kind(can.holds)
            key = "can_dies" if can.can else "lot_dies"
            rows.append(told.tell(key, can=can.can, lot=can.lot, holds=holds, dies=when, why=why))
    return rows + ([told.tell("can_unknown", names=told.names(unknown))] if unknown else [])


def _name(can: NowCan) -> str:
    return can.can or f"lot {can.lot}"


def _owed(told: NowWords, owed: NowOwed) -> str:
    return told.tell(
        owed.what, joints=told.joints(owed.names), names=told.names(owed.names, 4), n=len(owed.names),
        who=owed.who or words_of(told.language)["nobody"],
    )  # fmt: skip


def _part(told: NowWords, key: str, items: Sequence[str], empty: str = "") -> list[str]:
    """A heading with its rows, wrapped; what goes over its share of the screen is counted."""
    if not items:
        return _wrap(told.tell(key), empty) if empty else []
    most = MOST[key]
    rows: list[str] = []
    for n, item in enumerate(items):
        wrapped = _wrap(told.tell(key) if n == 0 else "", item)
        left = len(items) - n
        room = most - len(rows) - (1 if left > 1 else 0)
        if n and len(wrapped) > room:
            rows += _wrap("", told.tell("more", n=left))
            return rows
        if len(wrapped) > max(room, 1):
            wrapped = _cut(wrapped, max(room, 1))
        rows += wrapped
    return rows


def _cut(rows: list[str], most: int) -> list[str]:
    """The first rows of something long, with a sign that there is more: lineproof now --json has it all."""
    kept = rows[:most]
    return [*kept[:-1], f"{kept[-1][: SCREEN - 4].rstrip()} ..."]


def _wrap(word: str, text: str) -> list[str]:
    return textwrap.wrap(
        text, SCREEN, initial_indent=f"{word:<{WIDTH}}",
        subsequent_indent=" " * WIDTH, break_long_words=False,
        break_on_hyphens=False,
    )  # fmt: skip


def _foot(told: NowWords) -> list[str]:
    a = told.answer
    words = words_of(told.language)
    counts = " · ".join(f"{words[state]} {count}" for state, count in a.counts.items())
    newest = told.tell("foot_newest", newest=told.moment(a.newest)) if a.newest else ""
    if a.dampest is not None:
        newest += told.tell("foot_said", dampest=a.dampest)
    foot = told.tell("foot", known=a.known, head=a.head[:SHORT], newest=newest)
    return [*_wrap(told.tell("joints"), counts), *textwrap.wrap(foot, SCREEN)]
