"""English for Findings on how a joint was made; written as in ``sentences_en``."""

from __future__ import annotations

from collections.abc import Mapping

MADE: Mapping[str, Mapping[str, str]] = {
    "MAD-01": {
        "no_allowed": "{who}: the procedure {procedure:@} allows no shortfall in figures, so none can pass.",
        "not_recorded": "{who}: nobody recorded where the spigot stands against its mark.",
        "short": "{who}: it stops {measured:length} short of its mark, {procedure} allows {limit:length}.",
        "alone": "{who}: it was told {measured:length} short, and one person alone put that down to "
        "{shortfall:length}; {procedure} allows {limit:length}.",
        "procedure": "{who}: measured against {other_procedure}, and the line's procedure is {procedure}.",
        "typed": "{who}: {measured:length} short; {procedure} allows {limit:length}, whatever was typed "
        "({typed:length}).",
        "go": "{who}: {measured:length} short of its mark, {procedure} allows {limit:length}.",
    },
    "MAD-02": {
        "not_looked": "{who}: nobody has examined it.",
        "refused": "{who}: {by:@} examined it against {list} and did not accept it.",
        "maker": "{who}: only somebody who had a hand in it has examined it.",
        "nobody": "{who}: who examined it is not known.",
        "alone": "{who}: it was refused, and one person alone turned that into accepted.",
        "points": "{who}: accepted by {by}, and yet refused in: {points}.",
        "before": "{who}: {by} examined it {at}; something happened to it since, {last_touched}.",
        "go": "{who}: examined by {by} against {list} and accepted.",
    },
    "MAD-03": {
        "not_named": "{who}: who did the {role} is not known.",
        "day": "{who}: whether {person_id} was qualified hangs on the day it was made, and one person alone "
        "says which.",
        "no_day": "{who}: when {person_id} last used the process before {day} is not known.",
        "not_yet": "{who}: {person_id} did the {role} on {day}, before the test of the qualification.",
        "lapsed": "{who}: {person_id} did the {role} on {day}, more than {months:#month} after the process "
        "was last used.",
        "size": "{who}: {person_id} did the {role} and is not qualified for {size}.",
        "procedure": "{who}: {person_id} did the {role} and is qualified to another procedure.",
        "steps": "{who}: {person_id} did the {role} and is not qualified for {steps} joints.",
        "material": "{who}: {person_id} did the {role} and is not qualified for {material}.",
        "none": "{who}: {person_id} did the {role} and has no qualification on the list.",
        "go": "{who}: made by {people}, qualified on {day}.",
    },
    "MAD-04": {
        "card_material": "{who}: card {lot} is {card_material} cement and the joint is {material}.",
        "card_steps": "{who}: card {lot} is {card_steps} and the procedure is {steps}.",
        "thrown": "{who}: {lot} had been thrown away before.",
        "expired": "{who}: {lot} was past its date when it was made on {first_day}.",
        "other_card": "{who}: {lot} is of another card than {cards}, by which it was made.",
        "open_long": "{who}: {lot} had stood open longer than the {open_life:time} of its card.",
        "no_card": "{who}: the cement card it was made by is not known.",
        "alone": "{who}: one person alone changed its cement card, cans or lots afterwards.",
        "no_steps": "{who}: no procedure says whether primer belongs to it.",
        "unknown": "{who}: {lot} stands neither in job.toml nor among the cans received.",
        "unclear": "{who}: what is recorded of {lot} does not tell one story.",
        "thrown_about": "{who}: {lot} was thrown away about the time it was made.",
        "no_date": "{who}: nobody read the date on {lot}.",
        "date_unsure": "{who}: whether {lot} was in date hangs on what one person alone says.",
        "no_lot_card": "{who}: which card {lot} carries is not known for certain.",
        "not_opened": "{who}: its card limits how long {lot} may stand open, and nobody recorded when it "
        "was opened.",
        "not_named": "{who}: no can or lot of {kind} is recorded.",
        "primer": "{who}: primer is recorded, and the procedure is one-step.",
        "go": "{who}: cement and primer were in date and of its card: {names}.",
    },
    "MAD-05": {
        "hold_short": "{who}: held {measured:time}, {limit:time} is asked.",
        "hold_unsure": "{who}: held at least {measured:time} by the record, {limit:time} is asked; when it "
        "went home is not recorded.",
        "first_on": "{who}: nobody recorded that the {lacks} was on the pipe first.",
        "no_hold_end": "{who}: nobody recorded that its hold ended.",
        "no_hold_row": "{who}: neither card {card:@} nor procedure says how long to hold it.",
        "no_temperature": "{who}: its temperature when it was made is not recorded.",
        "outside_card": "{who}: made at {measured:temperature}, for which card {card:@} has no row.",
        "order": "{who}: steps are told in another order than they are done: {wet_order}.",
        "shown": "{who}: held {measured:time}, {limit:time} is asked; kept as it was told: {shown}.",
        "go": "{who}: held {measured:time}, {limit:time} is asked; its record is whole.",
    },
}
"""Check and reason to sentence."""
