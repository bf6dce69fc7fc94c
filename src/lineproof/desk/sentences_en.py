"""English for Findings: one sentence a reason.

A sentence names its values as ``{depth:length}``: a fact of the Finding and the quantity it is shown as.
``{pairs:#pair}`` counts, ``1 pair`` or ``3 pairs`` (``{needed:#person/people}`` where the plural is another
word); ``{below:~gauge}`` is a height below or above the gauge; ``{card:@}`` is a name, or ``(not named)``.
``{who}`` is what the Finding is about, shortened where it is a long list.
"""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.sentences_hour_en import WHY_HOUR
from lineproof.desk.sentences_made_en import CARDS, JOINERS, MADE
from lineproof.desk.sentences_raise_en import WHY_RAISE
from lineproof.desk.sentences_sequence_en import WHY_SEQUENCE

WHY: Mapping[str, Mapping[str, str]] = {
    "GEO-01": {
        "meet": "{who}: the two sockets meet, {face_to_face:length} between them where "
        "{limit:length} is needed; {shortfall:length} too little.",
        "close": "{who}: {face_to_face:length} of bare pipe between the sockets, straps, nuts and "
        "rings need {limit:length}; {shortfall:length} too little.",
        "not_said": "{who}: {face_to_face:length} of bare pipe, and nobody said what straps, nuts "
        "and rings need.",
        "not_measured": "{who}: the bare pipe between the sockets is not known before both are measured.",
        "go": "{who}: {face_to_face:length} of bare pipe between the sockets, the least of all runs.",
    },
    "GEO-02": {
        "none": "{who}: the drawing turns {angle_deg} degrees and no fitting does; made or in hand: "
        "{choices} degrees.",
        "go": "{who}: a fitting serves the angle drawn.",
    },
    "GEO-03": {
        "none": "{who}: nothing is left over of the angle.",
        "small": "{who}: {leftover:angle} is left over after the fitting and lands at {lands_at}; "
        "neither procedure nor job says how far out of line a joint may be.",
        "no_limit": "{who}: {leftover:angle} is left over after the fitting and lands at "
        "{lands_at}; neither procedure nor job says whether a joint may be so far out of line.",
        "over": "{who}: {leftover:angle} is left over after the fitting and lands at {lands_at}; "
        "{limit_by} allows {limit:angle}.",
        "go": "{who}: {leftover:angle} is left over and lands at {lands_at}; {limit_by} allows "
        "{limit:angle}.",
    },
    "GEO-04": {
        "care": "{who}: {count:#piece} between two fixed points and none that is cut after taping: {runs}.",
        "go": "{who}: every run between fixed points has a field piece.",
    },
    "GEO-05": {
        "stop": "{who}: the stretches kept free of joints leave no place for a coupling within a stick.",
        "go": "{who}: every long leg has a place for its coupling.",
    },
    "GEO-06": {
        "cannot_tell": "{who}: whether the line meets its end cannot be checked before these are "
        "measured: {waits}.",
        "stop": "{who}: the line does not meet the end it is given.",
        "go": "{who}: the line meets the end it is given.",
    },
    "SYS-01": {
        "differ": "{who}: {pipe_size} pipe ({pipe_od:length}) meets a {socket_size} socket of "
        "{part} (for {socket_od:length}); {apart:length} apart.",
        "differ_unlisted": "{who}: {pipe_size} pipe meets a {socket_size} socket of {part}.",
        "go": "{who}: pipe and socket are both {pipe_size}.",
    },
    "SYS-02": {
        "stop": "{who}: {part} is {part_material} on a {pipe_material} line, and the walk does not "
        "say that it is meant.",
        "care": "{who}: {part} is {part_material} on a {pipe_material} line, as the walk says.",
        "go": "{who}: pipe and part are both {pipe_material}.",
    },
    "SYS-03": {
        "not_said": "{who}: whether {part} fits the pipe cannot be told, the family of outside "
        "diameters is not said.",
        "family": "{who}: {part} is made for {socket_family} pipe, the line is {pipe_family}; the "
        "diameters differ.",
        "lower": "{who}: {part} is {socket_series}, rated lower than the {pipe_series} pipe it sits on.",
        "lower_rated": "{who}: {part} is {socket_series}; pipe of that series is rated "
        "{measured:pressure}, the line's {pipe_series} pipe {limit:pressure}.",
        "other_series": "{who}: {part} is {socket_series} on {pipe_series} pipe, and no table "
        "compares the two.",
        "go": "{who}: part and pipe are of one system.",
    },
    "SYS-04": {
        "cannot_tell": "{who}: nobody said which outside diameters this pipe has (it could be {choices}).",
        "go": "{who}: outside diameters are {family}.",
    },
    "PRT-01": {
        "cannot_tell": "{who}: {reason}; waiting for it: {waiting:#piece} in {places:#place}. "
        "Measured {measured_count} so far, {wants} wanted.",
        "go": "{who}: measured.",
    },
    "PRT-02": {
        "not_measured": "{who}: the depth of the socket is not measured.",
        "below_standard": "{what}: a {size} socket is {depth:length} deep, the standard asks for "
        "{limit:length}; {shortfall:length} short.",
        "shorter_than_sisters": "{what}: a {size} socket is {depth:length} deep, {shortfall:length} "
        "short of the {sister_count:#other} of its size ({sisters:length}).",
        "no_table": "{what}: a {size} socket is {depth:length} deep, and neither a table nor "
        "another fitting of its size says what is right.",
        "unlikely": "{what}: a {size} socket is taped {depth:length} deep where about "
        "{expected:length} is usual.",
        "go": "{who}: sockets are deep enough.",
    },
    "PRT-03": {
        "not_measured": "{who}: centre to face or depth is not measured.",
        "past_centre": "{what}: the depth {depth:length} reaches to or past the centre, "
        "{reach:length} from the face.",
        "inside_bore": "{what}: the stop would lie {measured:length} from the centre, inside the "
        "bore it turns into ({limit:length}).",
        "no_bore": "{what}: the bore of its pipe is not known, so centre to face cannot be held against it.",
        "go": "{who}: centre to face and depth agree with the bore.",
    },
    "PRT-04": {
        "not_counted": "{who}: nobody counted how many there are.",
        "short": "{who}: {needed} needed, {have} counted; {to_order} to order.",
        "go": "{who}: {have} counted, {needed} needed.",
    },
    "FLG-01": {
        "not_said": "{who}: one of the faces is not said.",
        "stop": "{who}: a flat plastic flange against a raised face bends and cracks when it is "
        "bolted; {pairs:#pair} of {size}, {fillers:#full-face filler} listed.",
        "go": "{who}: the faces go together.",
    },
    "FLG-02": {
        "cannot_tell": "{who}: the flange face is not said.",
        "go": "{who}: the flange face is said.",
    },
    "FLG-03": {
        "cannot_tell": "{who} flanges: no bolt torque with its paper is given.",
        "go": "{who} flanges: {torque:torque} by {source}.",
    },
    "FLG-04": {
        "not_said": "{who}: the drilling of one or both flanges is not said.",
        "differ": "{who}: one flange is drilled {drilling_a}, the other {drilling_b}.",
        "bolts": "{who}: {drilling_a} has {bolts_a:#bolt} on {circle_a:length}, {drilling_b} has "
        "{bolts_b} on {circle_b:length}.",
        "go": "{who}: both flanges are drilled alike.",
    },
    "CEM-01": {
        "none": "{who}: no cement card is named for the line.",
        "not_there": "{who}: the cement card {card} named for the line is not in job.toml.",
        "go": "{who}: cement card {card}.",
    },
    "CEM-02": {
        "not_said": "{who}: card {card} does not say which material it is for.",
        "material": "{who}: card {card} is {card_material} cement and the pipe is {line_material}.",
        "steps": "{who}: card {card} is {card_steps} and the procedure is {line_steps}.",
        "go": "{who}: card {card} fits pipe and procedure.",
    },
    "CEM-03": {
        "no_chemical": "{who}: what runs in the line is not said, so no cement can be called right.",
        "silica": "{who}: {chemical_text} attacks silica-thickened cement, and card {card} is "
        "thickened with silica.",
        "no_thickener": "{who}: {chemical_text} attacks silica-thickened cement, and nobody knows "
        "what thickens card {card}.",
        "go": "{who}: the cement stands what runs in the line.",
    },
    "CEM-04": {
        "no_date": "{who}: nobody read its expiry date.",
        "no_start": "{who}: the first day of joining is not said.",
        "no_end": "{who}: good until {expires}, and the last day of joining is not known.",
        "expired": "{who}: expired {expires}, before joining starts on {first_day}.",
        "expires_early": "{who}: expires {expires}, in week {week} of the work; it is to be used "
        "until {last_day} ({last_day_by}).",
        "close": "{who}: good until {expires}; joining ends {last_day} at the earliest ({last_day_by}).",
        "go": "{who}: good until {expires}.",
    },
    "CEM-05": {
        "card_ends": "{who}: card {card} is not made for {size}.",
        "no_body": "{who}: card {card} does not say its body.",
        "thin": "{who}: card {card} is {body} bodied, {size} asks for {wanted}.",
        "no_class": "{who}: no class of cement is carried for {size}, and card {card} does not say "
        "its largest size.",
        "go": "{who}: card {card} is thick enough.",
    },
    "CEM-06": {
        "same_person": "Card {card}: the same person typed it and read it back.",
        "not_read_back": "Card {card}: nobody has read it back against its photo.",
        "not_typed": "Card {card}: it does not say who typed it.",
        "changed": "Card {card}: its times were changed since a joint was made by it, and nobody has read it "
        "back since.",
        "go": "Card {card}: typed by {typed_by}, read back by {read_back_by}.",
    },
    "CEM-07": {
        "no_input": "{who}: {rows} time of card {card:@} cannot be told, missing: {missing}.",
        "no_row": "{who}: card {card} has no {rows} row for this size at {temperature:temperature}.",
        "go": "{who}: hold {hold:time}, hands off {handling:time} by card {card}.",
    },
    "CEM-08": {
        "shorter": "{who}: {clock} time of the card is {measured:time}, the standard's row says "
        "{limit:time}.",
        "none_carried": "{who}: no standard row is carried to compare with.",
        "go": "{who}: the card is not shorter than the standard's rows.",
    },
    **CARDS,
    "CEM-09": {
        "no_input": "{who}: cure time of card {card:@} cannot be told, missing: {missing}.",
        "no_row": "{who}: card {card} has no cure row for this size at {pressure:pressure} and "
        "{temperature:temperature}.",
        "go": "{who}: cure {cure:time} by card {card}.",
    },
    "CUR-01": {
        "no_card": "{who}: no cement card is known for it.",
        "no_pressure": "{who}: the pressure at the joint itself cannot be told.",
        "unread": "{who}: a logger's file of it cannot be read: {unread}.",
        "clock_unsure": "{who}: how long ago it was made cannot be told, the clocks of the devices were "
        "not set by a time server.",
        "no_start": "{who}: its cure time has not begun by the record.",
        "no_first": "{who}: its temperature when it was made is not recorded.",
        "hole": "{who}: its temperature was not read for more than two hours, so the coldest it met is "
        "not known.",
        "hole_air": "{who}: its temperature was not read for more than two hours, and weather.csv cannot "
        "stand in: {air}.",
        "no_row": "{who}: card {card} has no cure row for {size} at {pressure:pressure} and "
        "{coldest:temperature}, the coldest it met.",
        "no_humidity": "{who}: card {card} asks for the humidity since it was made, and that is not known.",
        "no_reading": "{who}: hold ended or last disturbed {started}; card {card}: {wait:time}. That may be "
        "over, but its temperature has not been read since.",
        "foretold": "{who}: hold ended or last disturbed {started}, {size}, coldest {coldest:temperature}, "
        "{pressure:pressure} there; card {card} {mark}: {limit:time}, longer by the cold that is forecast.",
        "wait": "{who}: hold ended or last disturbed {started}, {size}, coldest {coldest:temperature}, "
        "{pressure:pressure} there; card {card} {mark}: {limit:time}.",
        "go": "{who}: hold ended or last disturbed {started}, {size}, {pressure:pressure} there; card {card} "
        "{mark}: {limit:time}, over since {reached}.",
    },
    "MOV-01": {
        "no_record": "{who}: nobody recorded that it was made.",
        "no_hold_end": "{who}: nobody recorded that its hold ended.",
        "no_pullers_off": "{who}: hold ended {hold_ended}, and nobody recorded that pullers and straps "
        "are off.",
        "go": "{who}: hold ended {hold_ended}.",
    },
    "MOV-02": {
        "no_card": "{who}: no cement card is known for it.",
        "unread": "{who}: a logger's file of it cannot be read: {unread}.",
        "clock_unsure": "{who}: how long ago it was made cannot be told, the clocks of the devices were "
        "not set by a time server.",
        "no_start": "{who}: its hands-off time has not begun by the record.",
        "no_first": "{who}: its temperature when it was made is not recorded.",
        "hole": "{who}: its temperature was not read for more than two hours, so the coldest it met is "
        "not known.",
        "hole_air": "{who}: its temperature was not read for more than two hours, and weather.csv cannot "
        "stand in: {air}.",
        "no_row": "{who}: card {card} has no handling row for {size} at {coldest:temperature}, the "
        "coldest it met.",
        "no_humidity": "{who}: card {card} asks for the humidity since it was made, and that is not known.",
        "no_reading": "{who}: hold ended {started}; card {card}: {wait:time}. That may be over, but its "
        "temperature has not been read since.",
        "foretold": "{who}: hold ended or last disturbed {started}, {size}, coldest {coldest:temperature}; "
        "card {card} {mark}: {limit:time}, longer by the cold that is forecast.",
        "wait": "{who}: hold ended or last disturbed {started}, {size}, coldest {coldest:temperature}; "
        "card {card} {mark}: {limit:time}.",
        "go": "{who}: hold ended or last disturbed {started}, {size}; card {card} {mark}: {limit:time}, "
        "over since {reached}.",
    },
    "MOV-03": {
        "cut_out": "{who}: it was cut out, it is not in the line.",
        "rejected": "{who}: it was rejected.",
        "unclear": "{who}: its record does not tell one story: {unclear}.",
        "gaps": "{who}: the record is not whole, and what is missing may be about it: {gaps}.",
        "off_drawing": "{who}: it is not on the drawing, so its size and cement are not known.",
        "disturbed": "{who}: it was touched before its hands-off time was over ({disturbed}), and nobody "
        "else has looked at it since.",
        "go": "{who}: nothing on its record is against it.",
    },
    "MOV-04": {
        "stop": "{who}: a hold tag hangs: {tags}.",
        "cannot_tell": "{who}: a hold tag hangs that cannot be placed: {unplaced}.",
        "go": "{who}: no hold tag hangs.",
    },
    **MADE,
    **JOINERS,
    "PPL-02": {
        "no_crew": "{who}: no crew is named for the line.",
        "no_day": "{who}: nobody's qualification can be dated.",
        "stop": "{who}: nobody of the crew is qualified for {need_material}, {smallest} to {largest}.",
        "go": "{who}: {qualified} of the crew are qualified.",
    },
    "HND-01": {
        "no_crew": "{who}: no crew is named.",
        "no_rule": "{who}: neither procedure nor table says how many people a joint needs.",
        "procedure": "{who}: the procedure asks for {needed:#person/people} and the smallest crew "
        "has {present}.",
        "few": "{who}: {needed:#person/people} needed, and the smallest crew has {present}.",
        "time": "{who}: coating takes one pair of hands {coating_time:time} and the working time is "
        "{working_time:time}: {needed:#person/people}, the smallest crew has {present}.",
        "go": "{who}: {needed:#person/people} needed, {present} there.",
    },
    "PRS-01": {
        "no_input": "Section {who}: no pressure can be told, missing: {missing}.",
        "unrated": "Section {who}: no rating is marked or carried for {unknown}.",
        "unplaced": "Section {who}: the height of {unknown} is not known.",
        "stop": "Section {who}: {part} ({what}) would see {there:pressure}, gauge error and "
        "{below:~gauge} counted; it is good for {rating:pressure} at "
        "{wall:temperature} ({wall_by}).",
        "go": "Section {who}: the weakest is {part} ({what}): {there:pressure} there, good for "
        "{rating:pressure} at {wall:temperature} ({wall_by}); {left:pressure} left.",
    },
    "PRS-02": {
        "no_cap": "Section {who}: no pressure cap is signed.",
        "no_plan": "Section {who}: no pressure is planned.",
        "stop": "Section {who}: {planned:pressure} is planned and the cap is {cap:pressure}.",
        "not_engineer": "Section {who}: the cap is not signed by the engineer named in job.toml.",
        "go": "Section {who}: {planned:pressure} planned, cap {cap:pressure}.",
    },
    "PRS-03": {
        "no_gauge": "Section {who}: no gauge place is named.",
        "gauge": "Section {who}: the elevation of gauge {gauge} is not known.",
        "lines": "Section {who}: heights do not stand on the drawing's datum: {unplaced}.",
        "go": "Section {who}: heights are known.",
    },
    "PRS-04": {
        "not_said": "Section {who}: the test medium is not said.",
        "stop": "Section {who}: a test with {medium} is refused: plastic pipe bursts into pieces under gas.",
        "go": "Section {who}: tested with water.",
    },
    "PRS-05": {
        "cannot_tell": "{who}: in no test section, so no pressure at its joints is known.",
        "go": "{who}: in section {sections}.",
    },
    "HOT-01": {
        "stop": "{who}: {kind} at {place} on days of joining; solvent vapour catches fire.",
        "cannot_tell": "{who}: {kind} at {place}, and it cannot be told whether it falls on days of "
        "joining, missing: {missing}.",
        "go": "{who}: no hot work at {place} on days of joining.",
    },
    "WTH-01": {
        "no_input": "Weather for joining cannot be judged, missing: {missing}.",
        "cold": "{measured:temperature} is colder than {limit:temperature}, the lowest for joining "
        "by the rule.",
        "hot": "{measured:temperature} is hotter than {limit:temperature}, the highest in direct "
        "sun by the rule.",
        "dew": "The pipe is {measured:temperature_step} above the dew point; at least "
        "{limit:temperature_step} is wanted.",
        "no_dew": "The dew point cannot be told for what is stated.",
        "go": "Stated weather is within the rules.",
    },
    "STO-01": {
        "no_place": "{who}: where these cans are kept is not said.",
        "over": "Store {who}: {held:volume} of flammable liquid here and on order, {limit_by} "
        "allows {limit:volume}.",
        "cabinets": "Store {who}: {cabinets:#cabinet} in one area, {limit_by} allows {most}.",
        "go": "Store {who}: {held:volume} of {limit:volume}.",
    },
    "STK-01": {
        "none": "{who}: no stock item is named for this pipe.",
        "several": "{who}: several stock items fit: {items}.",
        "go": "{who}: cut from {items}.",
    },
    "STK-02": {
        "cannot_tell": "Stock {who}: the bell is not measured, so no belled length can be told.",
        "go": "Stock {who}: lengths are known.",
    },
    "SPL-01": {
        "turned": "Spool {spool}, {repeats:#repeat}: {differs_at} is turned {turned:angle} against "
        "the {alike} that are alike.",
        "length": "Spool {spool}, {repeats:#repeat}: {differs_at} lies {longer:length} out against "
        "the {alike} that are alike.",
        "parts": "Spool {spool}, {repeats:#repeat}: {differs_at} is another part than in the "
        "{alike} that are alike.",
        "go": "Spool {spool}: all {repeats:#repeat} are alike.",
    },
    **WHY_RAISE,
    **WHY_HOUR,
    **WHY_SEQUENCE,
}
"""Check and reason to sentence."""

UNVERIFIED_SENTENCE = (
    "{who}: nothing stands against it, but it rests on values nobody has confirmed: {tables}."
)
"""The sentence of every check where only unconfirmed values stand against GO."""
