"""What chains say about themselves: missing places and places taken twice, whatever order entries came in."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True, order=True)
class Hole:
    """Entries that must have been written, as later ones of their chain are here, but are missing.

    Parameters
    ----------
    writer : str
        Whose.
    first, last : int
        Places missing, both included. [-]
    """

    writer: str
    first: int
    last: int

    def __str__(self) -> str:
        many = f"entries {self.first} to {self.last}" if self.last > self.first else f"entry {self.first}"
        return f"{many} of writer {self.writer} missing"


@dataclass(frozen=True, slots=True, order=True)
class Fork:
    """Entries that cannot all be the one that was written.

    Parameters
    ----------
    seals : tuple of str
        Of the entries, in order.
    why : str
        ``place``: two stand at one place of one chain; ``id``: two bear one id.
    at : str
        The place as ``writer:sequence``, or the id.
    """

    seals: tuple[str, ...]
    why: str
    at: str

    def __str__(self) -> str:
        if self.why == "id":
            return f"{len(self.seals)} entries bear the id {self.at}"
        writer, sequence = self.at.rsplit(":", 1)
        return f"{len(self.seals)} entries stand at place {sequence} of writer {writer}"


def holes_in(places: Mapping[str, Iterable[int]]) -> tuple[Hole, ...]:
    """Holes of all chains.

    Parameters
    ----------
    places : mapping
        Writer to the places that are here, in any order.

    Returns
    -------
    tuple of Hole
        In order.
    """
    found = []
    for writer, sequences in places.items():
        expected = 1
        for sequence in sorted(set(sequences)):
            if sequence > expected:
                found.append(Hole(writer, expected, sequence - 1))
            expected = sequence + 1
    return tuple(sorted(found))


def forks_in(entries: Iterable[tuple[str, str, int, str]]) -> tuple[Fork, ...]:
    """Forks among entries.

    Parameters
    ----------
    entries : iterable of tuple
        Id, writer, sequence and seal of each, in any order.

    Returns
    -------
    tuple of Fork
        In order.
    """
    places: dict[str, set[str]] = {}
    ids: dict[str, set[str]] = {}
    for name, writer, sequence, seal in entries:
        places.setdefault(f"{writer}:{sequence}", set()).add(seal)
        ids.setdefault(name, set()).add(seal)
    found = [Fork(tuple(sorted(s)), "place", at) for at, s in places.items() if len(s) > 1]
    found += [Fork(tuple(sorted(s)), "id", at) for at, s in ids.items() if len(s) > 1]
    return tuple(sorted(found))
