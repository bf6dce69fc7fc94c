"""Gives every joint its lasting id: the old one where both part-ports are found again, else the next number.

Ids are born and retired only when a pack is issued. Until then new joints show the number that the issue will
give them, and a joint that was taken out and put back before the issue is simply still there; one that was
retired by an issue stays retired, and what is put back later gets a new id. A number is never used again.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from lineproof.floor.errors import BadInput, Place
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import LINE, JointRow, JointsFile, line_rows
from lineproof.job.statements import Statement
from lineproof.plan.ask import AskWhich, SameAs
from lineproof.plan.keys import Keys, Tied, walk_as_said
from lineproof.plan.model import Cutting, JointPlace
from lineproof.plan.rematch import Rematch, rematch
from lineproof.plan.same_joint import SameJoints


class MatchUnclear(BadInput):
    """A joint of the last issue could be one of several now, or a made one was half changed.

    ``questions`` holds all of them.
    """

    questions: tuple[AskWhich, ...] = ()


@dataclass(frozen=True, slots=True)
class Named:
    """All joints with their ids, and what the next issue would append to joints.csv.

    Parameters
    ----------
    joints : tuple of JointPlace
        In the order of the cutting, ids filled in.
    rows : tuple of JointRow
        To append with the issue; empty in a draft, while a question is open, and when nothing changed.
    born, retired : tuple of str
        Ids that the issue gives and takes back.
    on_issue : tuple of str
        Provisional names of joints within split legs, which get their ids with the issue.
    questions : tuple of AskWhich
        What has to be answered first.
    revision : int
        Number of the issue these rows are for. [-]
    issuing : bool
        Whether joints within split legs have got their ids.
    """

    joints: tuple[JointPlace, ...]
    rows: tuple[JointRow, ...]
    born: tuple[str, ...]
    retired: tuple[str, ...]
    on_issue: tuple[str, ...]
    questions: tuple[AskWhich, ...]
    revision: int
    issuing: bool

    def must_be_clear(self) -> None:
        """Raise a :class:`MatchUnclear` if a question is open."""
        if self.questions:
            raise unclear(self.questions)


def unclear(questions: Sequence[AskWhich]) -> MatchUnclear:
    """The error that asks.

    Parameters
    ----------
    questions : sequence of AskWhich
        At least one.

    Returns
    -------
    MatchUnclear
    """
    first = questions[0]
    more = f" (and {len(questions) - 1} more)" if len(questions) > 1 else ""
    joints = ", ".join(first.joints[:4]) + (" ..." if len(first.joints) > 4 else "")
    error = MatchUnclear(
        f"it is not clear which joints {joints} of line {first.line} are now: {first.what}{more}",
        allowed=", ".join(str(c) for c in first.candidates[:8]),
        next=f"{first.how}; nothing was changed",
        place=first.candidates[0] if first.candidates else Place(),
    )
    error.questions = tuple(questions)
    return error


def name_joints(
    graph: LineGraph,
    cutting: Cutting,
    statements_by_line: Mapping[str, Sequence[Statement]],
    old: JointsFile,
    *,
    revision: int,
    recorded: frozenset[str] = frozenset(),
    answers: Iterable[SameAs] = (),
    issuing: bool = False,
) -> Named:
    """Name every joint of a cutting.

    Parameters
    ----------
    graph : LineGraph
        The lines as laid.
    cutting : Cutting
        Its pieces and joints.
    statements_by_line : mapping
        Line name to its statements, as ``job.lay.split_lines`` gives them.
    old : JointsFile
        joints.csv as it stands.
    revision : int
        Number of the issue that would come next. [-]
    recorded : frozenset of str
        Ids of joints that have a record and were not cut out.
    answers : iterable of SameAs
        Answers to questions asked before.
    issuing : bool
        Whether this is for an issue: joints within split legs get ids, not provisional names.

    Returns
    -------
    Named

    Raises
    ------
    EntrySealed
        The walk takes out or changes a joint that has a record.
    BadInput
        A record or an answer names a joint that joints.csv does not know.
    """
    answers = tuple(answers)
    said = walk_as_said(graph, statements_by_line)
    files = {name: line.file for name, line in graph.lines.items()}
    found = rematch(said, files, old, answers)
    keys = Keys(graph, found.line_keys, found.statement_keys)
    naming = SameJoints(
        graph, keys, old, recorded, {a.joint for a in answers if a.row}, bool(found.questions)
    )
    naming.match(keys.tied(cutting))
    questions = (*found.questions, *naming.questions)
    return _rows(naming, found, old, revision, questions, issuing=issuing)


def _rows(
    naming: SameJoints,
    found: Rematch,
    old: JointsFile,
    revision: int,
    questions: tuple[AskWhich, ...],
    *,
    issuing: bool,
) -> Named:
    """Ids for all, and the rows that the issue appends: lines, joints as they now stand, retirements."""
    numbers = _Numbers(old, found.line_keys)
    ids: list[str] = [row.id if row is not None else "" for row in naming.rows]
    born: list[str] = []
    on_issue: list[str] = []
    for n, t in enumerate(naming.tied):  # joints of the walk first, so that a draft shows the same numbers
        if not ids[n] and not t.inner:
            ids[n] = numbers.next(t.place.line)
            born.append(ids[n])
    count: dict[str, int] = {}
    for n, t in enumerate(naming.tied):
        if not ids[n]:
            line = t.place.line
            count[line] = count.get(line, 0) + 1
            ids[n] = numbers.next(line) if issuing else f"{line}/(on issue {count[line]})"
            (born if issuing else on_issue).append(ids[n])
    joints = tuple(replace(t.place, id=name) for t, name in zip(naming.tied, ids, strict=True))
    kept = set(ids)
    gone = [row for row in naming.living.values() if row.id not in kept]
    rows: list[JointRow] = []
    if issuing and not questions:
        rows += _line_rows(found, old, revision)
        for t, name, was in zip(naming.tied, ids, naming.rows, strict=True):
            row = _joint_row(t, name, was, revision, made=name in naming.recorded)
            if row != was:
                rows.append(row)
        rows += [replace(row, retired=revision) for row in gone]
    return Named(
        joints, tuple(rows), tuple(born), tuple(row.id for row in gone), tuple(on_issue), questions,
        revision, issuing,
    )  # fmt: skip


def _joint_row(t: Tied, name: str, was: JointRow | None, revision: int, *, made: bool) -> JointRow:
    at, piece = t.at, t.piece
    if was is not None and (made or not at):
        at, piece = was.at, was.piece  # a made joint keeps the piece it was made with
    return JointRow(
        id=name, kind=t.place.kind.value, line=t.place.line, a=t.a, b=t.b, what_a=t.what_a, what_b=t.what_b,
        born=was.born if was is not None else revision, at=at, piece=piece,
    )  # fmt: skip


def _line_rows(found: Rematch, old: JointsFile, revision: int) -> list[JointRow]:
    rows: list[JointRow] = []
    living = old.lines
    for name, key in found.line_keys.items():
        was = living.get(key)
        born = was.born if was is not None else revision
        row = JointRow(id=key, kind=LINE, line=name, born=born, walked=found.walked[name])
        if row != was:
            rows += line_rows(row)
    return rows + [replace(living[key], retired=revision, walked="") for key in found.gone]


class _Numbers:
    """Deals out joint numbers: above every number the line, or any line of its name, ever had."""

    def __init__(self, old: JointsFile, line_keys: Mapping[str, str]) -> None:
        self.highest: dict[str, int] = {}
        for row in old.rows:
            if row.kind != LINE and row.number > self.highest.get(row.prefix, 0):
                self.highest[row.prefix] = row.number
        names: dict[str, set[str]] = {}
        for row in old.rows:
            if row.kind == LINE:
                names.setdefault(row.id, set()).add(row.line)
        self.last = {
            name: max(self.highest.get(n, 0) for n in {name, *names.get(key, ())})
            for name, key in line_keys.items()
        }

    def next(self, line: str) -> str:
        """The next id of a line."""
        self.last[line] += 1
        return f"{line}/J{self.last[line]}"
