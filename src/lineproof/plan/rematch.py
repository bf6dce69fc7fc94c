"""Finds the statements of the last issue again in the walk as it is now.

A statement is the same if its words are the same and stand in the same order among the others, or if it
carries the same label or tag; one that was edited keeps its key if it stands between two matched neighbours
and is the only one there that makes this kind of part. Where a match can be told in more than one way, the
answer is a question.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from lineproof.floor.errors import BadInput, Place
from lineproof.job.joints_csv import LINE, JointRow, JointsFile
from lineproof.plan.ask import AskWhich, SameAs
from lineproof.plan.keys import Said
from lineproof.plan.walked import LineMatch, Old, read_walked, walked_text

SAME_LINE = 0.8
"""Share of statements that a renamed line has in common with what it was (own rule)."""

HALF = 0.5
"""Share that a line of the same name needs, or it is looked for under other names first (own rule)."""

_UNSAFE = re.compile(r"[|>~:+\s]")


@dataclass(frozen=True, slots=True)
class Rematch:
    """The lines and statements of the last issue as found again.

    Parameters
    ----------
    line_keys : dict
        Line name now to its lasting key, old or new.
    statement_keys : dict
        Line name now to the lasting keys of its statements.
    walked : dict
        Line name now to what the file keeps of it.
    gone : tuple of str
        Lasting keys of lines that are walked no more.
    questions : tuple of AskWhich
    """

    line_keys: dict[str, str]
    statement_keys: dict[str, tuple[str, ...]]
    walked: dict[str, str]
    gone: tuple[str, ...]
    questions: tuple[AskWhich, ...]


def rematch(
    now: Mapping[str, Sequence[Said]],
    files: Mapping[str, str],
    old: JointsFile,
    answers: Iterable[SameAs] = (),
) -> Rematch:
    """Find every statement of the last issue again.

    Parameters
    ----------
    now : mapping
        Line name to its statements.
    files : mapping
        Line name to the file it is walked in.
    old : JointsFile
        joints.csv.
    answers : iterable of SameAs

    Returns
    -------
    Rematch

    Raises
    ------
    BadInput
        An answer names a joint or a row that is not there, or two answers contradict each other.
    """
    were = {key: read_walked(row) for key, row in old.lines.items()}
    joints = joints_by_statement(old.joints.values())
    fixed = _answered(answers, now, files, old)
    line_keys, questions = _lines(now, files, were, joints, fixed)
    fresh = set(old.line_keys)
    keys: dict[str, tuple[str, ...]] = {}
    for name, said in now.items():
        key = line_keys.get(name)
        if key is None:
            key = line_keys[name] = _new_line_key(name, fresh)
            fresh.add(key)
            keys[name] = tuple(f"s{n}" for n in range(1, len(said) + 1))
            continue
        line = LineMatch(name, files[name], key, were[key], said, joints)
        pairs = line.match(fixed.get(key, {}))
        questions += line.questions
        keys[name] = _give_keys(pairs, were[key], len(said), _highest(old, key, line))
    return Rematch(
        line_keys=line_keys,
        statement_keys=keys,
        walked={name: walked_text(keys[name], said) for name, said in now.items()},
        gone=tuple(k for k in were if k not in set(line_keys.values())),
        questions=tuple(questions),
    )


def joints_by_statement(rows: Iterable[JointRow]) -> dict[tuple[str, str], list[str]]:
    """Joints by the line and statement that their socket hangs on.

    Parameters
    ----------
    rows : iterable of JointRow
        Living joints.

    Returns
    -------
    dict
        Lasting keys of line and statement to ids.
    """
    found: dict[tuple[str, str], list[str]] = {}
    for row in rows:
        if "~" not in row.a:  # those within a leg hang on no statement
            found.setdefault(statement_of(row), []).append(row.id)
    return found


def statement_of(row: JointRow) -> tuple[str, str]:
    """Lasting keys of line and statement that a joint's socket hangs on.

    Parameters
    ----------
    row : JointRow
        Of a joint.

    Returns
    -------
    tuple of str
    """
    line, _, rest = row.a.partition("|")
    return line, rest.partition(":")[0]


def _new_line_key(name: str, taken: set[str]) -> str:
    base = _UNSAFE.sub("-", name)
    key, n = base, 1
    while key in taken:
        n += 1
        key = f"{base}({n})"
    return key


def _highest(old: JointsFile, key: str, line: LineMatch) -> int:
    """The highest statement number a line ever had."""
    if all(i == j for i, j in line.found.items()) and len(line.found) == len(line.said):
        return 0  # no new one is needed
    numbers = [0]
    for row in old.rows:
        if row.kind == LINE and row.id == key:
            numbers += [int(k[1:]) for k in read_walked(row).keys]
    return max(numbers)


def _give_keys(pairs: Mapping[int, int], old: Old, count: int, highest: int) -> tuple[str, ...]:
    by_new = {j: old.keys[i] for i, j in pairs.items()}
    keys = []
    for j in range(count):
        if j not in by_new:
            highest += 1
        keys.append(by_new.get(j) or f"s{highest}")
    return tuple(keys)


def _answered(
    answers: Iterable[SameAs], now: Mapping[str, Sequence[Said]], files: Mapping[str, str], old: JointsFile
) -> dict[str, dict[str, tuple[str, int]]]:
    """Old line key -> statement key -> line name now and ordinal there (-1: gone)."""
    fixed: dict[str, dict[str, tuple[str, int]]] = {}
    living = old.joints
    for answer in answers:
        row = living.get(answer.joint)
        if row is None:
            raise BadInput(
                f"the answer names {answer.joint}, which is no living joint of joints.csv",
                next="check the id of the joint",
            )
        spots = [
            (name, n)
            for name, said in now.items()
            if files[name] == answer.file
            for n, s in enumerate(said)
            if s.row == answer.row
        ]
        if answer.row and not spots:
            raise BadInput(
                f"the answer for {answer.joint} names {answer.file}:{answer.row}, where no statement stands",
                next="name the row of the statement",
            )
        if "~" in row.a:
            continue  # within a leg there is no statement to find: the answer only says that it stays
        line, statement = statement_of(row)
        spot = spots[0] if answer.row else ("", -1)
        before = fixed.setdefault(line, {}).setdefault(statement, spot)
        if before != spot:
            raise BadInput(
                f"two answers put the statement of {answer.joint} in two places", next="leave one of them out"
            )
    return fixed


def _lines(
    now: Mapping[str, Sequence[Said]],
    files: Mapping[str, str],
    were: Mapping[str, Old],
    joints: Mapping[tuple[str, str], list[str]],
    fixed: Mapping[str, Mapping[str, tuple[str, int]]],
) -> tuple[dict[str, str], list[AskWhich]]:
    """Which line now is which of the last issue."""
    found: dict[str, str] = {}
    open_old = dict(were)
    texts = {name: [s.text for s in said] for name, said in now.items()}

    def take(name: str, key: str) -> None:
        found[name] = key
        del open_old[key]

    for key, spots in fixed.items():
        named = {name for name, n in spots.values() if n >= 0}
        if len(named) > 1:
            raise BadInput(
                f"the answers put line {were[key].name} in two lines: {', '.join(sorted(named))}",
                next="leave some of them out",
            )
        for name in named:
            if key in open_old and name not in found:
                take(name, key)
    by_name = {line.name: key for key, line in were.items()}
    for name in now:
        key = by_name.get(name, "")
        if key in open_old and name not in found and open_old[key].texts == texts[name]:
            take(name, key)
    exact: dict[tuple[str, ...], tuple[list[str], list[str]]] = {}
    for key, line in open_old.items():
        exact.setdefault(tuple(line.texts), ([], []))[0].append(key)
    for name in now:
        if name not in found and tuple(texts[name]) in exact:
            exact[tuple(texts[name])][1].append(name)
    for keys, names in exact.values():
        if len(keys) == len(names) == 1:
            take(names[0], keys[0])
    for name in now:
        key = by_name.get(name, "")
        if (
            key in open_old
            and name not in found
            and _alike(Counter(open_old[key].texts), Counter(texts[name])) >= HALF
        ):
            take(name, key)
    left = {name: said for name, said in texts.items() if name not in found}
    renamed, questions = _renamed(files, left, open_old, joints)
    for name, key in renamed.items():
        take(name, key)
    for name in now:  # walked anew under its old name
        key = by_name.get(name, "")
        if key in open_old and name not in found:
            take(name, key)
    return found, questions


def _alike(one: Counter[str], other: Counter[str]) -> float:
    """Share of statements that two lines have in common."""
    return (one & other).total() / max(one.total(), other.total(), 1)


def _renamed(
    files: Mapping[str, str],
    texts: Mapping[str, list[str]],
    open_old: Mapping[str, Old],
    joints: Mapping[tuple[str, str], list[str]],
) -> tuple[dict[str, str], list[AskWhich]]:
    """Lines that have another name now but mostly the same words."""
    likely: dict[str, list[str]] = {key: [] for key in open_old}
    backward: dict[str, list[str]] = {name: [] for name in texts}
    counts = {name: Counter(said) for name, said in texts.items()}
    for key, line in open_old.items():
        mine = Counter(line.texts)
        for name, theirs in counts.items():
            if _alike(mine, theirs) >= SAME_LINE:
                likely[key].append(name)
                backward[name].append(key)
    taken: dict[str, str] = {}
    questions = []
    for key, names in likely.items():
        if len(names) == 1 and len(backward[names[0]]) == 1:
            taken[names[0]] = key
        elif names:
            ids = [j for (line, _), made in joints.items() if line == key for j in made]
            if ids:
                rivals = "" if len(names) > 1 else ", and another line that is gone could be it too"
                questions.append(
                    AskWhich(
                        names[0],
                        f"line {open_old[key].name} is walked no more, and {' or '.join(names)} could be it"
                        f" by its words{rivals}",
                        tuple(ids),
                        tuple(Place(files[name], 0) for name in names),
                    )
                )
    return taken, questions
