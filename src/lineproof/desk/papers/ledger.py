"""The cure ledger: section by section, who governs on top, then both clocks of every made joint."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime

from lineproof.desk.papers.record_data import RecordPaper
from lineproof.desk.say import reason
from lineproof.desk.words import term
from lineproof.floor.shown import show
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.cure_ledger import UNPLACED, LedgerRow, by_section, governs


def ledger_sheets(
    paper: RecordPaper, rows: Sequence[LedgerRow], sections: Sequence[str], dampest: float | None
) -> list[dict[str, object]]:
    """The ledger, a sheet a section.

    Parameters
    ----------
    paper : RecordPaper
    rows : sequence of LedgerRow
        Both clocks of every made joint.
    sections : sequence of str
        Those to print; joints in no section come last, with all of them.
    dampest : float or None
        As the one who asked says. [-]

    Returns
    -------
    list of dict
        For ``templates/ledger.typ``; never empty.
    """
    said = paper.tell("said", dampest=dampest) if dampest is not None else ""
    note = paper.tell("ledger_note", when=paper.moment(paper.now), known=paper.site.log.receipt, said=said)
    shared = {
        "kind": "ledger",
        "name": paper.tell("ledger"),
        "governs": paper.tell("governs"),
        "heads": [
            paper.tell(k)
            for k in (
                "joint", "size", "made", "hold", "coldest", "move_row", "move_when", "pressure", "raise_row",
                "raise_when",
            )
        ],
        "note": note,
        "none": paper.tell("no_joints"),
    }  # fmt: skip
    everything = [s.id for s in paper.settings.sections]
    found = by_section(rows, everything)
    wanted = [*sections, *([UNPLACED] if list(sections) == everything else [])]
    sheets = []
    for name in wanted:
        told = found.get(name, ())
        if not told and name == UNPLACED:
            continue
        where = paper.tell("ledger_where", section=name) if name != UNPLACED else paper.tell("ledger_none")
        sheets.append({**shared, "where": where, **_section(paper, told)})
    return sheets or [{**shared, "where": "", **_section(paper, ())}]


def _section(paper: RecordPaper, rows: Sequence[LedgerRow]) -> dict[str, object]:
    first = governs(rows)
    until = max((r.raised.until for r in rows if r.raised and r.raised.until), default=None)
    raised = first.raised if first is not None else None
    verdict = raised.verdict if raised is not None else Verdict.CANNOT_TELL
    over = sum(r.is_cured for r in rows)
    waits = sum(r.raised is not None and r.raised.verdict is Verdict.WAIT for r in rows)
    count = paper.tell("count", n=len(rows), over=over, waits=waits, unknown=len(rows) - over - waits)
    return {
        "verdict": verdict.word,
        "word": paper.small[verdict.word] if rows else "",
        "until": paper.not_before(until) if until is not None else "",
        "as_far": paper.tell("as_far"),
        "why": _why(paper, first),
        "count": count,
        "rows": [_row(paper, row) for row in rows],
    }


def _why(paper: RecordPaper, row: LedgerRow | None) -> str:
    if row is None:
        return ""
    if row.raised is None:
        return paper.tell("off_drawing", beside=row.joint.beside or paper.small["not_known"])
    return reason(row.raised, paper.shown, paper.language)


def _row(paper: RecordPaper, row: LedgerRow) -> dict[str, object]:
    joint, move, cure = row.joint, row.hands_off, row.cured
    coldest = min(
        (c for c in (move.coldest if move else None, cure.coldest if cure else None) if c), default=None
    )
    return {
        "joint": joint.id,
        "mark": _mark(paper, row),
        "size": row.place.size.text if row.place is not None else "",
        "made": paper.brief(joint.assembled),
        "hold": paper.brief(joint.hold_ended),
        "coldest": show(coldest, "temperature", paper.shown) if coldest is not None else "",
        "move_row": _printed(paper, move.mark, move.wait) if move is not None else "",
        "move": _when(paper, row.move, move.reached if move is not None else None),
        "pressure": show(row.pressure, "pressure", paper.shown) if row.pressure is not None else "",
        "raise_row": _printed(paper, cure.mark, cure.wait) if cure is not None else "",
        "raised": _when(paper, row.raised, cure.reached if cure is not None else None),
    }


def _mark(paper: RecordPaper, row: LedgerRow) -> str:
    """What stands against the joint whatever its clocks say."""
    told = []
    if row.joint.rejected:
        told.append(paper.tell("rejected"))
    if row.joint.unclear or paper.site.progress.gaps:
        told.append(paper.small[Verdict.CANNOT_TELL.word])
    return ", ".join(told)


def _printed(paper: RecordPaper, mark: str, wait: float | None) -> str:
    """Where on the card it stands, and the wait with all factors in."""
    return "" if wait is None else f"{mark}: {show(wait, 'time', paper.shown)}".lstrip(": ")


def _when(paper: RecordPaper, found: Finding | None, reached: datetime | None) -> dict[str, str]:
    """Not before when: the verdict's shape, and its words."""
    if found is None:
        return {"verdict": Verdict.CANNOT_TELL.word, "text": paper.small[Verdict.CANNOT_TELL.word]}
    if found.verdict is Verdict.GO:
        over = paper.brief(reached) or paper.small["not_known"]
        return {"verdict": Verdict.GO.word, "text": paper.tell("over_since", when=over)}
    text = ""
    if found.verdict is Verdict.CANNOT_TELL:
        missing = ", ".join(str(term(m, paper.language)) for m in found.missing)
        text = paper.tell("cannot", missing=missing)
    if found.until is not None:
        text = f"{paper.brief(found.until)}{'. ' if text else ''}{text}"
    return {"verdict": found.verdict.word, "text": text or paper.tell("no_time")}
