"""Says the parts, pipes and joints of a plan in keys that outlast a change of the walk.

A part is named by the lasting key of the statement that makes it and its role there; a mate by the face it
meets; a pipe by the two part-ports it runs between.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from enum import Enum

from lineproof.book.sizes import Size
from lineproof.job.graph import End, LineGraph, Part, Run
from lineproof.job.statements import Put, Saddle, Statement, Step, Tee
from lineproof.plan.model import Cutting, JointKind, JointPlace, Piece
from lineproof.sums.vectors import dot, sub

_NAMED = re.compile(r'(?:tee|saddle|put) "(?:[^"\\]|\\.)*"')
_FIELDS: dict[type, tuple[tuple[str, object], ...]] = {}
_SKIPPED = ("spot", "comment")


@dataclass(frozen=True, slots=True)
class Said:
    """One statement as it is matched.

    Parameters
    ----------
    text : str
        What it says, in metres, without its comment and its place in the file.
    makes : str
        Roles and kinds of the parts it makes, mates left out.
    row : int
        Its line in the file; 0 if not known. [-]
    """

    text: str
    makes: str
    row: int = 0

    @property
    def name(self) -> str:
        """The label or tag that it carries; empty if it has none."""
        found = _NAMED.match(self.text)
        return found.group() if found else ""


def said(statement: Statement) -> str:
    """What a statement says, the same for ``12'`` and ``144"``, without comment and place.

    Parameters
    ----------
    statement : Statement
        Of a walk.

    Returns
    -------
    str
        One line of text.
    """
    kind = type(statement)
    named = ""
    skip = ""
    if isinstance(statement, (Tee, Saddle)):
        named, skip = f" {_value(statement.label)}", "label"
    elif isinstance(statement, Put):
        named, skip = f" {_value(statement.tag)}", "tag"
    parts = [kind.__name__.lower() + named]
    for name, default in _fields(kind):
        value = getattr(statement, name)
        if value != default and name != skip:
            parts.append(f"{name}={_value(value)}")
    return " ".join(parts)


def _fields(kind: type) -> tuple[tuple[str, object], ...]:
    if kind not in _FIELDS:
        _FIELDS[kind] = tuple((f.name, f.default) for f in fields(kind) if f.name not in _SKIPPED)
    return _FIELDS[kind]


def _value(value: object) -> str:
    if isinstance(value, Enum):
        return str(value.value)
    if isinstance(value, float):
        return repr(round(value, 6) + 0.0)
    if isinstance(value, str):
        return json.dumps(value, ensure_ascii=False)
    if isinstance(value, Size):
        return value.text.replace(" ", "")
    if isinstance(value, Step):
        return f"{value.way.value}:{_value(value.length)}"
    if isinstance(value, tuple):
        return ",".join(_value(v) for v in value)
    if hasattr(value, "__dataclass_fields__"):
        kind = type(value)
        told = (f"{n}:{_value(getattr(value, n))}" for n, d in _fields(kind) if getattr(value, n) != d)
        return "(" + " ".join(told) + ")"
    return str(value).lower()


def role_of(part: Part) -> tuple[int, str]:
    """Ordinal of the statement that makes a part, and the part's role there."""
    index, _, role = part.key.partition(":")
    return int(index), role


def is_mate(part: Part) -> bool:
    """Whether a part was put on only to meet a flange or a thread."""
    return part.key.partition(":")[2].startswith("mate-")


def walk_as_said(
    graph: LineGraph, statements: Mapping[str, Sequence[Statement]]
) -> dict[str, tuple[Said, ...]]:
    """Every line as it is matched.

    Parameters
    ----------
    graph : LineGraph
        The lines as laid.
    statements : mapping
        Line name to its statements, head and remarks left out, as ``job.lay.split_lines`` gives them.

    Returns
    -------
    dict
        Line name to its statements.
    """
    found = {}
    for name, line in graph.lines.items():
        makes: dict[int, list[str]] = {}
        for part_id in line.parts:
            part = graph.parts[part_id]
            if not is_mate(part):
                index, role = role_of(part)
                makes.setdefault(index, []).append(f"{role}={part.kind}")
        found[name] = tuple(
            Said(said(s), " ".join(sorted(makes.get(n, ()))), s.spot.line)
            for n, s in enumerate(statements[name])
        )
    return found


@dataclass(frozen=True, slots=True)
class Tied:
    """One joint in lasting keys.

    Parameters
    ----------
    place : JointPlace
    a : str
        The part-port of the socket; for a joint within a leg empty until the leg's old joints are known.
    b : str
        The part-port that enters.
    run : str
        Id of the run it lies on; empty if a spigot of a part enters.
    inner : int
        Which joint within the leg, from 1; 0 at the ends of a leg. [-]
    role : str
        Of a joint within a leg: ``"a"``, ``"b"`` or ``"bell"``.
    """

    place: JointPlace
    a: str
    b: str
    what_a: str
    what_b: str
    run: str = ""
    inner: int = 0
    role: str = ""
    at: str = ""
    piece: str = ""


class Keys:
    """Lasting keys of parts, ports and runs.

    Parameters
    ----------
    graph : LineGraph
        The lines as laid.
    line_keys : mapping
        Line name to its lasting key.
    statement_keys : mapping
        Line name to the lasting keys of its statements.
    """

    def __init__(
        self, graph: LineGraph, line_keys: Mapping[str, str], statement_keys: Mapping[str, Sequence[str]]
    ) -> None:
        self.graph = graph
        self.line_keys = line_keys
        self.statement_keys = statement_keys
        self.mates: dict[str, End] = {}
        for tie in graph.connections:
            for mine, other in ((tie.b, tie.a), (tie.a, tie.b)):
                if is_mate(graph.parts[mine[0]]) and mine[0] not in self.mates:
                    if not is_mate(graph.parts[other[0]]):
                        self.mates[mine[0]] = other
        self.parts: dict[str, str] = {}

    def part(self, part_id: str) -> str:
        """Lasting key of a part."""
        known = self.parts.get(part_id)
        if known is None:
            part = self.graph.parts[part_id]
            face = self.mates.get(part_id)
            if face is not None:
                known = f"{self.port(*face)}+{part.kind}"
            else:
                index, role = role_of(part)
                statement = self.statement_keys[part.line][index]
                known = f"{self.line_keys[part.line]}|{statement}:{role}:{part.kind}"
            self.parts[part_id] = known
        return known

    def port(self, part_id: str, name: str) -> str:
        """Lasting key of a port."""
        return f"{self.part(part_id)}.{name}"

    def run(self, run: Run) -> str:
        """Lasting key of a run."""
        return f"{self.port(*run.a)}>{self.port(*run.b)}"

    def tied(self, cutting: Cutting) -> list[Tied]:
        """All joints of a cutting in lasting keys, in its order."""
        pieces = {p.id: p for p in cutting.pieces}
        found = []
        for place in cutting.joints:
            if place.kind is JointKind.SPIGOT:
                a, b = (self.graph.parts[e[0]] for e in (place.socket, place.spigot))
                found.append(
                    Tied(place, self.port(*place.socket), self.port(*place.spigot), words(a), words(b))
                )
                continue
            piece = pieces[place.spigot[0]]
            found.append(self.on_pipe(place, piece, pieces, cutting))
        return found

    def on_pipe(self, place: JointPlace, piece: Piece, pieces: Mapping[str, Piece], cutting: Cutting) -> Tied:
        """A joint that a pipe makes."""
        run = self.graph.runs[piece.run]
        pipe = f"{place.size.text} {piece.material} {piece.series} pipe"
        at = stretch = ""
        if piece.exact is not None:
            base = (run.off_a or 0.0) - (run.depth_a or 0.0)
            at = metres(dot(sub(place.place, run.start), run.way) - base)
            start = dot(sub(piece.start, run.start), run.way) - base
            length = piece.exact if piece.whole else piece.exact - piece.grown  # as it lies when joined
            stretch = f"{metres(start)} {metres(start + length)}"
        if place.kind is JointKind.SADDLE:
            saddle = self.graph.parts[place.socket[0]]
            return Tied(
                place, self.port(*place.socket), f"{self.run(run)}~saddle", words(saddle), pipe, run.id,
            )  # fmt: skip
        side = place.spigot[1]
        if place.kind is JointKind.BELL:
            inner = min(piece.n, pieces[place.socket[0]].n)
            bell = f"bell of {place.size.text} {piece.material} {piece.series} pipe"
            return Tied(place, "", "", bell, pipe, run.id, inner, "bell", at, stretch)
        coupling = cutting.couplings.get(place.socket[0])
        if coupling is not None:
            inner = piece.n if side == "b" else piece.n - 1
            role = place.socket[1]
            return Tied(place, "", "", words(coupling), pipe, run.id, inner, role, at, stretch)
        part = self.graph.parts[place.socket[0]]
        return Tied(
            place, self.port(*place.socket), f"{self.run(run)}.{side}", words(part), pipe, run.id,
            at=at, piece=stretch,
        )  # fmt: skip


def metres(value: float) -> str:
    """A length as kept in joints.csv.

    Parameters
    ----------
    value : float
        [m]

    Returns
    -------
    str
        To a tenth of a millimetre.
    """
    return f"{round(value, 4) + 0.0:.4f}"


def words(part: Part) -> str:
    """A part in words: size, what it is, and in quotes what it is called if it has a tag or stands."""
    kind = "standing end" if part.kind == "ground" else str(part.kind)
    text = f"{part.size.text} {part.ports[0].material} {part.ports[0].series} {kind}"
    if part.angle_deg:
        text += f" {part.angle_deg:g} deg"
    if part.size2 is not None:
        text += f" x {part.size2.text}"
    if part.name and (part.type is None):
        text += f' "{part.name}"'
    return text
