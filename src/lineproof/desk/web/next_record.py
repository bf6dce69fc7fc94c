"""From a next step to the form it is recorded with: what is missing is one tap away."""

from __future__ import annotations

from collections.abc import Mapping
from urllib.parse import urlencode

from lineproof.floor.verdicts import Finding

OF_SECTION: Mapping[str, str] = {
    "record_source": "source", "set_relief": "source", "record_end": "isolation", "blind_it": "isolation",
    "look_restraint": "restraint_checked", "torque_bolts": "bolts_torqued", "say_ready": "grout",
    "prove_zero": "zero_proved", "answer_it": "condition", "hear_it": "condition",
}  # fmt: skip
OF_JOINT: Mapping[str, str] = {
    "record_made": "joint_made", "record_made_first": "joint_made", "record_hold_end": "hold_end",
    "record_pullers_off": "pullers_off", "record_insertion": "insertion", "examine": "examined",
    "record_first_on": "first_on", "read_joint": "reading", "cut_it_out": "cut_out", "read_wall": "reading",
}  # fmt: skip
ELSE: Mapping[str, str] = {
    "record_gauge": "gauge", "other_gauge": "gauge", "receive_can": "can_received",
    "record_opened": "can_opened", "read_humidity": "humidity", "import_weather": "imported",
    "lift_tag": "hold_tag_lifted",
}  # fmt: skip
PAGES: Mapping[str, str] = {
    "settle": "/settle", "tape_part": "/tape", "tape": "/tape", "tape_first": "/tape",
    "second_person": "/record", "name_makers": "/record", "record_lots": "/record", "record_home": "/record",
    "confirm_time": "/record", "bring_in": "/settle",
}  # fmt: skip


def record_link(f: Finding, section: str, gauge: str, back: str) -> str:
    """Where the next step of a finding is done; empty where no page does it.

    Parameters
    ----------
    f : Finding
    section : str
        The section asked about; empty if none was.
    gauge : str
        Gauge place asked about.
    back : str
        Page to come back to.

    Returns
    -------
    str
        A path of this server.
    """
    step = f.next_step or ""
    if step in PAGES:
        return PAGES[step]
    fields: dict[str, str] = {}
    if step in OF_SECTION:
        kind = OF_SECTION[step]
        fields["section"] = section or f.subject
        if kind == "isolation":
            fields["boundary"] = str(f.facts.get("boundary", ""))
        if kind == "grout":
            fields["what"] = str(f.facts.get("what", ""))
        if kind == "condition":
            fields["condition"] = "heard-for" if f.id == "RAI-05" else str(f.facts.get("condition", ""))
            fields["about"] = str(f.facts.get("device", ""))
    elif step in OF_JOINT:
        kind = OF_JOINT[step]
        named = f.facts.get("subjects")
        joint = str(named[0]) if isinstance(named, tuple) and named else f.subject
        fields |= {"joint": joint} if "/" in joint and "(" not in joint else {}
        fields |= {"of": "pipe" if step == "read_wall" else "joint"} if kind == "reading" else {}
    elif step in ELSE:
        kind = ELSE[step]
        fields |= {"place": gauge} if kind == "gauge" else {}
    else:
        return ""
    return f"/record/{kind}?" + urlencode({**{k: v for k, v in fields.items() if v}, "back": back})
