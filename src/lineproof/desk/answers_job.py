"""What the verbs new, walk, taped and figure print with ``--json``; docs/schemas is written from these."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from lineproof.floor.worked import Figure, Symbol, Worked
from lineproof.job.graph import LaidLine, LineGraph, OffsetFact, Part, Run, Turn
from lineproof.job.taped import Taped
from lineproof.plan.model import Piece


@dataclass(frozen=True, slots=True, kw_only=True)
class NewAnswer:
    """A job folder was made.

    Parameters
    ----------
    folder : str
        As it was named.
    files : tuple of str
        What it holds, by path in the folder.
    """

    folder: str
    files: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkedLine:
    """A line as laid, with its own parts, runs, turns and offsets in walking order."""

    line: LaidLine
    parts: tuple[Part, ...]
    runs: tuple[Run, ...]
    turns: tuple[Turn, ...]
    offsets: tuple[OffsetFact, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class WalkAnswer:
    """The lines read back."""

    lines: tuple[WalkedLine, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class TapedAnswer:
    """The row that was added to taped.csv, and the pieces that it recuts.

    Parameters
    ----------
    taped : Taped
    drawn : float or None
        What the drawing says, face to face; None where a fitting is not measured. [m]
    far_off : bool or None
        Off by more than a field piece is listed long: to be taped again before it is cut.
    pieces : tuple of Piece
        Those of the gap, and all others that changed.
    """

    taped: Taped
    drawn: float | None
    far_off: bool | None
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureAnswer:
    """A figure with its working.

    Parameters
    ----------
    figure : str
        Its name.
    worked : Worked
    source : str
        Where the formula comes from.
    """

    figure: str
    worked: Worked
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FigureWords:
    """How one figure is asked.

    Parameters
    ----------
    name : str
    title : str
        What it gives, in one line.
    formula : str
    symbols : mapping
        Its inputs by name.
    may_be_left_out : tuple of str
        Inputs that have a usual value.
    result : Symbol
    note : str
        Valid range or caution.
    source : str
        Where the formula comes from.
    """

    name: str
    title: str
    formula: str
    symbols: Mapping[str, Symbol]
    may_be_left_out: tuple[str, ...]
    result: Symbol
    note: str
    source: str


@dataclass(frozen=True, slots=True, kw_only=True)
class FiguresAnswer:
    """The figures that can be asked."""

    figures: tuple[FigureWords, ...]


def walked(graph: LineGraph, name: str) -> WalkedLine:
    """One line of a graph.

    Parameters
    ----------
    graph : LineGraph
    name : str
        The line.

    Returns
    -------
    WalkedLine
    """
    laid = graph.lines[name]
    return WalkedLine(
        line=laid,
        parts=tuple(graph.parts[p] for p in laid.parts),
        runs=tuple(graph.runs[r] for r in laid.runs),
        turns=tuple(t for t in graph.turns if t.line == name),
        offsets=tuple(o for o in graph.offsets if o.line == name),
    )


def figure_words(figure: Figure) -> FigureWords:
    """How a figure is asked.

    Parameters
    ----------
    figure : Figure

    Returns
    -------
    FigureWords
    """
    return FigureWords(
        name=figure.name,
        title=figure.title,
        formula=figure.formula,
        symbols=figure.symbols,
        may_be_left_out=tuple(n for n in figure.symbols if n in figure.defaults),
        result=figure.result,
        note=figure.note,
        source=figure.source,
    )
