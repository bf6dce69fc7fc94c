"""What parts are called on papers and at the tape: tags where there are, else the short running name."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from lineproof.floor.errors import BadInput
from lineproof.job.graph import LineGraph, Part
from lineproof.job.parts import PartKind


def short(part_id: str) -> str:
    """The running name without its line: ``E3`` of ``B-201/E3``."""
    return part_id.rsplit("/", 1)[-1]


def face_name(part: Part, line: str = "") -> str:
    """What the face of a part is called: its tag or name, else its short running name.

    Parameters
    ----------
    part : Part
    line : str
        The line it is named on. A tee of another line is called by its branch, or in full.

    Returns
    -------
    str
    """
    if line and part.line != line:
        return part.label or part.id
    if part.kind == "ground" or (part.type is None and part.name):
        return part.name or short(part.id)
    return short(part.id)


def of_line(part: Part) -> str:
    """A part of another line, as the cut list says it: ``T2 of FW-1``."""
    return f"{short(part.id)} of {part.line}"


def faces_of(graph: LineGraph, line: str) -> dict[str, Part]:
    """The parts a tape on a line can be held to: its own, and those of other lines that its pipes end in.

    Parameters
    ----------
    graph : LineGraph
    line : str

    Returns
    -------
    dict
        By part id.
    """
    found = {i: graph.parts[i] for i in graph.lines[line].parts}
    for run_id in graph.lines[line].runs:
        run = graph.runs[run_id]
        found |= {i: graph.parts[i] for i, _ in (run.a, run.b)}
    return found


def kind_words(part: Part) -> str:
    """Kind, angle and size in a few words: ``elbow 90, 12 in``."""
    kind = part.kind.value if isinstance(part.kind, PartKind) else "standing end"
    angle = f" {part.angle_deg:g}" if part.angle_deg else ""
    sizes = part.size.text if part.size2 is None else f"{part.size.text} x {part.size2.text}"
    return f"{kind}{angle}, {sizes}"


def find_face(parts: Mapping[str, Part], line: str, name: str) -> str:
    """Part id of a face named at the tape.

    Parameters
    ----------
    parts : mapping
        The faces of the line by part id, see :func:`faces_of`.
    line : str
        The line the face belongs to.
    name : str
        Tag, name of what stands, branch label or short running name, with or without ``of LINE`` for a tee
        of another line; case does not matter.

    Returns
    -------
    str
        The part's id.

    Raises
    ------
    BadInput
        If no face, or more than one, has that name.
    """
    wanted = name.strip().lower()
    mine = [p for p in parts.values() if p.line == line]
    hits = [
        p.id
        for p in mine
        if wanted in (short(p.id).lower(), face_name(p).lower(), p.name.lower(), p.label.lower())
    ]
    others = [p for p in parts.values() if p.line != line]
    hits += [p.id for p in others if wanted in (p.id.lower(), face_name(p, line).lower())]
    if not hits:  # the cut list calls the tee of another line by its short name too
        hits = [p.id for p in others if wanted in (short(p.id).lower(), of_line(p).lower())]
    if len(hits) == 1:
        return hits[0]
    exact = [i for i in hits if short(i).lower() == wanted]
    if len(exact) == 1:
        return exact[0]
    known = ", ".join(_some(sorted({face_name(p, line) for p in (*mine, *others)})))
    if not hits:
        raise BadInput(
            f"line {line} has no face named {name!r}", allowed=known, next="use a name from the pack"
        )
    raise BadInput(
        f"{len(hits)} faces of line {line} are named {name!r}",
        allowed=", ".join(short(h) for h in hits[:8]),
        next="use the short name from the pack",
    )


def _some(names: Iterable[str], most: int = 12) -> list[str]:
    listed = list(names)
    return listed if len(listed) <= most else [*listed[:most], "..."]
