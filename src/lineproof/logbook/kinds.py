"""Kinds of entries: the version written today, the fields of its body, and how to check them.

A kind is never taken away and a version never changes: a new field is a new version beside the old one, and
``tests/logbook/golden`` holds the bytes of every one of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from lineproof.floor.errors import BadInput
from lineproof.logbook.entry import Entry, moment
from lineproof.logbook.kinds_phones import PHONES
from lineproof.logbook.shapes import (
    Shape,
    anything,
    by_name,
    day,
    decimal,
    digest,
    entry_id,
    fields,
    measure,
    name,
    one_of,
    person,
    several,
    text,
    when,
    whole,
    yes_no,
)  # fmt: skip

STEPS = (
    "ring_on", "dry_fitted", "marked", "cleaned", "socket_primed", "pipe_primed", "socket_primed_again",
    "pipe_cemented", "socket_cemented", "pipe_cemented_again", "pushed", "home", "hold_begun", "wiped",
)  # fmt: skip
"""Steps of making a joint, in their order (common practice, no source; the procedure says which are done)."""

TOLERATED = timedelta(minutes=2)
"""A time this far ahead of the writer's own clock is still taken for now."""

ANYWHERE: dict[str, Shape] = {"at": when, "note": text, "insisted": text, "photos": several(digest)}
"""Fields any body may have: when it happened if not now, a note, why an odd entry is insisted on, photos."""

_ROLES = fields(
    {},
    {
        "pipe_end": person,
        "socket": person,
        "pulled": several(person),
        "called_time": person,
        "helped": several(person),
    },
)
_STEP = fields({"step": one_of(*STEPS), "at": when})
_WEATHER: dict[str, Shape] = {
    "joint_temperature": measure("temperature"),
    "air_temperature": measure("temperature"),
    "humidity": measure("fraction"),
    "wind": measure("speed"),
}
_CAN_KINDS = one_of("cement", "primer", "cleaner")
_RELEASE = one_of("fill", "raise", "move", "lower", "load")
_BOUNDARY = one_of("blind", "air gap", "vent beyond", "valve")


@dataclass(frozen=True, slots=True)
class Kind:
    """One version of one kind.

    Parameters
    ----------
    name : str
    version : int
        From 1. [-]
    says : str
        What it says, in one line.
    shape : Shape
        Of its body.
    doubts : callable
        Takes the body and the time of writing; sentences for what is odd but may be insisted on.
    """

    name: str
    version: int
    says: str
    shape: Shape
    doubts: Callable[[Mapping[str, Any], datetime], list[str]]


KINDS: dict[tuple[str, int], Kind] = {}
"""Every version of every kind that this release reads."""


def _times(body: Mapping[str, Any], wall: datetime) -> list[str]:
    at = body.get("at")
    if at is not None and moment(at) > wall + TOLERATED:
        return [f"it is said to have happened at {at}, which is still to come by this clock"]
    return []


def _steps(body: Mapping[str, Any], wall: datetime) -> list[str]:
    told = _times(body, wall)
    done = body.get("steps", ())
    for before, after in pairwise(done):
        if moment(after["at"]) < moment(before["at"]):
            told.append(f"{after['step']} is told after {before['step']} but its time is earlier")
        if STEPS.index(after["step"]) < STEPS.index(before["step"]):
            told.append(f"{after['step']} is told after {before['step']}; it is done before it")
    told += [
        f"{step['step']} is said to be at {step['at']}, which is still to come by this clock"
        for step in done
        if moment(step["at"]) > wall + TOLERATED
    ]
    return told


def _kind(
    word: str,
    says: str,
    needed: Mapping[str, Shape],
    also: Mapping[str, Shape] | None = None,
    *,
    doubts: Callable[[Mapping[str, Any], datetime], list[str]] = _times,
    version: int = 1,
) -> None:
    KINDS[word, version] = Kind(word, version, says, fields(needed, {**(also or {}), **ANYWHERE}), doubts)


_JOINT: dict[str, Shape] = {"joint": name}

# Making a joint.
_kind(
    "joint_made",
    "the spigot is home and held",
    _JOINT,
    {
        "steps": several(_STEP),
        "roles": _ROLES,
        "lots": by_name(name),
        "cans": several(name),
        "card": name,
        "issue": whole(1, 10**6),
        **_WEATHER,
    },
    doubts=_steps,
)
_kind("first_on", "what goes on the pipe first is on", {**_JOINT, "what": one_of("ring", "nut")})
_kind(
    "dry_fit",
    "how deep the dry pipe went before it jammed",
    {**_JOINT, "depth": measure("length")},
    {"socket": name},
)
_kind(
    "insertion",
    "where the spigot stands against its mark",
    {**_JOINT, "shortfall": measure("length")},
    {"allowed": measure("length"), "procedure": name},
)
_kind("hold_end", "the hold was let go", _JOINT, {"pushed_back": measure("length")})
_kind("pullers_off", "pullers and straps are off", _JOINT)
_kind("moved", "the joint was moved or lowered", _JOINT, {"how": text})
_kind("disturbed", "the joint was knocked, bent or pulled", _JOINT, {"how": text})
_kind(
    "examined",
    "another person looked at the joint against a list",
    {**_JOINT, "list": name, "accepted": yes_no},
    {"points": by_name(yes_no)},
)
_kind("rejected", "the joint is not accepted", {**_JOINT, "reason": text})
_kind("cut_out", "the joint was cut out", _JOINT, {"reason": text})
_kind("replaced", "what stands where a joint was cut out", {**_JOINT, "by": several(name, least=1)})
_kind(
    "field_joint",
    "a joint that is not on the drawing, beside one that is",
    {"joint": name, "beside": name},
    {"size": name, "section": name, "what": text},
)

# Cans.
_kind(
    "can_received",
    "a can came to the site",
    {"can": name, "lot": name, "holds": _CAN_KINDS},
    {"expires": day, "card": name, "volume": measure("volume")},
)
_kind("can_opened", "a can was opened", {"can": name})
_kind("can_thrown", "a can was thrown away", {"can": name}, {"reason": text})

# What was measured.
_kind(
    "reading",
    "a temperature was read",
    {"temperature": measure("temperature"), "of": one_of("joint", "air", "pipe", "can", "water")},
    {"joint": name, "joints": several(name), "instrument": name},
)
_FILE: dict[str, Shape] = {"file": digest, "name": name}
_OF_FILE: dict[str, Shape] = {
    "joints": several(name), "from": when, "to": when, "of": one_of("joint", "air", "pipe", "can", "water"),
}  # fmt: skip
_kind("reading_file", "a logger's file, by its hash", _FILE, _OF_FILE)
_VOUCHED: dict[str, Shape] = {"clock_checked": yes_no, "second": person}
_kind("reading_file", "a logger's file, by its hash", _FILE, {**_OF_FILE, **_VOUCHED}, version=2)
_kind(
    "gauge",
    "a gauge, its calibration, its place",
    {"gauge": name},
    {
        "calibrated": day,
        "due": day,
        "elevation": measure("length"),
        "error": measure("pressure"),
        "range": measure("pressure"),
        "place": name,
        "certificate": digest,
    },
)

_kind(
    "humidity",
    "a relative humidity was read",
    {"humidity": measure("fraction")},
    {"joint": name, "joints": several(name), "instrument": name, "place": name},
)

# The section.
_kind("restraint_checked", "anchors, blocks and restraints were looked at", {"section": name, "good": yes_no})
_kind("hold_tag_set", "a hold tag hangs", {"tag": name, "on": name, "reason": text})
_kind("hold_tag_lifted", "a hold tag was taken off", {"tag": name}, {"reason": text})
_kind(
    "grout",
    "fresh grout or a fresh anchor",
    {"section": name, "what": one_of("grout", "anchor", "thrust block")},
    {"ready": when},
)
_kind(
    "release_asked",
    "somebody wants to fill, raise, move, lower or load",
    {"release": name, "section": name, "may": _RELEASE},
    {"pressure": measure("pressure"), "gauge": name, "medium": name},
)
_GIVES: dict[str, Shape] = {"release": name, "section": name, "may": _RELEASE, "claimed": yes_no}
_GIVEN: dict[str, Shape] = {
    "pressure": measure("pressure"), "gauge": name, "medium": name, "expires": when, "voids": several(text),
    "answer": entry_id,
}  # fmt: skip
_LET = "the person in charge let it go ahead"
_kind("release_given", _LET, _GIVES, _GIVEN)
_kind("release_given", _LET, _GIVES, {**_GIVEN, "lines": several(name)}, version=2)
_kind("release_expired", "its time ran out", {"release": name})
_kind("release_withdrawn", "it was taken back", {"release": name, "reason": text}, {"because": entry_id})
_kind(
    "isolation",
    "how the section ends there",
    {"section": name, "boundary": name, "how": _BOUNDARY},
)
_kind(
    "source",
    "what brings the pressure, and the most it can bring",
    {"section": name, "source": name, "most": measure("pressure")},
    {"how": one_of("relief valve", "pump", "column"), "gauge": name},
)
_kind(
    "bolts_torqued",
    "flange bolts were tightened to their torque again",
    {"section": name, "good": yes_no},
    {"flanges": several(name), "torque": text},
)
_kind(
    "condition",
    "somebody answers for what only counts on the spot",
    {"section": name, "condition": name, "answer": yes_no},
    {"about": name, "place": name, "since": when},
)
_kind("zero_proved", "an open vent showed that there is no pressure", {"section": name, "vent": name})

# The record itself.
_kind(
    "correction",
    "an entry was wrong: the fields it should have, or that it should not stand",
    {"corrects": entry_id, "reason": text},
    {"fields": by_name(anything), "void": yes_no, "second": person},
)
_kind(
    "step_in_clock",
    "the wall clock of a device jumped",
    {"before": when, "after": when, "by_s": decimal},
)
_kind(
    "time_confirmed",
    "a person says when an entry was really written",
    {"of": entry_id, "true_time": when, "how": text},
    {"second": person},
)
_kind(
    "fork_settled",
    "which of several stories stand",
    {"seals": several(digest, least=1), "stand": several(digest), "reason": text},
    {"second": person},
)
_kind(
    "issue",
    "a pack was issued, made from these files",
    {"number": whole(1, 10**6), "made_of": digest, "seal": digest},
    {"inputs": by_name(digest), "joints_seal": text},
)
_kind(
    "card",
    "a cement card as it is used from now on",
    {"card": name, "seal": digest, "told": by_name(anything)},
)
_kind(
    "imported", "a file that a verdict may rest on", {"file": digest, "name": name, "rows": whole(0, 10**9)}
)
_kind(
    "answer",
    "an answer as it was given, with hashes of all it rested on",
    {"asked": text, "verdict": name, "inputs": by_name(digest)},
    {"until": when, "governs": name, "known": whole(0, 10**12), "told": anything, "section": name},
)
for _told in PHONES:
    _kind(*_told)
_kind("note", "anything else", {"text": text}, {"joint": name, "section": name})


_NEWEST = {kind.name: kind for kind in sorted(KINDS.values(), key=lambda kind: kind.version)}


def latest(word: str) -> Kind:
    """The version of a kind that is written today.

    Parameters
    ----------
    word : str
        The kind.

    Returns
    -------
    Kind

    Raises
    ------
    BadInput
        There is no such kind.
    """
    if word not in _NEWEST:
        raise BadInput(
            f"{word!r} is not a kind of entry", allowed=", ".join(sorted(_NEWEST)), next="use one of these"
        )
    return _NEWEST[word]


def understood(entry: Entry) -> bool:
    """Whether this release knows what the body of an entry means."""
    return not entry.newer and (entry.kind, entry.kind_version) in KINDS


def faults(entry: Entry) -> tuple[str, ...]:
    """What is wrong with a body; nothing for one of a newer release, which is only forwarded.

    Parameters
    ----------
    entry : Entry
        As read.

    Returns
    -------
    tuple of str
        Sentences.
    """
    if not understood(entry):
        return ()
    return tuple(KINDS[entry.kind, entry.kind_version].shape(entry.body, ""))


def check_new(kind: Kind, body: Mapping[str, Any], wall: datetime) -> None:
    """Refuse a body that may not be written, before it is.

    Parameters
    ----------
    kind : Kind
        Of which kind it is to be.
    body : mapping
        Its fields.
    wall : datetime
        The writer's clock.

    Raises
    ------
    BadInput
        A field is wrong; or it is odd and nobody insists on it.
    """
    wrong = kind.shape(body, "")
    if wrong:
        raise BadInput(f"{kind.name} cannot be written: {_first(wrong)}", next="give it as allowed")
    odd = kind.doubts(body, wall)
    if odd and "insisted" not in body:
        raise BadInput(
            f"{kind.name} looks wrong: {_first(odd)}",
            next="put it right, or insist on it with a reason: it is then kept with a flag",
        )


def _first(sentences: Sequence[str]) -> str:
    more = f" (and {len(sentences) - 1} more)" if len(sentences) > 1 else ""
    return sentences[0] + more
