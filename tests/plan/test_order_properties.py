"""What holds for every order list: lines add up, nothing is short below zero, rows say what they lack."""

import tempfile
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from order_rig import PARTS, can, held, ordered
from rigs import elbow

PLACES = st.sampled_from(["", "flanges\n", "union\n", "coupling\n", "stub and ring\n"])
LEGS = st.lists(
    st.tuples(st.sampled_from(["north", "east", "up"]), st.sampled_from([9, 31]), PLACES), max_size=6
)
ENDS = st.sampled_from(["open", "cap", "blind", "test cap", "test blind", 'flange fixed raised "T-1"'])


def a_walk(name, legs, end):
    """Legs one after another; what stands in a leg has pipe of the same way on both sides."""
    text = "".join(
        f"go {way} {feet}'\n" + (f"{place}go {way} 9'\n" if place else "") for way, feet, place in legs
    )
    return (
        f"line {name} size 6in pipe pvc sch80\nstarts at open at 0, 0, 0 facing north\ngo north 20'\n"
        f"{text}go north 12'\nends at {end}\n"
    )


@given(
    legs=st.tuples(LEGS, LEGS),
    ends=st.tuples(ENDS, ENDS),
    elbows=st.integers(0, 4),
    quarts=st.integers(0, 3),
    days=st.sampled_from([None, 1, 9]),
)
def test_lines_add_up_and_nothing_is_short_below_zero(legs, ends, elbows, quarts, days):
    ours = [*PARTS[1:], *([elbow("6in", "6 in", "3 in", **held(elbows))] if elbows else [])]
    walks = {f"{n}.walk": a_walk(n, legs[i], ends[i]) for i, n in enumerate("AB")}
    toml = "[conditions]\nstart = 2027-05-03\n" + can("K1", count=str(quarts))
    with tempfile.TemporaryDirectory() as folder:
        o = ordered(Path(folder), walks, ours, toml=toml, days=days)
    for row in o.rows:
        if row.by_line:
            assert row.needed is not None
            assert abs(sum(row.by_line.values()) - row.needed) < 1e-9
            assert all(v >= 0 for v in row.by_line.values())
        if row.short is not None:
            assert row.needed is not None
            assert 0 <= row.to_order <= row.short <= row.needed
        if row.needed is None or (row.in_yard is None and row.needed):
            assert row.missing, row
    bolted = sum(place.startswith(("flanges", "stub")) for part in legs for _, _, place in part)
    assert len(o.flange_pairs) == bolted + sum("blind" in e or "flange" in e for e in ends)
