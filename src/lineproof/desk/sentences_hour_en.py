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
