"""What to do first: the short list that heads the answer, on paper and on the screen."""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.papers import words
from lineproof.floor.verdicts import Verdict
from lineproof.job.duty import matches
from lineproof.plan.model import State
from lineproof.plan.pack import Pack

MOST = 8
"""More than this and nothing is first any more."""
JOB_FILE: Mapping[str, str] = {
    "name_stock": "a stock item for each pipe",
    "say_family": "its od_family",
    "type_card": "the cement card of each line",
    "name_crew": "a crew for each line",
    "name_section": "a test section for each line",
    "name_gauge": "a gauge place",
    "say_torque": "bolt torques",
    "say_chemical": "what runs in each line",
    "say_start": "the first day of joining",
    "say_exposed": "the bare pipe that tools need",
    "say_medium": "what the test is made with",
    "say_store": "where the cans stand",
    "say_weather": "pipe temperature and humidity",
}
"""Next steps that are done by typing into job.toml, as the thing to type."""
PARTS_FILE: Mapping[str, str] = {
    "say_face": "faces (flat, raised or ringed)",
    "say_drilling": "drillings",
    "mark_rating": "pressure ratings",
}
"""Next steps that are done by looking at a part and typing into parts.csv."""


def first_things(pack: Pack) -> list[str]:
    """What to do first, in order.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    list of str
        Whole sentences, at most eight.
    """
    work = pack.work
    todo = []
    stray = names_nobody_walked(pack)
    if stray:
        walked = words.listed(list(work.graph.lines), 4)
        todo.append(f"Change {words.listed(stray, 4)} in job.toml: no such line is walked, only {walked}.")
    stops = sum(f.verdict is Verdict.STOP for f in pack.findings)
    if stops:
        todo.append(f"Settle {words.plural(stops, 'STOP')} with the engineer before anything is cut there.")
    asked = {f.next_step for f in pack.findings if f.verdict is Verdict.CANNOT_TELL}
    todo += _type_in("job.toml", JOB_FILE, asked) + _type_in("parts.csv", PARTS_FILE, asked)
    fittings = sum(max(r.wants - r.measured, 1) for r in work.tape.rows)
    if fittings:
        todo.append(f"Tape {words.plural(fittings, 'fitting')} on the tape list; type them into parts.csv.")
    if work.tape.bells:
        todo.append(f"Tape the bells of {words.plural(len(work.tape.bells), 'stock item')}.")
    if pack.confirmations:
        todo.append(
            f"Have {pack.confirmations[0].what} confirmed against the open document "
            "by the engineer or quality person named."
        )
    now = sum(p.state is State.CUT for p in work.cutting.pieces)
    if now:
        todo.append(
            f"Cut {words.plural(now, 'piece')} of the list Cut now; join one once nothing says STOP or "
            "CANNOT TELL about its joint."
        )
    if work.tape.gaps:
        todo.append(
            f"Then tape {words.plural(len(work.tape.gaps), 'gap')}, enter each with lineproof taped, "
            "and cut the rest."
        )
    if "sign_cap" in asked:
        todo.append("Before the pressure test: get a pressure cap that the engineer signed.")
    return todo[:MOST]


def _type_in(file: str, things: Mapping[str, str], asked: set[str]) -> list[str]:
    wanted = [thing for step, thing in things.items() if step in asked]
    return [f"Write into {file}: {words.listed(wanted, len(wanted), '; ')}."] if wanted else []


def names_nobody_walked(pack: Pack) -> list[str]:
    """Names and patterns of job.toml that fit no walked line.

    Only those of lines, sections and crews: a name left over from an earlier walk makes all that is said
    there count for nothing.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    list of str
        Such as ``[[lines]] EX-*``.
    """
    settings, lines = pack.work.job.settings, pack.work.graph.lines
    told = [("lines", duty.line) for duty in settings.lines]
    told += [("sections", name) for section in settings.sections for name in section.lines]
    told += [("crews", name) for crew in settings.crews for name in crew.lines]
    stray = [f"[[{table}]] {name}" for table, name in told if not any(matches(name, n) for n in lines)]
    return list(dict.fromkeys(stray))
