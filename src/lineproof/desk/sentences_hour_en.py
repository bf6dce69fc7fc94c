"""English for the hour, for cold spring and for the last gap: one sentence a reason (see sentences_en)."""

from __future__ import annotations

from collections.abc import Mapping

WHY_HOUR: Mapping[str, Mapping[str, str]] = {
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
    "open_otherwise": "Close the loop with a flange, a union or a made-up piece instead.",
    "record_run": "Record the joints of the run, so that their cure is known.",
    "let_cure": "Wait until every joint in the run is cured; a fresh joint is never bent.",
    "say_run": "State the straight length of the run, its pipe, and the travel the joint wants.",
    "ask_radius": "Ask the engineer for the least bend radius, and write it as spring_radius.",
    "ask_spring": "Ask the engineer to sign for it.",
}
