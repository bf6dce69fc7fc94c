"""The order on paper: the answer, then one page a day with joints in order and what to bring."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from datetime import datetime

from lineproof.desk.papers import words
from lineproof.desk.papers.make import PAPERS
from lineproof.desk.papers.typeset import typeset
from lineproof.desk.sequence_told import Told
from lineproof.floor.verdicts import Finding
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.sequence.sheet import StepLine


def sequence_pdf(
    told: Told, joints: Sequence[JointPlan], findings: Sequence[Finding], stamp: datetime, *, paper: str
) -> bytes:
    """The order as PDF.

    Parameters
    ----------
    told : Told
    joints : sequence of JointPlan
    findings : sequence of Finding
    stamp : datetime
        The newest moment among the inputs.
    paper : str
        ``"a4"`` or ``"letter"``.

    Returns
    -------
    bytes
        The same for the same job.
    """
    plans = {j.place.id: j for j in joints}
    sheets = [answer_sheet(told, findings)]
    sheets += [day_sheet(told, plans, day, steps) for day, steps in told.ordered.days.items()]
    return typeset(document(told, sheets, stamp, PAPERS[paper]), stamp)


def document(
    told: Told, sheets: Sequence[Mapping[str, object]], stamp: datetime, size: str
) -> dict[str, object]:
    """What every page shares, with its sheets."""
    work = told.work
    settings = work.job.settings
    lines = work.graph.lines.values()
    drawings = list(dict.fromkeys(f"{x.drawing} rev {x.rev}" for x in lines if x.drawing))
    return {
        "title": f"{settings.job.name}: {told.words['title']}",
        "paper": size,
        "lang": told.language,
        "words": {k: told.words[k] for k in ("foot", "page", "page_of", "invented")},
        "job": {
            "id": settings.job.id,
            "name": settings.job.name,
            "invented": settings.job.invented,
            "drawings": words.listed(drawings, 2),
            "issue": told.words["title"],
            "made": words.moment(stamp, work.job.zone),
            "tables": "lineproof sequence",
        },
        "papers": list(sheets),
    }


def answer_sheet(told: Told, findings: Sequence[Finding]) -> dict[str, object]:
    """Verdicts, loops, what is put in, spools."""
    shown = told.work.job.settings.shown.shown
    spools = [
        [
            str(s.n), f"{s.line}: " + ", ".join(p.removeprefix(f"{s.line}/") for p in s.parts),
            " x ".join(words.length(x, shown) for x in s.sides), words.quantity(s.mass, "mass", shown),
            str(s.alike),
        ]
        for s in told.ordered.spools
    ]  # fmt: skip
    return {
        "kind": "sequence-answer", "name": told.words["answer"],
        "where": words.listed(list(told.work.graph.lines), 12),
        "findings": [
            {"shape": f.verdict.word, "word": f.verdict.word, "text": told.finding(f)} for f in findings
        ],
        "rows": [list(r) for r in told.rows()],
        "spools": spools, "spools_name": told.words["spools"],
        "spool_head": [told.words[k] for k in ("spool_no", "parts", "sides", "mass", "times")],
        "caution": told.words["caution"],
    }  # fmt: skip


def day_sheet(
    told: Told, plans: Mapping[str, JointPlan], day: int, steps: Sequence[StepLine]
) -> dict[str, object]:
    """One page a day: joints in order, and what to bring."""
    w, work = told.words, told.work
    shown = work.job.settings.shown.shown
    handling = work.job.settings.handling
    pieces = {p.id: p for p in work.cutting.pieces}
    ends = [b for s in steps for b in (*s.brought, *s.into)] if len(steps) < 400 else []
    blocks = told.ordered.rig.blocks
    touched = {
        b for s in steps for j in s.joints if j in plans for b in (plans[j].socket.id, plans[j].spigot.id)
    }
    sticks = [
        f"{words.piece_name(p)} {words.length(pieces[p].cut, shown)}".strip()
        for p in sorted(touched & set(pieces))
    ]
    fittings = Counter(
        blocks[b].what for b in {e for e in ends if e in blocks} if blocks[b].what not in ("piece", "ground")
    )
    mine = [plans[j] for s in steps for j in s.joints if j in plans]
    cement = sum(j.needs.wet.volume or 0.0 for j in mine)
    primer = sum(j.needs.wet.primer_volume or 0.0 for j in mine)
    cards = ", ".join(dict.fromkeys(j.card for j in mine if j.card))
    cans = told.fill(
        "cans_said", cement=words.volume(cement, shown) or "?", primer=words.volume(primer, shown) or "?"
    )
    heaviest = max((s for s in steps), key=lambda s: s.mass)
    bring = [
        [w["sticks"], words.listed(sticks, 40)],
        [w["fittings"], ", ".join(f"{n} {kind}" for kind, n in sorted(fittings.items()))],
        [w["cans"], cans + (f", {cards}" if cards else "")],
        [w["heaviest"], f"{words.quantity(heaviest.mass, 'mass', shown)} ({w['step']} {heaviest.n})"],
        [w["tackle"], handling.tackle or w["not_said"]],
        [w["way_in"], handling.way_in or w["not_said"]],
    ]  # fmt: skip
    rows = [
        {
            "n": str(s.n),
            "joints": w["and"].join(s.joints) or "-",
            "what": told.step(s),
            "remarks": "; ".join(told.remarks(s)),
            "join": told.at(s.join_at, s.day),
            "move": told.at(s.move_at, s.day) if s.joints else "-",
        }
        for s in steps
    ]
    return {
        "kind": "sequence-day", "name": w["page_day"], "where": told.fill("day", day=day),
        "bring": [b for b in bring if b[1]], "rows": rows,
        "head": [w[k] for k in ("step", "joint", "bring", "first_hour", "first_move", "made_at")],
        "caution": w["caution"], "sign": [w["lead"], w["written"]],
    }  # fmt: skip
