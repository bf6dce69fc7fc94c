"""What the calls of a phone answer, field by field: the description that is checked against every answer."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import BaseModel, ConfigDict, Field

Seal = Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
Number = Annotated[str, Field(pattern=r"^-?[0-9]+(\.[0-9]+)?$")] | None
"""SI as decimal text, or nothing where it is not known."""


class Told(BaseModel):
    """No field that is not described."""

    model_config = ConfigDict(extra="forbid")


class Refused(Told):
    """Why nothing was taken, in one sentence."""

    lineproof: Literal["refused"]
    sentence: str


class WithClock(Told):
    """With the clock of this machine, for a phone to hold its own against."""

    now: str
    synchronised: Literal["yes", "no", "unknown"]


class KeptTold(Told):
    """An entry as it stands on the disk."""

    id: str
    sequence: int = Field(ge=1)
    seal: Seal
    new: bool
    forked: bool


class Taken(WithClock):
    """Entries are on the disk."""

    lineproof: Literal["taken"]
    entries: list[KeptTold]
    receipt: int = Field(ge=0)
    head: Seal
    notes: list[str]


class HeadTold(Told):
    """The end of a chain."""

    writer: str
    sequence: int = Field(ge=1)
    seal: Seal


class Heads(WithClock):
    """Ends of the chains that are here."""

    lineproof: Literal["heads"]
    job: str
    heads: list[HeadTold]


class Units(Told):
    """How the job shows what is measured."""

    temperature: Literal["F", "C"]
    length: Literal["in", "mm"]
    inch_step: int


class First(Told):
    """What goes on the pipe first."""

    what: str
    as_: Literal["ring", "nut", ""] = Field(alias="as")


class Facts(Told):
    """What joints that are alike share; times are those of the planned weather. No cure time is in it."""

    line: str
    section: str | None
    size: str
    first: list[First]
    first_sure: bool
    procedure: str | None
    card: str | None
    method: str | None
    depth: Number
    depth_said: str
    second_said: str
    left_said: str
    bands: list[Number] | None
    bands_said: list[str]
    allowed: Number
    allowed_said: str
    steps: list[str]
    pull_in: bool | None
    working_s: Number
    hold_s: Number
    pullers_s: Number
    hands_off_s: Number
    hands: int | None
    planned_K: Number
    planned_humidity: Number
    missing: list[str]


class JointTold(Told):
    """A joint: which facts are its, and its two ends."""

    facts: int = Field(ge=0)
    in_: str = Field(alias="in")
    into: str


class JointKnown(Told):
    """What others recorded of a joint."""

    made: int = Field(ge=0)
    kinds: list[str]
    unclear: list[str]
    beside: str
    writers: list[str]


class PersonTold(Told):
    """A person of the job."""

    id: str
    uuid: str
    name: str
    role: str


class CanTold(Told):
    """A can, or a lot of job.toml."""

    can: str
    lot: str
    holds: str
    expires: str
    card: str


class PointList(Told):
    """What another person looks at."""

    name: str
    points: list[str]


class Mine(Told):
    """Whose phone asks, and what may be sent from it."""

    id: str
    uuid: str
    phone: str
    roles: list[str]
    kinds: list[str]


class CardJob(WithClock):
    """What a card needs with no signal."""

    format: int
    lineproof: Literal["card job"]
    job: str
    id: str
    name: str
    zone: str
    issue: str
    units: Units
    facts: list[Facts]
    joints: dict[str, JointTold]
    told: dict[str, JointKnown]
    field_joints: list[str]
    people: list[PersonTold]
    cans: list[CanTold]
    under_pressure: list[str]
    sections: dict[str, list[str]]
    list: PointList
    me: Mine | None = None


class PhotoTold(Told):
    """How much of a photograph is here; a phone sends on from there."""

    lineproof: Literal["photo"]
    photo: Seal
    have: int = Field(ge=0)
    whole: bool


class Words(Told):
    """The words of the card: one dictionary a language."""

    en: dict[str, str]
    es: dict[str, str]
