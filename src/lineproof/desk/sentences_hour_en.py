"""English for the hour, for cold spring and for the last gap: one sentence a reason (see sentences_en)."""

from __future__ import annotations

from collections.abc import Mapping

WHY_HOUR: Mapping[str, Mapping[str, str]] = {
    "GAP-01": {
        "no_misfit": "{who}: how far its faces may miss each other cannot be told; missing: {missing}.",
        "no_limit": "{who}: its faces are likely to miss by up to {length:length}, and nobody said what "
        "the gasket "
        "takes up.",
        "over": "{who}: its faces are likely to miss by up to {measured:length} ({side}); gasket and "
        "flange take "
        "{limit:length}.",
        "over_angle": "{who}: its faces are likely to be {measured:angle} out of parallel; {limit:angle} "
        "is taken.",
        "go": "{who}: its faces are likely to miss by no more than {measured:length}; {limit:length} is "
        "taken up.",
    },
    "HRS-01": {
        "rain": "{who}: it rains.",
        "rain_soon": "{who}: rain in {measured:time}; joint and set take {limit:time}.",
        "cold": "{who}: {measured:temperature} is colder than {limit:temperature}, and the card has no row "
        "for it.",
        "wet": "{who}: the pipe is at or under the dew point ({measured:temperature_step} over it): it is "
        "wet.",
        "no_row": "{who}: the card has no row for a pipe at {measured:temperature}.",
        "rain_end": "{who}: the weather known ends in {measured:time}; joint and set take {limit:time}.",
        "hole": "{who}: missing for this hour: {missing}.",
        "sun": "{who}: {measured:temperature} in the sun, over {limit:temperature}.",
        "hot": "{who}: the pipe is about {measured:temperature}, over {limit:temperature}.",
        "dew": "{who}: the pipe is {measured:temperature_step} over the dew point; "
        "{limit:temperature_step} is wanted.",
        "film": "{who}: primer drying in this wind chills the wall {measured:temperature_step} over the "
        "dew point: it draws water.",
        "hands": "{who}: {measured:#hand/hands} to coat within the working time, and "
        "{limit:#person/people} at the joint.",
        "no_time": "{who}: how many hands it takes cannot be told: no working time, or nobody timed the "
        "coating.",
        "forecast": "{who}: nothing stands against it in the forecast; a forecast is no reading.",
        "no_reading": "{who}: nothing stands against it in the weather; no reading of this pipe and dry "
        "hand in 30 minutes.",
        "go": "{who}: nothing stands against the hour; pipe read and dry to the hand.",
    },
    "TNT-01": {
        "heater": "{who}: the heater burns while primer is open.",
        "heat": "{who}: heat points at the joint; the set is never hastened.",
        "not_said": "{who}: not said of the tent: {missing}.",
        "band": "{who}: {measured:temperature} in the tent, off the card's {limit:temperature}.",
        "after": "{who}: how cold it gets once the tent is down is not known.",
        "cold_after": "{who}: {measured:temperature} comes while it sets, and the card ends at "
        "{limit:temperature}.",
        "go": "{who}: {measured:temperature} in the tent, heater out, no heat on the joint.",
    },
    "SPR-01": {
        "not_allowed": "{who}: the procedure {procedure:@} does not allow cold spring in words, so nothing "
        "is bent "
        "into place.",
        "too_large": "{who}: {size} pipe is not sprung; {most} is the largest.",
        "no_state": "{who}: whether every joint in the bent run is cured is not known.",
        "not_cured": "{who}: {not_cured:#joint} in the bent run not cured: {not_cured}.",
        "no_run": "{who}: what the run would give cannot be told; missing: {missing}.",
        "no_radius": "{who}: no least bend radius is named for this pipe.",
        "short": "{who}: bent to the least radius the run gives {measured:length}, the joint wants "
        "{limit:length}.",
        "not_signed": "{who}: cold spring is the engineer's to sign; signed by {signed_by:@}, engineer "
        "{engineer:@}.",
        "go": "{who}: the run gives {measured:length}, the joint wants {limit:length}; {procedure:@} "
        "allows it.",
    },
}

NEXT_HOUR: Mapping[str, str] = {
    "put_tent": "Wait for a dry stretch, or put up a tent.",
    "get_weather": "Bring weather.csv up to date for that hour and the hours after it.",
    "read_on_day": "Ask again on the day, with a reading of the pipe.",
    "read_pipe": "Read the pipe, run a dry hand over it, and ask again with --pipe and --dry-hand.",
    "shield_wind": "Put up a wind screen, prime and push quickly, or wait for drier air.",
    "more_hands": "Bring more hands or a wind screen, or time the crew's coating on scrap.",
    "heater_out": "Take the heater out of the tent and let it cool before primer is opened.",
    "turn_heat": "Turn the heat away; warm the air, never the joint.",
    "say_tent": "Say what the air in the tent is, and how the heater is kept.",
    "tent_air": "Bring the air of the tent into the card's band.",
    "keep_tent": "Keep the tent up until the joint has set, or wait for warmer nights.",
    "say_errors": "Write tape_error, cut_error and stop_gap under [cutting], and tape the fittings.",
    "say_closing": "Write what the gasket takes up as closing_length under [cutting].",
    "tape_gap": "Leave the piece named for taping, and cut it to the gap.",
    "ask_closing": "Leave a piece for taping in this loop, or ask the engineer what the flange takes.",
    "open_otherwise": "Close the loop with a flange, a union or a made-up piece instead.",
    "record_run": "Record the joints of the run, so that their cure is known.",
    "let_cure": "Wait until every joint in the run is cured; a fresh joint is never bent.",
    "say_run": "State the straight length of the run, its pipe, and the travel the joint wants.",
    "ask_radius": "Ask the engineer for the least bend radius, and write it as spring_radius.",
    "ask_spring": "Ask the engineer to sign for it.",
}
