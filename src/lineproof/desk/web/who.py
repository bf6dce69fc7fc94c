"""Who asks: the one at this machine or a paired device; and whose name goes under what is signed."""

from __future__ import annotations

import hmac
from dataclasses import dataclass

from fastapi import Request
from starlette.types import Scope

from lineproof.desk.web.access import Role, Row
from lineproof.desk.web.tongue import refused

WHO = "lineproof.who"
ROW = "lineproof.row"


@dataclass(frozen=True, slots=True, kw_only=True)
class Who:
    """Who asks.

    Parameters
    ----------
    key : str
        What every form made for them carries, so that a page of somebody else cannot write.
    machine : bool
        They sit at this machine: everything is allowed, and a name is only typed.
    device : str
        Id of the paired device; empty at this machine.
    person : str
        Id in job.toml of the person the device was paired to.
    roles : frozenset of Role
        What that person does here.
    """

    key: str
    machine: bool = False
    device: str = ""
    person: str = ""
    roles: frozenset[Role] = frozenset()

    def may(self, row: Row) -> bool:
        """Whether a row is open to them."""
        return self.machine or row.unpaired or bool(self.roles & row.roles)

    def fits(self, told: str) -> bool:
        """Whether a form was made for them."""
        return hmac.compare_digest(told.encode(), self.key.encode())


def who_of(request: Request) -> Who:
    """Who asks; the guard has let them in.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Who
    """
    return in_scope(request.scope)


def in_scope(scope: Scope) -> Who:
    """As `who_of`, from what the server was told."""
    who: Who = scope[WHO]
    return who


@dataclass(frozen=True, slots=True)
class Signed:
    """Whose name goes under what is written.

    Parameters
    ----------
    by : str
        Id of the person.
    claimed : bool
        The name was only typed; nothing proves it.
    """

    by: str
    claimed: bool


def signed(request: Request, typed: str = "") -> Signed:
    """Whose name goes under what a page writes.

    Parameters
    ----------
    request : Request
    typed : str
        The name as the form told it. At this machine it is taken as typed and stays *claimed*; on the
        network it is the person of the device, and another name is refused.

    Returns
    -------
    Signed

    Raises
    ------
    Refused
        A device tells another name than that of its person.
    """
    who = who_of(request)
    if who.machine:
        return Signed(typed, claimed=True)
    if typed not in ("", who.person):
        raise refused("door.other_name", person=who.person, typed=typed[:40])
    return Signed(who.person, claimed=False)
