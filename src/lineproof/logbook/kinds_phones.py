"""Kinds of entries about phones on the site's network: paired, dropped, bound, and who was turned away."""

from __future__ import annotations

from lineproof.logbook.shapes import (
    Shape,
    by_name,
    entry_id,
    name,
    person,
    several,
    text,
    when,
    whole,
    yes_no,
)

PHONES: tuple[tuple[str, str, dict[str, Shape], dict[str, Shape]], ...] = (
    (
        "phone_paired",
        "a phone was paired to a person and what that person does here",
        {"phone": name, "person": person, "roles": several(name, least=1), "again": yes_no},
        {"name": text},
    ),
    (
        "phone_dropped",
        "the session of a phone was ended",
        {"phone": name, "person": person, "reason": text},
        {},
    ),
    (
        "chain_bound",
        "a chain of entries was bound to the phone that began it",
        {"phone": name, "chain": entry_id, "person": person},
        {},
    ),
    (
        "refusals",
        "how many were turned away at the network's door, in sums only",
        {"since": when, "until": when, "counts": by_name(whole(1, 10**12))},
        {"addresses": whole(0, 10**6), "codes_closed": whole(0, 10**6)},
    ),
)
"""Kind, what it says, fields it needs, fields it may have; all in version 1."""
