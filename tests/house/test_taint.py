"""No value from memory gives GO: each cell a check reads, set to MEMORY in turn, spoils it and is cited."""

from __future__ import annotations

import pytest

from checks.cases import CASES, Case
from lineproof.book.load import Book, book
from lineproof.checks.registry import all_checks, ask
from lineproof.floor.sources import Standing
from lineproof.floor.verdicts import Verdict

CONFIRMED: Book = book().with_confirmations(book().every_confirmation())

# Checks that compare what the job says with what the job says, and open no table on their way to GO.
READ_NO_TABLE = {
    "CEM-01", "CEM-02", "CEM-03", "CEM-04", "CEM-06", "CEM-07", "CEM-09", "CEM-10", "CEM-11",
    "CUR-01",
    "FLG-01", "FLG-02", "FLG-03",
    "GEO-01", "GEO-02", "GEO-03", "GEO-04", "GEO-05", "GEO-06", "HOT-01",
    "MAD-01", "MAD-02", "MAD-04", "MAD-05", "MOV-01", "MOV-02", "MOV-03",
    "MOV-04", "MOV-05", "PPL-04", "PRS-02", "PRS-03", "PRS-04",
    "PRS-05", "PRT-01", "PRT-04",
    "RAI-01", "RAI-02", "RAI-03", "RAI-04", "RAI-05", "RAI-06", "RAI-07", "RAI-08", "RAI-09",
    "RAI-10", "RAI-11",
    "SEQ-01", "SEQ-02", "SEQ-03", "SEQ-04",
    "SPL-01", "STK-01", "STK-02", "SYS-01", "SYS-02", "SYS-04", "TNT-01",
}  # fmt: skip
GO_CASES = [c for c in CASES if c.verdict is Verdict.GO]
READING = [c for c in GO_CASES if ask(c.id, c.facts, CONFIRMED).sources]


@pytest.mark.parametrize("id", sorted(all_checks()))
def test_all_confirmed_gives_go_somewhere(id: str) -> None:
    verdicts = [ask(c.id, c.facts, CONFIRMED).verdict for c in GO_CASES if c.id == id]
    assert verdicts
    assert set(verdicts) == {Verdict.GO}


def test_the_checks_that_open_no_table_are_listed() -> None:
    assert {c.id for c in READING} == set(all_checks()) - READ_NO_TABLE


@pytest.mark.parametrize("case", READING, ids=lambda c: f"{c.id} {c.name}")
def test_each_cell_from_memory_spoils_go_and_is_cited(case: Case) -> None:
    hurts = all_checks()[case.id].hurts
    cells = ask(case.id, case.facts, CONFIRMED).sources
    for cell in cells:
        tainted = ask(case.id, case.facts, CONFIRMED.with_standing({cell.key: Standing.MEMORY}))
        assert tainted.verdict is (Verdict.CANNOT_TELL if hurts else Verdict.CARE), cell.key
        assert cell.key in {c.key for c in tainted.sources}
        assert [c.key for c in tainted.unverified] == [cell.key]
        assert tainted.facts["once_confirmed"] == "GO"
        assert tainted.next_step == "confirm"


@pytest.mark.parametrize("case", READING, ids=lambda c: f"{c.id} {c.name}")
def test_a_found_cell_keeps_go(case: Case) -> None:
    cells = ask(case.id, case.facts, CONFIRMED).sources
    found = CONFIRMED.with_standing({c.key: Standing.FOUND for c in cells})
    assert ask(case.id, case.facts, found).verdict is Verdict.GO
