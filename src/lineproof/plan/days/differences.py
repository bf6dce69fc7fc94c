"""Two plans side by side: what moved, as a list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

FINISH, TEST, JOINT, CREW, NEW, GONE = KINDS = ("finish", "test", "joint", "crew", "new", "gone")


@dataclass(frozen=True, slots=True)
class Stands:
    """Where something stands in a plan: from when to when and with whom."""

    first: datetime
    end: datetime
    who: str = ""


@dataclass(frozen=True, slots=True)
class Difference:
    """One difference.

    Parameters
    ----------
    kind : str
        ``"finish"``, ``"test"``: another moment; ``"joint"``: another day; ``"crew"``: other people;
        ``"new"``, ``"gone"``: only in one of the two plans.
    id : str
        The joint or section; empty for the finish.
    before, after : datetime or None
        When it begins; for the finish, when the last test is accepted.
    who : str
        Who makes it now, where that is what changed.
    """

    kind: str
    id: str
    before: datetime | None
    after: datetime | None
    who: str = ""


def differences(
    before: Mapping[str, Stands],
    after: Mapping[str, Stands],
    *,
    tests: frozenset[str] = frozenset(),
    done: frozenset[str] = frozenset(),
) -> tuple[Difference, ...]:
    """What moved between two plans.

    Parameters
    ----------
    before, after : mapping
        Joints and sections to where they stand, moments in the site's zone.
    tests : frozenset of str
        Those that are sections.
    done : frozenset of str
        What is made by now: it is no difference that it is planned no more.

    Returns
    -------
    tuple of Difference
        The finish first, then tests, then joints, in order of time.
    """
    found: list[Difference] = []
    ends = [max((s.end for s in plan.values()), default=None) for plan in (before, after)]
    if ends[0] != ends[1]:
        found.append(Difference(FINISH, "", ends[0], ends[1]))
    for name in sorted({*before, *after} - done, key=lambda n: ((before.get(n) or after[n]).first, n)):
        old, new = before.get(name), after.get(name)
        if old is None or new is None:
            kind = NEW if old is None else GONE
            found.append(Difference(kind, name, old.first if old else None, new.first if new else None))
        elif name in tests:
            if old.first != new.first:
                found.append(Difference(TEST, name, old.first, new.first))
        elif old.first.date() != new.first.date():
            found.append(Difference(JOINT, name, old.first, new.first))
        elif old.who != new.who:
            found.append(Difference(CREW, name, old.first, new.first, new.who))
    return tuple(sorted(found, key=lambda d: KINDS.index(d.kind) if d.kind in (FINISH, TEST) else len(KINDS)))
