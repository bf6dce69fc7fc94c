"""Pairing a phone: who may have which roles, and the code with its picture."""

from __future__ import annotations

from collections.abc import Iterable

from lineproof.desk.lan.audit import Audit
from lineproof.desk.lan.phones import Offer, Paired, Phone, Phones
from lineproof.desk.web.access import SIGNING, Role
from lineproof.floor.errors import BadInput, LineproofError
from lineproof.job.settings import Settings


def roles_open_to(settings: Settings, person: str) -> tuple[Role, ...]:
    """Roles a person can have here: those job.toml names the person for, and those that sign nothing.

    Parameters
    ----------
    settings : Settings
    person : str
        Id in job.toml.

    Returns
    -------
    tuple of Role
    """
    signs = settings.signs.role_of(person)
    return tuple(r for r in Role if r not in SIGNING or r.value in signs)


def offer(
    phones: Phones, settings: Settings, person: str, roles: Iterable[str], *, by: str = "", again: str = ""
) -> Offer:
    """A code for one phone of one person.

    Parameters
    ----------
    phones : Phones
    settings : Settings
        job.toml as it stands.
    person : str
        Id there.
    roles : iterable of str
        What the person does here.
    by : str
        Id of who makes the code; empty for whoever sits at this machine.
    again : str
        Id of a phone of the same person that is paired again and keeps its chains.

    Returns
    -------
    Offer

    Raises
    ------
    BadInput
        The person is not on the job, or may not have a role; the phone is somebody else's.
    """
    people = {p.id for p in settings.people}
    if person not in people:
        raise BadInput(
            f"{person[:40] or 'nobody'} is not on this job",
            allowed=", ".join(sorted(people)) or "a person of job.toml",
            next="add [[people]] to job.toml",
        )
    told = frozenset(roles)
    may = {r.value for r in roles_open_to(settings, person)}
    wrong = sorted(told - may)
    if wrong or not told:
        raise BadInput(
            f"{person} cannot be paired as {', '.join(wrong)[:80] or 'nothing'}",
            allowed=", ".join(sorted(may)),
            next="who signs as what stands in job.toml under [signs]",
        )
    if again:
        known = {p.id: p for p in phones.all()}
        if again not in known or known[again].person != person:
            raise BadInput(
                f"{again[:40]} is no phone of {person}",
                allowed=", ".join(i for i, p in known.items() if p.person == person) or "a new phone",
                next="pair it as a new one",
            )
    return phones.offer(person, (Role(r) for r in told), by=by, phone=again)


def pair(phones: Phones, audit: Audit, code: str, name: str, *, session: str = "") -> Paired | None:
    """Pair the phone that tells an open code, and tell the logbook; unpaired again if that cannot be told.

    Parameters
    ----------
    phones : Phones
    audit : Audit
    code : str
        As typed or scanned.
    name : str
        What the phone is called.
    session : str
        Session of the same browser until now; it ends.

    Returns
    -------
    Paired or None
        None for a code that is not open.

    Raises
    ------
    LineproofError
        The logbook cannot be written.
    """
    paired = phones.take(code, " ".join(name.split())[:60] or "not named", session=session)
    if paired is None:
        return None
    phone = paired.phone
    try:
        audit.paired(phone.id, phone.name, phone.person, phone.roles, by=paired.by, again=paired.again)
    except LineproofError:
        phones.drop(phone.id)
        raise
    return paired


def drop(phones: Phones, audit: Audit, id: str, reason: str, *, by: str) -> Phone | None:
    """End the session of a phone, then tell the logbook.

    Returns
    -------
    Phone or None
        None if there is no such phone with a session.
    """
    phone = phones.drop(id)
    if phone is not None:
        audit.dropped(phone.id, phone.person, reason, by=by)
    return phone
