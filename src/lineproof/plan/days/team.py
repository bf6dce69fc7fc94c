"""Who may make a joint: crews alone or two hand in hand, by people, qualification on the day, and shift."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import combinations

from lineproof.checks.qualified import NO_WORK, Need, standing
from lineproof.floor.sources import Reading
from lineproof.job.people import Crew
from lineproof.job.progress import Progress
from lineproof.plan.people import scheme_of, worked_of
from lineproof.plan.work import Work

LIKE = "~"
"""After it stands the number of a crew that is only tried: its people are like those named before it."""


@dataclass(frozen=True, slots=True)
class Team:
    """One crew, or two that join hands.

    Parameters
    ----------
    crews : tuple of Crew
    people : tuple of str
        Ids of all of them.
    """

    crews: tuple[Crew, ...]
    people: tuple[str, ...]

    @property
    def name(self) -> str:
        """Its crews."""
        return " + ".join(c.id for c in self.crews)


def teams_for(crews: Sequence[Crew], people: int) -> tuple[Team, ...]:
    """Crews that are enough for so many people at a joint: alone, or where none is, in twos.

    Parameters
    ----------
    crews : sequence of Crew
    people : int
        At the joint. [-]

    Returns
    -------
    tuple of Team
        Empty where not even two crews are enough.
    """
    for size in (1, 2):
        found = []
        for some in combinations(crews, size):
            who = tuple(dict.fromkeys(p for c in some for p in c.people))
            if len(who) >= people:
                found.append(Team(some, who))
        if found:
            return tuple(found)
    return ()


def shared_people(crews: Iterable[Crew]) -> frozenset[str]:
    """People who are in more than one crew: two such crews cannot both have them."""
    seen: dict[str, int] = {}
    for c in crews:
        for p in dict.fromkeys(c.people):
            seen[p] = seen.get(p, 0) + 1
    return frozenset(p for p, n in seen.items() if n > 1)


class Papers:
    """Who is qualified for what on which day.

    Parameters
    ----------
    work : Work
    progress : Progress or None
        What was joined so far: it keeps a qualification alive.
    """

    def __init__(self, work: Work, progress: Progress | None) -> None:
        self._work = work
        self._scheme, self._bound = scheme_of(work)
        self._worked = worked_of(work, progress)
        self._known: dict[tuple[str, Need, date], bool] = {}

    def _one(self, person: str, need: Need, day: date) -> bool:
        key = (person, need, day)
        known = self._known.get(key)
        if known is None:
            who = self._work.job.settings.person(person.partition(LIKE)[0])
            done = self._worked.get((person.partition(LIKE)[0], need.material, need.steps), NO_WORK)
            known = self._known[key] = who is not None and not standing(
                who.qualifications, need, day, self._scheme, self._work.book, Reading(), worked=done,
                bound=self._bound,
            )  # fmt: skip
        return known

    def days(self, people: Sequence[str], need: Need, first: date, count: int) -> tuple[bool, ...]:
        """On which of so many days somebody among these people is qualified."""
        return tuple(any(self._one(p, need, first + timedelta(days=n)) for p in people) for n in range(count))
