"""Gives every joint its lasting id: the old one where both part-ports are found again, else the next number.

Ids are born and retired only when a pack is issued. Until then new joints show the number that the issue will
give them, and a joint that was taken out and put back before the issue is simply still there; one that was
retired by an issue stays retired, and what is put back later gets a new id. A number is never used again.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from lineproof.floor.errors import BadInput, EntrySealed, Place
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import LINE, JointRow, JointsFile
from lineproof.job.statements import Statement
from lineproof.plan.ask import AskWhich, SameAs
from lineproof.plan.keys import Keys, Tied, walk_as_said
from lineproof.plan.model import Cutting, JointKind, JointPlace
from lineproof.plan.rematch import Rematch, rematch, statement_of

SAME_SPOT = 0.025
"""How far a joint within a leg may seem to move and still be the same (own rule). [m]"""

_INNER = re.compile(r"(\d+)\.(a|b|bell)")


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
    naming = _Naming(graph, keys, old, recorded, {a.joint for a in answers if a.row}, bool(found.questions))
    naming.match(keys.tied(cutting))
    questions = (*found.questions, *naming.questions)
    return _rows(naming, found, old, revision, questions, issuing=issuing)


class _Naming:
    """Old rows for joints in lasting keys."""

    def __init__(
        self,
        graph: LineGraph,
        keys: Keys,
        old: JointsFile,
        recorded: frozenset[str],
        confirmed: set[str],
        asking: bool,
    ) -> None:
        self.graph = graph
        self.keys = keys
        self.living = old.joints
        self.recorded = recorded
        self.confirmed = confirmed
        self.asking = asking
        self.questions: list[AskWhich] = []
        self.by_a = {r.a: r for r in self.living.values()}
        self.tied: list[Tied] = []
        self.rows: list[JointRow | None] = []
        unknown = recorded - old.newest.keys()
        if unknown:
            raise BadInput(
                f"there is a record of {min(unknown)}, which joints.csv does not know",
                next="put back the joints.csv that belongs to the records; the newest issue holds a copy",
            )

    def match(self, tied: Sequence[Tied]) -> None:
        """Find the old row of every joint, or None."""
        inner = self.inner_numbers(tied)
        taken: set[str] = set()
        for t in tied:
            lookup = t.a
            if t.inner:
                run = self.keys.run(self.graph.runs[t.run])
                was, number = inner[t.run, t.inner]
                side = "pipe" if t.role == "bell" else {"a": "before", "b": "after"}[t.role]
                t = replace(t, a=f"{run}~{number}.{t.role}", b=f"{run}~{number}.{side}")
                lookup = f"{was}~{number}.{t.role}" if was else ""
            row = self.by_a.get(lookup)
            if row is not None and not self.is_same(row, t, lookup):
                row = None
            if row is not None:
                taken.add(row.id)
            self.tied.append(t)
            self.rows.append(row)
        if not self.asking:
            self.refuse_lost(taken)

    def is_same(self, row: JointRow, t: Tied, lookup: str) -> bool:
        """Whether a joint is still the one of an old row; a recorded one must match on both sides."""
        if row.kind != t.place.kind.value or (t.place.kind is JointKind.SPIGOT and row.b != t.b):
            return False
        if row.id in self.recorded:
            if (_kind(row.what_a), _kind(row.what_b)) != (_kind(t.what_a), _kind(t.what_b)):
                raise self.refusal(row, f"but the walk now says {t.what_a} and {t.what_b}")
            whole = row.b == t.b and lookup == t.a
            if t.inner and whole and row.at and t.at and abs(float(row.at) - float(t.at)) > SAME_SPOT:
                raise self.refusal(row, f"{row.at} m along its leg, but it would now stand at {t.at} m")
            if not whole and row.id not in self.confirmed:
                part = self.graph.parts.get(t.place.socket[0]) if not t.inner else None
                there = part or self.graph.runs[t.run]
                spot = Place(there.file, there.spot.line)
                self.questions.append(
                    AskWhich(
                        t.place.line,
                        f"{row.id} is made, its socket is found again, but its pipe now leads elsewhere;"
                        " if the pipe in it stays, say that it is the same, else cut it out in the logbook",
                        (row.id,),
                        (spot,),
                        may_be_gone=False,
                    )
                )
        return True

    def refuse_lost(self, taken: set[str]) -> None:
        """Refuse to lose a joint that has a record."""
        lost = sorted((self.recorded & self.living.keys()) - taken, key=_natural)
        if lost:
            more = f"; {len(lost) - 1} more recorded joints are missing" if len(lost) > 1 else ""
            raise self.refusal(self.living[lost[0]], f"but it is not in the walk any more{more}")

    def refusal(self, row: JointRow, what: str) -> EntrySealed:
        """A recorded joint may not be lost or changed by a change of the walk."""
        return EntrySealed(
            f"{row.id} has a record, {row.what_a} and {row.what_b}, {what}",
            allowed="a walk in which every recorded joint still stands",
            next="cut it out in the logbook first, or put the walk back",
            place=self.place_of(row),
        )

    def place_of(self, row: JointRow) -> Place:
        """The line's place in its walk, if it is still there."""
        key = statement_of(row)[0]
        for name, now in self.keys.line_keys.items():
            if now == key and name in self.graph.lines:
                line = self.graph.lines[name]
                return Place(line.file, line.spot.line)
        return Place()

    def inner_numbers(self, tied: Sequence[Tied]) -> dict[tuple[str, int], tuple[str, int]]:
        """For every joint within a leg: the old run and its lasting number there ("" for a new one).

        Of the joints within one leg, those that stay in their place keep their number; if there are as many
        as before, the others keep theirs in order.
        """
        were: dict[str, dict[int, str]] = {}
        for row in self.living.values():
            run, _, rest = row.a.rpartition("~")
            inner = _INNER.fullmatch(rest)
            if inner:
                were.setdefault(run, {}).setdefault(int(inner[1]), row.at)
        now: dict[str, dict[int, str]] = {}
        for t in tied:
            if t.inner:
                now.setdefault(t.run, {}).setdefault(t.inner, t.at)
        olds = self.old_runs(now, were)
        found: dict[tuple[str, int], tuple[str, int]] = {}
        for run_id, places in now.items():
            was = olds.get(run_id, "")
            begins = was.split(">")[0] == self.keys.run(self.graph.runs[run_id]).split(">")[0]
            pairs = (
                _same_spots(were.get(was, {}), places) if begins else _from_the_end(were.get(was, {}), places)
            )
            highest = max(were.get(was, {}), default=0)
            for n in sorted(places):
                if n in pairs:
                    found[run_id, n] = (was, pairs[n])
                else:
                    highest += 1
                    found[run_id, n] = ("", highest)
        return found

    def old_runs(self, now: Iterable[str], were: Mapping[str, object]) -> dict[str, str]:
        """Which old leg a leg is: by both ends, else by the one it begins at, else by the one it ends at."""
        keys = {run_id: self.keys.run(self.graph.runs[run_id]) for run_id in now}
        olds = {run_id: key for run_id, key in keys.items() if key in were}
        open_old = [key for key in were if key not in set(olds.values())]
        for end in (0, 1):
            by_end = {key.split(">")[end]: key for key in open_old}
            for run_id, key in keys.items():
                was = by_end.get(key.split(">")[end])
                if was is not None and run_id not in olds and was in open_old:
                    olds[run_id] = was
                    open_old.remove(was)
        return olds


def _same_spots(were: Mapping[int, str], now: Mapping[int, str]) -> dict[int, int]:
    """Number now to lasting number, for the joints within one leg."""
    pairs: dict[int, int] = {}
    left = sorted(were, key=lambda m: (float(were[m]) if were[m] else 0.0, m))
    order = list(left)
    for n in sorted(now):
        for m in left:
            if now[n] and were[m] and abs(float(now[n]) - float(were[m])) <= SAME_SPOT:
                pairs[n] = m
                left.remove(m)
                break
    if len(were) == len(now):
        free = [n for n in sorted(now) if n not in pairs]
        pairs.update(zip(free, [m for m in order if m in left], strict=True))
    return pairs


def _from_the_end(were: Mapping[int, str], now: Mapping[int, str]) -> dict[int, int]:
    """The same for a leg that begins elsewhere than before: counted from its end."""
    order = sorted(were, key=lambda m: (float(were[m]) if were[m] else 0.0, m))
    return dict(zip(sorted(now, reverse=True), reversed(order), strict=False))


def _kind(what: str) -> str:
    """What a part is, without what it is called."""
    return what.partition(' "')[0]


def _natural(joint: str) -> tuple[str, int]:
    prefix, _, number = joint.rpartition("/J")
    return prefix, int(number)


def _rows(
    naming: _Naming,
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
    rows = []
    living = old.lines
    for name, key in found.line_keys.items():
        was = living.get(key)
        born = was.born if was is not None else revision
        row = JointRow(id=key, kind=LINE, line=name, born=born, walked=found.walked[name])
        if row != was:
            rows.append(row)
    return rows + [replace(living[key], retired=revision) for key in found.gone]


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
