"""How the kinds of the logbook are typed: the fields of each, what they hold, and an example."""

from __future__ import annotations

import difflib
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from lineproof.floor.errors import BadInput

ANYWHERE: Mapping[str, str] = {"at": "moment", "note": "text", "photos": "files"}
"""Fields that every kind may have; what is insisted on is an option of the verb."""

ROLES: Mapping[str, str] = {
    "pipe_end": "person", "socket": "person", "pulled": "people", "called_time": "person", "helped": "people",
}  # fmt: skip
"""Who did what at a joint: typed as fields of joint_made."""

SHORT: Mapping[str, str] = {
    "pulls": "pulled", "calls": "called_time", "helps": "helped", "can": "cans",
    "joint_temp": "joint_temperature", "air_temp": "air_temperature",
}  # fmt: skip
"""Shorter names for fields of joint_made."""


@dataclass(frozen=True, slots=True)
class Typed:
    """How one kind is typed.

    Parameters
    ----------
    subject : str
        The field that is typed right after the kind; empty if there is none.
    needed, may : mapping
        Field to what it holds: a word of ``record_read.WHAT``, or words parted by ``|``.
    example : str
        What is typed after ``lineproof record add KIND``.
    """

    subject: str
    needed: Mapping[str, str]
    may: Mapping[str, str]
    example: str


def _t(
    subject: str, example: str, needed: Mapping[str, str] | None = None, may: Mapping[str, str] | None = None
) -> Typed:
    return Typed(subject, needed or {}, may or {}, example)


_OF = "joint|air|pipe|can|water"
_MAY = "fill|raise|move|lower|load"
_CONDITIONS = "people-out|nothing-since|vents-open|air-out|joints-ready|heard-for"
TYPED: dict[str, Typed] = {
    "joint_made": _t(
        "joint", "B-201/J1 pipe-end=P-2 socket=P-1 joint-temp=52F", {"joint": "joint"},
        {
            **ROLES, "steps": "steps", "lots": "lots", "cans": "cans", "primer": "lot", "card": "card",
            "issue": "whole", "joint_temperature": "temperature", "air_temperature": "temperature",
            "humidity": "fraction", "wind": "speed",
        },
    ),
    "first_on": _t("joint", "B-201/J1 what=ring", {"joint": "joint", "what": "ring|nut"}),
    "dry_fit": _t(
        "joint", 'B-201/J1 depth="2 1/4 in"', {"joint": "joint", "depth": "length"}, {"socket": "name"}
    ),
    "insertion": _t(
        "joint", 'B-201/J1 shortfall=2mm allowed=3mm procedure=BP-2',
        {"joint": "joint", "shortfall": "length"}, {"allowed": "length", "procedure": "procedure"},
    ),
    "hold_end": _t("joint", "B-201/J1 pushed-back=0", {"joint": "joint"}, {"pushed_back": "length"}),
    "pullers_off": _t("joint", "B-201/J1", {"joint": "joint"}),
    "moved": _t("joint", 'B-201/J1 how="lowered on two slings"', {"joint": "joint"}, {"how": "text"}),
    "disturbed": _t("joint", 'B-201/J1 how="knocked by a bucket"', {"joint": "joint"}, {"how": "text"}),
    "examined": _t(
        "joint", 'B-201/J1 list=A-1 accepted=yes points="bead all round:yes"',
        {"joint": "joint", "list": "name", "accepted": "yes or no"}, {"points": "points"},
    ),
    "rejected": _t("joint", 'B-201/J1 reason="no bead at the invert"', {"joint": "joint", "reason": "text"}),
    "cut_out": _t("joint", "B-201/J1 reason=rejected", {"joint": "joint"}, {"reason": "text"}),
    "replaced": _t("joint", "B-201/J1 by=B-201/J2", {"joint": "joint", "by": "joints"}),
    "field_joint": _t(
        "beside", 'B-201/J1 size=6in section=B-2 what="repair coupling"', {"joint": "new", "beside": "joint"},
        {"size": "name", "section": "section", "what": "text"},
    ),
    "can_received": _t(
        "can", "C2-04 lot=7731 holds=cement expires=2027-06-30",
        {"can": "name", "lot": "name", "holds": "cement|primer|cleaner"},
        {"expires": "day", "card": "card", "volume": "volume"},
    ),
    "can_opened": _t("can", "C2-04", {"can": "can"}),
    "can_thrown": _t("can", 'C2-04 reason="gone to jelly"', {"can": "can"}, {"reason": "text"}),
    "reading": _t(
        "joint", "B-201/J1 temperature=9C of=joint", {"temperature": "temperature", "of": _OF},
        {"joint": "joint", "joints": "joints", "instrument": "name"},
    ),
    "reading_file": _t(
        "file", "logger-7.csv joints=B-201/J1 of=joint clock-checked=yes",
        {"file": "file", "name": "name"},
        {
            "joints": "joints", "from": "moment", "to": "moment", "of": _OF, "clock_checked": "yes or no",
            "second": "person",
        },
    ),
    "gauge": _t(
        "gauge", "G-14 calibrated=2026-03-01 due=2027-03-01 error=2psi place=PG-2", {"gauge": "name"},
        {
            "calibrated": "day", "due": "day", "elevation": "length", "error": "pressure",
            "range": "pressure", "place": "gauge place", "certificate": "file",
        },
    ),
    "humidity": _t(
        "humidity", '"62 %" place="gallery, bay 2"', {"humidity": "fraction"},
        {"joint": "joint", "joints": "joints", "instrument": "name", "place": "name"},
    ),
    "restraint_checked": _t("section", "B-2 good=yes", {"section": "section", "good": "yes or no"}),
    "hold_tag_set": _t(
        "tag",
        'H-3 on=B-201/J1 reason="waits for the engineer"',
        {"tag": "name", "on": "name", "reason": "text"},
    ),
    "hold_tag_lifted": _t("tag", "H-3", {"tag": "tag"}, {"reason": "text"}),
    "grout": _t(
        "section", "B-2 what=grout ready=2027-05-04T08:00Z",
        {"section": "section", "what": "grout|anchor|thrust block"}, {"ready": "moment"},
    ),
    "release_asked": _t(
        "section", "B-2 release=R-1 may=raise pressure=135psi",
        {"release": "name", "section": "section", "may": _MAY},
        {"pressure": "pressure", "gauge": "name", "medium": "name"},
    ),
    "release_expired": _t("release", "R-1", {"release": "release"}),
    "release_withdrawn": _t(
        "release", 'R-1 reason="a colder reading came in"', {"release": "release", "reason": "text"},
        {"because": "entry"},
    ),
    "isolation": _t(
        "section", 'B-2 boundary="tee T-4" how=blind',
        {"section": "section", "boundary": "name", "how": "blind|air gap|vent beyond|valve"},
    ),
    "source": _t(
        "section", 'B-2 source="hand pump" most=135psi how="relief valve"',
        {"section": "section", "source": "name", "most": "pressure"},
        {"how": "relief valve|pump|column", "gauge": "name"},
    ),
    "bolts_torqued": _t(
        "section", 'B-2 good=yes torque="110 ft-lb"', {"section": "section", "good": "yes or no"},
        {"flanges": "names", "torque": "text"},
    ),
    "condition": _t(
        "section", 'B-2 condition=people-out answer=yes place="gallery gate"',
        {"section": "section", "condition": _CONDITIONS, "answer": "yes or no"},
        {"about": "name", "place": "name", "since": "moment"},
    ),
    "zero_proved": _t(
        "section", 'B-2 vent="V-4, the high point"', {"section": "section", "vent": "name"}
    ),
    "correction": _t(
        "corrects",
        'ENTRY reason="misread" set.depth="3 in" second=P-2',
        {"corrects": "entry", "reason": "text"},
        {"fields": "set", "void": "yes or no", "second": "person"},
    ),
    "time_confirmed": _t(
        "of", 'ENTRY true-time=14:02 how="clock of the site office"',
        {"of": "entry", "true_time": "moment", "how": "text"}, {"second": "person"},
    ),
    "imported": _t(
        "file", "weather.csv", {"file": "file", "name": "name", "rows": "whole"}
    ),
    "note": _t("text", '"rain from two"', {"text": "text"}, {"joint": "joint", "section": "section"}),
}  # fmt: skip

BY_ITSELF: Mapping[str, str] = {
    "issue": "lineproof plan --issue writes it",
    "step_in_clock": "it is written when the clock of this device jumped",
    "fork_settled": "lineproof record settle writes it",
    "card": "it is written when a cement card is used",
    "answer": "it is written with an answer that is kept",
    "release_given": "it is written by the release itself, never typed",
    "phone_paired": "it is written when a phone is paired",
    "phone_dropped": "lineproof phones drop writes it",
    "chain_bound": "it is written when a phone first sends",
    "refusals": "lineproof serve --lan writes it, at most once an hour",
}
"""Kinds that nobody types, and who writes them."""


def owed_by(kind: str, body: Mapping[str, Any]) -> tuple[str, ...]:
    """What a release will ask for and the making of a joint does not say.

    Parameters
    ----------
    kind : str
    body : mapping

    Returns
    -------
    tuple of str
        As it is typed; nothing for other kinds.
    """
    if kind != "joint_made":
        return ()
    roles, lots = body.get("roles", {}), body.get("lots", {})
    told = {
        "pipe-end": "pipe_end" in roles,
        "socket": "socket" in roles,
        "can": "cement" in lots or bool(body.get("cans")),
        "primer": "primer" in lots or len(body.get("cans", ())) > 1,
        "joint-temp": "joint_temperature" in body,
    }
    return tuple(name for name, said in told.items() if not said)


def kind_typed(kind: str) -> Typed:
    """How a kind is typed.

    Parameters
    ----------
    kind : str

    Returns
    -------
    Typed

    Raises
    ------
    BadInput
        There is no such kind, or nobody types it.
    """
    if kind in TYPED:
        return TYPED[kind]
    if kind in BY_ITSELF:
        raise BadInput(f"nobody types {kind}", next=BY_ITSELF[kind])
    near = difflib.get_close_matches(kind, TYPED, 1)
    raise BadInput(
        f"{kind[:40]!r} is not a kind of entry", allowed=", ".join(TYPED),
        next=f"did you mean {near[0]}?" if near else "see `lineproof record kinds`",
    )  # fmt: skip
