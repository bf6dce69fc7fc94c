"""Stickers for joints and cans: what must not be done before when, readable from two steps away."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from lineproof.desk.answer_now import NowCan
from lineproof.desk.papers.record_data import RecordPaper, makers, newest_issue
from lineproof.desk.papers.tags import is_named, tag_svg, tag_text
from lineproof.desk.words import term
from lineproof.floor.shown import show
from lineproof.floor.verdicts import Verdict
from lineproof.logbook.store import SHORT
from lineproof.plan.cure_ledger import LedgerRow
from lineproof.plan.joint_states import JointStands, JointState
from lineproof.plan.names import short

GONE = (JointState.TO_MAKE, JointState.CUT_OUT)
"""States of joints that get no sticker."""


def joint_stickers(
    paper: RecordPaper,
    names: Sequence[str],
    stands: Mapping[str, JointStands],
    ledger: Mapping[str, LedgerRow],
) -> dict[str, object]:
    """Stickers of some joints; those that are not made or were cut out get none.

    Parameters
    ----------
    paper : RecordPaper
    names : sequence of str
    stands : mapping
        Where each joint stands.
    ledger : mapping
        Both clocks of each made joint.

    Returns
    -------
    dict
        For ``templates/stickers.typ``.
    """
    labels = [
        _joint(paper, stands[n], ledger.get(n)) for n in names if n in stands and stands[n].state not in GONE
    ]
    return {"kind": "joint-stickers", "name": paper.tell("stickers"), "labels": labels}


def _joint(paper: RecordPaper, stands: JointStands, row: LedgerRow | None) -> dict[str, object]:
    state = paper.site.log.state.joints.get(stands.id)
    made = state.made[-1] if state is not None and state.made else None
    head, until = _what(paper, stands, row)
    facts = row.hands_off if row is not None else None
    told = []
    if made is not None:
        who = ", ".join(paper.who(w) for w in makers(made))
        told.append(paper.tell("made_at", when=paper.brief(made.at), who=who))
    if facts is not None and facts.started is not None:
        told.append(paper.tell("hold_ended", when=paper.brief(facts.started)))
    if facts is not None and facts.wait is not None and facts.coldest is not None:
        told.append(
            paper.tell(
                "row", card=facts.card, mark=facts.mark, wait=show(facts.wait, "time", paper.shown),
                coldest=show(facts.coldest, "temperature", paper.shown),
            )
        )  # fmt: skip
    issue = str(newest_issue(paper.site))
    named = is_named(stands.id)
    size = row.place.size.text if row is not None and row.place is not None else ""
    return {
        "head": head,
        "until": until,
        "id": stands.id,
        "number": short(stands.id),
        "size": size,
        "tag": tag_svg(tag_text(paper.settings.job.id, stands.id, issue)) if named else "",
        "told": told,
        "pressure": _pressure(paper, row, stop=stands.verdict is Verdict.STOP),
        "judged": _judged(paper),
    }


def _what(paper: RecordPaper, stands: JointStands, row: LedgerRow | None) -> tuple[str, str]:
    """The band and the line under it: a doubt never reads as leave to move."""
    if stands.verdict is Verdict.STOP:
        return paper.tell("HANDS OFF"), paper.tell("stop")
    if stands.state is JointState.HOLDING:
        return paper.tell("HOLD IT"), paper.tell("until_unknown")
    if stands.held_by:
        when = paper.not_before(stands.held_until) if stands.held_until else paper.tell("until_unknown")
        return paper.tell("HANDS OFF"), paper.tell("held", other=stands.held_by, not_before=when)
    if stands.verdict is Verdict.GO:
        reached = row.hands_off.reached if row is not None and row.hands_off is not None else None
        return paper.tell("ASK"), paper.tell("over", when=paper.brief(reached) or paper.small["not_known"])
    if stands.verdict is Verdict.WAIT and stands.until is not None:
        return paper.tell("HANDS OFF"), paper.not_before(stands.until)
    unknown = paper.tell("until_unknown")
    if stands.until is not None:
        unknown = f"{paper.not_before(stands.until)}. {unknown}"
    return paper.tell("HANDS OFF"), unknown


def _pressure(paper: RecordPaper, row: LedgerRow | None, *, stop: bool) -> str:
    raised = row.raised if row is not None else None
    if stop:
        return paper.tell("no_pressure")
    if raised is not None and raised.verdict is Verdict.WAIT and raised.until is not None:
        return paper.tell("pressure_wait", not_before=paper.not_before(raised.until))
    return paper.tell("pressure_ask")


def _judged(paper: RecordPaper) -> str:
    return paper.tell("judged", when=paper.brief(paper.now), head=paper.site.log.head[:SHORT])


def can_stickers(paper: RecordPaper, cans: Sequence[NowCan]) -> dict[str, object]:
    """Stickers of some cans.

    Parameters
    ----------
    paper : RecordPaper
    cans : sequence of NowCan

    Returns
    -------
    dict
        For ``templates/stickers.typ``.
    """
    return {
        "kind": "can-stickers",
        "name": paper.tell("can_stickers"),
        "words": {k: paper.tell(k) for k in ("lot", "opened", "dies", "expires")},
        "labels": [_can(paper, can) for can in cans],
    }


def _can(paper: RecordPaper, can: NowCan) -> dict[str, object]:
    card = paper.settings.card(can.card)
    life = card.open_life if card is not None else None
    if can.holds != "cement":
        open_life = ""
    elif life is None:
        open_life = paper.tell("open_life_none")
    else:
        open_life = paper.tell("open_life", life=show(life, "time", paper.shown), card=can.card)
    return {
        "can": can.can,
        "holds": str(term(can.holds, paper.language)),
        "lot": can.lot,
        "card": can.card,
        "opened": paper.brief(can.opened),
        # A can that is still shut dies by the hour it is opened: that is written on it by hand.
        "dies": paper.brief(can.dies) if can.opened is not None or can.dead else "",
        "expires": "" if can.expires is None else can.expires.isoformat(),
        "dead": paper.tell("dead") if can.dead else "",
        "life": open_life,
        "judged": _judged(paper),
    }
