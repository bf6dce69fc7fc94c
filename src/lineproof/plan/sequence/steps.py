"""An order as values: steps that bring one body to another, or what stands against every order."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.job.graph import Vec


@dataclass(frozen=True, slots=True)
class Step:
    """One body brought to another.

    Parameters
    ----------
    moved : frozenset of str
        All bodies of what is brought.
    to : frozenset of str
        The bodies it meets.
    ties : tuple of int
        What is made by it, as indices in the rig.
    move : tuple of float or None
        The last straight move; None where a thread is turned home.
    travel : float
        How far that move goes. [m]
    kind : str
        ``"bench"``, ``"place"`` (in place) or ``"close"`` (closes a loop).
    spool : int
        Number of the spool joined on the bench; -1 in place.
    """

    moved: frozenset[str]
    to: frozenset[str]
    ties: tuple[int, ...]
    move: Vec | None
    travel: float
    kind: str
    spool: int = -1


@dataclass(frozen=True, slots=True)
class Blocked:
    """A tie that cannot be made: the bodies it ties, and the one that is in the way."""

    tie: int
    by: str


@dataclass(frozen=True, slots=True)
class Built:
    """An order, or why there is none.

    Parameters
    ----------
    steps : tuple of Step
        In the order they are made; empty where there is none.
    spools : tuple of tuple of str
        What is joined on the bench and carried as one.
    stuck : tuple of tuple of int
        Groups of ties that hold each other.
    blocked : tuple of Blocked
        Ties for which there is no room.
    """

    steps: tuple[Step, ...]
    spools: tuple[tuple[str, ...], ...] = ()
    stuck: tuple[tuple[int, ...], ...] = ()
    blocked: tuple[Blocked, ...] = ()

    @property
    def works(self) -> bool:
        """There is an order."""
        return not self.stuck and not self.blocked
