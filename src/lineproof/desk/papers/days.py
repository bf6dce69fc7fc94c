"""The day sheet of a line or a day, and the list of all joints."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from lineproof.desk.papers import words
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_sheets import Sheets
from lineproof.plan.joint_model import JointEnd, JointPlan
from lineproof.plan.names import short
from lineproof.plan.pack import Pack


def joint_sheet(
    pack: Pack, language: str = ENGLISH, joints: Sequence[JointPlan] | None = None
) -> dict[str, object]:
    """Every joint once, by line.

    Parameters
    ----------
    pack : Pack
    language : str
        ``"en"`` or ``"es"``.
    joints : sequence of JointPlan, optional
        Only these.

    Returns
    -------
    dict
        For ``templates/days.typ``.
    """
    told = Sheets(pack.work.job.settings.shown.shown, language)
    verdicts = pack.verdicts()
    groups: dict[str, list[dict[str, object]]] = {}
    for j in pack.joints if joints is None else joints:
        verdict = verdicts.get(j.place.id)
        groups.setdefault(j.place.line, []).append(
            _row(j, told) | {"verdict": verdict.word if verdict else ""}
        )
    return {
        "kind": "joints", "name": "Joint list",
        "where": f"{words.plural(len(pack.joints), 'joint')}, in walking order",
        "groups": [{"line": line, "rows": rows} for line, rows in groups.items()],
    }  # fmt: skip


def _end(end: JointEnd, told: Sheets) -> str:
    """An end in the fewest words: ``C, end a``; ``elbow 90 E3``."""
    if end.what == "piece":
        return told("piece_end", name=end.name, port=end.port)
    angle = f" {end.angle_deg:g}" if end.angle_deg else ""
    what = told("standing") if end.what == "ground" else told.trade(end.what)
    return f"{what}{angle} {end.tag or end.name}"


def _row(j: JointPlan, told: Sheets) -> dict[str, object]:
    shown = told.shown
    hands = j.needs.hands.hands
    return {
        "id": j.place.id,
        "n": short(j.place.id),
        "in": _end(j.spigot, told),
        "into": _end(j.socket, told),
        "size": j.place.size.text,
        "depth": words.inches(j.needs.bond.depth, shown) or "?",
        "hands": "?" if hands is None else str(hands),
        "hold": words.wait(j.hold.time, shown) or "?",
        "pullers": told("by_hand")
        if j.needs.pull_in.needed is False
        else words.wait(j.pullers_off.time, shown) or "?",
        "off": words.wait(j.hands_off.time, shown) or "?",
        "cure": words.wait(j.cure.time, shown) or "?",
        "first": "first: " + ", ".join(z.what for z in j.line_zero) if j.line_zero else "",
    }


def day_sheet(pack: Pack, joints: Sequence[JointPlan], what: str) -> dict[str, object]:
    """One page for the joints of a line or a day, in order.

    Parameters
    ----------
    pack : Pack
    joints : sequence of JointPlan
    what : str
        ``"line B-201"`` or the name of the day.

    Returns
    -------
    dict
        For ``templates/days.typ``.
    """
    settings = pack.work.job.settings
    shown = settings.shown.shown
    by_id = {p.id: p for p in pack.work.cutting.pieces}
    pieces = list(dict.fromkeys(e.id for j in joints for e in (j.spigot, j.socket) if e.id in by_id))
    fittings = Counter(
        _kind(j.socket)
        for j in {j.socket.id: j for j in joints if j.socket.what not in ("piece", "ground")}.values()
    )
    first: dict[str, list[str]] = {}
    for j in joints:
        for z in j.line_zero:
            if z.capital:
                first.setdefault(z.what, []).append(
                    f"{short(j.place.id)} (piece {short(z.on)}, end {z.side})"
                )
    hands = [j.needs.hands.hands for j in joints if j.needs.hands.hands is not None]
    stands = settings.conditions
    cement = _sum([j.needs.wet.volume for j in joints])
    primer = _sum([j.needs.wet.primer_volume for j in joints])
    cards = ", ".join(dict.fromkeys(f"card {j.card}" for j in joints if j.card))
    lengths = [f"{words.piece_name(p)} {words.length(by_id[p].cut, shown)}".strip() for p in pieces]
    volume = words.volume(cement, shown) or words.NOT_KNOWN
    late = [f"{what.upper()} at {words.listed(at, 12)}: cannot be put on later" for what, at in first.items()]
    bring = [
        ["pieces", words.listed(lengths, 60)],
        ["fittings", ", ".join(f"{n} {kind}" for kind, n in fittings.items())],
        ["cement", f"{volume} in all, {cards or 'no card named'}; cans from the store, date read"],
        ["primer", words.volume(primer, shown) if primer else "none, or cannot tell"],
        ["hands", f"{max(hands)} at most" if hands else "cannot tell"],
        ["on first", "; ".join(late) or "nothing that could not be put on later"],
    ]  # fmt: skip
    stated = [
        ["pipe temperature", words.quantity(stands.pipe_temperature, "temperature", shown)],
        ["humidity", words.quantity(stands.humidity, "fraction", shown)],
        ["wind", words.quantity(stands.wind, "wind", shown)],
    ]
    return {
        "kind": "day", "name": "Day sheet", "where": f"{what} · {words.plural(len(joints), 'joint')}",
        "bring": [b for b in bring if b[1]], "stated": stated,
        "rows": [_row(j, Sheets(shown)) for j in joints],
    }  # fmt: skip


def _kind(end: JointEnd) -> str:
    angle = f" {end.angle_deg:g}" if end.angle_deg else ""
    size = (
        ""
        if end.size is None
        else f" {end.size.text}" + ("" if end.size2 is None else f" x {end.size2.text}")
    )
    lot = f" lot {end.lot}" if end.lot else ""
    return f"{end.what}{angle}{size}{lot}"


def _sum(values: Sequence[float | None]) -> float | None:
    known = [v for v in values if v is not None]
    return sum(known) if known else None
