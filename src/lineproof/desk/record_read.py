"""Reads what was typed after ``lineproof record add``: fields with units, names held against the job."""

from __future__ import annotations

import difflib
import re
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from lineproof.desk.record_book import person_uuid
from lineproof.desk.record_fields import ANYWHERE, BY_ITSELF, ROLES, SHORT, TYPED, Typed, kind_typed
from lineproof.desk.record_logger import check_imported, check_logger, joints_named
from lineproof.desk.record_typed import LEAST, SI, measured, moment_typed
from lineproof.floor.errors import BadInput
from lineproof.job.joints_csv import JointsFile
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry, is_seal
from lineproof.logbook.kinds import STEPS
from lineproof.logbook.shelf import Shelf
from lineproof.logbook.state import State


@dataclass
class Reader:
    """Reads one entry.

    Parameters
    ----------
    settings : Settings
    joints : JointsFile
    state : State
        What the logbook says so far.
    entries : sequence of Entry
        All of it.
    job : str
        UUID of the job.
    shelf : Shelf
        Where files that are named are kept.
    insist : str
        Why a name that is not known, or an odd entry, is kept all the same; empty if nobody insists.
    files : bool
        Files may be named by where they lie on this machine; on a page only by the hash they are kept under.
    """

    settings: Settings
    joints: JointsFile
    state: State
    entries: Sequence[Entry]
    job: str
    shelf: Shelf
    insist: str = ""
    files: bool = True
    insisted: list[str] = field(default_factory=list)

    def entry(self, kind: str, words: Sequence[str], writer: str) -> dict[str, Any]:
        """The body of an entry.

        Parameters
        ----------
        kind : str
        words : sequence of str
            Subject and ``key=value`` as typed.
        writer : str
            UUID of the chain, for the name of a joint that is not on the drawing.

        Returns
        -------
        dict

        Raises
        ------
        BadInput
            With the word that cannot be taken.
        """
        typed = kind_typed(kind)
        given = self._given(kind, typed, words)
        body: dict[str, Any] = {}
        if kind == "correction":
            body = self._correction(given)
        for key, text in given.items():
            self._put(kind, typed, body, key, text)
        if kind == "field_joint" and "joint" not in body:
            body["joint"] = self._new_joint(body["beside"], writer)
        if "file" in given and "name" in typed.needed and "name" not in body:
            body["name"] = Path(given["file"]).name
        if kind == "reading_file" and not self.insist:
            check_logger(body, self.shelf, ZoneInfo(self.settings.site.timezone))
        if kind == "imported":
            check_imported(body, self.shelf, ZoneInfo(self.settings.site.timezone))
        if self.insist:
            body["insisted"] = "; ".join((self.insist, *self.insisted))
        return body

    def _given(self, kind: str, typed: Typed, words: Sequence[str]) -> dict[str, str]:
        given: dict[str, str] = {}
        known = {*typed.needed, *typed.may, *ANYWHERE} - {"fields"}
        for n, word in enumerate(words):
            key, sign, value = word.partition("=")
            key = key.strip().lower().replace("-", "_")
            key = SHORT.get(key, key) if kind == "joint_made" else key
            if n == 0 and typed.subject and not (sign and (key in known or key.startswith("set."))):
                key, sign, value = typed.subject, "=", word
            elif kind == "correction" and key.startswith("set."):
                pass
            elif not sign or key not in known:
                near = difflib.get_close_matches(key, known, 1)
                raise BadInput(
                    f"{word[:60]!r} is not a field of {kind}" if sign else f"{word[:60]!r} is not KEY=VALUE",
                    allowed=", ".join(sorted(known)),
                    next=f"did you mean {near[0]}=?" if near else f"see `lineproof record kinds {kind}`",
                )
            if key in given:
                raise BadInput(f"{key} is given twice", allowed="each field once", next="take one out")
            given[key] = value.strip()
        lacking = [k for k in typed.needed if k not in given and not self._filled(kind, k)]
        if lacking:
            raise BadInput(
                f"{kind} needs {', '.join(lacking)}",
                allowed=f"lineproof record add {kind} {typed.example}",
                next="add what is missing",
            )
        return given

    def _filled(self, kind: str, key: str) -> bool:
        return (kind, key) in (("field_joint", "joint"), ("imported", "rows")) or (
            key == "name" and kind in ("reading_file", "imported")
        )

    def _put(self, kind: str, typed: Typed, body: dict[str, Any], key: str, text: str) -> None:
        if key.startswith("set."):
            return
        what = {**ANYWHERE, **typed.needed, **typed.may}[key]
        if kind == "joint_made" and key in ("cans", "primer"):
            self._cement(body, key, text)
        elif kind == "joint_made" and key in ROLES:
            body.setdefault("roles", {})[key] = self.value(key, what, text)
        elif kind == "joint_made" and key == "lots":
            body.setdefault("lots", {}).update(self.value(key, what, text))
        else:
            body[key] = self.value(key, what, text)

    def value(self, key: str, what: str, text: str) -> Any:
        """One field, read as what it holds."""
        if not text:
            raise BadInput(f"{key} is empty", allowed=what, next="type it, or leave the field out")
        try:
            if what in SI:
                return measured(text, what)
            if what in _READ:
                return _READ[what](self, text)
        except BadInput as error:
            error.given = f"{key}: {error.given}"
            raise
        if "|" in what and text.lower() not in what.split("|"):
            raise BadInput(
                f"{key} is {text[:40]!r}", allowed=what.replace("|", ", "), next="use one of these"
            )
        return text.lower() if "|" in what else text

    def known(self, what: str, text: str, names: Iterable[str]) -> str:
        """A name that must be known; the nearest one is offered, and what is insisted on is kept.

        Parameters
        ----------
        what : str
            joint, person and the like.
        text : str
            As typed.
        names : iterable of str

        Returns
        -------
        str
            The name as it is written.
        """
        all_names = list(dict.fromkeys(names))
        if text in all_names:
            return text
        same = [n for n in all_names if n.casefold() == text.casefold()]
        if what == "joint" and not same:
            same = [n for n in all_names if n.casefold().endswith("/" + text.casefold())]
        if len(same) == 1:
            return same[0]
        if self.insist:
            self.insisted.append(f"{what} {text} is not known")
            return text
        near = difflib.get_close_matches(text, all_names, 3, 0.4)
        shown = ", ".join(near or all_names[:6])
        if what == "joint" and not all_names:
            raise BadInput(
                f"no joint has an id yet, so {text} is not known",
                next="give the pack to the crew with `lineproof plan --issue`, or --insist with a reason",
            )
        raise BadInput(
            f"no {what} is named {text!r}",
            allowed=f"such as {shown}" if shown else f"a {what} that job.toml or the logbook names",
            next=f"did you mean {near[0]}? Or --insist with a reason: it is kept and flagged"
            if near
            else "name a known one, or --insist with a reason: it is kept and flagged",
        )

    def joint(self, text: str) -> str:
        """A joint of joints.csv, or one that the logbook added beside it."""
        return self.known("joint", text, (*self.joints.joints, *self.state.field_joints))

    def person(self, text: str) -> str:
        """UUID of a person, by id or name."""
        for p in self.settings.people:
            if text.casefold() in (p.id.casefold(), p.name.casefold()):
                return person_uuid(self.job, p.id)
        return person_uuid(self.job, self.known("person", text, (p.id for p in self.settings.people)))

    def can(self, text: str) -> str:
        """A can that was received."""
        return self.known("can", text, self.state.cans)

    def lot(self, text: str) -> str:
        """A lot of job.toml or of a can received."""
        return self.known("lot", text, self._lots())

    def find_entry(self, text: str) -> Entry:
        """An entry by the first figures of its seal or id.

        Raises
        ------
        BadInput
            There is none, or more than one.
        """
        plain = text.strip().lower()
        found = {e.seal: e for e in self.entries if e.seal.startswith(plain) or e.id.startswith(plain)}
        if len(plain) < LEAST or len(found) != 1:
            raise BadInput(
                f"{text[:40]!r} names {'no entry' if not found else f'{len(found)} entries'}",
                allowed="the figures that `lineproof record list` shows before an entry",
                next="type them from the list",
            )
        return next(iter(found.values()))

    def file(self, text: str) -> str:
        """Hash of a file: one that lies here is put on the shelf."""
        if is_seal(text):
            return text
        if not self.files:
            raise BadInput(
                f"{text[:40]!r} is not a file that is kept here",
                allowed="the SHA-256 of one, 64 figures",
                next="choose the file on this page; it is put on the shelf and named by itself",
            )
        try:
            content = Path(text).read_bytes()
        except (OSError, ValueError) as error:
            raise BadInput(
                f"the file {text[:80]} cannot be read",
                allowed="a file, or its SHA-256",
                next="check its name",
            ) from error
        return self.shelf.put(content)

    def _lots(self) -> list[str]:
        told = [c.lot for c in self.settings.cans if c.lot]
        return told + [str(e.body["lot"]) for c in self.state.cans.values() for e in c.of("can_received")]

    def _cement(self, body: dict[str, Any], key: str, text: str) -> None:
        """Cans by their own names, or by the lot where nobody named the can."""
        kind = "primer" if key == "primer" else "cement"
        for one in _parts(text):
            if one in self.state.cans:
                body.setdefault("cans", []).append(one)
                continue
            name = self.known(f"can or lot of {kind}", one, (*self.state.cans, *self._lots_of(kind)))
            if name in self.state.cans:
                body.setdefault("cans", []).append(name)
            elif kind in body.get("lots", {}):
                raise BadInput(f"two lots of {kind} at one joint", allowed="one", next="name cans instead")
            else:
                body.setdefault("lots", {})[kind] = name

    def _lots_of(self, kind: str) -> list[str]:
        told = [c.lot for c in self.settings.cans if c.lot and c.kind == kind]
        came = [e.body for c in self.state.cans.values() for e in c.of("can_received")]
        return told + [str(b["lot"]) for b in came if b["holds"] == kind]

    def _new_joint(self, beside: str, writer: str) -> str:
        """A name that no other phone deals at the same time: it ends with figures of its writer."""
        line = beside.rpartition("/")[0] or beside
        n = 1
        while f"{line}/F{n}-{writer[:4]}" in self.state.joints:
            n += 1
        return f"{line}/F{n}-{writer[:4]}"

    def _correction(self, given: Mapping[str, str]) -> dict[str, Any]:
        old = self.find_entry(given["corrects"])
        changes = {k.removeprefix("set."): v for k, v in given.items() if k.startswith("set.")}
        if not changes and "void" not in given:
            raise BadInput(
                "the correction changes nothing", allowed="set.FIELD=VALUE, or void=yes", next="say which"
            )
        if not changes:
            return {}
        if old.kind in BY_ITSELF or old.kind == "correction":
            raise BadInput(
                f"no field of {old.kind} is corrected by hand",
                allowed="void=yes",
                next="strike it out instead",
            )
        typed = TYPED[old.kind]
        body: dict[str, Any] = {k: dict(old.body[k]) for k in ("roles", "lots") if k in old.body}
        before = dict(body)
        read: dict[str, Any] = {}
        fields = {**ANYWHERE, **typed.needed, **typed.may}
        for key, text in changes.items():
            key = SHORT.get(key, key) if old.kind == "joint_made" else key
            if key not in fields:
                raise BadInput(
                    f"{key} is not a field of {old.kind}", allowed=", ".join(fields), next="use one of these"
                )
            self._put(old.kind, typed, body, key, text)
        read.update({k: v for k, v in body.items() if v != before.get(k) or k not in before})
        for k in ("roles", "lots"):
            if k in body:
                read[k] = body[k]
        return {"fields": read}


def _parts(text: str) -> list[str]:
    return [p.strip() for p in text.split(",") if p.strip()]


def _pairs(text: str, sign: str, how: str) -> list[tuple[str, str]]:
    found = []
    for part in _parts(text):
        left, there, right = part.partition(sign)
        if not there or not left.strip() or not right.strip():
            raise BadInput(f"{part[:40]!r} is not {how}", allowed=f"{how}, more of them parted by commas")
        found.append((left.strip(), right.strip()))
    return found


def _steps(reader: Reader, text: str) -> list[dict[str, str]]:
    steps = []
    zone = ZoneInfo(reader.settings.site.timezone)
    for step, at in _pairs(text, "@", "STEP@TIME"):
        word = step.lower().replace("-", "_").replace(" ", "_")
        if word not in STEPS:
            raise BadInput(f"{step!r} is not a step", allowed=", ".join(STEPS), next="use one of these")
        steps.append({"step": word, "at": moment_typed(at, zone)})
    return steps


def _lots(reader: Reader, text: str) -> dict[str, str]:
    return {kind: reader.lot(lot) for kind, lot in _pairs(text, ":", "KIND:LOT")}


def _yes(text: str) -> bool:
    if text.lower() not in ("yes", "no", "true", "false"):
        raise BadInput(f"{text[:40]!r} is neither yes nor no", allowed="yes, no", next="type one of them")
    return text.lower() in ("yes", "true")


def _whole(text: str) -> int:
    if not re.fullmatch(r"\d{1,12}", text, re.ASCII):
        raise BadInput(f"{text[:40]!r} is not a whole number", allowed="figures only", next="type it again")
    return int(text)


_READ: dict[str, Callable[[Reader, str], Any]] = {
    "moment": lambda r, t: moment_typed(t, ZoneInfo(r.settings.site.timezone)),
    "yes or no": lambda _, t: _yes(t),
    "whole": lambda _, t: _whole(t),
    "joint": lambda r, t: r.joint(t),
    "joints": lambda r, t: [r.joint(one) for one in joints_named(_parts(t), r.joints, r.state)],
    "person": lambda r, t: r.person(t),
    "people": lambda r, t: [r.person(one) for one in _parts(t)],
    "can": lambda r, t: r.can(t),
    "lot": lambda r, t: r.lot(t),
    "lots": _lots,
    "steps": _steps,
    "points": lambda _, t: {name: _yes(said) for name, said in _pairs(t, ":", "POINT:yes or POINT:no")},
    "names": lambda _, t: _parts(t),
    "section": lambda r, t: r.known("section", t, (s.id for s in r.settings.sections)),
    "gauge place": lambda r, t: r.known("gauge place", t, (g.id for g in r.settings.gauges)),
    "card": lambda r, t: r.known("cement card", t, (c.id for c in r.settings.cards)),
    "procedure": lambda r, t: r.known("procedure", t, (p.id for p in r.settings.procedures)),
    "tag": lambda r, t: r.known("hold tag", t, r.state.tags),
    "release": lambda r, t: r.known("release", t, r.state.releases),
    "entry": lambda r, t: r.find_entry(t).id,
    "file": lambda r, t: r.file(t),
    "files": lambda r, t: [r.file(one) for one in _parts(t)],
}
WHAT = (*SI, *_READ, "text", "name", "day", "new", "set")
"""What a field may hold."""
