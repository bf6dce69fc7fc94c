"""Facts for the checks of the line as drawn: geometry, systems, stock, repeated spools."""

from __future__ import annotations

import math
from collections.abc import Iterator

from lineproof.book.sizes import Size
from lineproof.book.spec import od_families
from lineproof.checks.geometry import AngleAsked, Closing, CouplingPlace, FieldPiece, Leftover, Room
from lineproof.checks.stock import BellMeasured, SpoolAlike, StockNamed
from lineproof.checks.systems import Family, Materials, Sizes, Systems
from lineproof.job.graph import Part, Port, Run, Tie, Wait
from lineproof.job.parts import Form
from lineproof.plan.causes import Causes
from lineproof.plan.model import Short
from lineproof.plan.names import face_name, kind_words
from lineproof.plan.spools import Odd, repeats
from lineproof.plan.subjects import Subjects
from lineproof.plan.work import Work

ROOMY = {Short.MEET, Short.CLOSE}
FINE = 6
"""Lengths and angles are alike to this many decimals."""


def where_of(item: Run | Part) -> str:
    """File and line of the walk."""
    return f"{item.file}:{item.spot.line}"


def nominal(size: Size) -> float:
    """The size's name as a length, about its outside diameter. [m]"""
    return size.nominal * (0.001 if size.metric else 0.0254)


def add_geometry(causes: Causes, work: Work, names: Subjects) -> None:
    """Room between sockets, angles, field pieces, places for couplings, closing."""
    cutting, graph = work.cutting, work.graph
    _add_room(causes, work, names)
    for turn in graph.turns:
        part = graph.parts[turn.part]
        at = f"{turn.file}:{turn.spot.line}"
        if turn.fitting_deg is None:
            causes.add(
                "GEO-02", (round(turn.angle_deg, FINE), turn.choices),
                AngleAsked(
                    subject=turn.part, line=turn.line, where=at, angle_deg=turn.angle_deg, fitting_deg=None,
                    choices=turn.choices,
                ),
                turn.part, joints=names.at_part(part.id), pieces=names.pieces_at(part.id),
            )  # fmt: skip
            continue
        limit, by = names.angle_limit(turn.line)
        causes.add(
            "GEO-03", (round(turn.leftover_deg, FINE), limit, by),
            Leftover(
                subject=turn.part, line=turn.line, where=at, leftover=math.radians(turn.leftover_deg),
                limit=limit, limit_by=by, lands_at=turn.part,
            ),
            turn.part, joints=names.at_part(part.id),
        )  # fmt: skip
    for group in cutting.untaped:
        line = graph.runs[group[0]].line
        pieces = tuple(p for r in group for p in names.pieces_of(r))
        causes.add(
            "GEO-04", line,
            FieldPiece(subject=line, line=line, runs=pieces),
            line, pieces=pieces,
        )  # fmt: skip
    for piece in cutting.pieces:
        if piece.short is Short.NO_ROOM:
            run = graph.runs[piece.run]
            causes.add(
                "GEO-05", run.line,
                CouplingPlace(
                    subject=run.id, line=run.line, where=where_of(run), found=False
                ),
                piece.id, pieces=(piece.id,),
            )  # fmt: skip
    for laid in graph.lines.values():
        if laid.misclosure is None and laid.closed is None:
            continue
        waits = tuple(
            dict.fromkeys(
                kind_words(graph.parts[p]) for p in laid.parts if graph.parts[p].wait is not Wait.NONE
            )
        )
        causes.add(
            "GEO-06", laid.name,
            Closing(
                subject=laid.name, line=laid.name, where=f"{laid.file}:{laid.spot.line}", closed=laid.closed,
                miss=laid.misclosure or (), waits=waits,
            ),
        )  # fmt: skip


def _add_room(causes: Causes, work: Work, names: Subjects) -> None:
    graph, settings = work.graph, work.job.settings
    needed = settings.cutting.exposed
    short = {s.run: s for s in work.cutting.shortages if s.why in ROOMY}
    tightest: Run | None = None
    least = math.inf
    for run in graph.runs.values():
        found = short.get(run.id)
        # a shortage says the gap as taped, and a free end that does not come out of its socket
        face = run.face_to_face if found is None else found.face_to_face
        if face is None or (found is None and not (run.exact and run.depth_a and run.depth_b)):
            continue
        if found is None and (needed is not None or face >= nominal(run.size)):
            if face < least:
                least, tightest = face, run
            continue
        causes.add(
            "GEO-01", (round(face, FINE), run.size, run.depth_a, run.depth_b),
            _room(run, face, found.needed if found else needed, found.shortest_nipple if found else None),
            names.between(run), joints=names.of_run(run.id), pieces=names.pieces_of(run.id),
        )  # fmt: skip
    if tightest is not None:
        run = tightest
        causes.add("GEO-01", "tightest", _room(run, least, needed, None), names.between(run))


def _room(run: Run, face: float, needed: float | None, nipple: float | None) -> Room:
    return Room(
        subject=run.id, line=run.line, where=where_of(run), face_to_face=face, needed=needed,
        own_room=nominal(run.size), nipple=nipple,
    )  # fmt: skip


def _socket_family(work: Work, port: Port, part: Part, pipe_family: str, pipe_series: str) -> str:
    """Family of the pipe that a socket is made for; empty if it cannot be told."""
    if port.size.metric:
        return "metric"
    if port.series == pipe_series and part.type is not None:
        return pipe_family  # a fitting taken for this line's own pipe
    choices = od_families(port.series)
    if len(choices) == 1:
        return choices[0]
    return work.pipes.family(port.size, port.material, port.series)


def _meetings(work: Work) -> Iterator[tuple[str, Run | None, Port, Part, Size, str, str, bool]]:
    """Every socket and what goes into it: name, run, socket port and part, size, material, series, mixed."""
    graph = work.graph
    for run in graph.runs.values():
        for part_id, port_name in (run.a, run.b):
            part = graph.parts[part_id]
            port = part.port(port_name)
            if port.form is Form.SOCKET:
                yield run.id, run, port, part, run.size, run.material, run.series, part.mixed
    for tie in graph.connections:
        a, b = graph.parts[tie.a[0]], graph.parts[tie.b[0]]
        pa, pb = a.port(tie.a[1]), b.port(tie.b[1])
        if tie.tie is Tie.CEMENTED:
            if pa.form is not Form.SOCKET:
                a, b, pa, pb = b, a, pb, pa
            yield b.id, None, pa, a, pb.size, pb.material, pb.series, a.mixed or b.mixed
        elif tie.tie in (Tie.FLANGED, Tie.RINGED, Tie.THREADED) and pa.size != pb.size:
            yield b.id, None, pa, a, pb.size, pb.material, pb.series, True


def add_systems(causes: Causes, work: Work, names: Subjects) -> None:
    """Size, material, family and series at every socket, and the family said for every pipe."""
    lines = work.graph.lines
    for _, run, port, part, size, material, series, mixed in _meetings(work):
        line = run.line if run else part.line
        family = names.family(size, material, series, lines[line].od_family)
        where = where_of(run or part)
        joints = names.at_port(part.id, port.name)
        subject = f"{part.line} {face_name(part)}"
        tied = run is not None or port.form is Form.SOCKET
        if size != port.size:
            causes.add(
                "SYS-01", (size, port.size, material, series, port.series, kind_words(part)),
                Sizes(
                    subject=subject, line=line, where=where, pipe_size=size, socket_size=port.size,
                    material=material, pipe_series=series, socket_series=port.series, pipe_family=family,
                    part=kind_words(part),
                ),
                subject, joints=joints,
            )  # fmt: skip
            continue
        if not tied:
            continue
        if material != port.material:
            causes.add(
                "SYS-02", (material, port.material, mixed, kind_words(part)),
                Materials(
                    subject=subject, line=line, where=where, pipe_material=material,
                    part_material=port.material, mixed=mixed, part=kind_words(part),
                ),
                subject, joints=joints,
            )  # fmt: skip
            continue
        if family and (series == port.series and part.type is not None):
            continue
        other = _socket_family(work, port, part, family, series)
        if not family and not other:
            continue  # SYS-04 asks for it
        causes.add(
            "SYS-03", (size, material, family, other, series, port.series),
            Systems(
                subject=subject, line=line, where=where, size=size, material=material, pipe_family=family,
                socket_family=other, pipe_series=series, socket_series=port.series, part=kind_words(part),
            ),
            subject, joints=joints,
        )  # fmt: skip
    seen: set[tuple[Size, str, str, str]] = set()
    for run in work.graph.runs.values():
        key = (run.size, run.material, run.series, lines[run.line].od_family)
        if key in seen:
            continue
        seen.add(key)
        family = names.family(*key)
        causes.add(
            "SYS-04", key[:3],
            Family(
                subject=names.pipe_words(run), size=run.size, material=run.material, series=run.series,
                family=family, choices=od_families(run.series),
            ),
            names.pipe_words(run), joints=() if family else names.of_pipe(run.size, run.material, run.series),
        )  # fmt: skip


def add_stock(causes: Causes, work: Work, names: Subjects) -> None:
    """The stock item of every pipe, bells, and repeats of spools."""
    settings = work.job.settings
    for piece in work.cutting.pieces:
        items: tuple[str, ...] = (piece.stock,)
        if not piece.stock:
            items = tuple(s.id for s in settings.stock_for(piece.size, piece.material, piece.series))
        causes.add(
            "STK-01", (piece.size, piece.material, piece.series, items),
            StockNamed(
                subject=names.pipe_words(piece), line=piece.line, size=piece.size, material=piece.material,
                series=piece.series, items=items,
            ),
            names.pipe_words(piece), pieces=() if piece.stock else (piece.id,),
        )  # fmt: skip
    used: dict[str, list[str]] = {}
    for piece in work.cutting.pieces:
        if piece.stock:
            used.setdefault(piece.stock, [])
            if piece.short is Short.BELL:
                used[piece.stock].append(piece.id)
    for stock, pieces in used.items():
        item = settings.stock_item(stock)
        if item is not None:
            causes.add(
                "STK-02", stock,
                BellMeasured(
                    subject=item.id, stock=item.id, belled=item.belled, depth=item.bell_depth
                ),
                stock, pieces=pieces,
            )  # fmt: skip
    for name, count, odd in repeats(work.graph):
        for one in odd or (Odd("", "", "", None, None, 0),):
            causes.add(
                "SPL-01", (name, one.part),
                SpoolAlike(
                    subject=one.part or name, line=one.line, where=one.where, spool=name, repeats=count,
                    alike=one.alike or count, differs_at=one.part, how=one.how, turned=one.turned,
                    longer=one.longer,
                ),
                one.part or name, joints=names.at_part(one.part) if one.part else (),
            )  # fmt: skip
