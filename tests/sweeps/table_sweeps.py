"""Sweeps over every table: each takes a book and gives the list of what is wrong, so that each can be
shown to fail on a spoiled copy."""

from __future__ import annotations

import math
import re
from collections.abc import Callable
from itertools import pairwise

from lineproof.book.load import Book
from lineproof.book.table import Table, unit_of
from lineproof.floor.sources import Standing
from sweeps.second_table import SERIES, WALLS_IN

Sweep = Callable[[Book], list[str]]
SWEEPS: dict[str, Sweep] = {}

# Numeric columns that are counts, ratios or names and have no unit.
PLAIN = {
    "nps", "nps_lo", "nps_hi", "max_nps", "schedule", "sdr", "dr", "series_s", "dn", "bolt_count",
    "people_fewest", "people_most", "size_lo", "size_hi", "size_from", "size_over", "count", "months",
    "factor", "wet_air_factor", "share_of_diameter", "design_coefficient", "years_shortest",
    "years_longest", "value_ratio", "idle_months", "apart_months", "validity_months", "confirm_months",
    "failed_count", "size_floor_nps",
}  # fmt: skip


def sweep(call: Sweep) -> Sweep:
    SWEEPS[call.__name__] = call
    return call


def val(book: Book, table: str, row: str, column: str) -> float:
    value = book.peek(table, row, column).value
    assert isinstance(value, float), (table, row, column, value)
    return value


def maybe(book: Book, table: str, row: str, column: str) -> float | None:
    value = book.peek(table, row, column).value
    return value if isinstance(value, float) else None


def every_table(book: Book) -> list[Table]:
    return [book.table(name) for name in book.tables()]


# ------------------------------------------------------------------ every table alike


@sweep
def columns_have_meaning_and_unit(book: Book) -> list[str]:
    bad = []
    for table in every_table(book):
        for column, words in table.columns.items():
            if column in ("designation", "edition"):
                continue
            numeric = any(isinstance(r.values[column], float) for r in table.rows.values())
            if not words.strip():
                bad.append(f"{table.name}.{column}: no meaning")
            if numeric and column not in PLAIN and unit_of(column) is None:
                bad.append(f"{table.name}.{column}: a number without unit in its name")
            text = any(isinstance(r.values[column], str) for r in table.rows.values())
            if unit_of(column) is not None and text and column in table.value_columns:
                bad.append(f"{table.name}.{column}: text where a number belongs")
    return bad


@sweep
def sources_are_told(book: Book) -> list[str]:
    bad = []
    for table in every_table(book):
        source = table.source
        for field in ("designation", "edition", "table", "read_in", "transcribed_by"):
            if not getattr(source, field).strip():
                bad.append(f"{table.name}: {field} is empty")
        if source.checked_by and source.checked_by == source.transcribed_by:
            bad.append(f"{table.name}: read twice by the same reader")
        bad += [f"{table.name}/{r.key}: no source" for r in table.rows.values() if not r.source.read_in]
    return bad


@sweep
def table_standing_is_the_weakest(book: Book) -> list[str]:
    order = [Standing.FOUND, Standing.DERIVED, Standing.MEMORY]
    bad = []
    for table in every_table(book):
        seen = [
            Standing(str(row.values[column]))
            for row in table.rows.values()
            for column in {"standing", *table.standing_columns.values()}
        ]
        weakest = max(seen, key=order.index)
        if table.source.standing is not weakest:
            bad.append(f"{table.name}: says {table.source.standing}, weakest is {weakest}")
    return bad


@sweep
def memory_is_not_called_found(book: Book) -> list[str]:
    """A row that says where its values come from, and says memory alone, is MEMORY."""
    return [
        f"{table.name}/{row.key}"
        for table in every_table(book)
        for row in table.rows.values()
        if re.search(r"from memory\W*$", row.source.read_in) and row.values["standing"] == "FOUND"
        and not table.standing_columns
    ]  # fmt: skip


@sweep
def keys_ascend(book: Book) -> list[str]:
    """Rows stand by rising first number inside each group of the same remaining key."""
    bad = []
    for table in every_table(book):
        last: dict[str, float] = {}
        for key in table.rows:
            head, _, rest = key.partition("/")
            if not re.fullmatch(r"[\d.]+", head):
                continue
            if float(head) <= last.get(rest, -1.0):
                bad.append(f"{table.name}/{key}: out of order")
            last[rest] = float(head)
    return bad


@sweep
def no_zero_stands_for_unlisted(book: Book) -> list[str]:
    """A zero is printed only as the foot of a band, never for a thing that has a size."""
    feet = {"d_lo_mm", "pressure_lo_psi", "temp_lo_degF"}
    return [
        f"{c.table}/{c.row}.{c.column}"
        for table in every_table(book)
        for c in book.all_cells(table.name)
        if c.value == 0.0 and c.column not in feet
    ]


# ------------------------------------------------------------------ pipe


@sweep
def walls_match_the_second_table(book: Book) -> list[str]:
    """ASTM D1785 and D2241 walls against the grid typed a second time; both ways, to 0.0006 in."""
    bad = []
    for nps, walls in WALLS_IN.items():
        for series, typed in zip(SERIES, walls, strict=True):
            table = "astm_d1785_2015_wall" if series in ("40", "80", "120") else "astm_d2241_wall"
            key = f"{nps}/{series}"
            have = val(book, table, key, "wall_min_in") if book.has(table, key) else None
            if (have is None) != (typed is None) or (
                have is not None and typed is not None and abs(have - typed) > 0.0006
            ):
                bad.append(f"{table}/{key}: {have} against {typed}")
    return bad


@sweep
def sdr_walls_are_od_over_sdr(book: Book) -> list[str]:
    """ASTM D2241: wall = OD/SDR to a thousandth, at least 0.060 in (nine rows differ by 0.001)."""
    bad = []
    for key in book.keys("astm_d2241_wall"):
        nps, sdr = key.split("/")
        want = max(0.060, val(book, "astm_d2241_od", nps, "od_in") / float(sdr))
        have = val(book, "astm_d2241_wall", key, "wall_min_in")
        if abs(have - want) > 0.00115:
            bad.append(f"{key}: {have} against {want:.4f}")
    return bad


@sweep
def walls_grow_and_leave_a_bore(book: Book) -> list[str]:
    """OD = ID + 2t with a positive ID; wall maximum by the 12 % or 0.020 in rule (from memory)."""
    bad = []
    for od, wall in (
        ("astm_d1785_2015_od", "astm_d1785_2015_wall"),
        ("astm_d2241_od", "astm_d2241_wall"),
        ("astm_f441_2015_od", "astm_f441_2015_wall"),
    ):
        before: dict[str, float] = {}
        for key in book.keys(wall):
            nps, series = key.split("/")
            t, thick = val(book, wall, key, "wall_min_in"), val(book, wall, key, "wall_max_in")
            if not 0 < 2 * thick < val(book, od, nps, "od_in"):
                bad.append(f"{wall}/{key}: no bore")
            if abs(thick - t - max(0.12 * t, 0.020)) > 0.0006:
                bad.append(f"{wall}/{key}: maximum {thick}")
            if t < before.get(series, 0.0):
                bad.append(f"{wall}/{key}: thinner than the size below")
            before[series] = t
    return bad


@sweep
def cpvc_walls_are_those_of_pvc(book: Book) -> list[str]:
    """F441 and D1785 print the same outside diameters and schedule walls for the sizes both list."""
    bad = [
        f"wall {key}"
        for key in book.keys("astm_f441_2015_wall")
        if val(book, "astm_f441_2015_wall", key, "wall_min_in")
        != val(book, "astm_d1785_2015_wall", key, "wall_min_in")
    ]
    for other in ("astm_f441_2015_od", "astm_d2241_od"):
        for nps in book.keys(other):
            for column in ("od_in", "od_tol_in"):
                if val(book, other, nps, column) != val(book, "astm_d1785_2015_od", nps, column):
                    bad.append(f"{other}/{nps}.{column}")
    return bad


@sweep
def od_bands_do_not_touch(book: Book) -> list[str]:
    """A measured mean diameter belongs to one size of its system at most."""
    bad = []
    for table, low, high in (
        ("astm_d1785_2015_od", None, None),
        ("iso1452_2_od", "od_mean_min_mm", "od_mean_max_mm"),
    ):
        top = 0.0
        for key in book.keys(table):
            if low and high:
                a, b = val(book, table, key, low), val(book, table, key, high)
            else:
                od, tol = val(book, table, key, "od_in"), val(book, table, key, "od_tol_in")
                a, b = od - tol, od + tol
            if not top < a < b:
                bad.append(f"{table}/{key}: band {a} to {b} after {top}")
            top = b
    return bad


def _up(x: float) -> float:
    """Up to the next 0.1, blind to noise below a millionth."""
    return math.ceil(round(x * 10, 6)) / 10


@sweep
def metric_walls_follow_iso4065(book: Book) -> list[str]:
    """ISO 4065: e = d/(2S+1), exact R10 S, to 0.01 mm and then up to 0.1 mm; PVC-U at least 1.5 mm
    (TCVN 6151-2:2002). Grade V of ISO 11922-1: e + up(0.1 e + 0.1); PVC-U product: 0.1 e + 0.2 (memory)."""
    exact = {"5": 0.7, "6.3": 0.8, "8": 0.9, "10": 1.0, "12.5": 1.1, "16": 1.2, "20": 1.3}
    bad = []
    for key in book.keys("iso4065_wall"):
        d, s = key.split("/")
        want = max(1.5, _up(round(float(d) / (2 * 10 ** exact[s] + 1), 2)))
        e = val(book, "iso4065_wall", key, "wall_min_mm")
        grade_v = val(book, "iso4065_wall", key, "wall_max_grade_v_mm")
        product = val(book, "iso4065_wall", key, "wall_max_mm")
        if abs(e - want) > 1e-6:
            bad.append(f"{key}: {e} against {want}")
        if abs(grade_v - e - _up(0.1 * e + 0.1)) > 1e-6:
            bad.append(f"{key}: grade V {grade_v}")
        if abs(product - e - _up(0.1 * e + 0.2)) > 1e-6:
            bad.append(f"{key}: product maximum {product}")
    return bad


@sweep
def metric_od_follows_iso11922_grade_c(book: Book) -> list[str]:
    """ISO 11922-1 grade C: plus 0.003 d, up to 0.1, from 0.3 to 2.0 mm, from d63;
    0.2 below (memory)."""
    bad = []
    for key in book.keys("iso1452_2_od"):
        d = float(key)
        plus = min(2.0, max(0.3, _up(0.003 * d))) if d >= 63 else 0.2
        low = val(book, "iso1452_2_od", key, "od_mean_min_mm")
        high = val(book, "iso1452_2_od", key, "od_mean_max_mm")
        if low != d or abs(high - d - plus) > 1e-6:
            bad.append(f"{key}: {low} to {high}")
    return bad


@sweep
def pn_is_ten_sigma_over_s(book: Book) -> list[str]:
    """ISO 1452-2 and ISO 4065: PN = 10 sigma / S (bar, MPa), rounded to a preferred number; sigma = 25/C."""
    bad = []
    for key in book.keys("iso1452_2_pn_series"):
        at = lambda c, key=key: val(book, "iso1452_2_pn_series", key, c)  # noqa: E731
        if abs(at("design_stress_MPa") * at("design_coefficient") - 25) > 1e-9:
            bad.append(f"{key}: sigma x C")
        if abs(10 * at("design_stress_MPa") / at("series_s") / at("pn_bar") - 1) > 0.06:
            bad.append(f"{key}: PN")
    return bad


# ------------------------------------------------------------------ sockets

TAPERS = (
    "astm_d2466_sockets",
    "astm_d2467_sockets",
    "astm_f438_sockets",
    "astm_f439_sockets",
    "astm_d2672_bells",
)


@sweep
def sockets_follow_the_design_rule(book: Book) -> list[str]:
    """entrance = OD + 2t and bottom = OD - t with t the OD tolerance of D1785: exact, NPS 1/2 to 24."""
    bad = []
    for table in (*TAPERS, "socket_band_nps14_24"):
        for nps in book.keys(table):
            od = val(book, "astm_d1785_2015_od", nps, "od_in")
            t = val(book, table, nps, "dia_tol_in")
            if t != val(book, "astm_d1785_2015_od", nps, "od_tol_in"):
                bad.append(f"{table}/{nps}: tolerance")
            if abs(val(book, table, nps, "entrance_in") - od - 2 * t) > 1e-6:
                bad.append(f"{table}/{nps}: entrance")
            if abs(val(book, table, nps, "bottom_in") - od + t) > 1e-6:
                bad.append(f"{table}/{nps}: bottom")
    return bad


@sweep
def contact_fraction_is_two_plus_v_less_u_over_three(book: Book) -> list[str]:
    """f = (A - D)/(A - B) = (2 + v - u)/3 for pipe and socket off by u and v tolerances: the seven cases."""
    bad = []
    for table in TAPERS:
        for nps in book.keys(table):
            od = val(book, "astm_d1785_2015_od", nps, "od_in")
            t = val(book, table, nps, "dia_tol_in")
            a, b = val(book, table, nps, "entrance_in"), val(book, table, nps, "bottom_in")
            for u, v in ((0, 0), (1, -1), (-1, 1), (0, 1), (0, -1), (1, 0), (-1, 0)):
                f = (a + v * t - (od + u * t)) / (a - b)
                if abs(f - (2 + v - u) / 3) > 1e-4:
                    bad.append(f"{table}/{nps} u={u} v={v}: {f:.4f}")
    return bad


@sweep
def depths_grow_with_size(book: Book) -> list[str]:
    """Socket depths never fall with size; only bells have none."""
    bad = []
    for table, column in (
        *((t, "depth_min_in") for t in TAPERS),
        ("iso727_1_2002_sockets", "depth_min_mm"),
    ):
        last = 0.0
        for key in book.keys(table):
            depth = maybe(book, table, key, column)
            if depth is None:
                if table not in ("astm_d2672_bells",):
                    bad.append(f"{table}/{key}: empty")
                continue
            if depth < last:
                bad.append(f"{table}/{key}: {depth} after {last}")
            last = depth
    return bad


@sweep
def bells_have_no_depth(book: Book) -> list[str]:
    """The bell depth of D2672 was never read: every cell is empty."""
    return [
        k
        for k in book.keys("astm_d2672_bells")
        if maybe(book, "astm_d2672_bells", k, "depth_min_in") is not None
    ]


@sweep
def metric_sockets_fit_their_pipe(book: Book) -> list[str]:
    """ISO 727-1: depth = max(12, 0.5 d + 6) mm; mid bore within a millimetre above d, not below d."""
    bad = []
    for key in book.keys("iso727_1_2002_sockets"):
        d = float(key)
        if abs(val(book, "iso727_1_2002_sockets", key, "depth_min_mm") - max(12, d / 2 + 6)) > 1e-9:
            bad.append(f"{key}: depth")
        low = maybe(book, "iso727_1_2002_sockets", key, "mid_bore_min_mm")
        high = maybe(book, "iso727_1_2002_sockets", key, "mid_bore_max_mm")
        if (low is None) != (high is None) or (low is None) != (d > 315):
            bad.append(f"{key}: bore listed or not")
        if low is not None and high is not None and not d < low < high <= d + 1.0:
            bad.append(f"{key}: bore {low} to {high}")
    return bad


# ------------------------------------------------------------------ laying lengths, flanges


@sweep
def laying_lengths_follow_geometry(book: Book) -> list[str]:
    """IS 7834: Z90 = d/2 + 1 (225 printed up to 114); Z45 = (d/2) tan 22.5 + 1 within 0.6 mm, but d280
    within 1.0 and d315 within 0.8; minus tolerance 1 mm throughout."""
    outliers = {280: 1.02, 315: 0.8}
    bad = []
    for key in book.keys("is7834_1987_laying"):
        d, fitting = float(key.split("/")[0]), key.split("/")[1]
        z = val(book, "is7834_1987_laying", key, "z_mm")
        if fitting in ("elbow_90", "tee_90"):
            if abs(z - d / 2 - 1) > (0.5 if d == 225 else 1e-9):
                bad.append(f"{key}: {z}")
        elif fitting == "elbow_45":
            if abs(z - d / 2 * math.tan(math.pi / 8) - 1) > outliers.get(d, 0.6):
                bad.append(f"{key}: {z}")
        elif not 3 <= z <= 12:
            bad.append(f"{key}: {z}")
        if val(book, "is7834_1987_laying", key, "z_tol_minus_mm") != 1:
            bad.append(f"{key}: minus")
        if not 1 <= val(book, "is7834_1987_laying", key, "z_tol_plus_mm") <= 13:
            bad.append(f"{key}: plus")
    return bad


@sweep
def flanges_can_be_drilled(book: Book) -> list[str]:
    """Holes clear the bolt, stay inside the rim, do not run into each other, and stand in fours."""
    bad = []
    for table, u in (("asme_b16_5_class150", "in"), ("en1092_1_pn10", "mm"), ("en1092_1_pn16", "mm")):
        for key in book.keys(table):
            od, k = val(book, table, key, f"flange_od_{u}"), val(book, table, key, f"bolt_circle_{u}")
            hole, bolt = val(book, table, key, f"bolt_hole_{u}"), val(book, table, key, f"bolt_dia_{u}")
            n = val(book, table, key, "bolt_count")
            if n % 4 or not bolt < hole or not k + hole < od or not k * math.sin(math.pi / n) > 2 * hole:
                bad.append(f"{table}/{key}")
    for key in book.keys("en1092_1_pn10"):
        if val(book, "en1092_1_pn16", key, "bolt_count") < val(book, "en1092_1_pn10", key, "bolt_count"):
            bad.append(f"PN 16 with fewer bolts than PN 10: {key}")
    return bad


# ------------------------------------------------------------------ ratings, temperature, material


@sweep
def ratings_follow_the_stress_formula(book: Book) -> list[str]:
    """ASTM D1785 appendix: P = 2 S t/(D - t), S = 2000 psi, printed within 10 psi."""
    bad = []
    for key in book.keys("ratings_73f"):
        nps = key.split("/")[0]
        if not book.has("astm_d1785_2015_od", nps):
            continue
        d = val(book, "astm_d1785_2015_od", nps, "od_in")
        t = val(book, "astm_d1785_2015_wall", key, "wall_min_in")
        printed = val(book, "ratings_73f", key, "rating_psi")
        if abs(printed - 4000 * t / (d - t)) > 10:
            bad.append(f"{key}: {printed} against {4000 * t / (d - t):.1f}")
    return bad


@sweep
def one_rating_throughout_a_dr(book: Book) -> list[str]:
    """P = 2 S/(DR - 1), S = 2000 psi, printed to 5 psi."""
    return [
        key
        for key in book.keys("ratings_by_dr")
        if abs(val(book, "ratings_by_dr", key, "rating_psi") - 4000 / (float(key) - 1)) > 5
    ]


@sweep
def hotter_is_never_stronger(book: Book) -> list[str]:
    bad = []
    last: dict[str, tuple[float, float]] = {}
    rows = [
        (key.rsplit("/", 1)[0], float(key.rsplit("/", 1)[1]), val(book, "temperature_factors", key, "factor"))
        for key in book.keys("temperature_factors")
    ]
    rows += [
        (f"limit {material}", float(key), limit / 150)
        for key in book.keys("joint_limit_by_temperature")
        for material in ("pvc", "cpvc")
        if (limit := maybe(book, "joint_limit_by_temperature", key, f"{material}_psi")) is not None
    ]
    for group, temp, factor in sorted(rows):
        if not 0 < factor <= 1 or factor > last.get(group, (0.0, 1.0))[1]:
            bad.append(f"{group} at {temp}: {factor}")
        last[group] = (temp, factor)
    return bad


@sweep
def joint_limit_is_150_times_family_a(book: Book) -> list[str]:
    """Common practice, no source: 150 psi x the family A factor, within half a psi of rounding."""
    bad = []
    for key in book.keys("joint_limit_by_temperature"):
        for material in ("pvc", "cpvc"):
            limit = maybe(book, "joint_limit_by_temperature", key, f"{material}_psi")
            row = f"{material}/A/{key}"
            if limit is None:
                if book.has("temperature_factors", row):
                    bad.append(f"{row}: empty")
            elif abs(limit - 150 * val(book, "temperature_factors", row, "factor")) > 0.51:
                bad.append(row)
    return bad


@sweep
def working_stress_is_2000_times_family_a(book: Book) -> list[str]:
    """A general engineering reference prints working stresses that equal 2000 psi x the family A factor:
    one table read checks another from memory at 100, 140 and 200 F."""
    bad = []
    for key in book.keys("material_properties"):
        material, prop, temp, _ = key.split("/")
        if prop == "working-stress":
            factor = val(book, "temperature_factors", f"{material}/A/{temp}", "factor")
            if abs(val(book, "material_properties", key, "value_psi") - 2000 * factor) > 1e-6:
                bad.append(key)
    return bad


# ------------------------------------------------------------------ clocks, crew, labour


@sweep
def cure_rises_with_size_cold_and_pressure(book: Book) -> list[str]:
    """Bigger, colder or higher pressed is never a shorter wait (ASTM D2855-96(2002), from memory)."""
    rows = []
    for key in book.keys("astm_d2855_1996_cure"):
        at = lambda c, key=key: val(book, "astm_d2855_1996_cure", key, c)  # noqa: E731
        rows.append((key, at("nps_lo"), -at("temp_lo_degF"), at("pressure_lo_psi"), at("wait_h")))
    bad = [
        f"{k} waits less than {k2}"
        for k, s, c, p, w in rows
        for k2, s2, c2, p2, w2 in rows
        if s >= s2 and c >= c2 and p >= p2 and (s, c, p) != (s2, c2, p2) and w <= w2
    ]
    waits = [
        val(book, "astm_d2855_1996_handling", k, "wait_h") for k in book.keys("astm_d2855_1996_handling")
    ]
    if waits != sorted(waits):
        bad.append(f"handling {waits}")
    return bad


@sweep
def cure_bands_cover_without_gap(book: Book) -> list[str]:
    """Size, temperature and pressure bands meet edge to edge; every combination is there once."""
    table = "astm_d2855_1996_cure"
    sizes = {(val(book, table, k, "nps_lo"), val(book, table, k, "nps_hi")) for k in book.keys(table)}
    temps = sorted(
        {(val(book, table, k, "temp_lo_degF"), val(book, table, k, "temp_hi_degF")) for k in book.keys(table)}
    )
    bad = []
    if len(book.keys(table)) != len(sizes) * len(temps) * 2:
        bad.append("a combination is missing or double")
    if any(a[1] != b[0] for a, b in pairwise(temps)):
        bad.append(f"temperatures {temps}")
    if (
        max(hi for _, hi in sizes) > 8
        or max(
            val(book, "astm_d2855_1996_handling", k, "nps_hi") for k in book.keys("astm_d2855_1996_handling")
        )
        > 8
    ):
        bad.append("carried above NPS 8")
    return bad


@sweep
def crew_and_cement_grow_with_size(book: Book) -> list[str]:
    bad = []
    for table, columns in (
        ("crew_by_size", ("people_fewest", "people_most")),
        ("brush_by_size_a117", ("width_in",)),
        ("astm_d2564_cement_bodies", ("max_nps", "wet_film_min_in", "viscosity_min_cP")),
    ):
        for column in columns:
            have = [v for k in book.keys(table) if (v := maybe(book, table, k, column)) is not None]
            if len(have) < 3 or have != sorted(have):
                bad.append(f"{table}.{column}: {have}")
    return bad


@sweep
def labour_is_linear_in_size(book: Book) -> list[str]:
    """The handbook's figures from 2-1/2 in up are 0.15, 0.40, 0.25 and 0.50 man-hours an inch, as printed."""
    rates = {"joint_mh": 0.15, "bolt_up_mh": 0.40, "valve_mh": 0.25, "control_valve_mh": 0.50}
    return [
        f"{key}.{column}"
        for key in book.keys("labour_joint_hours")
        if float(key) >= 2.5
        for column, rate in rates.items()
        if abs(val(book, "labour_joint_hours", key, column) - rate * float(key)) > 0.0051
    ]


@sweep
def stock_rows_have_one_length(book: Book) -> list[str]:
    return [
        key
        for key in book.keys("stock_lengths")
        if (maybe(book, "stock_lengths", key, "length_ft") is None)
        == (maybe(book, "stock_lengths", key, "length_m") is None)
    ]


@sweep
def properties_hold_one_value(book: Book) -> list[str]:
    bad = []
    for table in ("material_properties", "substances"):
        for row in book.table(table).rows.values():
            values = [v for c, v in row.values.items() if c.startswith("value_") and v is not None]
            if len(values) != 1 or not isinstance(values[0], float):
                bad.append(f"{table}/{row.key}: {values}")
    return bad
