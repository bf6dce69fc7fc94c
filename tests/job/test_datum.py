"""A height counts only where the walk began on the drawing's datum and nothing unmeasured went up or down."""

from __future__ import annotations

from lineproof.floor.shown import Shown
from lineproof.job.graph import LineGraph
from lineproof.job.lay import lay
from lineproof.job.parts import Catalogue
from lineproof.job.resolve import Resolver
from lineproof.job.walk_read import read_walk

HEAD = 'line L-1 size 6in pipe pvc sch80 for "water"\n'


def laid(text: str) -> LineGraph:
    walk = read_walk(text, "l.walk")
    return lay(
        [walk],
        Resolver(Catalogue()),
        bore=lambda *_: 0.146,
        gasket=lambda _: 0.003,
        exposed=0.1,
        shown=Shown.us(),
        step=0.0015875,
    )


def test_a_start_without_a_point_has_no_datum() -> None:
    graph = laid(HEAD + "starts at open facing north\ngo north 10'\ngo up 6'\nends at open\n")
    assert not graph.lines["L-1"].datum
    assert not any(p.datum for p in graph.parts.values())


def test_a_start_with_a_point_has_and_its_branch_inherits_it() -> None:
    graph = laid(
        HEAD + "starts at open at 0, 0, 2'-6\" facing north\ngo north 10'\ntee east as L-2\n"
        "go north 5'\nends at open\n"
        'line L-2 size 6in pipe pvc sch80 for "water"\nstarts at branch L-2\n'
        "go east 5'\ngo up 3'\nends at open\n"
    )
    assert graph.lines["L-1"].datum
    assert graph.lines["L-2"].datum
    assert all(p.datum for p in graph.parts.values())


def test_an_unmeasured_length_upward_loses_it_and_a_level_one_does_not() -> None:
    up = laid(
        HEAD + "starts at open at 0, 0, 0 facing north\ngo north 10'\ngo up 6' to face\ngo east 4'\n"
        "coupling\ngo east 4'\nends at open\n"
    )
    heights = {p.kind: p.datum for p in up.parts.values() if p.kind != "ground"}
    assert heights["coupling"] is False
    assert up.lines["L-1"].datum
    level = laid(
        HEAD + "starts at open at 0, 0, 0 facing north\ngo north 10' to face\ngo east 4'\n"
        "coupling\ngo east 4'\nends at open\n"
    )
    assert all(p.datum for p in level.parts.values())
