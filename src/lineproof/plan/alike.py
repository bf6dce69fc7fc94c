"""Joints with the same answer are asked once: what stands against a joint is told joint by joint."""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterable

from lineproof.book.load import Book
from lineproof.checks.registry import About, ask, of_group
from lineproof.floor.verdicts import Finding, Verdict

Told = tuple[str, Hashable, Callable[[], About]]
"""Id of a joint, all that the answer of a check hangs on, and its facts, made only where they are asked."""


def ask_alike(name: str, told: Iterable[Told], book: Book) -> list[Finding]:
    """Ask one check of many joints, once for all that share what its answer hangs on.

    Parameters
    ----------
    name : str
        The check.
    told : iterable of Told
        Joints; those of the same key must get the same verdict.
    book : Book
        The tables.

    Returns
    -------
    list of Finding
        A GO names all of its joints (``facts["joints"]``); anything else is one Finding a joint.
    """
    alike: dict[Hashable, list[tuple[str, Callable[[], About]]]] = {}
    for joint, key, facts in told:
        alike.setdefault(key, []).append((joint, facts))
    found = []
    for same in alike.values():
        joints = tuple([joint for joint, _ in same])
        first = ask(name, of_group(same[0][1](), joints, joints, ()), book)
        if first.verdict is Verdict.GO or len(same) == 1:
            found.append(first)
        else:
            found += [ask(name, facts(), book) for _, facts in same]
    return found
