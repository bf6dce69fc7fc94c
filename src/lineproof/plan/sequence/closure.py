"""How the last joint of every loop closes: as drawn, as far as nobody said, and with what put in."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

from lineproof.plan.sequence.apart import Link, take_apart
from lineproof.plan.sequence.from_line import Assume, LineRig, line_rig
from lineproof.plan.sequence.legs import Leg, as_links, cyclomatic, legs_of
from lineproof.plan.sequence.openings import FACES, Opening, total
from lineproof.plan.sequence.rig import ALONG, GROUND, How, Rig, along
from lineproof.plan.sequence.search import Found, search
from lineproof.plan.sequence.where import Where
from lineproof.plan.work import Work

PAIRS_UP_TO = 60
"""Side-by-side joints are looked for in groups of no more links than this. [-]"""


@dataclass(frozen=True, slots=True)
class Change:
    """A piece whose cut changes: how many it becomes, and what its parts measure together.

    Parameters
    ----------
    piece : str
    into : int
        Pieces it is cut into. [-]
    cut : float or None
        Their cut lengths together; None while a part is not measured. [m]
    """

    piece: str
    into: int
    cut: float | None


@dataclass(frozen=True, slots=True)
class Loop:
    """Loops that open or stay shut together.

    Parameters
    ----------
    lines : tuple of str
        Lines they run over.
    stands : tuple of str
        What stands at their ends.
    legs : tuple of int
        Their legs, as numbers.
    state : str
        ``"opens"``, ``"ends"`` (if standing flanges are bolted up last), ``"faces"`` (if faces that nobody
        described are flat), ``"shut"`` (with openings put in), ``"at once"`` (two joints at once),
        ``"closed"`` (proven: nothing opens them) or ``"not found"``.
    openings : tuple of Opening
    changes : tuple of Change
    ends, faces : tuple of str
        What was not said.
    cone : bool
        No last step of these loops is admitted by all of their ties as drawn: proven.
    """

    lines: tuple[str, ...]
    stands: tuple[str, ...]
    legs: tuple[int, ...]
    state: str
    openings: tuple[Opening, ...] = ()
    changes: tuple[Change, ...] = ()
    ends: tuple[str, ...] = ()
    faces: tuple[str, ...] = ()
    cone: bool = True


@dataclass(frozen=True, slots=True, kw_only=True)
class Closure:
    """The answer for a whole job.

    Parameters
    ----------
    loops : tuple of Loop
    count : int
        Independent loops, all ties counted. [-]
    bound : int
        Loops with no opening in them at all: so many openings are needed at least. [-]
    openings : tuple of Opening
        What would open everything, the cheapest found.
    cost, least : float
        Work they add, and the least that any openings must add. [s]
    complete : bool
        The search went to its end: nothing cheaper opens everything, or nothing does.
    tried : int
        Sets of openings tried. [-]
    out_of : str
        ``"time"`` or ``"rounds"`` where it was ended early.
    rough : bool
        Some dimension stood in provisionally.
    line : LineRig
        The rig that the order is built on, openings not put in.
    legs : tuple of Leg
        Of that rig.
    side_by_side : frozenset of frozenset of int
        Pairs of ties that are made at once because the procedure allows it.
    """

    loops: tuple[Loop, ...]
    count: int
    bound: int
    openings: tuple[Opening, ...]
    cost: float
    least: float
    complete: bool
    tried: int
    out_of: str
    rough: bool
    line: LineRig
    legs: tuple[Leg, ...]
    side_by_side: frozenset[frozenset[int]] = frozenset()

    @property
    def opens(self) -> bool:
        """Every loop opens, as drawn or with what was not said; nothing has to be put in."""
        return all(x.state in ("opens", "ends", "faces") for x in self.loops)


def closure_of(work: Work, *, seconds: float = 60.0) -> Closure:
    """Find out how the last joint of every loop closes.

    Parameters
    ----------
    work : Work
        With named joints.
    seconds : float
        Guard on the search for openings. [s]

    Returns
    -------
    Closure
        The same on any machine unless ``out_of`` is ``"time"``.
    """
    closing = work.job.settings.closing
    gap = {} if closing.working_gap is None else {"gap": closing.working_gap}
    drawn = line_rig(work, Assume(), **gap)
    looser = line_rig(work, Assume(unbolts=True), **gap)
    legs = [legs_of(x.rig) for x in (drawn, looser)]
    groups = all_groups(legs[0])
    shut = [set(_stuck(one)) for one in legs]
    line, used = (drawn, legs[0]) if not shut[0] else (looser, legs[1])
    faces: set[int] = set()
    if shut[1] and looser.unsaid_faces:
        loosest = line_rig(work, Assume(unbolts=True, flat=True), **gap)
        legs_flat = legs_of(loosest.rig)
        faces = shut[1] - set(_stuck(legs_flat))
        if not set(_stuck(legs_flat)):
            line, used = loosest, legs_flat
    need = shut[1] - faces
    pairs = _at_once(work, looser.rig, legs[1], need) if need else frozenset()
    allowed = bool(pairs) and _may_two_at_once(work, looser.rig, pairs)
    found = Found((), True, True, 0.0)
    if need and not allowed:
        options = Where(work, looser.rig, legs[1]).options()
        found = search(legs[1], options, seconds=seconds)
    loops = tuple(_loop(work, g, looser, legs[1], shut, faces, found, pairs, allowed, drawn) for g in groups)
    return Closure(
        loops=loops, count=cyclomatic(drawn.rig, tuple(How)), bound=cyclomatic(looser.rig),
        openings=found.chosen if found.works else (), cost=total(found.chosen) if found.works else 0.0,
        least=found.least, complete=found.proven, tried=found.tried, out_of=found.out_of,
        rough=drawn.rough, line=line, legs=used, side_by_side=pairs if allowed else frozenset(),
    )  # fmt: skip


def all_groups(legs: Sequence[Leg]) -> list[tuple[int, ...]]:
    """Legs that lie on loops together.

    Parameters
    ----------
    legs : sequence of Leg

    Returns
    -------
    list of tuple of int
    """
    from lineproof.plan.sequence.apart import loops_in

    links, source = as_links(legs)
    found = [tuple(sorted({source[k][0] for k in g})) for g in loops_in(links, range(len(links)))]
    return sorted(found)


def _stuck(legs: Sequence[Leg]) -> list[int]:
    """Legs of groups that do not come apart."""
    links, source = as_links(legs)
    return sorted({source[k][0] for g in take_apart(links).stuck for k in g})


def _loop(
    work: Work,
    group: tuple[int, ...],
    line: LineRig,
    legs: Sequence[Leg],
    shut: Sequence[set[int]],
    faces: set[int],
    found: Found,
    pairs: frozenset[frozenset[int]],
    allowed: bool,
    drawn: LineRig,
) -> Loop:
    here = set(group)
    ties = sorted(t for n in group for bit in legs[n].bits for t in bit.ties)
    rig = line.rig
    lines = tuple(
        dict.fromkeys(_line(b) for n in group for b in (*legs[n].bodies, legs[n].a, legs[n].b) if b != GROUND)
    )
    at_ground = [rig.ties[t].id for t in ties if GROUND in (rig.ties[t].a, rig.ties[t].b)]
    stands = tuple(dict.fromkeys(line.stands[t] for t in at_ground if t in line.stands))
    mine = tuple(o for o in found.chosen if o.leg in here) if found.works else ()
    state = "opens"
    ends: tuple[str, ...] = ()
    unsaid: tuple[str, ...] = ()
    if here & shut[0]:
        ends = tuple(e for e in stands if e in drawn.unsaid_ends)
        state = "ends"
    if here & faces:
        state = "faces"
        bodies = {b for n in group for b in legs[n].bodies}
        unsaid = tuple(f for f in line.unsaid_faces if f in stands or f in bodies or f"{f}.a" in bodies)
    if here & (shut[1] - faces):
        blocked = any(set(b) & here for b in found.blocking)
        if allowed:
            state = "at once"
        elif mine:
            state = "shut"
        elif pairs and blocked:
            state = "at once"
        else:
            state = "closed" if found.proven else "not found"
    changes = tuple(_changes(work, mine))
    return Loop(lines, stands, group, state, mine, changes, ends, unsaid)


def _line(body: str) -> str:
    return body.partition("/")[0]


def _changes(work: Work, openings: Iterable[Opening]) -> Iterable[Change]:
    """Pieces that are cut in two or three, and what their parts measure together."""
    count: dict[str, list[Opening]] = {}
    for o in openings:
        if o.kind != FACES:
            count.setdefault(o.at, []).append(o)
    pieces = {p.id: p for p in work.cutting.pieces}
    for name, put in sorted(count.items()):
        piece = pieces[name]
        length = piece.exact
        lost = length_lost(work, piece.size.text, put)
        yield Change(name, len(put) + 1, None if length is None or lost is None else length - lost)


def length_lost(work: Work, size: str, put: Sequence[Opening]) -> float | None:
    """How much pipe openings stand in for: stop to stop of their sockets; None if one is not measured. [m]"""
    from lineproof.job.parts import Form, PartKind
    from lineproof.plan.sequence.openings import UNION

    lost = 0.0
    for o in put:
        kind = PartKind.UNION if o.kind == UNION else PartKind.FLANGE
        row = next(
            (r for r in work.job.parts.rows if r.kind is kind and r.size.text == size and r.complete), None
        )
        if row is None:
            return None
        takes = [x.take_out for x in row.outlets if x.form is Form.SOCKET]
        each = [t for t in takes if t is not None]
        if not each:
            return None
        gap = work.job.settings.cutting.stop_gap
        lost += 2 * max(each) + 2 * gap
    return lost


# ------------------------------------------------------------- two joints at once
def _at_once(work: Work, rig: Rig, legs: Sequence[Leg], need: set[int]) -> frozenset[frozenset[int]]:
    """Pairs of joints that would open what is shut if they were made at once; none if they would not."""
    links, source = as_links(legs)
    del work
    here = [k for k, (n, _) in enumerate(source) if n in need]
    if len(here) > PAIRS_UP_TO:
        return frozenset()
    wet = [k for k in here if links[k].how is How.CEMENTED]
    pairs = frozenset(
        frozenset((j, k))
        for j, k in combinations(wet, 2)
        if abs(along(links[j].way, links[k].way)) > 1 - ALONG
    )
    some: Sequence[Link] = links
    apart = take_apart(some, side_by_side=pairs)
    if {source[k][0] for g in apart.stuck for k in g} & need:
        return frozenset()
    made = set()
    for cut in apart.cuts:
        both = [k for k in cut.links if links[k].how is How.CEMENTED]
        if len(both) == 2:
            ends = []
            for k in both:
                n, m = source[k]
                bit = legs[n].bits[m]
                ends.append(bit.ties[0] if links[k].a in cut.moved else bit.ties[-1])
            made.add(frozenset(ends))
    del rig
    return frozenset(made)


def _may_two_at_once(work: Work, rig: Rig, pairs: Iterable[frozenset[int]]) -> bool:
    """Whether the procedures of all lines concerned allow two joints at once."""
    settings = work.job.settings
    for pair in pairs:
        for t in pair:
            duty = settings.duty(_line(rig.ties[t].joint))
            procedure = settings.procedure(duty.procedure) if duty else None
            if procedure is None or not procedure.two_at_once:
                return False
    return True


def opening_words(o: Opening) -> str:
    """An opening in the fewest words: ``flange pair: B-201/C``; ``flat faces: A-101/F1-F2``."""
    if o.kind == FACES:
        return f"{FACES}: {o.at}"
    return f"{o.kind}: {o.at}" + (f" ({o.order})" if o.order > 1 else "")
