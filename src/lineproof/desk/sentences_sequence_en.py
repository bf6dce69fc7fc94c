"""English for closure and order: one sentence a reason (see sentences_en)."""

from __future__ import annotations

from collections.abc import Mapping

WHY_SEQUENCE: Mapping[str, Mapping[str, str]] = {
    "SEQ-01": {
        "shut": "{who}: as drawn the last joint has nowhere to go, so no order works; {count:#opening} "
        "would open it: {openings}.",
        "closed": "{who}: the last joint has nowhere to go, and nothing that may be put in opens it.",
        "at_once": "{who}: the last two joints lie side by side and go home together or not at all.",
        "faces": "{who}: the last joint has somewhere to go only if these faces are flat, and nobody said: "
        "{faces}.",
        "ends": "{who}: the last joint has somewhere to go if these standing flanges are bolted up last: "
        "{ends}.",
        "not_found": "{who}: as drawn the last joint has nowhere to go, and the search for an opening was "
        "ended before one was found.",
        "go": "{who}: the last joint has somewhere to go.",
    },
    "SEQ-02": {
        "no_room": "{who}: no order was found; joint {joint:@} has no room to go home, {by:@} is in the way.",
        "loops_first": "{who}: there is no order before every loop opens.",
        "go": "{who}: an order was found, and every step of it was checked again.",
    },
    "SEQ-03": {
        "no_limit": "{who}: what people and tackle lift on this job is not said.",
        "too_heavy": "{who}: {measured:mass} in one piece; people and tackle lift {limit:mass}, "
        "{over:mass} less.",
        "not_weighed": "{who}: its mass cannot be told; not weighed: {not_weighed}.",
        "go": "{who}: {measured:mass} is the most that is moved in one piece; people and tackle lift "
        "{limit:mass}.",
    },
    "SEQ-04": {
        "not_said": "{who}: made at once, and how many people both take is not known.",
        "too_few": "{who}: made at once they take {needed:#person/people}, the crew has {have}.",
        "go": "{who}: made at once they take {needed:#person/people}, the crew has {have}.",
    },
}

NEXT_SEQUENCE: Mapping[str, str] = {
    "allow_opening": "Ask the engineer where a flange pair or a union may go, and take it out of "
    "keep_closed.",
    "ask_two_at_once": "Ask who approved the procedure whether two joints may be made at once, and with how "
    "many people.",
    "lighter": "Split the spool, or bring tackle that lifts it and write it into job.toml.",
    "make_travel": "Make room there, or put an opening into that stretch.",
    "more_people": "Bring the people of both joints, or put an opening into one of the two.",
    "open_first": "Put in the openings named, then ask again.",
    "open_loop": "Have the engineer agree, write them into the walk, and plan again: the cut list "
    "changes there.",
    "say_faces": "Look at the faces and write flat or ringed into parts.csv.",
    "say_handling": "Write mass, length, width and height under [handling] in job.toml.",
    "say_unbolt": "Look whether their bolts can be reached, and write may unbolt behind them in the walk.",
    "search_longer": "Ask again with more --seconds.",
    "two_hands": "Write the people of a joint of this size into the procedure.",
    "weigh": "Weigh it, or read it off its data sheet, and write it into parts.csv.",
}
