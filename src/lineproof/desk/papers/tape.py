"""The tape list: what to measure, with a sketch of what, and boxes in the order of parts.csv."""

from __future__ import annotations

from lineproof.desk.papers import words
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown
from lineproof.job.parts import Form, Outlet, PartKind
from lineproof.plan.names import short
from lineproof.plan.pack import Pack
from lineproof.plan.tape import TapeRow

NAMED = ("in", "out", "branch")
SKETCHES = {
    PartKind.ELBOW: "elbow", PartKind.TEE: "tee", PartKind.COUPLING: "coupling", PartKind.REPAIR: "coupling",
    PartKind.REDUCER: "coupling", PartKind.UNION: "coupling", PartKind.VALVE: "coupling",
    PartKind.FLANGE: "flange", PartKind.STUB: "flange", PartKind.CAP: "cap",
}  # fmt: skip


def tape_sheet(pack: Pack, language: str = ENGLISH) -> dict[str, object]:
    """Everything to be taped: fittings, bells, gaps.

    Parameters
    ----------
    pack : Pack
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    dict
        For ``templates/tape.typ``.
    """
    tape, settings = pack.work.tape, pack.work.job.settings
    shown = settings.shown.shown
    told = Sheets(shown, language)
    return {
        "kind": "tape",
        "name": "Tape list",
        "where": "measure these first; type them into parts.csv and taped.csv",
        "rows": [_row(r, told) for r in tape.rows],
        "bells": [
            {
                "what": words.pipe_words(b.size, b.material, b.series), "id": b.id, "lot": b.lot,
                "depth": words.inches(b.bell_depth, shown), "reach": words.inches(b.bell_reach, shown),
            }
            for b in tape.bells
        ],
        "gaps": [
            {
                "piece": words.piece_name(g.piece), "line": g.line, "a": g.face_a, "b": g.face_b,
                "about": words.length(g.about, shown) or told("not_yet"),
            }
            for g in tape.gaps
        ],
    }  # fmt: skip


def _row(r: TapeRow, told: Sheets) -> dict[str, object]:
    kind, shown = r.kind, told.shown
    sizes = r.size.text + ("" if r.size2 is None else f" x {r.size2.text}")
    angle = f" {r.angle_deg:g}" if r.angle_deg else ""
    named = f"{r.tag} · " if r.tag else ""
    lot = f" · {told('lot', lot=r.lot)}" if r.lot else "" if r.tag else f" · {told('no_lot')}"
    pipe = f"{r.material.upper()} {words.series_words(r.series)}"
    outlets = [_outlet(n, o, shown) for n, o in enumerate(r.outlets)]
    waiting = [words.piece_name(p) for p in r.pieces]
    return {
        "what": f"{named}{told.trade(str(kind))}{angle}, {sizes} {pipe}{lot}",
        "why": told(r.why.value),
        "sketch": SKETCHES.get(kind, "other") if isinstance(kind, PartKind) else "other",
        "wants": r.wants,
        "measured": r.measured,
        "lines": max(1, min(3, r.wants)),
        "outlets": outlets,
        "places": words.listed([short(p) for p in r.places], 8, language=told.language),
        "pieces": words.listed(waiting, 8, language=told.language),
        "rough": words.inches(r.rough, shown),
    }


def _outlet(n: int, o: Outlet, shown: Shown) -> dict[str, str]:
    blank = o.form not in (Form.CLOSED, Form.SADDLE)
    deep = o.form in (Form.SOCKET, Form.MALE, Form.FEMALE)
    return {
        "name": NAMED[n] if n < len(NAMED) else str(n + 1),
        "n": str(n + 1),
        "form": o.form.value,
        "reach": words.inches(o.reach, shown) if blank else "none",
        "depth": words.inches(o.depth, shown) if deep else "none",
    }
