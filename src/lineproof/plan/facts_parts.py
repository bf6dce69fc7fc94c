"""Facts for the checks of fittings and flanges in hand."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from statistics import median

from lineproof.book.sizes import Size
from lineproof.checks.fittings import CentreToFace, LotCount, Measured, SocketDepth
from lineproof.checks.flanges import Drilling, Faces, FaceSaid, Torque
from lineproof.job.graph import Part, Port, Tie, Wait
from lineproof.job.parts import Form, PartKind, PartRow
from lineproof.job.settings import Settings
from lineproof.plan.causes import Causes
from lineproof.plan.names import face_name, kind_words
from lineproof.plan.subjects import Subjects
from lineproof.plan.tape import TapeRow
from lineproof.plan.work import Work

_DRILLING = re.compile(r"\b(class\s*150|pn\s*10|pn\s*16)\b", re.IGNORECASE)
_STRAIGHT = (PartKind.COUPLING, PartKind.REDUCER)
_ANGLED = (PartKind.ELBOW, PartKind.TEE)


def row_words(row: PartRow) -> str:
    """A row of parts.csv in words: ``elbow 90, 12 in, lot E12-3``."""
    angle = f" {row.angle_deg:g}" if row.angle_deg else ""
    sizes = row.size.text if row.size2 is None else f"{row.size.text} x {row.size2.text}"
    name = f" {row.tag}" if row.tag else ""
    return f"{row.kind.value}{angle}{name}, {sizes}" + (f", lot {row.lot}" if row.lot else "")


def _tape_words(row: TapeRow) -> str:
    kind = row.kind.value if isinstance(row.kind, PartKind) else "standing end"
    angle = f" {row.angle_deg:g}" if row.angle_deg else ""
    sizes = row.size.text if row.size2 is None else f"{row.size.text} x {row.size2.text}"
    tag = f" {row.tag}" if row.tag else ""
    return f"{kind}{angle}{tag}, {sizes}" + (f", lot {row.lot}" if row.lot else "")


def every_part(work: Work) -> Iterator[Part]:
    """All parts, couplings of split legs among them."""
    yield from work.graph.parts.values()
    yield from work.cutting.couplings.values()


def add_parts(causes: Causes, work: Work, names: Subjects) -> None:
    """Measured, deep enough, plausible, enough of them."""
    for tape in work.tape.rows:
        what = _tape_words(tape)
        causes.add(
            "PRT-01", (what, tape.why),
            Measured(
                subject=what, what=what, reason=tape.why.value, wants=tape.wants, measured=tape.measured,
                waiting=len(tape.pieces), places=len(tape.places),
            ),
            what, joints=[j for p in tape.places for j in names.at_part(p)], pieces=tape.pieces,
        )  # fmt: skip
    _add_depths(causes, work, names)
    _add_reaches(causes, work, names)
    _add_counts(causes, work)


def _sister_depths(work: Work) -> dict[Size, list[tuple[int, float]]]:
    """Depths of all sockets in parts.csv by size, each with its row."""
    found: dict[Size, list[tuple[int, float]]] = {}
    for row in work.job.parts.rows:
        for o in row.outlets:
            if o.form is Form.SOCKET and o.depth is not None:
                found.setdefault(o.size, []).append((id(row), o.depth))
    return found


def _add_depths(causes: Causes, work: Work, names: Subjects) -> None:
    sisters = _sister_depths(work)
    taken: dict[tuple[int, Size, float], tuple[PartRow, str, str, list[str]]] = {}
    for name, j in zip(names.names, names.joints, strict=True):
        part = names.part(j.socket[0])
        if part is None or part.row is None or j.socket[1] not in {p.name for p in part.ports}:
            continue
        port = part.port(j.socket[1])
        if port.depth is None:
            continue  # PRT-01 asks for it
        key = (id(part.row), port.size, port.depth)
        if key not in taken:
            taken[key] = (part.row, port.material, port.series, [])
        taken[key][3].append(name)
    for (owner, size, depth), (row, material, series, joints) in taken.items():
        others = [d for other, d in sisters.get(size, ()) if other != owner]
        causes.add(
            "PRT-02", (owner, size, depth),
            SocketDepth(
                subject=row.tag or row_words(row), where=f"{row.place.file or 'parts.csv'}:{row.place.line}",
                what=row_words(row), size=size, material=material, series=series, depth=depth,
                sisters=median(others) if others else None, sister_count=len(others),
            ),
            joints=joints,
        )  # fmt: skip


def _add_reaches(causes: Causes, work: Work, names: Subjects) -> None:
    seen: dict[int, list[str]] = {}
    first: dict[int, Part] = {}
    for part in every_part(work):
        if part.row is not None and part.kind in (*_STRAIGHT, *_ANGLED):
            seen.setdefault(id(part.row), []).append(part.id)
            first.setdefault(id(part.row), part)
    for owner, parts in seen.items():
        part = first[owner]
        row = part.row
        if row is None:
            continue
        for port in part.ports:
            if port.form is not Form.SOCKET or port.reach is None or port.depth is None:
                continue
            across, turn = _clears(part, port)
            family = names.family(across, port.material, port.series, "") if across else ""
            causes.add(
                "PRT-03", (owner, port.reach, port.depth, across, turn),
                CentreToFace(
                    subject=row.tag or row_words(row), what=row_words(row), reach=port.reach,
                    depth=port.depth, where=f"{row.place.file or 'parts.csv'}:{row.place.line}",
                    turn_deg=turn, across=across,
                    material=port.material, series=port.series, family=family,
                ),
                pieces=[p for i in parts for p in names.pieces_at(i)],
            )  # fmt: skip


def _clears(part: Part, port: Port) -> tuple[Size | None, float]:
    """Size of the port that this one's stop must clear, and the angle between them. [deg]"""
    if part.kind is PartKind.ELBOW:
        return part.size, part.angle_deg
    if part.kind is PartKind.TEE:
        branch = part.size2 or part.size
        return (part.size if port.name == "c" else branch), 90.0
    return None, 0.0


def _add_counts(causes: Causes, work: Work) -> None:
    needed: Counter[object] = Counter()
    rows: dict[object, list[PartRow]] = {}
    for part in every_part(work):
        if part.type is None or part.row is None or part.row.fabricated:
            continue
        needed[part.type] += 1
        rows.setdefault(part.type, list(work.job.parts.of_type(part.type)))
    for key, found in rows.items():
        counts = [r.count for r in found]
        have = None if any(c is None for c in counts) else sum(c for c in counts if c is not None)
        what = row_words(found[0]).partition(", lot ")[0]
        causes.add(
            "PRT-04", key if have is not None else "not counted",
            LotCount(subject=what, what=what, have=have, needed=needed[key]),
            what,
        )  # fmt: skip


def drilling_of(part: Part) -> str:
    """Drilling as written in the note of the part's row of parts.csv; empty if not said.

    Parameters
    ----------
    part : Part

    Returns
    -------
    str
        ``"class150"``, ``"pn10"``, ``"pn16"`` or empty.
    """
    hit = _DRILLING.search(part.row.note) if part.row else None
    return re.sub(r"\s", "", hit.group(1)).lower() if hit else ""


def add_flanges(causes: Causes, work: Work, names: Subjects) -> None:
    """Faces, torque and drilling of every bolted pair."""
    parts, settings = work.graph.parts, work.job.settings
    fillers = Counter[Size]()
    for f in settings.fillers:
        fillers[f.size] += f.count if f.full_face else 0
    torques = {t.size: t for t in reversed(settings.torques)}
    pairs = [t for t in work.graph.connections if t.tie in (Tie.FLANGED, Tie.RINGED)]
    mixed = Counter[Size]()
    told = []
    for tie in pairs:
        a, b = parts[tie.a[0]], parts[tie.b[0]]
        pa, pb = a.port(tie.a[1]), b.port(tie.b[1])
        told.append((a, b, pa, pb))
        mixed[pa.size] += {pa.face, pb.face} == {"flat", "raised"}
    for a, b, pa, pb in told:
        pair = f"{a.line} {face_name(a)} to {face_name(b)}"
        for part, port in ((a, pa), (b, pb)):
            what = face_name(part) if part.kind == "ground" else kind_words(part)
            causes.add("FLG-02", bool(port.face), FaceSaid(subject=what, face=port.face), what)
        if pa.face and pb.face:
            faces = tuple(sorted((pa.face, pb.face)))
            causes.add(
                "FLG-01", (pa.size, faces),
                Faces(
                    subject=pair, size=pa.size, face_a=faces[0], face_b=faces[1], fillers=fillers[pa.size],
                    pairs=mixed[pa.size],
                ),
                pair, joints=(*names.at_part(a.id), *names.at_part(b.id)),
            )  # fmt: skip
        torque = torques.get(pa.size)
        causes.add(
            "FLG-03", pa.size,
            Torque(
                subject=pa.size.text, size=pa.size, torque=torque.value if torque else None,
                source=torque.source if torque else "",
            ),
        )  # fmt: skip
        _add_drilling(causes, pair, (a, b), pa.size, settings)


def _add_drilling(
    causes: Causes, pair: str, parts: tuple[Part, Part], size: Size, settings: Settings
) -> None:
    a, b = parts
    if a.row is not None and a.row is b.row:
        return  # two of one type and lot are drilled alike
    job_wide = settings.drilling(size)
    usual = job_wide.drilling if job_wide else ""
    said = tuple(sorted((drilling_of(a) or usual, drilling_of(b) or usual)))
    if a.wait is Wait.NO_ROW and b.wait is Wait.NO_ROW and a.type == b.type:
        return
    causes.add(
        "FLG-04", (size, said) if all(said) else said,
        Drilling(subject=pair, size=size, drilling_a=said[0], drilling_b=said[1]), pair,
    )  # fmt: skip
