"""The answer page: the verdict, its reasons, the counts, what to confirm, what to do first."""

from __future__ import annotations

from lineproof.desk.papers import words
from lineproof.desk.papers.first import first_things
from lineproof.desk.papers.reasons import as_row, reasons
from lineproof.floor.verdicts import Verdict
from lineproof.plan.pack import Confirm, Pack

REASONS_ON_PAGE = 9
"""More than this and the rest goes to its own paper, so that the answer stays on one page."""
CONFIRM_ON_PAGE = 5
ORDER = (Verdict.GO, Verdict.CARE, Verdict.WAIT, Verdict.CANNOT_TELL, Verdict.STOP)


def answer_sheets(pack: Pack) -> tuple[dict[str, object], dict[str, object] | None]:
    """The answer page, and the paper with all reasons where the page does not hold them.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    tuple
    """
    shown = pack.work.job.settings.shown.shown
    rows = [as_row(r) for r in reasons(pack, shown)]
    head: dict[str, object] = {
        "kind": "answer",
        "name": "Answer",
        "verdict": pack.verdict.word,
        "until": until_words(pack),
        "rows": rows[:REASONS_ON_PAGE],
        "rest": len(rows) - REASONS_ON_PAGE if len(rows) > REASONS_ON_PAGE else 0,
        "counts": counts(pack),
        "confirm": [confirm_words(c) for c in pack.confirmations[:CONFIRM_ON_PAGE]],
        "first": first_things(pack),
    }
    full: dict[str, object] | None = None
    if len(rows) > REASONS_ON_PAGE:
        full = {"kind": "reasons", "name": "All reasons", "where": "worst first", "rows": rows}
    return head, full


def until_words(pack: Pack) -> str:
    """``NOT BEFORE ...`` where the whole pack waits."""
    times = [f.until for f in pack.findings if f.until is not None]
    if pack.verdict is not Verdict.WAIT or not times:
        return ""
    return f"NOT BEFORE {words.moment(max(times), pack.work.job.zone)}, then ask again"


def counts(pack: Pack) -> list[dict[str, object]]:
    """Counts of joints and pieces by verdict, and the sticks.

    Parameters
    ----------
    pack : Pack

    Returns
    -------
    list
        One row a verdict, then the words on sticks.
    """
    joints, pieces = pack.counts.joints, pack.counts.pieces
    all_joints, all_pieces = sum(joints.values()), sum(pieces.values())
    return [
        {
            "verdict": v.word,
            "joints": f"{joints.get(v, 0)} of {all_joints} joints",
            "pieces": f"{pieces.get(v, 0)} of {all_pieces} pieces",
        }
        for v in ORDER
        if joints.get(v, 0) or pieces.get(v, 0) or v is Verdict.GO
    ]


def confirm_words(c: Confirm) -> str:
    """What one confirmation would clear."""
    rows = f", {'row' if len(c.rows) == 1 else 'rows'} {words.listed(c.rows, 6)}" if c.rows else ""
    clears = [words.plural(n, w) for n, w in ((c.joints, "joint"), (c.pieces, "piece")) if n]
    if not clears and c.clears:
        clears = [words.listed(c.clears, 3)]
    return f"{c.what}{rows}" + (f": clears {' and '.join(clears)}" if clears else "")
