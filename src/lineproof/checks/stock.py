"""Pipe to cut from, bells, and spools that should be alike."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class StockNamed(About):
    """The stock items that fit a pipe.

    Parameters
    ----------
    size : Size
    material, series : str
    items : tuple of str
        Ids of stock items that fit; one is right.
    """

    size: Size
    material: str
    series: str
    items: tuple[str, ...]


@check(
    id="STK-01", stage="order", rule="own rule: pipe is cut from a stock item that is named", facts=StockNamed
)
def stock_named(facts: StockNamed, _book: Book) -> Finding:
    """CANNOT TELL what a pipe is cut from where no stock item, or more than one, fits it."""
    if len(facts.items) == 1:
        return answer("STK-01", Verdict.GO, facts)
    return answer(
        "STK-01", Verdict.CANNOT_TELL, facts, why="several" if facts.items else "none",
        missing=("stock item",), next_step="name_stock",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class BellMeasured(About):
    """The bell of a stock item.

    Parameters
    ----------
    stock : str
    belled : bool
    depth : float or None
        Face of the bell to its stop, as measured. [m]
    """

    stock: str
    belled: bool
    depth: float | None


@check(id="STK-02", stage="read", rule="own rule: a bell is taped; no depth is listed", facts=BellMeasured)
def bell_measured(facts: BellMeasured, _book: Book) -> Finding:
    """CANNOT TELL how much a belled stick lays while its bell is not measured."""
    if not facts.belled or facts.depth is not None:
        return answer("STK-02", Verdict.GO, facts)
    return answer("STK-02", Verdict.CANNOT_TELL, facts, missing=("bell_depth",), next_step="tape_bell")


@dataclass(frozen=True, slots=True, kw_only=True)
class SpoolAlike(About):
    """One repeat of a spool against the others of its name.

    Parameters
    ----------
    spool : str
    repeats : int
        How many there are.
    alike : int
        How many are as most of them are.
    differs_at : str
        The first part that lies otherwise; empty if none does.
    how : str
        ``"turned"``, ``"length"``, ``"parts"``, ``"bend"``.
    turned : float or None
        How far that part is turned out of place. [rad]
    longer : float or None
        How much longer the way to that part is. [m]
    """

    spool: str
    repeats: int
    alike: int
    differs_at: str = ""
    how: str = ""
    turned: float | None = None
    longer: float | None = None


@check(id="SPL-01", stage="read", rule="own rule: spools of one name are alike", facts=SpoolAlike)
def spool_alike(facts: SpoolAlike, _book: Book) -> Finding:
    """STOP where a repeat of a spool differs from the others; the part that lies otherwise is named."""
    if not facts.differs_at:
        return answer("SPL-01", Verdict.GO, facts)
    return answer(
        "SPL-01", Verdict.STOP, facts, why=facts.how or "parts", governs=facts.differs_at,
        next_step="check_spool",
    )  # fmt: skip
