"""Joints with the same answer are asked once; what stands against a joint is told joint by joint.

What was told is kept: a group of joints is asked again only where one of them came, went or changed.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import chain
from typing import NamedTuple

from lineproof.book.load import Book
from lineproof.checks.registry import About, ask, of_group
from lineproof.floor.verdicts import Finding, Verdict


class Told(NamedTuple):
    """What a check asks of one joint.

    Parameters
    ----------
    check : str
        Its id.
    key : hashable
        All that the answer hangs on, but for the weight.
    weight : float
        How bad the number of this joint is: of joints with one key the worst is asked.
    facts : callable
        Gives the facts, which are made only where they are asked.
    """

    check: str
    key: Hashable
    weight: float
    facts: Callable[[], About]


@dataclass(slots=True)
class _Group:
    members: dict[int, Told] = field(default_factory=dict)
    found: list[Finding] | None = None


class Alike:
    """Checks of many joints, grouped by what their answers hang on.

    Parameters
    ----------
    names : sequence of str
        Ids of the joints, in order.
    book : Book
        The tables.
    """

    def __init__(self, names: Sequence[str], book: Book) -> None:
        self.names = tuple(names)
        self._book = book
        self._rows: list[tuple[Told, ...]] = [()] * len(self.names)
        self._groups: dict[tuple[str, Hashable], _Group] = {}

    def put(self, place: int, rows: Iterable[Told]) -> None:
        """What is asked of one joint, instead of what was.

        Parameters
        ----------
        place : int
            Of the joint. [-]
        rows : iterable of Told
        """
        for old in self._rows[place]:
            group = self._groups[old.check, old.key]
            del group.members[place]
            group.found = None
        self._rows[place] = tuple(rows)
        for row in self._rows[place]:
            known = self._groups.get((row.check, row.key))
            if known is None:
                known = self._groups[row.check, row.key] = _Group()
            known.members[place] = row
            known.found = None

    def again(self, check: str) -> None:
        """Ask a check again of all: something changed that its keys do not hold."""
        for (name, _), group in self._groups.items():
            if name == check:
                group.found = None

    def findings(self) -> list[Finding]:
        """The answers: a GO names all of its joints (``facts["joints"]``), anything else stands alone."""
        for (check, _), group in self._groups.items():
            if group.found is None:
                group.found = self._ask(check, sorted(group.members.items()))
        return list(chain.from_iterable(group.found or () for group in self._groups.values()))

    def _ask(self, check: str, members: list[tuple[int, Told]]) -> list[Finding]:
        if not members:
            return []
        worst = max(range(len(members)), key=lambda n: members[n][1].weight)
        names = tuple([self.names[place] for place, _ in members])
        ordered = (names[worst], *names[:worst], *names[worst + 1 :])
        found = ask(check, of_group(members[worst][1].facts(), ordered, names, ()), self._book)
        if found.verdict is Verdict.GO or len(members) == 1:
            return [found]
        return [ask(check, row.facts(), self._book) for _, row in members]
