"""What a joint card on a phone needs when there is no signal: joints, people, cans, steps. No geometry.

There is no verdict in it and no cure time: a phone that heard nothing for a day must not be able to say that
pressure may come on.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from lineproof.desk.papers import words
from lineproof.desk.papers.tags import is_named
from lineproof.desk.record_book import job_uuid, person_uuid
from lineproof.desk.words_joint import say_end, say_missing
from lineproof.floor.shown import Shown
from lineproof.job.settings import Settings
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.section_of import sections_of
from lineproof.logbook.state import JointState, State
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.pack import Pack

FORMAT = 1
LIST = "A-1"
POINTS = ("bead", "home", "ring", "straight")
"""What another person looks at on a joint (common practice, no source; the procedure's own list wins)."""


def card_job(pack: Pack, state: State, now: Stamp) -> dict[str, Any]:
    """The job as the phone keeps it.

    Parameters
    ----------
    pack : Pack
    state : State
        The fold of the logbook; an empty one without.
    now : Stamp
        This moment.

    Returns
    -------
    dict
        Plain JSON.
    """
    settings = pack.work.job.settings
    job = job_uuid(settings)
    shown: Shown = settings.shown.shown
    facts: list[dict[str, Any]] = []
    joints: dict[str, dict[str, Any]] = {}
    seen: dict[str, int] = {}
    for plan in pack.joints:
        if not is_named(plan.place.id):
            continue
        card = _facts(plan, shown)
        key = repr(card)
        if key not in seen:
            seen[key] = len(facts)
            facts.append(card)
        joints[plan.place.id] = {"facts": seen[key], "in": say_end(plan.spigot), "into": say_end(plan.socket)}
    pressed = sections_of(state, now, {}) if state.releases else {}
    return {
        "format": FORMAT,
        "lineproof": "card job",
        "job": job,
        "id": settings.job.id,
        "name": settings.job.name,
        "zone": settings.site.timezone,
        "issue": str(pack.issue or ""),
        "units": {
            "temperature": "F" if settings.shown.units == "us" else "C",
            "length": "in" if settings.shown.units == "us" else "mm",
            "inch_step": settings.shown.inch_step,
        },
        "facts": facts,
        "joints": joints,
        "told": {name: _told(joint) for name, joint in state.joints.items() if joint.events},
        "field_joints": list(state.field_joints),
        "people": [
            {"id": p.id, "uuid": person_uuid(job, p.id), "name": p.name, "role": p.role}
            for p in settings.people
        ],
        "cans": _cans(settings, state),
        "list": {"name": LIST, "points": list(POINTS)},
        "under_pressure": sorted(n for n, s in pressed.items() if s.under_pressure is not None),
        "sections": {s.id: list(s.lines) for s in settings.sections},
    }


def _facts(j: JointPlan, shown: Shown) -> dict[str, Any]:
    """What joints that are alike share."""
    n = j.needs
    bands = n.fit.bands if n.fit.rule == "bands" else None
    second, depth = j.second_mark, n.bond.depth
    return {
        "line": j.place.line,
        "section": j.pressure.section,
        "size": words.pipe_words(j.place.size, j.place.material, j.place.series),
        "first": [{"what": z.what, "as": _first(z.what)} for z in j.line_zero],
        "first_sure": all(z.sure for z in j.line_zero),
        "procedure": j.procedure,
        "card": j.card,
        "method": j.method,
        "depth": _number(depth),
        "depth_said": words.inches(depth, shown),
        "second_said": words.inches(second, shown),
        "left_said": words.inches(None if second is None or depth is None else second - depth, shown),
        "bands": None if bands is None else [_number(b) for b in bands],
        "bands_said": [] if bands is None else [words.inches(b, shown) for b in bands[:2]],
        "allowed": _number(j.allowed_shortfall),
        "allowed_said": words.inches(j.allowed_shortfall, shown),
        "steps": steps_of(j),
        "pull_in": n.pull_in.needed,
        "working_s": _number(n.hands.working_time),
        "hold_s": _number(j.hold.time),
        "pullers_s": _number(j.pullers_off.time) if n.pull_in.needed is not False else None,
        "hands_off_s": _number(j.hands_off.time),
        "hands": n.hands.hands,
        "planned_K": _number(j.temperature),
        "planned_humidity": _number(j.humidity),
        "missing": [say_missing(m, shown) for m in j.missing if m.blocks and not _of_pressure(m.code)][:4],
    }  # fmt: skip


def _first(what: str) -> str:
    """Line zero in the two words the logbook has; empty for what is neither, which is kept as a note."""
    return next((word for word in ("nut", "ring") if word in what), "")


def _of_pressure(code: str) -> bool:
    return "cure" in code or "pressure" in code or "gauge" in code


def _number(value: float | None) -> str | None:
    """SI as decimal text."""
    return None if value is None else f"{value:.6f}".rstrip("0").rstrip(".")


def steps_of(j: JointPlan) -> list[str]:
    """The steps of a joint by its procedure, in the words of the logbook; empty if none says how.

    Parameters
    ----------
    j : JointPlan

    Returns
    -------
    list of str
    """
    wet = j.needs.wet
    if j.method not in ("two-step", "one-step"):
        return []
    steps = ["marked", "cleaned"]
    if j.method == "two-step":
        steps += ["socket_primed", "pipe_primed"]
        if wet.primer_passes is None or wet.primer_passes > 2:
            steps.append("socket_primed_again")
    steps += ["pipe_cemented", "socket_cemented"]
    if wet.pipe_coats is None or wet.pipe_coats > 1:
        steps.append("pipe_cemented_again")
    return [*steps, "pushed", "home"]


def _told(joint: JointState) -> dict[str, Any]:
    """What others recorded of a joint, as far as a card asks."""
    return {
        "made": len(joint.made),
        "kinds": sorted({e.kind for e in joint.events}),
        "unclear": list(joint.unclear),
        "beside": joint.beside,
        "writers": sorted({e.entry.writer for e in joint.made}),
    }


def _cans(settings: Settings, state: State) -> list[dict[str, str]]:
    """Cans received and lots of job.toml, those thrown away left out."""
    rows = []
    for name, can in state.cans.items():
        came = can.of("can_received")
        if can.of("can_thrown") or not came:
            continue
        body = came[-1].body
        rows.append(_can(name, str(body["lot"]), str(body["holds"]), body, named=True))
    lots = {r["lot"] for r in rows}
    for c in settings.cans:
        if c.lot and c.lot not in lots:
            told = {"expires": c.expires or "", "card": getattr(c, "card", "")}
            rows.append(_can("", c.lot, c.kind, told, named=False))
    return rows


def _can(name: str, lot: str, holds: str, told: Mapping[str, Any], *, named: bool) -> dict[str, str]:
    return {
        "can": name if named else "",
        "lot": lot,
        "holds": holds,
        "expires": str(told.get("expires") or ""),
        "card": str(told.get("card") or ""),
    }
