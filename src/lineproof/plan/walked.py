"""A line as joints.csv keeps it, and its statements found again in the walk as it is now."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise

from lineproof.floor.errors import BadInput, Place
from lineproof.job.joints_csv import JointRow
from lineproof.plan.align import align, gaps
from lineproof.plan.ask import AskWhich
from lineproof.plan.keys import Said


@dataclass(frozen=True, slots=True)
class Old:
    """A line as it was walked."""

    name: str
    keys: tuple[str, ...]
    said: tuple[Said, ...]

    @property
    def texts(self) -> list[str]:
        """What its statements say."""
        return [s.text for s in self.said]


def walked_text(keys: Sequence[str], said: Sequence[Said]) -> str:
    """A line as walked, as joints.csv keeps it.

    Parameters
    ----------
    keys : sequence of str
        Lasting keys.
    said : sequence of Said
        Statements.

    Returns
    -------
    str
        A row a statement.
    """
    return "\n".join(f"{k}|{s.makes}|{s.text}" for k, s in zip(keys, said, strict=True))


def read_walked(row: JointRow) -> Old:
    """A line as walked, from its row of joints.csv.

    Parameters
    ----------
    row : JointRow
        Of kind ``"line"``.

    Returns
    -------
    Old
    """
    cells = [line.split("|", 2) for line in row.walked.split("\n") if line]
    return Old(row.line, tuple(c[0] for c in cells), tuple(Said(c[2], c[1]) for c in cells))


class LineMatch:
    """One line while its statements are matched."""

    def __init__(
        self,
        name: str,
        file: str,
        key: str,
        old: Old,
        said: Sequence[Said],
        joints: Mapping[tuple[str, str], list[str]],
    ) -> None:
        self.name = name
        self.file = file
        self.key = key
        self.old = old
        self.said = said
        self.joints = joints
        self.found: dict[int, int] = {}
        self.questions: list[AskWhich] = []

    def match(self, fixed: Mapping[str, tuple[str, int]]) -> dict[int, int]:
        """Old ordinal to new ordinal of every statement that is found again."""
        was, now = self.old.texts, [s.text for s in self.said]
        if was == now and not fixed:
            self.found = {i: i for i in range(len(now))}
            return self.found
        at = {key: i for i, key in enumerate(self.old.keys)}
        known = {at[k]: n for k, (_, n) in fixed.items() if k in at}
        gone = {i for i, n in known.items() if n < 0}
        pairs = sorted((i, n) for i, n in known.items() if n >= 0)
        if any(b[1] <= a[1] for a, b in pairwise(pairs)):
            raise BadInput(
                f"the answers for line {self.name} cross each other: its statements would change places",
                next="leave one of them out",
            )
        kept = [i for i in range(len(was)) if i not in gone]
        back = {i: n for n, i in enumerate(kept)}
        result = align([was[i] for i in kept], now, [(back[i], n) for i, n in pairs])
        found = {kept[i]: j for i, j in result.pairs.items()}
        self.by_name(found, gone)
        unclear = {kept[i]: js for i, js in result.unclear.items() if kept[i] not in found}
        unclear = {i: js for i, js in unclear.items() if self.old.said[i].makes}
        self.ask(unclear, set(found.values()))
        self.between(found, gone | set(unclear), {j for js in unclear.values() for j in js})
        self.found = found
        return found

    def by_name(self, found: dict[int, int], gone: set[int]) -> None:
        """A label or a tag is found again wherever it stands and whatever else was edited."""
        names = Counter(s.name for s in self.said)
        were = Counter(s.name for s in self.old.said)
        where = {s.name: j for j, s in enumerate(self.said) if s.name and names[s.name] == 1}
        taken = {j: i for i, j in found.items()}
        for i, s in enumerate(self.old.said):
            j = where.get(s.name, -1)
            if j >= 0 and were[s.name] == 1 and i not in gone and i not in found and j not in taken:
                found[i] = j

    def ask(self, unclear: Mapping[int, tuple[int, ...]], taken: set[int]) -> None:
        """One question for each stretch of statements that could be told in more than one way."""
        stretch: list[int] = []
        candidates: set[int] = set()

        def put() -> None:
            ids = [j for i in stretch for j in self.joints.get((self.key, self.old.keys[i]), ())]
            real = sorted(j for j in candidates if j >= 0 and j not in taken)
            if ids and real:
                words = self.old.said[stretch[0]].text
                self.questions.append(
                    AskWhich(
                        self.name,
                        f"the statement of {ids[0]} ({words}) could be any of {len(real)} in the walk now",
                        tuple(ids),
                        tuple(Place(self.file, self.said[j].row) for j in real),
                    )
                )
            stretch.clear()
            candidates.clear()

        for i in sorted(unclear):
            if stretch and not candidates & set(unclear[i]) - {-1}:
                put()
            stretch.append(i)
            candidates |= set(unclear[i])
        if stretch:
            put()

    def between(self, found: dict[int, int], not_old: set[int], not_new: set[int]) -> None:
        """An edited statement between two matched neighbours, if it is the only one it can be."""
        taken = set(found.values())
        for were, are in gaps(found, len(self.old.said), len(self.said)):
            if not_old & set(were) or not_new & set(are):
                continue
            a = [i for i in were if i not in found and self.old.said[i].makes]
            b = [j for j in are if j not in taken and self.said[j].makes]
            kinds_a = [self.kind(self.old.said[i]) for i in a]
            kinds_b = [self.kind(self.said[j]) for j in b]
            if kinds_a == kinds_b:
                found.update(zip(a, b, strict=True))
                continue
            many_a, many_b = Counter(kinds_a), Counter(kinds_b)
            new_by_kind = dict(zip(kinds_b, b, strict=True))
            for i, kind in zip(a, kinds_a, strict=True):
                if many_a[kind] == many_b[kind] == 1:
                    found[i] = new_by_kind[kind]

    @staticmethod
    def kind(s: Said) -> tuple[str, str]:
        """What kind of statement it is and what it makes."""
        return s.text.partition(" ")[0], s.makes
