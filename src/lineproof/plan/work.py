"""The whole plan of a job, made once and printed many times: walk, graph, pieces, sticks, tape list."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass

from lineproof.book.flanges import flange_dims
from lineproof.book.load import Book, book
from lineproof.book.material import density, expansion
from lineproof.book.pipe import PipeDims, pipe_dims
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec
from lineproof.floor.errors import BadInput, LineproofError, SizeNotListed
from lineproof.floor.sources import Reading
from lineproof.job.folder import Job
from lineproof.job.graph import LineGraph
from lineproof.job.joints_csv import JointRow, read_joints
from lineproof.job.lay import lay, split_lines
from lineproof.job.resolve import Resolver
from lineproof.job.statements import Walk
from lineproof.job.taped import Taped, newest
from lineproof.plan.ask import SameAs
from lineproof.plan.draft import PipeFacts, TapedGap
from lineproof.plan.issued import joints_now
from lineproof.plan.kept import rows_of_runs, stretches_of
from lineproof.plan.legs import must_be_its_leg, run_between
from lineproof.plan.model import Cutting
from lineproof.plan.names import face_name, faces_of, find_face
from lineproof.plan.pieces import Cutter
from lineproof.plan.sticks import StickPlan, stick_plans
from lineproof.plan.tape import TapeList, tape_list

GASKET = 0.003175
"""Gasket thickness where job.toml names none: 1/8 in, common practice, no source. [m]"""


class Pipes:
    """What the book says of each pipe of a job, read once a kind."""

    def __init__(self, job: Job, book: Book) -> None:
        self.job = job
        self.book = book
        self.reading = Reading()
        self._dims: dict[tuple[Size, str, str], PipeDims | None] = {}
        self._facts: dict[tuple[Size, str, str], PipeFacts] = {}

    def family(self, size: Size, material: str, series: str) -> str:
        """The OD family said for a pipe: by its stock item or its line; metric sizes are metric.

        Parameters
        ----------
        size : Size
        material, series : str

        Returns
        -------
        str
            Empty if nobody said, or if two families are said for it.
        """
        if size.metric:
            return "metric"
        said = {
            s.od_family
            for s in self.job.settings.stock
            if (s.size, s.material, s.series) == (size, material, series)
        }
        return said.pop() if len(said) == 1 else ""

    def dims(self, size: Size, material: str, series: str) -> PipeDims | None:
        """Dimensions of a pipe; None if its OD family is not said or the book does not list it."""
        key = (size, material, series)
        if key not in self._dims:
            found: PipeDims | None = None
            family = self.family(*key)
            if family:
                try:
                    found = pipe_dims(self.book, size, PipeSpec(material, series, family), self.reading)
                except (SizeNotListed, BadInput):
                    found = None
            self._dims[key] = found
        return self._dims[key]

    def bore(self, size: Size, material: str, series: str) -> float:
        """Inside diameter, for inverts and eccentric reducers. [m]

        Raises
        ------
        BadInput
            If the pipe's dimensions are not known.
        """
        dims = self.dims(size, material, series)
        if dims is None:
            raise BadInput(
                f"the inside diameter of {size.text} {material} {series} is not known",
                allowed="a size the book lists, with its OD family said by a stock item",
                next="add a stock item with its od_family to job.toml",
            )
        return dims.id_nominal

    def facts(self, size: Size, material: str, series: str) -> PipeFacts:
        """What the cutting needs of a pipe."""
        key = (size, material, series)
        if key not in self._facts:
            self._facts[key] = self._find(*key)
        return self._facts[key]

    def _find(self, size: Size, material: str, series: str) -> PipeFacts:
        dims = self.dims(size, material, series)
        mass = alpha = None
        bolts: int | None = None
        try:
            alpha = expansion(self.book, material, self.reading, metric=size.metric)
            if dims is not None:
                ring = math.pi / 4 * (dims.od**2 - dims.id_nominal**2)
                mass = ring * density(self.book, material, self.reading)
            if not size.metric:
                bolts = flange_dims(self.book, size, "class150", self.reading).bolt_count
        except LineproofError:
            pass
        return PipeFacts(dims.od if dims else None, mass, alpha, bolts)


@dataclass(frozen=True, slots=True)
class Work:
    """Graph, pieces, sticks and tape list of a job."""

    job: Job
    book: Book
    pipes: Pipes
    graph: LineGraph
    cutting: Cutting
    sticks: tuple[StickPlan, ...]
    tape: TapeList


def gasket_by_size(job: Job) -> Callable[[Size], float]:
    """Gasket thickness by size: the one job.toml names for it if it is one, else 1/8 in. [m]"""
    named: dict[Size, set[float]] = {}
    for g in job.settings.gaskets:
        if g.thickness is not None:
            named.setdefault(g.size, set()).add(g.thickness)
    one = {size: next(iter(t)) for size, t in named.items() if len(t) == 1}
    return lambda size: one.get(size, GASKET)


def graph_of(job: Job, pipes: Pipes | None = None, resolver: Resolver | None = None) -> LineGraph:
    """Lay the walks of a job.

    Parameters
    ----------
    job : Job
    pipes : Pipes, optional
        For inverts and eccentric reducers.
    resolver : Resolver, optional
        Deals out parts; kept by the caller who goes on dealing.

    Returns
    -------
    LineGraph

    Raises
    ------
    LineproofError
        With file, line and column of what could not be laid.
    """
    settings = job.settings
    return lay(
        job.walks,
        resolver or Resolver(job.parts),
        bore=(pipes or Pipes(job, book())).bore,
        gasket=gasket_by_size(job),
        exposed=settings.cutting.exposed or 0.0,
        shown=settings.shown.shown,
        step=settings.shown.step,
    )


def work(
    job: Job,
    *,
    seconds: float = 10.0,
    shelf: Book | None = None,
    nest: bool = True,
    recorded: frozenset[str] = frozenset(),
    answers: Iterable[SameAs] = (),
) -> Work:
    """Lay, cut and nest a whole job.

    Parameters
    ----------
    job : Job
    seconds : float
        Guard on the nesting of each stock item. [s]
    shelf : Book, optional
        The tables; the built-in ones with the job's confirmations by default.
    nest : bool
        Whether sticks are cut up too; an answer about joints needs none.
    recorded : frozenset of str
        Ids of joints that have a record and were not cut out: their pieces of split legs stay.
    answers : iterable of SameAs
        Which joint is which, where a changed walk does not say.

    Returns
    -------
    Work
        Everything the papers and the checks read.

    Raises
    ------
    LineproofError
        With file, line and column of what could not be laid.
    """
    tables = shelf or book().with_confirmations(job.confirmed)
    pipes = Pipes(job, tables)
    resolver = Resolver(job.parts)
    settings = job.settings
    graph = graph_of(job, pipes, resolver)
    gaps = tuple(_gap(row, graph, job.walks) for row in newest(job.taped).values())
    made = _made(job, graph, recorded, answers) if recorded else {}
    kept = stretches_of(made, recorded)
    cutting = Cutter(graph, settings, resolver, pipes.facts, gaps, made=frozenset(made), kept=kept).cut()
    return Work(
        job=job,
        book=tables,
        pipes=pipes,
        graph=graph,
        cutting=cutting,
        sticks=stick_plans(cutting.pieces, settings, seconds=seconds) if nest else (),
        tape=tape_list(graph, cutting, settings, tables),
    )


def _made(
    job: Job, graph: LineGraph, recorded: frozenset[str], answers: Iterable[SameAs]
) -> dict[str, list[JointRow]]:
    old = read_joints(joints_now(job.folder, job.joints_text))
    statements = {t.head.name: t.statements for t in split_lines(job.walks)}
    return rows_of_runs(graph, statements, old, recorded, answers)


def _gap(row: Taped, graph: LineGraph, walks: tuple[Walk, ...]) -> TapedGap:
    line = row.line
    try:
        faces = faces_of(graph, line) if line in graph.lines else {}
        a, b = find_face(faces, line, row.face_a), find_face(faces, line, row.face_b)
    except LineproofError as error:
        raise error.at(file=row.place.file, line=row.place.line) from None
    must_be_its_leg(
        row,
        run_between(graph, a, b),
        walks,
        [r for r in graph.runs.values() if r.line == line],
        lambda part: face_name(graph.parts[part], line),
    )
    return TapedGap(a, b, row.length, f"{row.by}, {row.when:%Y-%m-%d %H:%M}")
