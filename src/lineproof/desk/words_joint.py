"""English for a joint card: steps, cautions, line zero, ends, and what is missing, keyed by code.

A sentence names its facts as ``{depth:inches}`` or ``{time:time}``; a fact that is missing leaves a blank to
fill in. A part in double brackets is left out where one of its facts is missing.
"""

from __future__ import annotations

import re
import string
from collections import defaultdict
from collections.abc import Mapping
from typing import Any

from lineproof.desk.words import ENGLISH, SPANISH
from lineproof.floor.shown import Shown, show, show_inches
from lineproof.plan.joint_model import JointEnd, LineZero
from lineproof.plan.joint_needs import Missing
from lineproof.plan.joint_steps import Step

BLANK = "________"
"""What stands where a number is missing: a blank to fill in, never a guess."""

_PART = re.compile(r"\[\[(.*?)\]\]")

STEPS: Mapping[str, str] = {
    "first-on": "{what:start} on the pipe first, over end {side}, its working side towards this joint.",
    "first-on-half": (
        "If this half carries it: {what} on the pipe first, over end {side}, its working side towards "
        "this joint."
    ),
    "first-on-late": "It cannot be put on later: both ends of this piece carry fittings.",
    "cut-bevel-deburr": (
        "Cut square. Bevel the outside[[, {bevel:inches}]]. Take burrs and chips off both edges."
    ),
    "clean-and-dry": "Wipe pipe end and socket clean and dry: no dirt, grease, water or dew.",
    "dry-fit": (
        "Dry fit, do not force: it should stop between {tight:inches} and {good:inches}. Sooner is a "
        "tight fit. "
        "Deeper, or just bottoming without play, is a net fit and asks for a heavier body. "
        "Loose, bottoms at {depth:inches} with play: stop."
    ),
    "gap-fit": (
        "Measure pipe and socket: the gap on the diameter counts, {mid_depth:inches} inside the mouth"
        "[[ (by the standards {least:inches} to {most:inches})]]. It must be one that the cement is made "
        "to fill. "
        "A metric socket is not judged by where the pipe stops."
    ),
    "mark-depth": (
        "Mark the depth, {depth:inches} from the pipe end, and a second mark outside the wet part"
        "[[, at {second:inches}]]."
    ),
    "set-pullers": "Set straps and pull-in tools, one each side, before any cement; try that they pull.",
    "hands-in-place": "{hands} people, each with a named box, before a can is opened.",
    "hands-doubled": "Places in the boxes that are doubled up: {doubling}. The lead says whose.",
    "stir-and-look": (
        "Read the label and the date. Stir the can. Jellied, lumpy or stringy: throw it out, never thin it."
    ),
    "prime": (
        "Prime socket, pipe end, socket again ({passes} passes in all) until the faces are softened. "
        "Keep them wet."
    ),
    "cement-while-primer-wet": "Cement goes on while the primer is still wet.",
    "cement-coats": (
        "Cement: {pipe} full coats on the pipe end, {socket} thinner in the socket, the last on the pipe "
        "end. "
        "Applicator about {width:inches} wide."
    ),
    "brushes-side-by-side": "{per_face} applicators side by side on each face.",
    "no-puddle": "No puddle in the socket: wipe it out.",
    "within-working-time": (
        "From the first coat to home within {time:time}. If a skin has formed: stop and ask, do not push."
    ),
    "push-home": (
        "While both faces are wet: push home in one go, straight, without turning, to the stop "
        "({depth:inches})."
    ),
    "push-home-turn": (
        "While both faces are wet: push home in one go, with a quarter turn while it moves, to the stop "
        "({depth:inches}). No turning once it is home."
    ),
    "hold": "Hold it pushed in for {time:time}: it wants to move out.",
    "pullers-off": "Pull-in tools stay on for {time:time}.",
    "check-second-mark": (
        "Measure from the socket's face to the second mark[[: {left:inches} means all the way in]]. "
        "Write it down."
    ),
    "if-short": "If it stops short: no hammer, no pulling back; measure, record, ask.",
    "if-short-allowed": "The procedure allows {allowed:inches}.",
    "bead": "Look for a bead all round and wipe off what is too much. No bead somewhere: record and ask.",
    "hands-off": "Hands off for {time:time}: nothing moves, nothing is lowered, no next joint on it.",
    "no-pressure": (
        "No pressure before the cure time, {time:time}[[ to {pressure:pressure} at this joint]], and "
        "never without "
        "the release of the person in charge of the test."
    ),
    "write-down": "Write down time, names, lots, pipe temperature and humidity; tag the joint.",
}
"""Steps by code; codes with a tail are added to or stand for their step."""

CAUTIONS: Mapping[str, str] = {
    "label-and-procedure-win": (
        "The container's label and the approved procedure win over this card; so do local codes and the "
        "engineer."
    ),
    "no-flames-no-sparks": "No flames, no sparks, no smoking, no hot work near: the vapour burns.",
    "gloves-goggles-air": "Gloves, goggles, moving air. Read the safety data sheet.",
    "low-places": (
        "The vapour is heavier than air: in a trench, pit or closed line, test and ventilate before "
        "anyone goes in."
    ),
    "cans-shut": "Cans shut between coats. Rags in a covered metal can.",
    "no-heat": "No heat to hasten the set.",
    "not-gas": "Never test plastic line with air or gas.",
}
"""Cautions by code."""

MISSING: Mapping[str, str] = {
    "depth": "depth of the socket to its stop: {part}",
    "saddle-face": "face of the {part}: measure it",
    "od-family": "family of outside diameters of line {line}",
    "outside-diameter": "outside diameter of {size} {series}: measure the pipe",
    "socket-bore": "bore at mid depth of the {part}: measure it",
    "applicators": "applicators on the tool list",
    "puller": "pull-in tools for {size} on the tool list",
    "puller-capacity": "what the pull-in tools for {size} may pull",
    "hub": "outside diameter of the hub: {part}",
    "written-instruction": "written instruction for cement at {size}: no class of cement reaches it",
    "card-body": "body of the cement on card {card}",
    "film": "wet film of {body} cement: count joints per can",
    "coats": "coats of cement in procedure {procedure}",
    "primer-passes": "passes of primer in procedure {procedure}",
    "crew-rule": "how many people {size} takes, in the procedure",
    "coating-rate": "how fast the crew of line {line} coats, timed on scrap",
    "working-time": (
        "working time on card {card}[[ at {temperature:temperature}]][[ in a wind of {wind:wind}]]"
    ),
    "procedure": "joining procedure of line {line}",
    "procedure-range": "procedure {procedure} does not cover {size} {material}",
    "card": "cement card of line {line}",
    "pipe-temperature": "pipe temperature for joining and curing",
    "humidity": "highest humidity expected",
    "card-row": (
        "card {card} has no {kind} row for {size}[[ at {temperature:temperature}]][[ to {pressure:pressure}]]"
    ),
    "elevation": "height of line {line} on the drawing's datum: start it at a point, measure its fittings",
    "section": "test section of line {line}",
    "gauge": "gauge place of section {section}",
    "gauge-elevation": "elevation of gauge {gauge}",
    "gauge-error": "error of gauge {gauge}, from its certificate",
    "section-pressure": "planned pressure of section {section}",
}
"""Missing inputs by code."""

PARTS: Mapping[str, str] = {"ground": "what stands"}
"""Kinds of parts that are not called by their own word."""


class _Filler(string.Formatter):
    """Fills a sentence with its facts, each shown as its quantity."""

    def __init__(self, shown: Shown) -> None:
        self.shown = shown

    def format_field(self, value: Any, spec: str) -> str:
        if value is None or value == "":
            return BLANK
        if spec == "start":
            return str(value)[:1].upper() + str(value)[1:]
        if spec == "inches":
            return show_inches(float(value), self.shown)
        return show(float(value), spec, self.shown) if spec else str(value)


def fill(sentence: str, facts: Mapping[str, object], shown: Shown) -> str:
    """A sentence of the catalogue with its facts.

    Parameters
    ----------
    sentence : str
    facts : mapping
        SI floats or plain values.
    shown : Shown

    Returns
    -------
    str
        A missing fact is a blank; a part in double brackets is left out with it.
    """
    filler = _Filler(shown)

    def part(found: re.Match[str]) -> str:
        names = [name for _, name, _, _ in filler.parse(found[1]) if name]
        return found[1] if all(facts.get(n) not in (None, "") for n in names) else ""

    return filler.vformat(_PART.sub(part, sentence), (), defaultdict(lambda: None, facts))


def say_step(step: Step, shown: Shown) -> str:
    """A step as one or more sentences.

    Parameters
    ----------
    step : Step
    shown : Shown

    Returns
    -------
    str
        Line zero that could not be put on later is in capitals.
    """
    facts = dict(step.facts)
    codes = [step.code]
    if step.code == "first-on":
        codes = ["first-on" if facts["sure"] else "first-on-half"]
        codes += ["first-on-late"] if facts["capital"] else []
    elif step.code == "hands-in-place" and facts["doubling"]:
        codes.append("hands-doubled")
    elif step.code == "cement-coats" and (facts["per_face"] or 1) != 1:
        codes.append("brushes-side-by-side")
    elif step.code == "push-home" and facts["turn"]:
        codes = ["push-home-turn"]
    elif step.code == "if-short" and facts["allowed"] is not None:
        codes.append("if-short-allowed")
    told = " ".join(fill(STEPS[code], facts, shown) for code in codes)
    return told.upper() if step.code == "first-on" and facts["capital"] else told


def say_missing(missing: Missing, shown: Shown, language: str = ENGLISH) -> str:
    """What is missing, as a phrase.

    Parameters
    ----------
    missing : Missing
    shown : Shown
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    str
        Such as ``"card C-2 has no cure row for 12 in at 45 F to 135 psi"``.
    """
    from lineproof.desk.words_joint_es import MISSING_ES, facts_es

    facts = dict(missing.facts)
    if language == SPANISH:
        return fill(MISSING_ES[missing.code], facts_es(facts), shown)
    return fill(MISSING[missing.code], facts, shown)


def say_first(first: LineZero, shown: Shown, language: str = ENGLISH) -> str:
    """Line zero as a sentence; in capitals where it could not be put on later.

    Parameters
    ----------
    first : LineZero
    shown : Shown
    language : str

    Returns
    -------
    str
        One or two sentences.
    """
    if language == SPANISH:
        from lineproof.desk.words_joint_es import first_es

        return first_es(first, shown)
    facts = (("what", first.what), ("side", first.side), ("capital", first.capital), ("sure", first.sure))
    return say_step(Step("first-on", facts), shown)


def say_end(end: JointEnd, language: str = ENGLISH) -> str:
    """One side of a joint as a fitter says it.

    Parameters
    ----------
    end : JointEnd
    language : str

    Returns
    -------
    str
        Such as ``"elbow 90, E3, lot E12-3"`` or ``"piece C, end a"``.
    """
    if language == SPANISH:
        from lineproof.desk.words_joint_es import end_es

        return end_es(end)
    if end.what == "piece":
        return f"piece {end.name}, bell" if end.port == "bell" else f"piece {end.name}, end {end.port}"
    words = PARTS.get(end.what, end.what)
    if end.angle_deg:
        words += f" {end.angle_deg:g}"
    if end.size2 is not None and end.size is not None:
        words += f" {end.size.text} x {end.size2.text}"
    told = [words]
    if end.tag:
        told.append(end.tag)
    if not end.tag or end.what != "ground":
        told.append(end.name)
    if end.lot:
        told.append(f"lot {end.lot}")
    return ", ".join(told)
