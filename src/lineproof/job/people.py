"""Who is on the job, what they may do, and how a joint is to be made: people, crews, signs, procedures."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Annotated

from lineproof.book.bonders import SCHEMES
from lineproof.book.sizes import Size
from lineproof.job.shifts import Shift
from lineproof.job.toml_words import (
    Angle,
    Count,
    Coverage,
    Day,
    Flag,
    Length,
    Material,
    Name,
    Nominal,
    Ratio,
    Read,
    Text,
    Time,
    one_of,
)

Scheme = Annotated[str, Read(one_of(*SCHEMES, ""))]
Steps = Annotated[str, Read(one_of("two-step", "one-step"))]


@dataclass(frozen=True, slots=True, kw_only=True)
class Qualification:
    """One qualification of a joiner.

    Parameters
    ----------
    procedure : str
        Id of the procedure it was made to; empty if it is not tied to one.
    material : str
        Such as ``"pvc"`` or ``"cpvc"``.
    steps : str
        ``"two-step"`` or ``"one-step"``.
    size_lo, size_hi : Size
        Smallest and largest size it covers.
    document : str
        The paper that says so.
    tested_on, last_used_on : date or None
        When the test joint was made, and when the process was last used; None if nobody said.
    scheme : str
        Profile it was given by, such as ``"asme-b31.3"``; empty for the profile of the job.
    test_size : Size or None
        Size of the test piece, where the profile says how far that reaches.
    confirmed_on : date or None
        When the employer last confirmed it.
    expires : date or None
        Last day, where the document itself names one.
    """

    material: Material
    steps: Steps
    size_lo: Nominal
    size_hi: Nominal
    procedure: Text = ""
    document: Text = ""
    tested_on: Day | None = None
    last_used_on: Day | None = None
    scheme: Scheme = ""
    test_size: Nominal | None = None
    confirmed_on: Day | None = None
    expires: Day | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Person:
    """One person on the job."""

    id: Name
    name: Name
    role: Text = ""
    qualifications: tuple[Qualification, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HandsRow:
    """How many people a joint of these sizes needs."""

    size_lo: Nominal
    size_hi: Nominal
    people: Count


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew:
    """People who make joints together.

    Parameters
    ----------
    people : tuple of str
        Ids of people.
    lines : tuple of str
        Lines or patterns (``"B-3*"``) the crew works on; empty for any.
    hands : tuple of HandsRow
        The crew's own rule for hands at a joint, where it is stricter than the procedure's.
    shift : Shift or None
        Hours of its own; None for those of the job.
    coating_rate : float or None
        What one pair of hands coats, timed by the crew on scrap; None until it was timed. [m2/s]
    """

    id: Name
    people: tuple[Name, ...]
    name: Text = ""
    lines: tuple[Name, ...] = ()
    hands: tuple[HandsRow, ...] = ()
    coating_rate: Coverage | None = None
    shift: Shift | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Signs:
    """Who signs what: each role holds the id of a person, or is empty.

    ``one_person_both`` lets the person who asks also confirm a value; papers then say so.
    """

    lead: Text = ""
    engineer: Text = ""
    quality: Text = ""
    second_reader: Text = ""
    inspector: Text = ""
    test_in_charge: Text = ""
    witness: Text = ""
    one_person_both: Flag = False

    def role_of(self, person: str) -> tuple[str, ...]:
        """Roles a person signs for, in the order above."""
        return tuple(role for role in SIGN_ROLES if person and getattr(self, role) == person)


SIGN_ROLES = ("lead", "engineer", "quality", "second_reader", "inspector", "test_in_charge", "witness")


@dataclass(frozen=True, slots=True, kw_only=True)
class HoldRow:
    """How long a joint of these sizes is held after it is home."""

    size_lo: Nominal
    size_hi: Nominal
    time: Time


@dataclass(frozen=True, slots=True, kw_only=True)
class Procedure:
    """A joining procedure as approved. What it does not say is None or empty, never assumed.

    Parameters
    ----------
    steps : str
        ``"two-step"`` (primer, then cement) or ``"one-step"``.
    document : str
        Title, number and revision of the paper.
    primer_coats, pipe_coats, socket_coats : int or None
        Passes of primer in all, cement coats on the pipe end, cement coats in the socket.
    hold : tuple of HoldRow
        Hold times by size.
    allowed_shortfall : float or None
        How much a joint may stop short of its depth. [m]
    angle_limit : float or None
        How far out of line a joint may be made. [rad]
    hands : tuple of HandsRow
        People at a joint by size.
    repair_coupling_to : Size or None
        Largest size at which a cemented repair coupling is allowed; None if the paper does not allow it.
    two_at_once : bool
        Two joints of one piece may be made at the same time.
    spring : str
        What it says where it allows cold spring, in its own words; empty if it does not allow it.
    spring_to : Size or None
        Largest size it allows it for; None: NPS 2 or d63.
    spring_radius : float or None
        Least radius it names, in outside diameters. [-]
    exceptions : tuple of str
        Anything else it allows or forbids, in words, shown with each joint.
    """

    id: Name
    steps: Steps
    material: Material
    size_lo: Nominal
    size_hi: Nominal
    document: Text = ""
    primer_coats: Count | None = None
    pipe_coats: Count | None = None
    socket_coats: Count | None = None
    hold: tuple[HoldRow, ...] = ()
    allowed_shortfall: Length | None = None
    angle_limit: Angle | None = None
    hands: tuple[HandsRow, ...] = ()
    repair_coupling_to: Nominal | None = None
    two_at_once: Flag = False
    spring: Text = ""
    spring_to: Nominal | None = None
    spring_radius: Ratio | None = None
    exceptions: tuple[Text, ...] = ()

    def people_for(self, size: Size) -> int | None:
        """People at a joint of this size by the procedure; None if it does not say."""
        return hands_for(self.hands, size)


def hands_for(rows: Iterable[HandsRow], size: Size) -> int | None:
    """The most people any row asks for at this size; None if no row covers it."""
    return max((r.people for r in rows if within(size, r.size_lo, r.size_hi)), default=None)


def within(size: Size, low: Size, high: Size) -> bool:
    """Whether a size lies in a range of sizes of its own kind (inch or metric).

    Parameters
    ----------
    size, low, high : Size
        Both ends of the range belong to it. Sizes of different kinds are never compared.

    Returns
    -------
    bool
        False across kinds.
    """
    if size.system != low.system or size.system != high.system:
        return False
    return low.nominal <= size.nominal <= high.nominal
