"""job.toml: every refusal names file and line, says what is allowed and the nearest word."""

from __future__ import annotations

import re
import tomllib
from dataclasses import fields, is_dataclass
from datetime import date
from importlib import resources
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from lineproof.book.sizes import Size
from lineproof.floor.errors import BadInput, LineproofError, UnitMissing
from lineproof.job.folder_toml import read_settings
from lineproof.job.settings import (
    BoltTorque,
    CementCard,
    Chemicals,
    Confirmation,
    PressureCap,
    Settings,
    confirmed_set,
    matches,
)
from lineproof.job.toml_places import place_of

TEMPLATE = (resources.files("lineproof.job") / "template" / "job.toml").read_text("utf-8")
BASE = """\
[job]
id = "X"
name = "invented"
[site]
name = "invented"
timezone = "America/Denver"
[cutting]
kerf = "1/8 in"
trim = "1/2 in"
stop_gap = "1/16 in"
bevel = "3/32 in"
field_extra = "4 in"
useful_offcut = "1 ft"
tape_error = "1/16 in"
cut_error = "1/16 in"
"""
LINES = BASE.count("\n")


def refused(text: str) -> LineproofError:
    with pytest.raises(LineproofError) as caught:
        read_settings(text)
    return caught.value


def test_the_template_reads_and_its_values_are_si() -> None:
    s = read_settings(TEMPLATE)
    duty = s.duty("EX-1")
    assert duty is not None
    assert duty.test_pressure == pytest.approx(120 * 6894.757293168, rel=1e-12)  # 1 psi, exact definitions
    assert s.conditions.pipe_temperature == pytest.approx((55 - 32) / 1.8 + 273.15)
    assert s.conditions.humidity == pytest.approx(0.6)
    assert s.cutting.kerf == pytest.approx(0.003175, abs=1e-15)
    assert s.stock[0].overall == pytest.approx(6.096, abs=1e-12)
    assert s.cards[0].containers[0] == pytest.approx(0.000946352946, rel=1e-9)  # US quart, 57.75 cubic inches
    assert s.job.invented


@pytest.mark.parametrize(
    ("extra", "down", "said"),
    [
        ('[[lines]]\nline = "B-2*"\ntest_presure = "9 psi"', 3, "write 'test_pressure'"),
        ('[[lines]]\nline = "B-2*"\ntest_pressure = 135', 3, '"135 psi"'),
        ('[[lines]]\nline = "B-2*"\ntest_pressure = "135"', 3, "psi"),
        ('[[lines]]\nline = "B-2*"\ntest_pressure = "135 F"', 3, "temperature"),
        ('[[lines]]\nline = "B-2*"\nchemical = "hypoclorite 12 %"', 3, "write 'hypochlorite'"),
        ('[[lines]]\nservice = "x"', 1, "line is missing"),
        ('[[lines]]\nline = "A"\n[[lines]]\nline = "A"', 4, "twice"),
        ("[shown]\ninch_step = 8", 2, "16 or 32"),
        ('[shown]\nunits = "metrc"', 2, "write 'metric'"),
        ("[conditions]\nstart = 2027-05-03T10:00:00", 2, "year-month-day"),
        ('[conditions]\nstart = "2027-02-30"', 2, "year-month-day"),
        ('[conditions]\nhumidity = "160 %"', 2, "100 %"),
        ('[conditions]\npipe_temperature = "-500 F"', 2, "absolute zero"),
        ("conditions = 3", None, "cutting has no 'conditions'"),
        ('[[cans]]\nid = "a"\nkind = "cement"\nvolume = "1 qt"\ncount = "4"', 5, "without quotes"),
        ('[[cans]]\nid = "a"\nkind = "cement"\nvolume = "1 qt"\ncount = -4', 5, "0 or more"),
        ('[[cans]]\nid = "a"\nkind = "glue"\nvolume = "1 qt"', 3, "cement, primer, cleaner"),
        ('[[crews]]\nid = "c"\npeople = "P-1"', 3, "list"),
        ('[[crews]]\nid = "c"\npeople = ["P-1"]', 3, "[[people]]"),
        ("[sigs]\n", 1, "write 'signs'"),
        ('[signs]\nlead = "P-9"', 2, "[[people]]"),
    ],
)
def test_each_refusal_stands_on_its_line(extra: str, down: int | None, said: str) -> None:
    error = refused(BASE + extra)
    assert error.place.file == "job.toml"
    assert down is None or error.place.line == LINES + down
    assert said in str(error)


def test_a_name_that_nothing_carries_is_answered_with_the_nearest() -> None:
    card = '[[cards]]\nid = "C-2"\nproduct = "invented"\nmaterial = "pvc"\n'
    error = refused(BASE + card + '[[cans]]\nid = "K"\nkind = "cement"\nvolume = "1 qt"\ncard = "C2"')
    assert error.place.line == LINES + 9
    assert "write 'C-2'" in str(error)


def test_what_is_missing_is_named() -> None:
    site = '[site]\nname = "invented"\ntimezone = "America/Denver"\n'
    assert "site is missing" in str(refused(BASE.replace(site, "")))
    error = refused(BASE.replace('kerf = "1/8 in"\n', ""))
    assert "kerf is missing" in str(error)
    assert error.place.line == 7  # where [cutting] stands
    # misspelt: the wrong word is named before the missing one
    assert "write 'kerf'" in str(refused(BASE.replace("kerf", "curf")))


@pytest.mark.parametrize("zone", ["America/Denvr", "Europe", "..", "", "/etc/passwd", "a" * 3000])
def test_a_time_zone_that_is_none(zone: str) -> None:
    error = refused(BASE.replace("America/Denver", zone))
    assert error.place.line == 6


def test_the_nearest_time_zone_is_named() -> None:
    assert "'America/Denver'" in str(refused(BASE.replace("Denver", "Denvr")))


STOCK = '[[stock]]\nid = "S"\nsize = "12in"\nmaterial = "pvc"\nseries = "sch80"\nlength = "20 ft"\n'
STOCK_PLAIN = STOCK + 'basis = "overall"\nod_family = "ips"\n'


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ('basis = "overall"', "od_family is missing"),
        ('od_family = "ips"', "basis is missing"),
        ('basis = "overall"\nod_family = "metric"', "ips, irrigation or cast-iron"),
        ('basis = "overall"\nod_family = "ips"\nbell_depth = "6 in"', "plain ends"),
        ('basis = "laying"\nod_family = "ips"\nends = "cement bell"\nbell_depth = "7 in"\n'
         'bell_reach = "6 in"', "less than bell_depth"),
        ('basis = "laying"\nod_family = "ips"\nends = "cement bell"\nbell_depth = "21 ft"', "as deep as"),
        ('basis = "laying"\nod_family = "ips"\nends = "bell"', "cement bell, gasket bell"),
    ],
)  # fmt: skip
def test_a_stick_is_asked_not_guessed(extra: str, said: str) -> None:
    assert said in str(refused(BASE + STOCK + extra))


def test_overall_and_laying_length_of_a_belled_stick() -> None:
    bell = 'od_family = "ips"\nends = "cement bell"\nbell_depth = "6 in"\nbasis = '
    overall = read_settings(BASE + STOCK + bell + '"overall"').stock[0]
    laying = read_settings(BASE + STOCK + bell + '"laying"').stock[0]
    # AS/NZS 1477:2017 cl. 4.3.3: effective length of belled pipe = overall less the socket's depth
    assert overall.laying == pytest.approx(19.5 * 0.3048, abs=1e-12)
    assert laying.overall == pytest.approx(20.5 * 0.3048, abs=1e-12)
    unmeasured = read_settings(BASE + STOCK + bell.replace('bell_depth = "6 in"\n', "") + '"laying"').stock[0]
    assert (unmeasured.laying, unmeasured.overall) == (pytest.approx(6.096), None)


CARD = '[[cards]]\nid = "C"\nproduct = "invented"\nmaterial = "pvc"\n'


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ('rows = [{ kind = "cure", size_lo = "2in", size_hi = "4in", time = "1 h" }]', "pressure_max"),
        ('rows = [{ kind = "hold", size_lo = "4in", size_hi = "2in", time = "1 h" }]', "run downwards"),
        ('rows = [{ kind = "hold", size_lo = "4in", size_hi = "d110", time = "1 h" }]', "mixes inch"),
        ('working = [{ time = "1 min", temp_lo = "60 F", temp_hi = "60 F" }]', "not above temp_lo"),
        ('factors = [{ when = "dry", times = 0.5 }]', "1 or more"),
        ('typed_by = "P"\nread_back_by = "P"\n[[people]]\nid = "P"\nname = "p"', "two different people"),
    ],
)
def test_a_card_that_makes_no_sense(extra: str, said: str) -> None:
    assert said in str(refused(BASE + CARD + extra))


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("[job\n", 1),
        ('[job]\nid = "X\n', 2),
        ("[job]\nid = 'X'\nid = 'Y'\n", 3),
        ("a = " + "[" * 5000, 0),
        ("a = " + "9" * 5000, 0),
        ("a = 2027-13-45", 1),
    ],
)
def test_broken_toml_is_one_sentence(text: str, line: int) -> None:
    error = refused(text)
    assert error.place.line == line
    assert "\n" not in str(error)


# ---------------------------------------------------------------- every key told in the template
def classes() -> list[type[Any]]:
    import lineproof.job.settings as s

    found = [getattr(s, n) for n in s.__all__ if is_dataclass(getattr(s, n))]
    return [c for c in found if c.__name__ not in ("Settings", "CardTime", "Chemical")]


@pytest.mark.parametrize("cls", classes(), ids=lambda c: c.__name__)
def test_the_template_tells_every_key(cls: type[Any]) -> None:
    untold = [
        f.name
        for f in fields(cls)
        if not re.search(rf"(?m)(^(# )?|\{{ |, ){f.name} = |\[\[?(\w+\.)?{f.name}\]", TEMPLATE)
    ]
    assert untold == []


def test_what_the_template_keeps_as_remarks_reads_too() -> None:
    lines = TEMPLATE.splitlines()
    opened = [re.sub(r"^# (?=\[|\w+ = )", "", line) for line in lines]
    table = tomllib.loads("\n".join(opened))
    assert "pressure_caps" in table
    extra = 'ends = "cement bell"\nbell_depth'
    s = read_settings("\n".join(opened).replace('ends = "plain" ', "#").replace("bell_depth", extra, 1))
    assert s.confirmations[0].by == "P-3"
    assert s.cap_of("S-1") is not None
    assert s.closing.keep_closed == ("EX-9*",)
    assert s.handling.mass is not None
    assert s.cutting.joint_angle_limit == pytest.approx(0.5 * 3.141592653589793 / 180)


# ---------------------------------------------------------------- what the values answer
def test_a_line_finds_its_own_row_before_a_pattern() -> None:
    s = read_settings(
        BASE
        + '[[lines]]\nline = "B-*"\nservice = "any"\n'
        + '[[lines]]\nline = "B-301"\nchemical = "hypochlorite 12.5 %"\n'
        + '[[sections]]\nid = "S"\nlines = ["B-3*"]\n'
    )
    own, other = s.duty("B-301"), s.duty("B-201")
    assert own is not None
    assert other is not None
    assert own.chemical is not None
    assert (own.chemical.name, own.chemical.strength) == (Chemicals.HYPOCHLORITE, 0.125)
    assert own.chemical.text == "hypochlorite 12.5 %"
    assert (other.service, other.chemical) == ("any", None)
    assert s.duty("C-1") is None
    assert [x.id for x in s.sections_of("B-301")] == ["S"]
    assert s.sections_of("B-201") == ()


@given(st.text("AB-*1", max_size=8), st.text("AB-1", max_size=8))
def test_patterns_against_the_shell_s_rule(pattern: str, line: str) -> None:
    import fnmatch

    assert matches(pattern, line) == fnmatch.fnmatchcase(line, pattern)


PEOPLE = "".join(f'[[people]]\nid = "{i}"\nname = "invented"\n' for i in ("L", "E", "Q"))


@pytest.mark.parametrize(
    ("by", "role", "signs", "counts"),
    [
        ("E", "engineer", 'lead = "L"\nengineer = "E"', True),
        ("Q", "quality", 'lead = "L"\nquality = "Q"', True),
        ("Q", "engineer", 'lead = "L"\nengineer = "E"\nquality = "Q"', False),  # signs for another role
        ("L", "engineer", 'lead = "L"\nengineer = "E"', False),  # not named for it
        ("L", "engineer", 'lead = "L"\nengineer = "L"', False),  # the one who asks
        ("L", "engineer", 'lead = "L"\nengineer = "L"\none_person_both = true', True),
        ("E", "engineer", 'lead = "L"', False),
    ],
)
def test_which_confirmations_count(by: str, role: str, signs: str, counts: bool) -> None:
    s = read_settings(
        f'{BASE}{PEOPLE}[signs]\n{signs}\n[[confirmations]]\ntable = "t"\nedition = "e"\nrow_hash = "h"\n'
        f'value = "3.00 in"\npage = "5"\nby = "{by}"\nrole = "{role}"\ndate = 2027-04-30\n'
    )
    assert confirmed_set(s) == (frozenset({("t", "e", "h")}) if counts else frozenset())


def test_the_one_who_asks_may_be_another_than_the_lead() -> None:
    s = read_settings(
        f'{BASE}{PEOPLE}[signs]\nlead = "L"\nengineer = "E"\n[[confirmations]]\ntable = "t"\nedition = "e"\n'
        'row_hash = "h"\nvalue = "v"\npage = "5"\nby = "E"\nrole = "engineer"\ndate = 2027-04-30\n'
    )
    assert confirmed_set(s, asker="E") == frozenset()
    assert confirmed_set(s, asker="Q") == {("t", "e", "h")}


def test_ids_find_their_entries() -> None:
    s = read_settings(TEMPLATE)
    six = Size.parse("6in")
    assert [x.id for x in s.stock_for(six, "pvc", "sch80")] == ["PVC6"]
    assert s.stock_for(six, "pvc", "sch80", "cast-iron") == ()
    for find, name in [
        (s.gauge, "PG-1"), (s.person, "P-3"), (s.procedure, "BP-1"), (s.card, "C-1"), (s.stock_item, "PVC6"),
    ]:  # fmt: skip
        found = find(name)
        assert found is not None
        assert found.id == name
        assert find("nobody") is None
    assert [c.id for c in s.crews_for("EX-1")] == ["CR-1"]
    assert s.crews_for("A") == ()
    assert [c.id for c in s.cans_for("EX-1", "cement")] == ["K-1"]
    assert s.cans_for("A", "cement") == ()
    assert [c.id for c in s.cans_for("A", "primer")] == ["K-2"]
    procedure = s.procedures[0]
    assert [procedure.people_for(Size.parse(t)) for t in ("4in", "6in", "d110")] == [2, 3, None]
    assert s.tools.widest_applicator == pytest.approx(0.0762)
    assert (s.shown.step, s.shown.shown.inch_step) == (0.0254 / 16, 16)
    metric = read_settings(TEMPLATE.replace('units = "us"', 'units = "metric"'))
    assert (metric.shown.step, metric.shown.shown.length) == (0.001, "mm")


@pytest.mark.parametrize(
    ("row", "day", "near"),
    [
        ("", None, True),
        ("", date(2027, 5, 3), True),
        ("since = 2027-05-03", date(2027, 5, 2), False),
        ("until = 2027-05-03", date(2027, 5, 3), True),
        ("until = 2027-05-03", date(2027, 5, 4), False),
        ('lines = ["B-3*"]', None, False),
    ],
)
def test_hot_work_near_a_line_on_a_day(row: str, day: date | None, near: bool) -> None:
    s = read_settings(f'{BASE}[[hot_work]]\nplace = "next bay"\n{row}\n')
    assert bool(s.hot_work_near("B-201", day)) == near


@pytest.mark.parametrize(
    ("extra", "said"),
    [
        ('[[hot_work]]\nplace = "x"\nsince = 2027-05-03\nuntil = 2027-05-02', "before it begins"),
        ('[[tools.straps]]\nid = "s"\nsize_lo = "2in"\nsize_hi = "4in"\ncount = 1\n' * 2, "twice"),
        (STOCK_PLAIN + '[[offcuts]]\nid = "O"\nstock = "S"\nlength = "21 ft"', "longer than a stick"),
        (STOCK_PLAIN + '[[offcuts]]\nid = "O"\nstock = "S"\nlength = "2 ft"\nbell = true', "plain ends"),
        (STOCK_PLAIN + '[[offcuts]]\nid = "O"\nstock = "T"\nlength = "2 ft"', "[[stock]]"),
        ("[job.x]", "job has no 'x'"),
        ('[[lines]]\nline = ""', "empty name"),
        ("[[lines]]\nline = 3", "not text"),
        ('[signs]\none_person_both = "yes"', "true or false"),
        (CARD + 'per_can = [{ size_lo = "2in", size_hi = "2in", volume = "1 qt", joints = 0 }]', "above 0"),
        (STOCK_PLAIN.replace('"12in"', "12"), "size in quotes"),
        (STOCK_PLAIN.replace('"12in"', '"' + "9" * 50 + 'in"'), "is not a size"),
        (STOCK_PLAIN.replace('"sch80"', '" "'), "series"),
        ("[conditions]\npipe_temperature = [3]", "not a temperature"),
        ('[conditions]\npipe_temperature = "-459.67 F"', "too small"),
        ("[[conditions]]\n", "not a table"),
    ],
)
def test_more_that_makes_no_sense(extra: str, said: str) -> None:
    assert said in str(refused(BASE + extra))


def test_brackets_past_any_use_are_one_sentence() -> None:
    deep = "people = " + "[" * 300 + "]" * 300 + "\n"
    assert refused(deep + BASE).place.file == "job.toml"


# ---------------------------------------------------------------- places
def test_places_in_toml_of_every_shape() -> None:
    text = (
        "# a = 1\n"
        'a."b c".d = """\n[x]\n"""\n'
        "[t]\n"
        "k = [ # ]\n  'one',\n  { u = 1, v = [2,\n 3] },\n]\n"
        "[[many]]\nid = '#'\n[many.sub]\nz = 1\n[[many]]\n[[many.deep]]\n[[many.deep]]\ny = 2\n"
    )
    tomllib.loads(text)
    for path, line in [
        (("a", "b c", "d"), 2),
        (("t", "k", 0), 7),
        (("t", "k", 1, "v"), 8),
        (("t", "k", 1, "v", 1), 9),
        (("many", 0, "id"), 12),
        (("many", 0, "sub", "z"), 14),
        (("many", 1, "deep", 1, "y"), 18),
        (("many", 1, "deep", 1, "missing", "x"), 17),
        (("nowhere",), 1),
    ]:
        assert place_of(text, path)[0] == line, path


keys = st.sampled_from(["a", "b", "c d", "é", 'q"q'])
scalars = st.one_of(
    st.integers(),
    st.booleans(),
    st.text(max_size=6),
    st.sampled_from(['"""', "'''", "#", "[x]", "{", "a = 1\n"]),
)
tables = st.recursive(
    scalars, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(keys, inner, max_size=3)
)


@given(st.dictionaries(keys, tables, max_size=4))
def test_every_key_that_a_toml_writer_wrote_is_found_on_its_line(content: dict[str, Any]) -> None:
    # tomlkit writes the text, so the scanner meets another writer's idea of TOML
    import tomlkit

    text = tomlkit.dumps(content)
    assert tomllib.loads(text) == content
    for key in content:
        line, _ = place_of(text, (key,))
        written = text.replace("\r\n", "\n").split("\n")[line - 1]
        assert key.replace('"', '\\"') in written or key in written


def test_values_of_the_job_are_all_reached_by_the_tests_above() -> None:
    # the classes only seen as remarks in the template
    assert {Confirmation, PressureCap, BoltTorque, CementCard} <= set(classes())
    live = set(tomllib.loads(TEMPLATE))
    remarked = {"pressure_caps", "confirmations", "closing", "handling"}
    assert {f.name for f in fields(Settings)} == live | remarked


def test_a_missing_unit_is_its_own_kind_of_error() -> None:
    assert isinstance(refused(BASE + '[[lines]]\nline = "B"\ntest_pressure = 9'), UnitMissing)
    assert isinstance(refused(BASE + "[[lines]]\n"), BadInput)
