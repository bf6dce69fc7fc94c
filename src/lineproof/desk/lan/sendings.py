"""What a paired phone may send: its own chain only, and of its kinds only what its person may put down.

The record of the work is open to every phone that records: whoever writes names who did it, and a name
that is not the phone's own person is only *claimed*. Kinds that let something go ahead, lift a stop or change
what others said are taken only from the phone of somebody who may sign them, under that person's own name.
A release is never sent: it is given on the page of the answer, by the person in charge of the test.
Nothing is thrown away here: a refused entry stays on its phone.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence

from lineproof.desk.lan.phones import Phones
from lineproof.desk.web.access import RECORDS, Role
from lineproof.desk.web.tongue import refused, t
from lineproof.desk.web.who import Who
from lineproof.logbook.entry import Entry

NOBODY: frozenset[Role] = frozenset()
WORK = RECORDS - {Role.WITNESS}
LEADS = frozenset({Role.LEAD, Role.TEST_IN_CHARGE})
STOPS = frozenset({Role.LEAD, Role.INSPECTOR, Role.ENGINEER, Role.TEST_IN_CHARGE})
SETTLES = frozenset({Role.LEAD})

KINDS: Mapping[str, frozenset[Role]] = {
    **dict.fromkeys(
        (
            "joint_made", "first_on", "dry_fit", "insertion", "hold_end", "pullers_off", "moved", "disturbed",
            "examined", "rejected", "cut_out", "replaced", "field_joint", "can_received", "can_opened",
            "can_thrown", "reading_file", "bolts_torqued", "grout", "gauge",
        ),
        WORK,
    ),
    **dict.fromkeys(("note", "step_in_clock", "reading", "humidity"), RECORDS),
    # What stops or takes back is open to everybody who records: it makes nothing more dangerous.
    **dict.fromkeys(("hold_tag_set", "release_withdrawn"), WORK),
    "hold_tag_lifted": STOPS,
    # Whoever stands there says whether people are out; which conditions only the lead or the one who asks
    # may answer is held against the name by the answer itself.
    "condition": WORK,
    **dict.fromkeys(
        (
            "release_asked", "release_expired", "restraint_checked", "isolation", "source", "zero_proved",
        ),
        LEADS,
    ),
    **dict.fromkeys(("correction", "time_confirmed"), SETTLES),
    # Written by the server itself, on a page or a verb, with what they rest on.
    **dict.fromkeys(
        (
            "release_given", "answer", "issue", "card", "imported", "fork_settled", "phone_paired",
            "phone_dropped", "chain_bound", "refusals",
        ),
        NOBODY,
    ),
}  # fmt: skip
"""Kind to whose phones may send it. A kind of newer software is forwarded; it lets nothing go ahead."""

OWN_NAME = frozenset(k for k, roles in KINDS.items() if roles < WORK) | {"condition", "release_withdrawn"}
"""Kinds that somebody signs: they bear the name of the phone's own person."""


def kinds_for(roles: frozenset[Role]) -> tuple[str, ...]:
    """Kinds that phones of these roles may send, in alphabetical order."""
    return tuple(sorted(k for k, may in KINDS.items() if may & roles))


def check_kind(who: Who, kind: str) -> None:
    """Refuse a kind that whoever asks may not put down on a page.

    Parameters
    ----------
    who : Who
    kind : str

    Raises
    ------
    Refused
        They are on a phone whose person may not.
    """
    if not who.machine and not KINDS.get(kind, NOBODY) & who.roles:
        raise refused("door.kind_here", kind=kind, roles=_said(who.roles))


def _said(roles: frozenset[Role]) -> str:
    return ", ".join(t(f"phones.{r.value}") for r in Role if r in roles)


def check_sending(
    who: Who,
    person: str,
    entries: Sequence[Entry],
    phones: Phones,
    here: Callable[[str], bool],
) -> None:
    """Refuse what a phone may not send, all of it or nothing.

    Parameters
    ----------
    who : Who
        Who sends.
    person : str
        UUID of the phone's person.
    entries : sequence of Entry
        Of one chain.
    phones : Phones
    here : callable
        Whether the logbook holds entries of a chain already.

    Raises
    ------
    Refused
        In one sentence, with what to do; the entries stay on the phone.
    """
    chain = entries[0].writer
    owner = phones.owner(chain)
    if owner not in ("", who.device):
        raise refused("door.others_chain", owner=owner, phone=who.device)
    if not owner and here(chain):
        raise refused("door.known_chain", phone=who.device)
    for entry in entries:
        roles = KINDS.get(entry.kind)
        if roles is None:
            continue
        if not roles & who.roles:
            said = _said(who.roles)
            raise refused("door.not_your_kind", n=entry.sequence, kind=entry.kind, roles=said)
        if entry.kind in OWN_NAME and entry.who != person:
            raise refused("door.others_name", n=entry.sequence, kind=entry.kind, person=who.person)
