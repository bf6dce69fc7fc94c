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
        "not_confirmed": "{who}: when the employer last confirmed {person_id} before {day} is not known.",
        "no_expiry": "{who}: until when {person_id} is qualified, neither profile nor document says.",
        "no_size_rule": "{who}: whether {person_id}'s test piece reaches to {size} cannot be told.",
        "failed": "{who}: {person_id} did the {role} on {day}, after a joint that was found bad.",
        "expired": "{who}: {person_id} did the {role} on {day}, after the last day of the qualification.",
        "test_size": "{who}: {person_id} did the {role}, and the test piece was too small for {size}.",
        "scheme": "{who}: {person_id} did the {role} and is qualified by another profile than the job's.",
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
        "no_hold_end": "{who}: how long it was held is not known, the end of its hold is not recorded.",
        "no_hold_row": "{who}: neither card {card:@} nor procedure says how long to hold it.",
        "no_temperature": "{who}: its temperature when it was made is not recorded.",
        "outside_card": "{who}: made at {measured:temperature}, for which card {card:@} has no row.",
        "order": "{who}: steps are told in another order than they are done: {wet_order}.",
        "shown": "{who}: held {measured:time}, {limit:time} is asked; kept as it was told: {shown}.",
        "go": "{who}: held {measured:time}, {limit:time} is asked; its record is whole.",
    },
}
"""Check and reason to sentence."""

JOINERS: Mapping[str, Mapping[str, str]] = {
    "PPL-01": {
        "no_day": "{name} on {who}: whether the qualification still holds cannot be told, missing: "
        "{missing}.",
        "not_confirmed": "{name} on {who}: when the employer last confirmed it before {first_day} is not "
        "known.",
        "no_expiry": "{name} on {who}: until when it holds, neither profile nor document says.",
        "no_size_rule": "{name} on {who}: whether the test piece reaches to {largest} cannot be told.",
        "failed": "{name} on {who}: a joint made since the test was found bad.",
        "lapsed": "{name} on {who}: last used the process {last_used}, more than {months:#month} "
        "before {first_day}.",
        "expired": "{name} on {who}: tested {tested}; its last day was before {first_day}.",
        "not_yet": "{name} on {who}: the test of the qualification is dated after {first_day}.",
        "test_size": "{name} on {who}: the test piece was too small for {largest}.",
        "size": "{name} on {who}: no qualification covers {smallest} to {largest}.",
        "procedure": "{name} on {who}: qualified to another procedure.",
        "steps": "{name} on {who}: not qualified for {need_steps} joints.",
        "scheme": "{name} on {who}: qualified by another profile than the job's.",
        "material": "{name} on {who}: not qualified for {need_material}.",
        "none": "{name} on {who}: no qualification is on the list.",
        "go": "{name} on {who}: qualified.",
    },
    "PPL-03": {
        "no_end": "{name} on {who}: whether the qualification holds to the last joint is not known, as that "
        "day is not.",
        "no_expiry": "{name} on {who}: until when it holds, neither profile nor document says.",
        "ends": "{name} on {who}: the qualification ends on {until} if nothing keeps it, and the last joint "
        "is planned for {last_day}.",
        "go": "{name} on {who}: qualified until {until}, the last joint is planned for {last_day}.",
    },
    "PPL-04": {
        "small": "{name} on {who}: the test piece was {test}, the largest joint is {largest}; that says "
        "nothing about the work of a crew at that size.",
        "not_said": "{name} on {who}: the size of the test piece is not said, its document names the range.",
        "go": "{name} on {who}: the test piece was large enough to speak for {largest}.",
    },
}
"""Check and reason to sentence."""

CARDS: Mapping[str, Mapping[str, str]] = {
    "CEM-10": {
        "falls": "Card {card}: its {clock} time falls to {measured:time} ({row}) where less is asked of the "
        "joint for {limit:time} ({other_row}); hours rise with size, cold, damp and pressure "
        "({pairs:#pair} of rows).",
        "go": "Card {card}: its hours rise with size, cold, damp and pressure.",
    },
    "CEM-11": {
        "shorter": "Card {card}: its {clock} time {measured:time} ({row}) stands beside {limit:time} of the "
        "standard's row {cell} ({shorter:#row is/rows are} shorter).",
        "go": "Card {card}: no row is shorter than the standard's rows that are carried.",
    },
}
"""Check and reason to sentence."""
