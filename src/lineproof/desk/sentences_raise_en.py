"""English for the Findings of ``may fill`` and ``may raise``: one sentence a reason (see sentences_en)."""

from __future__ import annotations

from collections.abc import Mapping

WHY_RAISE: Mapping[str, Mapping[str, str]] = {
    "MOV-05": {
        "pressed": "section {section} counts as UNDER PRESSURE: release {release}, given {since}, and no "
        "open vent has proved zero since; every cut, bolt and cap in it stays as it is.",
        "unclear": "section {section}: its record is not clear ({unclear}), so it may be under pressure.",
        "no_zero": "section {section}: nobody has recorded that an open vent showed no pressure.",
        "old_zero": "section {section}: zero was last proved {zero}, more than a day ago.",
        "go": "section {section}: no release stands against it.",
    },
    "RAI-01": {
        "no_cap": "section {section}: no pressure cap is signed.",
        "no_input": "section {section}: the pressure at the cap's place cannot be told; missing: {missing}.",
        "not_engineer": "section {section}: the cap is signed by {signed_by:@}, and job.toml names "
        "{engineer:@} as the engineer.",
        "stop": "section {section}: {measured:pressure} at {place:@}, gauge error in it; the cap signed "
        "there is {limit:pressure}.",
        "go": "section {section}: {measured:pressure} at {place:@}, under the cap of {limit:pressure}.",
    },
    "RAI-02": {
        "no_cap": "section {section}: no pressure cap is signed, so no wall temperature holds for it.",
        "no_reading": "section {section}: nobody read the pipe wall in the last two hours; the cap holds up "
        "to {signed_for:temperature}.",
        "stop": "section {section}: the pipe is at {measured:temperature}; the cap was signed for "
        "{limit:temperature}.",
        "go": "section {section}: the pipe is at {measured:temperature}, the cap was signed for "
        "{limit:temperature}.",
    },
    "RAI-03": {
        "no_source": "section {section}: nobody recorded what brings the water and the most it can bring.",
        "no_input": "section {section}: the pressure is not said that the source is held against.",
        "stop": "section {section}: {strongest:@} can bring {measured:pressure}, and {limit:pressure} was "
        "asked for.",
        "go": "section {section}: {strongest:@} can bring {measured:pressure} and no more.",
    },
    "RAI-04": {
        "not_said": "section {section}: nobody recorded how it ends at {who}.",
        "valve": "section {section}: only a closed valve stands at {who}; its seat may pass.",
        "old": "section {section}: how it ends at {who} was last looked at more than a day ago.",
        "counts": "section {section}: nothing that holds lies between it and {who}, so its joints count.",
        "go": "section {section}: {how} at {boundary}.",
    },
    "RAI-05": {
        "silent": "{who} wrote of this section in the last 24 hours and has not been heard for 10 minutes.",
        "no": "{answered_by:@} was asked for {who} and could not answer for it.",
        "answered_for": "{who} was answered for.",
        "go": "{who} was heard.",
    },
    "RAI-06": {
        "no_answer": "{condition}: nobody has answered; {may_answer} may.",
        "no": "{condition}: the answer was no.",
        "old": "{condition}: answered {answered}, and an answer is good for {minutes:time}.",
        "before": "{condition}: answered {answered}, before the last thing recorded of the section.",
        "not_asker": "{condition}: only the one who asks may answer, and it was {answered_by:@}.",
        "not_lead": "{condition}: only the lead may answer, and it was {answered_by:@}.",
        "no_place": "{condition}: who answered did not say where he or she stands.",
        "too_short": "{condition}: the answer speaks from {since} on, the record is known up to "
        "{needed_since}.",
        "go": "{condition}: answered.",
    },
    "RAI-07": {
        "none": "gauge place {place}: no gauge is recorded that hangs there.",
        "several": "gauge place {place}: {gauges} are recorded to hang there.",
        "unclear": "gauge place {place}: the record of {gauges} is not clear.",
        "half": "gauge {gauges} at {place}: not recorded: {missing}.",
        "due": "gauge {gauges} at {place}: its calibration held until {due}.",
        "range": "gauge {gauges} at {place}: {measured:pressure} was asked for and its scale ends at "
        "{limit:pressure}.",
        "place": "gauge {gauges}: its recorded elevation is not that of {place} in job.toml.",
        "go": "gauge {gauges} at {place}: in calibration.",
    },
    "RAI-08": {
        "not": "section {section}: nobody has looked at its restraints.",
        "bad": "section {section}: its restraints were found not good.",
        "before": "section {section}: its restraints were looked at before the last change in it.",
        "old": "section {section}: its restraints were last looked at more than a day ago.",
        "go": "section {section}: its restraints were looked at.",
    },
    "RAI-09": {
        "no_time": "section {section}: nobody said when the fresh {what} may be loaded.",
        "wait": "section {section}: the fresh {what} is not ready before {ready}.",
        "go": "section {section}: the {what} is ready.",
    },
    "RAI-10": {
        "not": "section {section}: nobody has tightened its flange bolts to their torque again.",
        "bad": "section {section}: its flange bolts were found not good.",
        "before": "section {section}: its flange bolts were tightened before the last change in it.",
        "old": "section {section}: its flange bolts were last tightened more than a day ago.",
        "go": "section {section}: its flange bolts are to torque.",
    },
    "RAI-11": {
        "unclear": "section {section}: its record is not clear ({unclear}).",
        "stray": "section {section}: not on the drawing, and in it or nobody knows where: {strays}.",
        "nobody": "section {section}: job.toml names nobody in charge of the test.",
        "go": "section {section}: {in_charge} is in charge of the test.",
    },
}
"""Check and reason to sentence."""

NEXT_RAISE: Mapping[str, str] = {
    "answer_it": "Have it answered then: record add condition {subject} condition={condition} answer=yes.",
    "blind_it": "Blind it, leave an air gap, or open a vent beyond it, and record that.",
    "cool_or_sign": "Wait until the pipe is cooler, or ask the engineer for a cap at this temperature.",
    "hear_it": "Have it report, or have a named person answer for it (condition=heard-for).",
    "look_restraint": "Have them looked at against the drawing, and record it.",
    "name_in_charge": "Name the person in charge of the test under [signs] in job.toml.",
    "other_gauge": "Hang another gauge, in calibration and with range enough, and record it.",
    "prove_zero": "Open a vent of the section, see that nothing comes, and record zero_proved.",
    "put_it_right": "Put it right, and answer again.",
    "read_wall": "Read the pipe wall at the hottest place, and record it.",
    "record_end": "Look at it and record it: isolation, with how it ends there.",
    "record_gauge": "Record the one gauge that hangs there: calibration due, error, range, place.",
    "record_source": "Set its relief, and record it: source, with the most it can bring.",
    "record_made_first": "Make the joint, or record it; a line with a joint still to make takes no water.",
    "say_ready": "Ask the engineer when it may be loaded, and record it.",
    "set_relief": "Set its relief to what is asked for, or ask for the pressure it can bring.",
    "torque_bolts": "Tighten them to the torque of the flange's paper, and record it.",
}
"""Code of a next step to its sentence."""
