"""ASTM D2564, Solvent Cements for PVC Plastic Piping Systems: bodies. From memory (first page only read)."""

from __future__ import annotations

import pytest

from lineproof.book.load import book


@pytest.mark.parametrize(
    ("body", "cp", "nps", "film"),
    [("regular", 90, 2, 0.006), ("medium", 500, 6, 0.012), ("heavy", 1600, 12, 0.024)],
)
def test_bodies_from_memory(body: str, cp: float, nps: float, film: float) -> None:
    values = book().table("astm_d2564_cement_bodies").rows[body].values
    assert (values["viscosity_min_cP"], values["max_nps"], values["wet_film_min_in"]) == (cp, nps, film)
    assert values["standing"] == "MEMORY"
