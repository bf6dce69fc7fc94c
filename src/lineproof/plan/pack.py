"""The pack: everything that goes out to the crew, as one value that papers, lists and JSON are made from."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime

from lineproof.floor.sources import Cell
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.order_model import OrderList
from lineproof.plan.work import Work


@dataclass(frozen=True, slots=True)
class Confirm:
    """One confirmation that would clear answers: a table's rows, or a paper to be read back.

    Parameters
    ----------
    what : str
        What is to be confirmed as the crew calls it: a table's designation and edition, ``"card C-2"``.
    kind : str
        ``"table"`` or ``"card"``.
    rows : tuple of str
        Rows of the table that were read.
    joints, pieces : int
        How many it would clear. [-]
    cells : tuple of Cell
        The cells it stands for.
    clears : tuple of str
        Subjects that have nothing against them any more once it is confirmed.
    """

    what: str
    kind: str = "table"
    rows: tuple[str, ...] = ()
    joints: int = 0
    pieces: int = 0
    cells: tuple[Cell, ...] = ()
    clears: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Counts:
    """How many joints and pieces have which answer, and the sticks they come from. [-]"""

    joints: Mapping[Verdict, int] = field(default_factory=dict)
    pieces: Mapping[Verdict, int] = field(default_factory=dict)
    sticks: int = 0
    bound: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Pack:
    """A work pack.

    Parameters
    ----------
    work : Work
        Graph, pieces, sticks and tape list.
    joints : tuple of JointPlan
        In walking order, ``place.id`` filled in.
    order : OrderList or None
    findings : tuple of Finding
        Of every check.
    verdict : Verdict
        Of the whole pack.
    confirmations : tuple of Confirm
        The fewest that would clear the most, the greatest first.
    issue : str
        Number of the issue; empty while it is not issued.
    stamp : datetime
        The newest moment among the inputs; with its zone.
    counts : Counts
    days : mapping
        Joint ids in order for each day planned, by its name.
    """

    work: Work
    joints: tuple[JointPlan, ...]
    stamp: datetime
    order: OrderList | None = None
    findings: tuple[Finding, ...] = ()
    verdict: Verdict = Verdict.GO
    confirmations: tuple[Confirm, ...] = ()
    issue: str = ""
    counts: Counts = Counts()
    days: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    def verdicts(self) -> dict[str, Verdict]:
        """The worst verdict of every joint, piece, part or line that a finding is about.

        Returns
        -------
        dict
            By id. A finding that holds for several names them in its facts.
        """
        found: dict[str, Verdict] = {}
        for f in self.findings:
            for name in names_in(f):
                found[name] = max(f.verdict, found.get(name, f.verdict))
        return found

    def cells(self) -> tuple[Cell, ...]:
        """Every table cell that the pack stands on, once, in order of table, row and column."""
        seen: dict[tuple[str, str, str], Cell] = {}
        alike = {id(j.needs): j for j in self.joints}  # alike joints share their needs, and so their cells
        groups = [self.work.pipes.reading.as_tuple(), *(j.cells for j in alike.values())]
        groups += [f.sources for f in self.findings]
        groups += [r.rough_cells for r in self.work.tape.rows]
        if self.order is not None:
            groups.append(self.order.cells)
        for group in groups:
            for cell in group:
                seen[cell.key] = cell
        return tuple(seen[k] for k in sorted(seen))

    def unverified(self) -> tuple[Cell, ...]:
        """Those of them that rest on memory and that nobody has confirmed."""
        return tuple(c for c in self.cells() if not c.confirmed)


def names_in(finding: Finding) -> tuple[str, ...]:
    """Ids of all that a finding holds for: its subject, and the subjects, joints and pieces of its facts."""
    names = [finding.subject]
    for key in ("subjects", "joints", "pieces"):
        listed = finding.facts.get(key)
        if isinstance(listed, tuple):
            names += [str(x) for x in listed]
    return tuple(dict.fromkeys(names))
