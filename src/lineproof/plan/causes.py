"""Collects the facts of checks by cause, so that what is alike is asked once and named together."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from dataclasses import dataclass, field

from lineproof.book.load import Book
from lineproof.checks.registry import About, ask, of_group
from lineproof.floor.verdicts import Finding


@dataclass(slots=True)
class Group:
    """All that share one cause."""

    facts: About
    subjects: dict[str, None] = field(default_factory=dict)
    joints: dict[str, None] = field(default_factory=dict)
    pieces: dict[str, None] = field(default_factory=dict)


class Causes:
    """Facts of all checks, by check and cause."""

    def __init__(self) -> None:
        self.groups: dict[tuple[str, Hashable], Group] = {}

    def add(
        self,
        id: str,
        key: Hashable,
        facts: About,
        subject: str = "",
        *,
        joints: Iterable[str] = (),
        pieces: Iterable[str] = (),
    ) -> None:
        """Add one subject to a cause.

        Parameters
        ----------
        id : str
            The check.
        key : hashable
            What makes two causes one.
        facts : About
            Its facts; those of the first are kept.
        subject : str
            Its name; the facts' own if empty.
        joints, pieces : iterable of str
            Ids that hang on it.
        """
        group = self.groups.get((id, key))
        if group is None:
            group = self.groups[id, key] = Group(facts)
        group.subjects[subject or group.facts.subject] = None
        group.joints.update(dict.fromkeys(joints))
        group.pieces.update(dict.fromkeys(pieces))

    def ask(self, book: Book) -> tuple[Finding, ...]:
        """Ask every check once a cause.

        Parameters
        ----------
        book : Book
            The tables.

        Returns
        -------
        tuple of Finding
            One a cause, in order of check and of first subject.
        """
        return tuple(
            ask(name, of_group(g.facts, tuple(g.subjects), tuple(g.joints), tuple(g.pieces)), book)
            for (name, _), g in sorted(self.groups.items(), key=lambda item: item[0][0])
        )
