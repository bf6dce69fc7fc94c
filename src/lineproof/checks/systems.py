"""Do the two ends belong together: size, material, family of outside diameters, series."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.pipe import od
from lineproof.book.ratings import rating_73f
from lineproof.book.sizes import Size
from lineproof.book.spec import PipeSpec, od_families
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict


@dataclass(frozen=True, slots=True, kw_only=True)
class Sizes(About):
    """A pipe (or spigot) and the socket it enters.

    Parameters
    ----------
    pipe_size, socket_size : Size
    material : str
        Of the pipe.
    pipe_series, socket_series : str
    pipe_family : str
        Family of the pipe's outside diameters; empty if not said.
    part : str
        The part with the socket.
    """

    pipe_size: Size
    socket_size: Size
    material: str
    pipe_series: str
    socket_series: str
    pipe_family: str = ""
    part: str = ""


def _od(book: Book, size: Size, material: str, series: str, family: str, log: Reading) -> float | None:
    """Outside diameter of a pipe; the family of a size without one is taken only where there is no choice."""
    choices = od_families(series)
    said = "metric" if size.metric else family or (choices[0] if len(choices) == 1 else "")
    for wall in (series, "s12.5" if size.metric else "sch80"):
        try:
            return od(book, size, PipeSpec(material, wall, said or "ips"), log)
        except LineproofError:
            continue
    return None


@check(id="SYS-01", stage="read", rule="one size on both sides of a joint; outside diameters", facts=Sizes)
def sizes_meet(facts: Sizes, book: Book) -> Finding:
    """STOP where pipe and socket differ in size; both outside diameters are told."""
    if facts.pipe_size == facts.socket_size:
        return answer("SYS-01", Verdict.GO, facts)
    log = Reading()
    pipe = _od(book, facts.pipe_size, facts.material, facts.pipe_series, facts.pipe_family, log)
    socket = _od(book, facts.socket_size, facts.material, facts.socket_series, "", log)
    known = pipe is not None and socket is not None
    return answer(
        "SYS-01", Verdict.STOP, facts, log, why="differ" if known else "differ_unlisted",
        measured=pipe, limit=socket, unit="m", pipe_od=pipe, socket_od=socket,
        apart=abs(pipe - socket) if pipe is not None and socket is not None else None,
        next_step="right_size",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Materials(About):
    """Material of the line's pipe and of the part, and whether the walk says that both are meant.

    Parameters
    ----------
    pipe_material, part_material : str
    mixed : bool
        The walk says ``mixed``.
    part : str
        The part.
    """

    pipe_material: str
    part_material: str
    mixed: bool = False
    part: str = ""


@check(
    id="SYS-02", stage="read", facts=Materials,
    rule="cements are made for one material: ASTM D2564 PVC, F493 CPVC; common practice, no source",
)  # fmt: skip
def materials_meet(facts: Materials, _book: Book) -> Finding:
    """STOP where PVC meets CPVC unless the walk says it is meant; then CARE."""
    if facts.pipe_material == facts.part_material:
        return answer("SYS-02", Verdict.GO, facts)
    if facts.mixed:
        return answer("SYS-02", Verdict.CARE, facts, next_step="ask_transition")
    return answer("SYS-02", Verdict.STOP, facts, next_step="right_material")


@dataclass(frozen=True, slots=True, kw_only=True)
class Systems(About):
    """Family and series of the pipe and of the socket it enters.

    Parameters
    ----------
    size : Size
        Of the joint.
    material : str
    pipe_family, socket_family : str
        Families of outside diameters; empty if not said.
    pipe_series, socket_series : str
    part : str
        The part with the socket.
    """

    size: Size
    material: str
    pipe_family: str
    socket_family: str
    pipe_series: str
    socket_series: str
    part: str = ""


def _kind(series: str) -> tuple[str, float]:
    kind = series.rstrip("0123456789.")
    return kind, float(series.removeprefix(kind) or 0)


def _lower(pipe: str, socket: str) -> bool | None:
    """Whether the socket's series is the lower rated, by the names alone; None across kinds of names."""
    (kind, of_pipe), (other, of_socket) = _kind(pipe), _kind(socket)
    if kind != other:
        return None
    # a larger SDR or S is a thinner wall; a larger schedule or PN a stronger one
    return of_socket > of_pipe if kind in ("sdr", "s") else of_socket < of_pipe


@check(
    id="SYS-03", stage="read", facts=Systems,
    rule="families of outside diameters: ASTM D1785, D2241, ISO 4065; ratings of pipe by series",
)  # fmt: skip
def systems_meet(facts: Systems, book: Book) -> Finding:
    """STOP across families of outside diameters; CARE where the fitting is rated lower than the pipe."""
    if not facts.pipe_family or not facts.socket_family:
        return answer(
            "SYS-03", Verdict.CANNOT_TELL, facts, why="not_said", missing=("od family",),
            next_step="say_family",
        )  # fmt: skip
    if facts.pipe_family != facts.socket_family:
        return answer("SYS-03", Verdict.STOP, facts, why="family", next_step="right_system")
    if facts.pipe_series == facts.socket_series:
        return answer("SYS-03", Verdict.GO, facts)
    lower = _lower(facts.pipe_series, facts.socket_series)
    if lower is not None:
        verdict = Verdict.CARE if lower else Verdict.GO
        return answer(
            "SYS-03", verdict, facts, why="lower" if lower else "", next_step="ask_rating" if lower else ""
        )
    log = Reading()
    ratings = []
    for series in (facts.pipe_series, facts.socket_series):
        try:
            ratings.append(
                rating_73f(book, facts.size, PipeSpec(facts.material, series, facts.pipe_family), log)
            )
        except LineproofError:
            ratings.append(None)
    of_pipe, of_socket = ratings
    if of_pipe is None or of_socket is None:
        return answer(
            "SYS-03", Verdict.CARE, facts, log, why="other_series", next_step="ask_rating",
        )  # fmt: skip
    short = of_socket < of_pipe - 1.0
    return answer(
        "SYS-03", Verdict.CARE if short else Verdict.GO, facts, log, why="lower_rated" if short else "",
        measured=of_socket, limit=of_pipe, unit="Pa", next_step="ask_rating" if short else "",
    )  # fmt: skip


@dataclass(frozen=True, slots=True, kw_only=True)
class Family(About):
    """The family of outside diameters said for a pipe.

    Parameters
    ----------
    size : Size
    material, series : str
    family : str
        As said by its stock item or line; empty if nobody said, or two are said.
    choices : tuple of str
        The families that the series can have.
    """

    size: Size
    material: str
    series: str
    family: str
    choices: tuple[str, ...] = ()


@check(id="SYS-04", stage="read", rule="own rule: asked, never guessed from the nominal size", facts=Family)
def family_said(facts: Family, _book: Book) -> Finding:
    """CANNOT TELL while nobody said which family of outside diameters the pipe has."""
    if facts.family:
        return answer("SYS-04", Verdict.GO, facts)
    return answer("SYS-04", Verdict.CANNOT_TELL, facts, missing=("od_family",), next_step="say_family")
