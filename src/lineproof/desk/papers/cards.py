"""Joint cards as data for their template: what one joint takes, in the order it is needed."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping

from lineproof.desk.papers import words
from lineproof.desk.papers.tags import is_named, tag_svg, tag_text
from lineproof.desk.say import reason, spoken
from lineproof.desk.words import ENGLISH, SPANISH
from lineproof.desk.words_joint import say_end, say_first, say_missing
from lineproof.desk.words_joint_es import STEPS_ES
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.joint_steps import joint_steps
from lineproof.plan.names import short
from lineproof.plan.pack import Pack, names_in

SHORT = "If it stops short: no hammer, no pulling back; measure, record, ask."
RECORD = (
    "date, time of first coat", "home at", "held until", "pullers off at", "hands off until",
    "dry fit stopped at", "face to second mark", "bead all round", "pipe temperature, humidity",
    "cement lot", "primer lot", "joiner, and another who looked",
)  # fmt: skip
CAUTION = (
    "No flames, sparks or hot work near. Gloves, goggles, moving air; the vapour lies low. Cans shut between "
    "coats. The container's label and the approved procedure win over this card."
)
MOST_OF_A_REASON = 120
"""Letters of a reason that fit under the names. [-]"""
Facts = Mapping[str, object]


def _said(facts: Facts, name: str, shown: Shown) -> str:
    value = facts.get(name)
    return words.inches(value, shown) if isinstance(value, float) else ""


def _mark(f: Facts, s: Shown) -> str:
    depth, second = _said(f, "depth", s), _said(f, "second", s)
    return f"Mark the depth {depth or '________'}, and the second mark{f' at {second}' if second else ''}."


def _face(f: Facts, s: Shown) -> str:
    left = _said(f, "left", s)
    if left:
        return f"Face of the socket to the second mark must read {left}."
    return "Measure face of the socket to the second mark; write it down."


def _cut(f: Facts, s: Shown) -> str:
    bevel = _said(f, "bevel", s)
    return f"Cut square, bevel{f' {bevel}' if bevel else ''}, deburr inside and outside."


def _push(f: Facts, _: Shown) -> str:
    turn = "a quarter turn while it moves" if f.get("turn") else "straight, no turning"
    return f"Push home in one go, {turn}, to the stop, and hold: it wants to move out."


STEPS: Mapping[str, str | Callable[[Facts, Shown], str]] = {
    "cut-bevel-deburr": _cut,
    "clean-and-dry": "Clean and dry: no dirt, grease, water or dew.",
    "dry-fit": "Dry fit without force; read the bands. Loose: stop.",
    "gap-fit": "Measure pipe and socket: the gap must be one the cement fills.",
    "mark-depth": _mark,
    "set-pullers": "Set straps and pull-in tools before any cement.",
    "stir-and-look": "Read the date. Stir. Jellied, lumpy or stringy: throw it out, never thin it.",
    "prime": "Prime socket, pipe end, socket again until soft. Keep it wet; cement while it is.",
    "cement-coats": "Cement the pipe end, thinner in the socket, the pipe end last. No puddle.",
    "within-working-time": "Home within the working time. A skin: stop and ask; do not push.",
    "push-home": _push,
    "check-second-mark": _face,
    "bead": "Look for a bead all round; wipe off the rest. None somewhere: record and ask.",
    "hands-off": "Hands off: nothing moves, nothing is lowered, no next joint on it.",
}
"""The steps as short as a card wants them: their numbers stand beside. What has its own place is left out."""


def steps_of(j: JointPlan, bevel: float, shown: Shown, language: str = ENGLISH) -> list[str]:
    """The steps of a joint as short sentences; empty if no procedure says how. [m]"""
    told = []
    for step in joint_steps(j, bevel=bevel):
        says = (STEPS_ES if language == SPANISH else STEPS).get(step.code)
        if says is not None:
            told.append(says if isinstance(says, str) else says(dict(step.facts), shown))
    return told


def card_sheet(
    pack: Pack, joints: Iterable[JointPlan], name: str = "Joint cards", language: str = ENGLISH
) -> dict[str, object]:
    """The cards of some joints.

    Parameters
    ----------
    pack : Pack
    joints : iterable of JointPlan
    name : str
        Of the paper.
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    dict
        For ``templates/cards.typ``.
    """
    maker = Cards(pack, language)
    return {"kind": "cards", "name": name, "cards": [maker.card(j) for j in joints]}


def worst_by_name(pack: Pack) -> dict[str, Finding]:
    """The worst finding about each joint, piece, part or line, the first of equals."""
    found: dict[str, Finding] = {}
    for f in pack.findings:
        for name in names_in(f):
            if name not in found or f.verdict > found[name].verdict:
                found[name] = f
    return found


class Cards:
    """Makes cards; joints that are alike share their sentences."""

    def __init__(self, pack: Pack, language: str = ENGLISH) -> None:
        self.pack = pack
        self.language = language
        self.shown: Shown = pack.work.job.settings.shown.shown
        self.told = Sheets(self.shown, language)
        self.worst = worst_by_name(pack)
        self._why: dict[int, str] = {}
        self.job = pack.work.job.settings.job.id
        self.bevel = pack.work.job.settings.cutting.bevel

    def card(self, j: JointPlan) -> dict[str, object]:
        """One card."""
        s = self.shown
        place, needs = j.place, j.needs
        line = self.pack.work.graph.lines.get(place.line)
        finding = self.worst.get(place.id)
        drawing = f"drawing {line.drawing} rev {line.rev}" if line is not None and line.drawing else ""
        issue = f"issue {self.pack.issue}" if self.pack.issue else "not issued"
        where = [self.told("line", line=place.line)]
        if j.pressure.section:
            where.append(self.told("section", section=j.pressure.section))
        return {
            "number": short(place.id) or "?",
            "size": words.pipe_words(place.size, place.material, place.series),
            "where": " · ".join(where),
            "paper": " · ".join(
                x for x in (self.job, drawing, issue, f"procedure {j.procedure or 'not named'}") if x
            ),
            "verdict": finding.verdict.word if finding is not None else "",
            "why": self.why(finding),
            "why_lang": self.language if finding is None else spoken(finding, self.language),
            "tag": tag_svg(tag_text(self.job, place.id, self.pack.issue)) if is_named(place.id) else "",
            "first": " ".join(say_first(z, s, self.language) for z in j.line_zero),
            "facts": self._facts(j),
            "fitname": self._fit_name(j),
            "bands": self._bands(j),
            "fit": self._gap(j),
            "cement": self._cement(j),
            "steps": steps_of(j, self.bevel, s, self.language),
            "times": self._times(j),
            "boxes": [[b.role, words.plural(b.hands, "hand")] for b in needs.hands.boxes]
            or [[r, ""] for r in ("pipe end", "socket", "pulls", "calls time")],
            "hands": self._hands(j),
            "missing": words.listed(
                [say_missing(m, s, self.language) for m in j.missing if m.blocks], 3, "; ", self.language
            ),
        }

    def why(self, finding: Finding | None) -> str:
        """The reason of the worst finding, cut to what a card holds; empty for GO."""
        if finding is None or finding.verdict is Verdict.GO:
            return ""
        known = self._why.get(id(finding))
        if known is None:
            told = reason(finding, self.shown, self.language)
            known = (
                told if len(told) <= MOST_OF_A_REASON else f"{told[:MOST_OF_A_REASON].rsplit(' ', 1)[0]} ..."
            )
            self._why[id(finding)] = known
        return known

    def _facts(self, j: JointPlan) -> list[list[str]]:
        s, bond, say = self.shown, j.needs.bond, self.told
        second = words.inches(j.second_mark, s)
        return [
            [say("goes_in"), say_end(j.spigot, self.language)],
            [say("into"), say_end(j.socket, self.language)],
            [say("od"), words.diameter(bond.od, s) or say("cannot_tell")],
            [say("depth"), words.inches(bond.depth, s) or say("cannot_tell")],
            [say("second_mark"), second or say("outside_wet")],
        ]

    def _fit_name(self, j: JointPlan) -> str:
        if j.needs.fit.rule == "bands":
            return self.told("dry_fit")
        return self.told("fit")

    def _bands(self, j: JointPlan) -> list[str]:
        bands, depth = j.needs.fit.bands, j.needs.bond.depth
        if bands is None or depth is None:
            return []
        s = self.shown
        tight, good = words.inches(bands.tight, s), words.inches(bands.good, s)
        say = self.told
        return [
            say("under", a=tight), say("between", a=tight, b=good), say("to", a=words.inches(depth, s)),
            say("plays"),
        ]  # fmt: skip

    def _gap(self, j: JointPlan) -> str:
        fit, s = j.needs.fit, self.shown
        if fit.rule == "gap" and fit.gap_least is not None and fit.gap_most is not None:
            least, most = words.diameter(fit.gap_least, s), words.diameter(fit.gap_most, s)
            return self.told("gap", inside=words.inches(fit.mid_depth, s), a=least, b=most)
        return self.told("no_depth")

    def _cement(self, j: JointPlan) -> list[list[str]]:
        wet, brushes, s, say = j.needs.wet, j.needs.brushes, self.shown, self.told
        rows = []
        if wet.primer_passes:
            told = words.volume(wet.primer_volume, s)
            rows.append(
                [say("primer"), " · ".join(x for x in (say("passes", n=wet.primer_passes), told) if x)]
            )
        body = say("body", body=say.trade(wet.card_body)) if wet.card_body else say("no_body")
        card = wet.card and say("card", card=wet.card)
        rows.append([say("cement"), " · ".join(x for x in (card, body) if x)])
        coats = ""
        if wet.pipe_coats is not None and wet.socket_coats is not None:
            coats = say("coats_told", pipe=wet.pipe_coats, socket=wet.socket_coats)
        amount = words.volume(wet.volume, s)
        rows.append(
            [
                say("coats"),
                " · ".join(x for x in (coats, amount and f"~ {amount}") if x) or say("cannot_tell"),
            ]
        )
        width = words.inches(brushes.width or brushes.wanted, s)
        each = say("a_face", n=brushes.per_face) if brushes.per_face and brushes.per_face > 1 else ""
        rows.append(
            [
                say("applicator"),
                " · ".join(x for x in (width and say("wide", a=width), each) if x) or say("cannot_tell"),
            ]
        )
        pull = j.needs.pull_in
        if pull.needed:
            rows.append([say("pull_in"), say("pull_yes", n=pull.tools) if pull.tools else say("pull_none")])
        elif pull.needed is False:
            rows.append([say("pull_in"), say("by_hand")])
        return rows

    def _times(self, j: JointPlan) -> list[list[str]]:
        s, say = self.shown, self.told
        pressure = words.quantity(j.pressure.pressure, "pressure", s)
        rows = [
            [say("working"), words.wait(j.needs.hands.working_time, s)],
            [say("hold"), words.wait(j.hold.time, s)],
        ]
        if j.needs.pull_in.needed is not False:
            rows.append([say("pullers_off"), words.wait(j.pullers_off.time, s)])
        rows += [
            [say("hands_off"), words.wait(j.hands_off.time, s)],
            [say("cure_to", pressure=pressure) if pressure else say("cure"), words.wait(j.cure.time, s)],
        ]
        return [[name, value or "?"] for name, value in rows]

    def _hands(self, j: JointPlan) -> str:
        h = j.needs.hands
        if h.hands is None:
            return self.told("hands_unknown")
        told = self.told("hands", n=h.hands)
        if h.doubling:
            told += ", " + self.told("doubled", n=h.doubling)
        return told
