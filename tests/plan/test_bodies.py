"""Bodies against closed forms: ring and cylinder volumes, heights of level and standing pipe."""

import math

import pytest

from lineproof.plan.bodies import bodies, length_of
from rigs import FOOT, INCH, elbow, flange, stock, tee, work_at

WALK = (
    'line L size 6in pipe pvc sch80\nstarts at flange fixed "P" at 0, 0, 10ft facing north\n'
    "go north 10'\ntee up as X\ngo north 5'\ngo up 4'\nends at cap\n"
)
PARTS = [
    elbow("6in", "6 1/2 in", "3 in", mass="9 lb", rating="140 psi", rating_at="73 F"),
    flange("6in", "3 1/2 in", "3 in"),
    tee("6in", "6 1/2 in", "3 in"),
]
BORE = 6.625 - 2 * 0.432  # Sch 80, ASTM D1785: OD less two minimum walls


@pytest.fixture
def made(tmp_path):
    w = work_at(tmp_path, WALK, PARTS, toml=stock("6in"))
    return w, bodies(w)


def test_a_piece_holds_its_cylinder(made):
    w, found = made
    piece = w.cutting.pieces[0]
    body = found[piece.id]
    assert body.content == pytest.approx(math.pi / 4 * (BORE * INCH) ** 2 * piece.exact)
    assert length_of(body) == pytest.approx(piece.exact)


def test_a_level_piece_stands_half_a_diameter_off_its_axis(made):
    w, found = made
    body = found[w.cutting.pieces[0].id]
    assert body.low == pytest.approx(10 * FOOT - 6.625 / 2 * INCH)
    assert body.high == pytest.approx(10 * FOOT + 6.625 / 2 * INCH)


def test_a_fitting_reaches_from_its_lowest_to_its_highest_outside(made):
    _, found = made
    body = found["L/E1"]
    assert body.low == pytest.approx(10 * FOOT - 6.625 / 2 * INCH)
    assert body.high == pytest.approx(10 * FOOT + 6.5 * INCH)  # the upper mouth, level with its face
    assert length_of(body) == pytest.approx(2 * 6.5 * INCH)


def test_content_mass_and_rating_come_from_what_was_measured(made):
    _, found = made
    tee_body = found["L/T1"]
    assert tee_body.content == pytest.approx(3 * 6.5 * INCH * math.pi / 4 * (BORE * INCH) ** 2)
    assert tee_body.mass is None
    assert found["L/E1"].mass == pytest.approx(9 * 0.45359237)
    assert found["L/E1"].rating == pytest.approx(140 * 6894.757293168)


def test_pipe_rating_is_the_printed_one(made):
    # NPS 6 Sch 80 at 73 F: 280 psi in the table read (secondary, publisher not established)
    w, found = made
    assert found[w.cutting.pieces[0].id].rating == pytest.approx(280 * 6894.757293168, rel=1e-6)


def test_what_stands_holds_nothing_of_ours_and_an_unmeasured_fitting_is_none(made, tmp_path):
    _, found = made
    assert found["L/X1"].content is None
    bare = work_at(tmp_path / "bare", WALK, PARTS[1:], toml=stock("6in"))
    assert bodies(bare)["L/E1"].content is None
