"""Figures that show their working: one call, its formula, its substitution, its inputs and sources."""

from __future__ import annotations

import pytest

from lineproof.floor import worked
from lineproof.floor.errors import BadInput
from lineproof.floor.sources import Cell, Reading, Source, Standing
from lineproof.floor.worked import figure


@pytest.fixture(autouse=True)
def clean_register(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(worked, "REGISTER", {})


def growth(*, length: float, alpha: float, dT_K: float = 10.0) -> float:
    """Free growth of a run.

    More words.
    """
    return alpha * length * dT_K


def registered() -> worked.Figure:
    kept = figure(
        "growth",
        formula="dL = \u03b1 * L * dT",
        symbols={
            "length": ("L", "length", "length of the run"),
            "alpha": ("\u03b1", "expansion", "expansion coefficient"),
            "dT_K": ("dT", "temperature_step", "rise"),
        },
        result=("dL", "length", "growth"),
        source="common practice, no source",
        note="free pipe only",
    )(growth)
    assert kept is growth
    return worked.REGISTER["growth"]


def test_a_figure_calls_the_very_function_and_keeps_its_working() -> None:
    one = registered()
    done = one.work(length=30.0, alpha=6e-5, dT_K=25.0)
    assert done.value == growth(length=30.0, alpha=6e-5, dT_K=25.0)
    assert (done.figure, done.quantity, done.note) == ("growth", "length", "free pipe only")
    assert done.inputs == {"length": 30.0, "alpha": 6e-5, "dT_K": 25.0}
    assert one.title == "Free growth of a run."
    assert done.sources == ()


def test_the_substitution_replaces_whole_letters_only() -> None:
    done = registered().work(length=30.0, alpha=6e-5, dT_K=25.0)
    # L stands inside of dL and T inside of dT: neither is touched
    assert done.substitution(lambda v, q: f"<{v} {q}>") == (
        "<6e-05 expansion> * <30.0 length> * <25.0 temperature_step>"
    )


def test_a_greek_neighbour_is_part_of_the_letter() -> None:
    figure(
        "t",
        formula="a = \u0394T + T",
        symbols={"T": ("T", "plain", "t")},
        result=("a", "plain", "a"),
        source="-",
    )(lambda T: T)
    assert worked.REGISTER["t"].work(T=2.0).substitution(lambda v, _: str(v)) == "\u0394T + 2.0"
    assert worked.REGISTER["t"].title == "t"


def test_a_figure_without_inputs_shows_its_formula() -> None:
    figure("one", formula="a = 1", symbols={}, result=("a", "plain", "a"), source="-")(lambda: 1.0)
    assert worked.REGISTER["one"].work().substitution(lambda v, _: str(v)) == "1"


def test_a_default_of_the_function_is_an_input_like_any() -> None:
    done = registered().work(length=30.0, alpha=6e-5)
    assert done.inputs["dT_K"] == 10.0
    assert done.value == growth(length=30.0, alpha=6e-5)


def test_missing_and_unknown_inputs_are_refused_in_words() -> None:
    one = registered()
    with pytest.raises(BadInput, match=r"growth needs alpha; allowed: .*alpha \(expansion coefficient\)"):
        one.work(length=30.0)
    with pytest.raises(BadInput, match="width is not an input of growth; allowed: length, alpha, dT_K"):
        one.work(length=30.0, alpha=6e-5, width=1.0)


def test_the_cells_read_go_with_the_figure() -> None:
    source = Source("Invented 1", "2020", "table 1", Standing.FOUND)
    cell = Cell("invented_1", "pvc", "alpha", 6e-5, Standing.FOUND, source, "hash", True)
    log = Reading()
    log.log(cell)
    assert registered().work(reading=log, length=30.0, alpha=6e-5).sources == (cell,)


def test_a_registration_that_does_not_fit_its_function_fails_at_once() -> None:
    with pytest.raises(TypeError, match="against arguments"):
        figure("bad", formula="a = b", symbols={}, result=("a", "plain", "a"), source="-")(growth)
    registered()
    with pytest.raises(TypeError, match="registered twice"):
        figure("growth", formula="a = 1", symbols={}, result=("a", "plain", "a"), source="-")(lambda: 1.0)
