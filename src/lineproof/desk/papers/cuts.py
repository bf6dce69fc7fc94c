"""The cut list with its pictures of sticks."""

from __future__ import annotations

from collections.abc import Mapping

from lineproof.desk.papers import words
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_sheets import Sheets
from lineproof.floor.shown import Shown, show
from lineproof.plan.model import Piece, PieceEnd, Shortage, State
from lineproof.plan.names import short
from lineproof.plan.nest_model import CutStick
from lineproof.plan.pack import Pack
from lineproof.plan.sticks import StickPlan

TITLES = {State.CUT: "cut", State.FIELD: "field", State.WAIT: "wait"}
"""Key of what may be done with a piece now."""


def cut_sheet(pack: Pack, language: str = ENGLISH) -> dict[str, object]:
    """All pieces, by what may be done with them now.

    Parameters
    ----------
    pack : Pack
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    dict
        For ``templates/cuts.typ``.
    """
    shown = pack.work.job.settings.shown.shown
    told = Sheets(shown, language)
    pieces = pack.work.cutting.pieces
    groups = []
    for state, title in TITLES.items():
        members = [_piece(p, told) for p in pieces if p.state is state]
        if members:
            groups.append(
                {"state": state.value, "title": told(title), "count": len(members), "rows": members}
            )
    return {
        "kind": "cuts", "name": "Cut list",
        "where": f"{words.plural(len(pieces), 'piece')}, in walking order",
        "groups": groups, "shortages": [_shortage(s, shown) for s in pack.work.cutting.shortages],
    }  # fmt: skip


def _shortage(gap: Shortage, shown: Shown) -> str:
    told = f"{gap.line}, leg {short(gap.run)}: {gap.why.value}"
    if gap.face_to_face is not None and gap.needed is not None:
        between, needed = words.length(gap.face_to_face, shown), words.length(gap.needed, shown)
        told += f": {between} between faces, {needed} needed"
    if gap.shortest_nipple is not None:
        told += f"; shortest nipple {words.length(gap.shortest_nipple, shown)}"
    return f"STOP {told}."


def _piece(p: Piece, told: Sheets) -> dict[str, object]:
    shown = told.shown
    notes = []
    if p.whole:
        notes.append(told("whole"))
    if p.waits:
        waits = words.listed([short(w) for w in p.waits], 3, language=told.language)
        notes.append(told("waits_for", names=waits))
    if p.short.value:
        notes.append(told(p.short.value))
    if p.spool:
        notes.append(told("spool", name=p.spool))
    if p.taped:
        notes.append(told("taped_by", who=p.taped))
    if not p.whole and abs(p.grown) >= shown.step / 2:
        notes.append(told("grown", much=words.inches(p.grown, shown)))
    return {
        "id": p.id,
        "pipe": words.pipe_words(p.size, p.material, p.series),
        "cut": words.length(p.cut, shown) or told("tape_first"),
        "face": words.length(p.face_to_face, shown),
        "centre": words.length(p.centre_to_centre, shown),
        "a": end_words(p.a, p.line, shown, told),
        "b": end_words(p.b, p.line, shown, told),
        "tolerance": "" if p.tolerance is None else f"± {words.inches(p.tolerance, shown)}",
        "mass": "" if p.mass is None else _mass(p.mass, shown),
        "note": "; ".join(notes),
    }


def _mass(value: float, shown: Shown) -> str:
    return words.quantity(value, "mass", shown) if value < 10 else show(value, "mass", shown, digits=0)


def end_words(end: PieceEnd, line: str, shown: Shown, told: Sheets | None = None) -> dict[str, str]:
    """One end of a piece: where it goes, its marks."""
    told = told or Sheets(shown)
    marks = []
    if not end.bell and end.depth:
        marks.append(told("mark", much=words.inches(end.depth, shown)))
    if not end.bell and end.second_mark is not None:
        marks.append(told("second", much=words.inches(end.second_mark, shown)))
    if not end.bell and end.bevel:
        marks.append(told("bevel"))
    return {
        "into": words.goes_into(end, line, told),
        "marks": " · ".join(marks),
        "turned": "; ".join(words.turned(t, shown) for t in end.turned),
    }


def stick_sheet(pack: Pack, language: str = ENGLISH) -> dict[str, object] | None:
    """Pictures of the sticks, stock item by stock item; None where there is nothing to cut."""
    plans = pack.work.sticks
    if not plans:
        return None
    shown = pack.work.job.settings.shown.shown
    by_id = {p.id: p for p in pack.work.cutting.pieces}
    kerf = pack.work.job.settings.cutting.kerf
    return {
        "kind": "sticks", "name": "Stick pictures", "where": "saw from the left; drawn to scale",
        "plans": [_plan(s, by_id, kerf, Sheets(shown, language)) for s in plans],
    }  # fmt: skip


def _plan(s: StickPlan, by_id: Mapping[str, Piece], kerf: float, say: Sheets) -> dict[str, object]:
    shown = say.shown
    item = s.stock
    longest = item.overall or item.length
    sticks: list[dict[str, object]] = []
    gap = s.needed - s.bound
    new = 0
    told = [
        say("sticks", n=s.needed, bound=s.bound, gap=gap),
        say("yard", yard=item.in_yard + item.received, ordered=item.ordered),
    ]
    if s.nesting is not None:
        longest = max([longest, *(c.overall for c in s.nesting.sticks)])
        for c in s.nesting.sticks:
            new += c.source == "new"
            sticks.append(_stick(new, c, s, by_id, kerf, longest, say))
        told.append(say("scraps", much=words.length(s.nesting.waste, shown)))
    if s.later:
        told.append(say("counted_long", n=len(s.later)))
    if s.waiting:
        told.append(say("not_counted", n=len(s.waiting)))
    if s.trouble:
        told.append(s.trouble)
    bell = "" if not item.belled else f", {item.ends}"
    return {
        "title": f"{item.id}: {words.pipe_words(item.size, item.material, item.series)}, "
        f"{words.length(item.length, shown)} {say.trade(item.basis)}{bell}",
        "told": " · ".join(told),
        "sticks": sticks,
        "whole": words.listed([words.piece_name(w) for w in s.whole], 40),
    }


def _stick(
    n: int,
    c: CutStick,
    plan: StickPlan,
    by_id: Mapping[str, Piece],
    kerf: float,
    longest: float,
    say: Sheets,
) -> dict[str, object]:
    shown = say.shown
    parts: list[dict[str, object]] = []
    listing = []
    at = 0.0
    for k, (name, start) in enumerate(zip(c.pieces, c.starts, strict=True), 1):
        piece = by_id[name]
        size = piece.cut or 0.0
        if start > at + 1e-9:
            parts.append(
                {"what": "trim" if k == 1 else "kerf", "x": at / longest, "w": (start - at) / longest}
            )
        bell = "left" if c.bell_used_by == name else ""
        later = name in plan.later
        parts.append(
            {
                "what": "later" if later else "piece", "x": start / longest, "w": size / longest,
                "name": words.piece_name(name), "size": words.length(size, shown), "bell": bell,
            }
        )  # fmt: skip
        listed = f"{k}  {words.piece_name(name)}  {words.length(size, shown)}"
        listing.append(say("after", piece=listed) if later else listed)
        at = start + size
    left = c.offcut_length
    end = c.overall
    if left > 1e-6:
        begin = min(at + kerf, end)
        parts.append({"what": "kerf", "x": at / longest, "w": max(0.0, begin - at) / longest})
        parts.append(
            {
                "what": "kept" if c.kept else "waste", "x": begin / longest, "w": left / longest,
                "size": words.length(left, shown), "bell": "right" if c.offcut_bell else "",
            }
        )  # fmt: skip
        listing.append(say("keep" if c.kept else "waste", much=words.length(left, shown)))
        at = begin + left
    if end - at > 1e-9:
        parts.append({"what": "trim", "x": at / longest, "w": (end - at) / longest})
    source = say("stick", n=n) if c.source == "new" else say("offcut", name=c.stick_id)
    return {
        "name": source, "overall": words.length(c.overall, shown), "w": c.overall / longest, "parts": parts,
        "listing": "   ·   ".join(listing),
        "saw": ", ".join(words.length(x, shown) for x in c.cuts),
    }  # fmt: skip
