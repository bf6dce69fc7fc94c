"""Small invented lines whose joints are named and issued, for the tests of joint ids."""

from __future__ import annotations

import tempfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

from lineproof.floor.shown import Shown
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import JointsFile, appended, read_joints
from lineproof.job.lay import lay, split_lines
from lineproof.job.parts import Catalogue
from lineproof.job.parts_csv import read_parts
from lineproof.job.resolve import Resolver
from lineproof.job.settings import Settings
from lineproof.job.walk_read import read_walk
from lineproof.plan.ask import SameAs
from lineproof.plan.draft import PipeFacts
from lineproof.plan.ids import Named, name_joints
from lineproof.plan.kept import made_stretches
from lineproof.plan.model import Cutting
from lineproof.plan.pieces import Cutter
from rigs import INCH, PARTS_HEAD, coupling, elbow, flange, job_at, part, stock, tee

PARTS = [
    elbow("6in", "6 1/2 in", "3 in"),
    elbow("6in", "4 1/2 in", "3 in", angle="45"),
    flange("6in", "3 1/2 in", "3 in"),
    coupling("6in", "3 1/4 in", "3 in"),
    tee("6in", "6 1/2 in", "3 in"),
    part("union", "6in", reach_1="4 in", depth_1="3 in", reach_2="4 in", depth_2="3 in"),
    part("cap", "6in", reach_1="4 in", depth_1="3 in"),
]


def head(name: str = "L", east: str = "0") -> str:
    return f'line {name} size 6in pipe pvc sch80\nstarts at flange fixed "P" at {east}, 0, 0 facing north\n'


@cache
def settings(stick: str, ends: str, stop_gap: str = "0 in") -> Settings:
    more = {"bell_depth": "4 in"} if ends == "cement bell" else {}
    toml = stock("6in", stick, ends=ends, **more)
    with tempfile.TemporaryDirectory() as folder:
        walk = head() + "go north 1'\nends at open\n"
        return job_at(Path(folder) / "job", walk, PARTS, toml=toml, stop_gap=stop_gap).settings


CATALOGUE = Catalogue(read_parts("\n".join([PARTS_HEAD, *PARTS]) + "\n"))


def cut(
    walk: str | Mapping[str, str],
    stick: str = "20 ft",
    ends: str = "plain",
    old: JointsFile | None = None,
    recorded: frozenset[str] = frozenset(),
    stop_gap: str = "0 in",
) -> tuple[LineGraph, Cutting, dict[str, list]]:
    """Graph, pieces and statements of a walk, or of walks by file name."""
    files = {"line.walk": walk} if isinstance(walk, str) else walk
    walks = [read_walk(text, name) for name, text in sorted(files.items())]
    resolver = Resolver(CATALOGUE)
    graph = lay(
        walks,
        resolver,
        bore=lambda size, _material, _series: size.nominal * INCH / 2,
        gasket=lambda _size: 0.0,
        exposed=2 * INCH,
        shown=Shown.us(),
        step=INCH / 16,
    )
    facts = PipeFacts(6.625 * INCH, None, None)
    statements = {t.head.name: t.statements for t in split_lines(walks)}
    kept = made_stretches(graph, statements, old or JointsFile(), recorded)
    cutting = Cutter(graph, settings(stick, ends, stop_gap), resolver, lambda *_: facts, kept=kept).cut()
    return graph, cutting, statements


@dataclass
class Bench:
    """A job whose walk is edited and issued again and again."""

    old: JointsFile = field(default_factory=JointsFile)
    revision: int = 0
    graph: LineGraph | None = None
    keep: bool = False
    """Made pieces stay when the stock changes."""
    stop_gap: str = "0 in"

    def name(
        self,
        walk: str | Mapping[str, str],
        *,
        recorded: Iterable[str] = (),
        answers: Iterable[SameAs] = (),
        issuing: bool = True,
        stick: str = "20 ft",
        ends: str = "plain",
    ) -> Named:
        self.graph, cutting, statements = cut(
            walk, stick, ends, self.old, frozenset(recorded) if self.keep else frozenset(), self.stop_gap
        )
        return name_joints(
            self.graph,
            cutting,
            statements,
            self.old,
            revision=self.revision + 1,
            recorded=frozenset(recorded),
            answers=answers,
            issuing=issuing,
        )

    def issue(self, walk: str | Mapping[str, str], **more) -> Named:
        named = self.name(walk, **more)
        named.must_be_clear()
        self.take(named)
        return named

    def take(self, named: Named) -> None:
        self.old = read_joints(appended(self.old, named.rows).text)
        self.revision += 1


def by_socket(named: Named) -> dict[tuple[str, str], str]:
    """Ids by the part and port of the socket, as the walk numbers parts now."""
    return {joint.socket: joint.id for joint in named.joints}


def ids(named: Named) -> list[str]:
    return [joint.id for joint in named.joints]
