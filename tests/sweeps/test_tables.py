"""Every row of every table; and proof that each sweep can fail, by spoiling one cell of a copy."""

from __future__ import annotations

import csv
import shutil
from pathlib import Path

import pytest

from lineproof.book.load import TABLES, Book, Shelf, book
from lineproof.floor.errors import OurFault
from sweeps.table_sweeps import SWEEPS

# sweep -> (table, column, value that stands there now, value it is spoiled with); first row that holds it
SPOILS: dict[str, tuple[str, str, str, str]] = {
    "columns_have_meaning_and_unit": ("ratings_by_dr", "rating_psi", "200", "200 psi"),
    "sources_are_told": ("ratings_by_dr", "source", "PVC pipe association article", ""),
    "table_standing_is_the_weakest": ("ratings_by_dr", "standing", "FOUND", "MEMORY"),
    "memory_is_not_called_found": ("crew_by_size", "standing", "MEMORY", "FOUND"),
    "keys_ascend": ("labour_joint_hours", "nps_lo", "8", "2.25"),
    "no_zero_stands_for_unlisted": ("astm_d2672_bells", "depth_min_in", "", "0"),
    "walls_match_the_second_table": ("astm_d1785_2015_wall", "wall_min_in", "0.687", "0.678"),
    "sdr_walls_are_od_over_sdr": ("astm_d2241_wall", "wall_min_in", "0.490", "0.492"),
    "walls_grow_and_leave_a_bore": ("astm_d1785_2015_wall", "wall_max_in", "0.769", "0.679"),
    "cpvc_walls_are_those_of_pvc": ("astm_f441_2015_wall", "wall_min_in", "0.300", "0.301"),
    "od_bands_do_not_touch": ("astm_d1785_2015_od", "od_in", "3.500", "4.499"),
    "metric_walls_follow_iso4065": ("iso4065_wall", "wall_min_mm", "12.1", "12.2"),
    "metric_od_follows_iso11922_grade_c": ("iso1452_2_od", "od_mean_max_mm", "316.0", "315.9"),
    "pn_is_ten_sigma_over_s": ("iso1452_2_pn_series", "series_s", "12.5", "16"),
    "sockets_follow_the_design_rule": ("astm_d2467_sockets", "bottom_in", "10.735", "10.737"),
    "contact_fraction_is_two_plus_v_less_u_over_three": (
        "astm_d2467_sockets",
        "entrance_in",
        "6.647",
        "6.657",
    ),
    "depths_grow_with_size": ("astm_d2466_sockets", "depth_min_in", "4.000", "2.900"),
    "bells_have_no_depth": ("astm_d2672_bells", "depth_min_in", "", "4.000"),
    "metric_sockets_fit_their_pipe": ("iso727_1_2002_sockets", "depth_min_mm", "61.0", "62.0"),
    "laying_lengths_follow_geometry": ("is7834_1987_laying", "z_mm", "81", "18"),
    "flanges_can_be_drilled": ("asme_b16_5_class150", "bolt_count", "12", "10"),
    "ratings_follow_the_stress_formula": ("ratings_73f", "rating_psi", "230", "320"),
    "one_rating_throughout_a_dr": ("ratings_by_dr", "rating_psi", "160", "106"),
    "hotter_is_never_stronger": ("temperature_factors", "factor", "0.62", "0.76"),
    "joint_limit_is_150_times_family_a": ("joint_limit_by_temperature", "pvc_psi", "93", "94"),
    "working_stress_is_2000_times_family_a": ("material_properties", "value_psi", "1240", "1420"),
    "cure_rises_with_size_cold_and_pressure": ("astm_d2855_1996_cure", "wait_h", "144", "14"),
    "cure_bands_cover_without_gap": ("astm_d2855_1996_cure", "nps_hi", "8", "12"),
    "crew_and_cement_grow_with_size": ("astm_d2564_cement_bodies", "wet_film_min_in", "0.024", "0.002"),
    "labour_is_linear_in_size": ("labour_joint_hours", "joint_mh", "1.80", "1.08"),
    "stock_rows_have_one_length": ("stock_lengths", "length_ft", "20", ""),
    "properties_hold_one_value": ("substances", "value_kg_m3", "885.4", ""),
}

# What a sweep finds and the side file owns up to, so that a second fault in the same place still shows.
KNOWN = {
    "joint_limit_is_150_times_family_a": ["pvc/A/110"],  # 76 printed from the 0.51 of family B
}


@pytest.mark.parametrize("name", SWEEPS)
def test_sweep(name: str) -> None:
    assert SWEEPS[name](book()) == KNOWN.get(name, [])


@pytest.mark.parametrize("name", SWEEPS)
def test_sweep_can_fail(name: str, tmp_path: Path) -> None:
    table, column, now, then = SPOILS[name]
    root = tmp_path / "tables"
    shutil.copytree(TABLES, root)
    file = root / table / "table.csv"
    lines = list(csv.reader(file.read_text("utf-8").splitlines()))
    at = lines[0].index(column)
    line = next(line for line in lines[1:] if line[at] == now)
    line[at] = then
    with file.open("w", encoding="utf-8", newline="") as out:
        csv.writer(out, lineterminator="\n").writerows(lines)
    spoiled = Book(Shelf(root))
    before, after = SWEEPS[name](book()), SWEEPS[name](spoiled)
    assert [w for w in after if w not in before], f"{name} did not see {now} turned into {then}"


@pytest.mark.parametrize(
    ("find", "put", "says"),
    [
        ("nps,od_in", "nps,outside_in", "header"),
        ("0.5,0.840", "0.75,0.840", "there twice"),
        (",FOUND,FOUND,FOUND,", ",FOUND,FOUND,SEEN,", "standing is 'SEEN'"),
        ("0.5,0.840,", "0.5,", "cells"),
    ],
)
def test_a_spoiled_folder_is_refused(find: str, put: str, says: str, tmp_path: Path) -> None:
    shutil.copytree(TABLES / "astm_d1785_2015_od", tmp_path / "t")
    file = tmp_path / "t" / "table.csv"
    text = file.read_text("utf-8")
    assert find in text
    file.write_text(text.replace(find, put, 1), "utf-8")
    with pytest.raises(OurFault, match=says):
        Shelf(tmp_path).table("t")
