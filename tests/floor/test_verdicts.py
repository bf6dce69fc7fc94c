"""Verdicts: the order, the exit codes, and that what nobody confirmed never gives GO."""

from __future__ import annotations

import itertools

import pytest

from lineproof.floor.sources import Cell, Kind, Reading, Source, Standing
from lineproof.floor.verdicts import Finding, Verdict, settle, worst

SOURCE = Source("Invented 1", "2020", "table 1", Standing.MEMORY)


def cell(standing: Standing = Standing.MEMORY, *, row: str = "12", confirmed: bool = False) -> Cell:
    return Cell("invented_1", row, "od_in", 12.75, standing, SOURCE, "hash", confirmed)


def reading(*cells: Cell) -> Reading:
    log = Reading()
    for one in cells:
        assert log.log(one) is one
    return log


def test_worst_first_stop_cannot_tell_wait_care_go() -> None:
    order = [Verdict.STOP, Verdict.CANNOT_TELL, Verdict.WAIT, Verdict.CARE, Verdict.GO]
    assert sorted(Verdict, reverse=True) == order
    assert [v.word for v in order] == ["STOP", "CANNOT TELL", "WAIT", "CARE", "GO"]
    assert [v.exit_code for v in order] == [13, 12, 11, 10, 0]


def test_a_set_takes_its_worst_whatever_the_order() -> None:
    for size in (1, 2, 3):
        for some in itertools.product(Verdict, repeat=size):
            assert worst(some) is max(some)
            assert worst(Finding("X-01", v, "B-1") for v in some) is max(some)
    assert worst([]) is Verdict.GO
    assert worst([Verdict.CARE, Finding("X-01", Verdict.WAIT, "B-1")]) is Verdict.WAIT


@pytest.mark.parametrize("hurts", [False, True])
@pytest.mark.parametrize("verdict", list(Verdict))
def test_an_unconfirmed_cell_never_gives_go(verdict: Verdict, hurts: bool) -> None:
    given = settle(verdict, reading(cell()), hurts=hurts)
    assert given is not Verdict.GO
    assert given >= verdict
    if hurts:
        assert given >= Verdict.CANNOT_TELL
    if verdict is Verdict.STOP:
        assert given is Verdict.STOP


@pytest.mark.parametrize("hurts", [False, True])
@pytest.mark.parametrize("verdict", list(Verdict))
def test_confirmed_cells_leave_the_verdict_save_care_where_it_can_hurt(verdict: Verdict, hurts: bool) -> None:
    log = reading(cell(confirmed=True), cell(Standing.FOUND, row="14", confirmed=True))
    expected = Verdict.CANNOT_TELL if hurts and verdict is Verdict.CARE else verdict
    assert settle(verdict, log, hurts=hurts) is expected


def test_one_unconfirmed_cell_among_many_is_enough() -> None:
    good = [cell(Standing.FOUND, row=str(i), confirmed=True) for i in range(20)]
    assert settle(Verdict.GO, reading(*good), hurts=True) is Verdict.GO
    assert settle(Verdict.GO, reading(*good, cell(row="bad")), hurts=True) is Verdict.CANNOT_TELL
    assert settle(Verdict.GO, reading(*good, cell(row="bad")), hurts=False) is Verdict.CARE


def test_a_finding_names_its_unverified_cells() -> None:
    doubtful, sure = cell(), cell(Standing.FOUND, row="14", confirmed=True)
    finding = Finding("X-01", Verdict.CARE, "B-1", sources=(doubtful, sure))
    assert finding.unverified == (doubtful,)
    assert finding.facts == {}
    assert finding.missing == ()


def test_a_reading_keeps_each_cell_once_and_knows_the_weakest() -> None:
    derived = cell(Standing.DERIVED, row="8", confirmed=True)
    found = cell(Standing.FOUND, row="6", confirmed=True)
    log = reading(derived, found, found)
    assert log.as_tuple() == (found, derived)
    assert log.weakest() is Standing.DERIVED
    assert log.unconfirmed() == ()
    other = Reading()
    assert other.weakest() is Standing.FOUND
    other.add(log)
    other.add([cell()])
    assert other.weakest() is Standing.MEMORY
    assert [c.row for c in other.unconfirmed()] == ["12"]
    assert set(other) == {derived, found, cell()}


def test_a_source_reads_as_its_document() -> None:
    assert str(SOURCE) == "Invented 1 2020 table 1"
    assert SOURCE.kind is Kind.NONE
