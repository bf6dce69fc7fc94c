"""IS 7834:1987, Injection moulded PVC socket fittings with solvent cement joints, Parts 2 to 6, Table 1.

Read through a machine-written digest on the web (secondary). Rows typed here by hand.
"""

from __future__ import annotations

import pytest

from lineproof.book.load import book

# d, Z 90, Z 45, plus 90, plus 45, coupling Z, plus
ROWS = [
    ("16", 9, 4.5, 1, 1, 3, 1),
    ("110", 56, 23.5, 6, 6, 6, 3),
    ("180", 91, 38, 9, 8, 8, 4),
    ("225", 114, 48, 10, 10, 10, 5),
    ("315", 158.5, 67, 13, 13, 12, 7),
]


@pytest.mark.parametrize("row", ROWS)
def test_parts_2_3_4_6(row: tuple[str, float, float, float, float, float, float]) -> None:
    d, z90, z45, plus90, plus45, stop, plus_stop = row
    for fitting, z, plus in (
        ("elbow_90", z90, plus90), ("tee_90", z90, plus90),
        ("elbow_45", z45, plus45), ("coupling", stop, plus_stop),
    ):  # fmt: skip
        values = book().table("is7834_1987_laying").rows[f"{d}/{fitting}"].values
        assert (values["z_mm"], values["z_tol_plus_mm"], values["z_tol_minus_mm"]) == (z, plus, 1)


@pytest.mark.parametrize(("d", "branch", "run"), [("20", 27, 6), ("110", 137, 24), ("160", 200, 35)])
def test_part_5(d: str, branch: float, run: float) -> None:
    values = book().table("is7834_1987_tee45").rows[d].values
    assert (values["z_branch_mm"], values["z_run_mm"]) == (branch, run)


def test_the_misprint_of_part_5_is_left_out() -> None:
    """The digest prints +8 at d110; the cell is empty instead."""
    assert book().peek("is7834_1987_tee45", "110", "z_run_tol_plus_mm").value is None
