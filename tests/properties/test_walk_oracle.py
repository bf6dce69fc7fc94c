"""Hundreds of random walks, laid and cut, against a second walker that shares no code (walk_oracle)."""

from __future__ import annotations

import tempfile
from functools import cache
from pathlib import Path

import numpy as np
import pytest

from lineproof.book.sizes import Size
from lineproof.floor.shown import Shown
from lineproof.job.graph import LineGraph
from lineproof.job.lay import lay
from lineproof.job.parts import Catalogue
from lineproof.job.parts_csv import read_parts
from lineproof.job.resolve import Resolver
from lineproof.job.settings import Settings
from lineproof.job.statements import Walk
from lineproof.job.walk_csv import read_walk_csv, write_walk_csv
from lineproof.job.walk_read import read_walk
from lineproof.job.walk_write import print_walk
from lineproof.plan.draft import PipeFacts
from lineproof.plan.model import Cutting, Short
from lineproof.plan.pieces import Cutter
from rigs import INCH, PARTS_HEAD, job_at, part, stock
from walk_oracle import Teller, Walked
from walk_told import Walk as Told

EXPOSED = (0.0, 2.0, 3.5)
GAPS = (0.0, 0.125, 0.25)
GASKET = 0.125


@cache
def settings(exposed: float, gap: float, ends: str) -> Settings:
    more = {"bell_depth": "3 in"} if ends == "cement bell" else {}
    toml = stock("6in", ends=ends, **more) + stock("4in", ends=ends, **more)
    with tempfile.TemporaryDirectory() as folder:
        walk = "line L size 6in pipe pvc sch80\nstarts at open\ngo north 1'\nends at open\n"
        return job_at(
            Path(folder) / "job", walk, toml=toml, exposed=f"{exposed} in", stop_gap=f"{gap} in"
        ).settings


def rows(teller: Teller) -> str:
    teller.measure("coupling", "6in")
    teller.measure("coupling", "4in")
    told = [*teller.rows(), *teller.tags]
    return "\n".join([PARTS_HEAD, *(part(r.pop("kind"), r.pop("size"), **r) for r in told)]) + "\n"


def laid(walk: Walk, csv: str, exposed: float) -> tuple[LineGraph, Resolver]:
    resolver = Resolver(Catalogue(read_parts(csv)))
    graph = lay(
        [walk], resolver, bore=lambda size, _m, _s: size.nominal * INCH, gasket=lambda _size: GASKET * INCH,
        exposed=exposed * INCH, shown=Shown.us(), step=INCH / 16,
    )  # fmt: skip
    return graph, resolver


def facts(size: Size, _material: str, _series: str) -> PipeFacts:
    return PipeFacts(size.nominal * INCH, None, None)


def cut(seed: int, ends: str = "plain") -> tuple[Walked, LineGraph, Cutting, float]:
    exposed, gap = EXPOSED[seed % 3], GAPS[seed // 3 % 3]
    teller = Told(seed, exposed=exposed, gap=gap, gasket=GASKET)
    told = teller.tell(2 + seed % 9)
    graph, resolver = laid(read_walk(told.text, "w.walk"), rows(teller), exposed)
    return told, graph, Cutter(graph, settings(exposed, gap, ends), resolver, facts).cut(), exposed


def gains(cutting: Cutting, run: str, gap: float) -> tuple[int, float]:
    """Couplings put into a run, and the pipe they stand for. [in]"""
    put = [c for i, c in cutting.couplings.items() if i.startswith(f"{run}.")]
    stops = sum(p.reach - p.depth for c in put for p in c.ports) / INCH
    return len(put), stops + 2 * gap * len(put)


@pytest.mark.parametrize("seed", range(400))
def test_a_random_walk_stands_where_plain_vectors_put_it(seed):
    told, graph, cutting, exposed = cut(seed)
    gap = GAPS[seed // 3 % 3]
    # coordinates of every fitting of its own place, in walking order
    kinds = {"elbow", "tee", "valve", "union", "coupling", "reducer", "bushing"}
    wanted = [(k, c) for k, c in told.centres if k in kinds]
    got = [p for p in graph.parts.values() if str(p.kind) in kinds and "mate" not in p.key]
    assert [str(p.kind) for p in got] == [k for k, _ in wanted]
    for p, (_, centre) in zip(got, wanted, strict=True):
        assert np.array(p.centre) / INCH == pytest.approx(centre, abs=1e-6), p.id
    assert graph.lines["L"].closed  # the end was told as the second walker has it
    assert np.linalg.norm(graph.lines["L"].misclosure) < 1e-8
    assert sorted(t.leftover_deg for t in graph.turns) == pytest.approx(sorted(told.leftovers), abs=1e-6)
    # pipes from stop to stop
    runs = list(graph.runs.values())
    assert len(runs) == len(told.pipes)
    for run, pipe in zip(runs, told.pipes, strict=True):
        assert run.line == pipe.line
        assert run.face_to_face / INCH == pytest.approx(pipe.face_to_face, abs=1e-6)
        assert np.array(run.way) == pytest.approx(pipe.way, abs=1e-9)
        pieces = [p for p in cutting.pieces if p.run == run.id]
        need = exposed if pipe.sockets == 2 else 0.0
        if pipe.face_to_face < need - 1e-6 or pipe.stop_to_stop <= 0:
            assert pieces[0].short in (Short.MEET, Short.CLOSE), run.id
            continue
        count, more = gains(cutting, run.id, gap)
        assert len(pieces) == count + 1
        assert sum(p.exact for p in pieces) / INCH + more == pytest.approx(pipe.stop_to_stop, abs=1e-6)
        assert np.array(pieces[0].start) / INCH == pytest.approx(pipe.start, abs=1e-6)
        assert all(p.exact / INCH <= 240 + 1e-6 for p in pieces)
        # sawn lengths: within a step each
        assert all(abs(p.cut - p.exact) < INCH / 16 + 1e-9 for p in pieces)
    # joints: elbow 2, tee 3, coupling 2, flange 1, union 2, reducer 2, cap 1, bushing 1, valve by its ends
    assert len(cutting.joints) == told.sockets + 2 * len(cutting.couplings)
    assert len({j.key for j in cutting.joints}) == len(cutting.joints)
    assert len({j.socket for j in cutting.joints}) == len(cutting.joints)


@pytest.mark.parametrize("seed", range(0, 400, 5))
def test_belled_pipe_makes_one_joint_a_bell(seed):
    told, _, cutting, _ = cut(seed, "cement bell")
    bells = sum(p.a.bell or p.b.bell for p in cutting.pieces)
    assert len(cutting.joints) == told.sockets + bells
    assert not cutting.couplings


@pytest.mark.parametrize("seed", range(0, 400, 4))
def test_printed_and_read_again_it_stands_where_it_stood(seed):
    exposed = EXPOSED[seed % 3]
    teller = Told(seed, exposed=exposed, gap=0.0, gasket=GASKET)
    told = teller.tell(2 + seed % 9)
    csv = rows(teller)
    first = read_walk(told.text, "w.walk")
    there, _ = laid(first, csv, exposed)
    for again in (read_walk(print_walk(first), "w.walk"), read_walk_csv(write_walk_csv(first), "w.csv")):
        back, _ = laid(again, csv, exposed)
        assert list(back.parts) == list(there.parts)
        for one, other in zip(there.parts.values(), back.parts.values(), strict=True):
            assert other.centre == pytest.approx(one.centre, abs=1e-9)
        for run, same in zip(there.runs.values(), back.runs.values(), strict=True):
            assert (same.cc, same.off_a, same.off_b) == pytest.approx(
                (run.cc, run.off_a, run.off_b), abs=1e-9
            )
