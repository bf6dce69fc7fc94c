"""The fittings in hand: measured, deep enough, plausible, enough of them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from lineproof.book.load import Book
from lineproof.book.pipe import bore
from lineproof.book.sizes import Size
from lineproof.book.sockets import plausible_socket, socket_depth_min
from lineproof.book.spec import PipeSpec
from lineproof.checks.registry import About, answer, check
from lineproof.floor.errors import LineproofError
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict

SHORT_OF_SISTERS = 0.005
"""A socket more than this shorter than the others of its size is asked about (own rule). [m]"""
LIKELY_SHARE = 0.6
"""A socket shallower than this share of the depth to expect is taped again (own rule). [-]"""
TINY = 1e-6


@dataclass(frozen=True, slots=True, kw_only=True)
class Measured(About):
    """A type and lot of fitting, and whether its dimensions can be used.

    Parameters
    ----------
    what : str
        In words: ``elbow 90, 12 in, lot E12-3``.
    reason : str
        Why they cannot be used yet; empty when they can.
    wants, measured : int
        How many to measure, how many were.
    waiting : int
        How many pieces wait for it.
    places : int
        How many places take it.
    """

    what: str
    reason: str = ""
    wants: int = 0
    measured: int = 0
    waiting: int = 0
    places: int = 0


@check(id="PRT-01", stage="read", rule="own rule: no cut from a fitting nobody measured", facts=Measured)
def measured(facts: Measured, _book: Book) -> Finding:
    """CANNOT TELL cut lengths while a fitting is not measured; what, and how many pieces wait."""
    if not facts.reason:
        return answer("PRT-01", Verdict.GO, facts)
    return answer("PRT-01", Verdict.CANNOT_TELL, facts, missing=(facts.what,), next_step="tape_part")


@dataclass(frozen=True, slots=True, kw_only=True)
class SocketDepth(About):
    """The depth of a socket as measured.

    Parameters
    ----------
    what : str
        The fitting in words.
    size : Size
        Of the socket.
    material, series : str
        Of the fitting.
    depth : float or None
        Face to the stop. [m]
    sisters : float or None
        Middle depth of the other sockets of that size in parts.csv; None if there are none. [m]
    sister_count : int
        How many they are.
    """

    what: str
    size: Size
    material: str
    series: str
    depth: float | None
    sisters: float | None = None
    sister_count: int = 0


@check(
    id="PRT-02", stage="dry_fit", facts=SocketDepth,
    rule="smallest depth: ASTM D2466, D2467, F438, F439, ISO 727-1; above NPS 12 own rule",
)  # fmt: skip
def socket_depth(facts: SocketDepth, book: Book) -> Finding:
    """STOP for a socket below the standard's depth, or clearly shorter than the others of its size."""
    depth = facts.depth
    if depth is None:
        return answer(
            "PRT-02",
            Verdict.CANNOT_TELL,
            facts,
            why="not_measured",
            missing=("depth",),
            next_step="tape_part",
        )
    log = Reading()
    try:
        spec = PipeSpec(facts.material, facts.series, "metric" if facts.size.metric else "ips")
        least = socket_depth_min(book, facts.size, spec, log)
    except LineproofError:
        least = None
    if least is not None:
        if depth < least - TINY:
            return answer(
                "PRT-02", Verdict.STOP, facts, log, why="below_standard", measured=depth, limit=least,
                unit="m", shortfall=least - depth, next_step="ask_maker",
            )  # fmt: skip
        return answer("PRT-02", Verdict.GO, facts, log, measured=depth, limit=least, unit="m")
    if facts.sisters is not None:
        short = facts.sisters - depth
        verdict = Verdict.STOP if short > SHORT_OF_SISTERS + TINY else Verdict.GO
        return answer(
            "PRT-02", verdict, facts, log, why="shorter_than_sisters" if verdict is Verdict.STOP else "",
            measured=depth, limit=facts.sisters - SHORT_OF_SISTERS, unit="m", shortfall=short,
            next_step="ask_maker" if verdict is Verdict.STOP else "",
        )  # fmt: skip
    band = plausible_socket(book, facts.size, log)
    if band is None:
        return answer(
            "PRT-02", Verdict.CANNOT_TELL, facts, log, why="no_table", missing=("smallest depth",),
            measured=depth, unit="m", next_step="ask_maker",
        )  # fmt: skip
    likely = band.depth_about * LIKELY_SHARE
    if depth < likely - TINY:
        return answer(
            "PRT-02", Verdict.CANNOT_TELL, facts, log, why="unlikely", missing=("depth, taped again",),
            measured=depth, limit=likely, unit="m", expected=band.depth_about, next_step="tape_part",
        )  # fmt: skip
    return answer("PRT-02", Verdict.GO, facts, log, measured=depth, limit=likely, unit="m")


@dataclass(frozen=True, slots=True, kw_only=True)
class CentreToFace(About):
    """Centre to face and depth of one socket of an elbow, a tee or a coupling.

    Parameters
    ----------
    what : str
        The fitting in words.
    reach, depth : float or None
        Centre to face, face to stop. [m]
    turn_deg : float
        Angle between this port and the one it must clear: that of an elbow, 90 for a tee, 0 if none. [deg]
    across : Size or None
        Size of the port it must clear; None where there is none.
    material, series, family : str
        Of the pipe there, for its bore.
    """

    what: str
    reach: float | None
    depth: float | None
    turn_deg: float = 0.0
    across: Size | None = None
    material: str = ""
    series: str = ""
    family: str = ""


@check(
    id="PRT-03",
    stage="read",
    rule="geometry: the stop lies outside the bore it turns into",
    facts=CentreToFace,
)
def centre_to_face(facts: CentreToFace, book: Book) -> Finding:
    """CANNOT TELL where the stop would lie at or past the centre, or inside the other bore: tape again."""
    reach, depth = facts.reach, facts.depth
    if reach is None or depth is None:
        return answer(
            "PRT-03", Verdict.CANNOT_TELL, facts, why="not_measured", missing=("centre to face", "depth"),
            next_step="tape_part",
        )  # fmt: skip
    past = reach - depth
    if past <= TINY:
        return answer(
            "PRT-03", Verdict.CANNOT_TELL, facts, why="past_centre", missing=("centre to face, taped again",),
            measured=past, limit=0.0, unit="m", next_step="tape_again",
        )  # fmt: skip
    if facts.across is None or not facts.turn_deg:
        return answer("PRT-03", Verdict.GO, facts, measured=past, limit=0.0, unit="m")
    log = Reading()
    try:
        inside = bore(book, facts.across, PipeSpec(facts.material, facts.series, facts.family), log)
    except LineproofError:
        return answer(
            "PRT-03", Verdict.CANNOT_TELL, facts, log, why="no_bore", missing=("bore of the pipe",),
            next_step="say_family",
        )  # fmt: skip
    least = inside / 2 * math.tan(math.radians(facts.turn_deg) / 2)
    if past < least - TINY:
        return answer(
            "PRT-03", Verdict.CANNOT_TELL, facts, log, why="inside_bore", measured=past, limit=least,
            unit="m", missing=("centre to face, taped again",), next_step="tape_again",
        )  # fmt: skip
    return answer("PRT-03", Verdict.GO, facts, log, measured=past, limit=least, unit="m")


@dataclass(frozen=True, slots=True, kw_only=True)
class LotCount(About):
    """How many of a type and lot there are, and how many the lines take.

    Parameters
    ----------
    what : str
        The fitting in words.
    have : int or None
        As counted in parts.csv; None if nobody counted.
    needed : int
    """

    what: str
    have: int | None
    needed: int


@check(id="PRT-04", stage="order", rule="parts.csv count", facts=LotCount)
def lot_count(facts: LotCount, _book: Book) -> Finding:
    """CARE where the lines take more fittings than are counted: so many are to order."""
    if facts.have is None:
        return answer(
            "PRT-04", Verdict.CANNOT_TELL, facts, why="not_counted", missing=("count",), next_step="count"
        )
    if facts.needed > facts.have:
        return answer(
            "PRT-04", Verdict.CARE, facts, why="short", to_order=facts.needed - facts.have, next_step="order"
        )
    return answer("PRT-04", Verdict.GO, facts)
