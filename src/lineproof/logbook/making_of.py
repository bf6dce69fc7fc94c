"""From the record of a joint to how it was made, and from those of cans and cards to what they say."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import date, datetime
from itertools import pairwise
from typing import Any

from lineproof.job.card_seal import SealedCard, card_from, seal_of
from lineproof.job.cards import CementCard
from lineproof.job.making import CanRecord, Inserted, Look, LotTold, Making
from lineproof.logbook.alone import measures, span, told, worst_of
from lineproof.logbook.entry import moment
from lineproof.logbook.kinds import STEPS
from lineproof.logbook.state import Event, JointState, State, Thing, people_in

HAPPENS = ("joint_made", "hold_end", "pullers_off", "moved", "disturbed")
"""Kinds that do something to a joint: an examination counts only after the last of them."""
HOMES = ("home", "hold_begun")
WET = STEPS[STEPS.index("socket_primed") : STEPS.index("hold_begun") + 1]
"""From the first primer until it is held."""
NOBODY = ""


def makings_of(state: State, people: Mapping[str, str]) -> dict[str, Making]:
    """How every joint was made.

    Parameters
    ----------
    state : State
        The fold of what was known.
    people : mapping
        UUID of a person to the id in job.toml.

    Returns
    -------
    dict
        Joint id to its making, for joints that are recorded as made.
    """
    cards = sealed_cards(state)
    return {name: making_of(joint, people, cards) for name, joint in state.joints.items() if joint.made}


def sealed_cards(state: State) -> list[Event]:
    """Cement cards as they were sealed, in order.

    Parameters
    ----------
    state : State
        The fold of what was known.

    Returns
    -------
    list of Event
    """
    return sorted((e for e in state.others if e.kind == "card" and e.sound), key=lambda e: e.order)


def cards_used_of(state: State) -> tuple[dict[str, tuple[SealedCard, ...]], tuple[str, ...]]:
    """Cement cards in the versions in which they were used.

    Parameters
    ----------
    state : State
        The fold of what was known.

    Returns
    -------
    tuple
        Id of a card to its sealed versions, the oldest first; and ids of those of which this release cannot
        read a version, or whose content is not what its seal says.
    """
    found: dict[str, list[SealedCard]] = {}
    unread: dict[str, None] = {}
    for event in sealed_cards(state):
        name, told = str(event.body["card"]), event.body["told"]
        card = card_from(told)
        if card is None or card.id != name or seal_of(told) != event.body["seal"]:
            unread[name] = None
            card = CementCard(id=name, product="not read", material="")
        found.setdefault(name, []).append(SealedCard(str(event.body["seal"]), event.entry.wall, card))
    return {name: tuple(versions) for name, versions in found.items()}, tuple(unread)


def making_of(joint: JointState, people: Mapping[str, str], cards: Iterable[Event] = ()) -> Making:
    """How one joint was made.

    Parameters
    ----------
    joint : JointState
        One that is recorded as made.
    people : mapping
        UUID of a person to the id in job.toml.
    cards : iterable of Event
        Cement cards as they were sealed, in order.

    Returns
    -------
    Making
        Of the last making where there is more than one story.
    """
    made = joint.made[-1]
    by_kind: dict[str, list[Event]] = {}
    for event in joint.events:
        if event.sound:
            by_kind.setdefault(event.kind, []).append(event)

    def of(kind: str) -> list[Event]:
        return by_kind.get(kind, [])

    earliest, latest = span(made)
    roles = [r if isinstance(r, Mapping) else {} for r in told(made, "roles")]
    lots, lots_alone = _lots(made)
    card_names = tuple(dict.fromkeys(str(c or "") for c in told(made, "card")))
    versions = _homes(made)
    homes = [at for version in versions for at in version]
    earliest = min([earliest, *homes])
    inserted = _since(of("insertion"), earliest)
    ends = [span(event)[0] for event in _since(of("hold_end"), earliest)]
    # Where one person alone told or changed it later, it went home as late as any version says.
    begun = max(at for version in versions for at in version or [latest])
    return Making(
        joint=joint.id,
        earliest=earliest,
        latest=latest,
        last_touched=max(span(event)[1] for kind in HAPPENS for event in of(kind)),
        pipe_end=_persons(roles, "pipe_end", people),
        socket=_persons(roles, "socket", people),
        hands=frozenset(person for event in joint.made for person in people_in(event)),
        pulled=_listed(roles, "pulled", people),
        called_time=_listed(roles, "called_time", people),
        helped=_listed(roles, "helped", people),
        cards=card_names,
        seal=_seal(cards, card_names[0], latest),
        lots=lots,
        lots_alone=lots_alone,
        issue=made.body.get("issue"),
        insertions=tuple(_inserted(event) for event in inserted),
        dry_fits=tuple(float(str(e.body["depth"]["si"])) for e in of("dry_fit")),
        first_on=_first_on(of("first_on"), latest),
        joint_temperature=worst_of(made, "joint_temperature", higher=False),
        air_temperature=worst_of(made, "air_temperature", higher=False),
        temperatures=tuple(t for t in measures(made, "joint_temperature") if t is not None),
        humidity=worst_of(made, "humidity", higher=True),
        wind=worst_of(made, "wind", higher=True),
        held=(min(ends) - begun).total_seconds() if ends else None,
        held_from_home=all(versions),
        looks=tuple(_look(event, people) for event in of("examined")),
        failed=_failed(of("rejected"), of("examined")),
        late=any(event.late for event in (made, *of("hold_end"), *of("examined"), *of("insertion"))),
        insisted=tuple(str(e.body["insisted"]) for e in joint.events if "insisted" in e.flags),
        corrected=_corrected(joint, alone=False),
        alone=_corrected(joint, alone=True),
        out_of_order=_out_of_order(made, STEPS),
        wet_out_of_order=_out_of_order(made, WET),
    )


def cans_of(state: State) -> dict[str, CanRecord]:
    """Every can, as its entries tell it.

    Parameters
    ----------
    state : State
        The fold of what was known.

    Returns
    -------
    dict
        Name of the can to its record.
    """
    return {name: _can(can) for name, can in state.cans.items()}


def _can(can: Thing) -> CanRecord:
    came = can.of("can_received")
    thrown = [span(event) for event in can.of("can_thrown")]

    def all_told(name: str) -> tuple[str, ...]:
        return tuple(dict.fromkeys(str(v or "") for event in came for v in told(event, name)))

    return CanRecord(
        can=can.id,
        lots=all_told("lot"),
        holds=all_told("holds"),
        cards=all_told("card"),
        expires=tuple(date.fromisoformat(day) if day else None for day in all_told("expires")),
        opened=min((span(event)[0] for event in can.of("can_opened")), default=None),
        thrown=(min(t[0] for t in thrown), min(t[1] for t in thrown)) if thrown else (),
        unclear=can.unclear,
    )


def _since(events: Iterable[Event], earliest: datetime) -> list[Event]:
    """Entries that can be of this making."""
    return [event for event in events if span(event)[1] >= earliest]


def _persons(roles: list[Any], role: str, people: Mapping[str, str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(people.get(str(r.get(role, "")), NOBODY) for r in roles))


def _listed(roles: list[Any], role: str, people: Mapping[str, str]) -> tuple[str, ...]:
    value = roles[0].get(role, ())
    named = [value] if isinstance(value, str) else list(value)
    return tuple(people.get(str(who), NOBODY) for who in named)


def _lots(made: Event) -> tuple[tuple[LotTold, ...], bool]:
    found: dict[LotTold, None] = {}
    lots, cans = told(made, "lots"), told(made, "cans")
    for each in lots:
        for kind, lot in (each or {}).items():
            found[LotTold(kind=str(kind), lot=str(lot))] = None
    for each in cans:
        for can in each or ():
            found[LotTold(can=str(can))] = None
    return tuple(found), any(v is None for v in (*lots[1:], *cans[1:])) or len(lots) + len(cans) > 2


def _seal(cards: Iterable[Event], card: str, latest: datetime) -> str:
    """Seal of the newest version of a card that was sealed by then."""
    by_then = [e for e in cards if card and e.body["card"] == card and e.entry.wall <= latest]
    return str(by_then[-1].body["seal"]) if by_then else ""


def _inserted(event: Event) -> Inserted:
    shortfalls = [value for value in measures(event, "shortfall") if value is not None]
    return Inserted(
        shortfall=shortfalls[0],
        worst=max(shortfalls),
        allowed=measures(event, "allowed")[0],
        procedure=str(event.body.get("procedure", "")),
    )


def _first_on(events: Iterable[Event], latest: datetime) -> tuple[str, ...]:
    """What was on before it was made; of a correction by one person alone nothing is taken."""
    return tuple(
        dict.fromkeys(
            str(event.body["what"])
            for event in events
            if span(event)[1] <= latest and len(told(event, "what")) == 1
        )
    )


def _homes(made: Event) -> list[list[datetime]]:
    """When it went home, by every version of its steps."""
    return [
        [moment(step["at"]) for step in steps or () if step["step"] in HOMES] for steps in told(made, "steps")
    ]


def _look(event: Event, people: Mapping[str, str]) -> Look:
    said = told(event, "accepted")
    return Look(
        by=people.get(event.entry.who, NOBODY),
        who=event.entry.who,
        at=min(span(event)[0], event.entry.wall),
        latest=span(event)[1],
        list=str(event.body["list"]),
        accepted=bool(said[0]),
        alone=bool(said[0]) and not all(said),
        refused_points=tuple(
            sorted(
                {
                    str(point)
                    for points in told(event, "points")
                    for point, good in (points or {}).items()
                    if good is False
                }
            )
        ),
    )


def _failed(rejected: Iterable[Event], examined: Iterable[Event]) -> datetime | None:
    refused = [e for e in examined if not all(told(e, "accepted"))]
    return min((span(event)[0] for event in (*rejected, *refused)), default=None)


def _corrected(joint: JointState, *, alone: bool) -> tuple[str, ...]:
    found = {
        f"{event.kind}: {was.field}": None
        for event in joint.events
        for was in event.was
        if not alone or len(told(event, was.field)) > 1
    }
    return tuple(found)


def _out_of_order(made: Event, steps: Sequence[str]) -> tuple[str, ...]:
    """Steps that are told after one that comes after them, or with an earlier time."""
    found: dict[str, None] = {}
    for done in told(made, "steps"):
        kept = [step for step in done or () if step["step"] in steps]
        for before, after in pairwise(kept):
            late = moment(after["at"]) < moment(before["at"])
            if late or STEPS.index(after["step"]) < STEPS.index(before["step"]):
                found[f"{after['step']} after {before['step']}".replace("_", " ")] = None
    return tuple(found)
