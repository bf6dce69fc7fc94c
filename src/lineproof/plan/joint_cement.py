"""Cement, primer and hands of a joint: what the procedure and the card say, what the area takes."""

from __future__ import annotations

from lineproof.book import cement
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.floor.sources import Reading
from lineproof.job.cards import CementCard
from lineproof.job.people import Crew, Procedure, hands_for
from lineproof.job.settings import Conditions
from lineproof.plan.joint_fit import Mates
from lineproof.plan.joint_needs import (
    CALLS_TIME,
    PIPE_END,
    PULLS,
    SOCKET,
    Bond,
    Box,
    Brushes,
    Hands,
    Missing,
    Wet,
    lacks,
    would_help,
)
from lineproof.sums.bond import cement_volume, primer_by_film, primer_by_share, with_allowance
from lineproof.sums.hands import coating_time, hands_needed

ALLOWANCE = 2.0
"""Squeeze-out, brush and tin: own assumption until the crew has weighed tins. [-]"""

SOCKET_FILM = 0.5
"""A socket coat is half as thick as a coat on the pipe (film model, derived). [-]"""

BODIES = ("regular", "medium", "heavy", "extra heavy")
"""Lightest first."""


def body_for(book: Book, size: Size, reading: Reading) -> tuple[str, str]:
    """The body for an interference fit and the one for a net fit; empty above the classes.

    Parameters
    ----------
    book : Book
    size : Size
        The joint's size.
    reading : Reading

    Returns
    -------
    tuple of str
        A metric socket has a gap, so regular body, which is for interference fits, is not for it.
    """
    found = cement.body_needed(book, size, reading)
    if found is None:
        return "", ""
    body = found.body
    if size.metric and body == "regular":
        body = "medium"
    return body, BODIES[BODIES.index(body) + 1]


def film_of(book: Book, body: str, reading: Reading) -> float | None:
    """Wet film of one coat of a body; None where no class has it. [m]"""
    return cement.cement_body(book, body, reading).film if body in BODIES[:3] else None


def plan_wet(m: Mates, bond: Bond, procedure: Procedure | None, card: CementCard | None, book: Book) -> Wet:
    """Cement and primer for one joint.

    Parameters
    ----------
    m : Mates
    bond : Bond
    procedure : Procedure or None
    card : CementCard or None
    book : Book

    Returns
    -------
    Wet
        Joints per can beat the film model.
    """
    reading = Reading()
    missing: list[Missing] = []
    wanted, if_net = body_for(book, m.size, reading)
    body = card.body if card else ""
    suits = card.suits(m.size) if card else None
    if not wanted and suits is not True:
        missing.append(lacks("written-instruction", size=m.size))
    if card is not None and not body:
        missing.append(lacks("card-body", card=card.id))
    heavy = BODIES.index(body) >= BODIES.index(wanted) if body and wanted else None
    film = film_of(book, body or wanted, reading)
    if film is None and (body or wanted):
        missing.append(would_help("film", body=body or wanted))
    pipe_coats = procedure.pipe_coats if procedure else None
    socket_coats = procedure.socket_coats if procedure else None
    if procedure is not None and (pipe_coats is None or socket_coats is None):
        missing.append(lacks("coats", procedure=procedure.id))
    net = allowance = volume = None
    if film is not None and bond.area is not None and pipe_coats is not None and socket_coats is not None:
        films = pipe_coats + SOCKET_FILM * socket_coats
        if films > 0:
            net = cement_volume(od=bond.od or 0.0, depth=bond.depth or 0.0, film=film, coats=films)
            allowance, volume = ALLOWANCE, with_allowance(net, ALLOWANCE)
    by, source = ("film model" if volume is not None else ""), ""
    told = card.joints_per_can(m.size) if card else None
    if told is not None:
        by, source = "joints per can", told.source
        allowance, volume = 1.0, told.volume / told.joints
    passes, primer_net, primer_by = primer(bond, procedure, net if told is None else volume, missing)
    return Wet(
        wanted, if_net, card.id if card else "", body, heavy, suits, film, pipe_coats, socket_coats, net,
        allowance, volume, by, source, passes, primer_net,
        None if primer_net is None else with_allowance(primer_net, ALLOWANCE), primer_by,
        reading.as_tuple(), tuple(missing),
    )  # fmt: skip


def primer(
    bond: Bond, procedure: Procedure | None, cement_net: float | None, missing: list[Missing]
) -> tuple[int | None, float | None, str]:
    """Passes of primer, and its volume: by the passes or as a share of the cement, whichever is more.

    Parameters
    ----------
    bond : Bond
    procedure : Procedure or None
    cement_net : float or None
        Cement of the joint. [m3]
    missing : list of Missing
        Added to.

    Returns
    -------
    tuple
        Passes, net volume [m3], which rule.
    """
    if procedure is None:
        return None, None, ""
    if procedure.steps == "one-step":
        return 0, 0.0, ""
    passes = procedure.primer_coats
    if passes is None:
        missing.append(lacks("primer-passes", procedure=procedure.id))
        return None, None, ""
    found = []
    if passes and bond.od is not None and bond.depth is not None and bond.area is not None:
        found.append((primer_by_film(od=bond.od, depth=bond.depth, passes=float(passes)), "passes"))
    if passes and cement_net is not None:
        found.append((primer_by_share(cement_net), "share of cement"))
    net, by = max(found, default=(None, ""))
    return passes, net, by


def plan_hands(
    m: Mates,
    bond: Bond,
    brushes: Brushes,
    wet: Wet,
    procedure: Procedure | None,
    crews: tuple[Crew, ...],
    card: CementCard | None,
    conditions: Conditions,
    book: Book,
) -> Hands:
    """Who is needed: the crew rule as a floor, a hand for each applicator, all coats within the working time.

    Parameters
    ----------
    m : Mates
    bond : Bond
    brushes : Brushes
    wet : Wet
    procedure : Procedure or None
    crews : tuple of Crew
        That work on the line.
    card : CementCard or None
    conditions : Conditions
    book : Book

    Returns
    -------
    Hands
        With the four boxes; a coating rate or working time that nobody gave is missing, never guessed.
    """
    reading = Reading()
    missing: list[Missing] = []
    floor, floor_by = crew_floor(m.size, procedure, crews, book, reading)
    if floor is None:
        missing.append(lacks("crew-rule", size=m.size))
    coats = None
    if wet.pipe_coats is not None and wet.socket_coats is not None:
        coats = wet.pipe_coats + wet.socket_coats
    rates = [c.coating_rate for c in crews]
    rate = None if not rates or None in rates else min(r for r in rates if r is not None)
    one = None
    if rate is None:
        missing.append(would_help("coating-rate", line=m.line))
    elif bond.area is not None and coats:
        one = coating_time(area=bond.area, coats=float(coats), rate=rate)
    temperature = conditions.pipe_temperature
    row = card.working_time(temperature, film=wet.film, wind=conditions.wind) if card else None
    if card is not None and row is None:
        missing.append(
            would_help("working-time", card=card.id, temperature=temperature, wind=conditions.wind)
        )
    by_time = None
    if one is not None and row is not None and row.time > 0:
        by_time = hands_needed(coating_time=one, working_time=row.time, at_least=1.0)
    told = [n for n in (floor, brushes.per_face, by_time) if n is not None]
    hands = max(told) if floor is not None else None
    per_face = brushes.per_face or 1
    boxes = (
        Box(PIPE_END, per_face), Box(SOCKET, per_face), Box(PULLS, 1), Box(CALLS_TIME, 1),
    )  # fmt: skip
    doubling = None if hands is None else max(0, sum(b.hands for b in boxes) - hands)
    return Hands(
        hands, floor, floor_by, brushes.per_face, by_time, boxes, doubling, coats, one,
        row.time if row else None, reading.as_tuple(), tuple(missing),
    )  # fmt: skip


def crew_floor(
    size: Size, procedure: Procedure | None, crews: tuple[Crew, ...], book: Book, reading: Reading
) -> tuple[int | None, str]:
    """People the crew rule asks for: the procedure's or the crew's own, whichever is more; else the table's.

    Parameters
    ----------
    size : Size
    procedure : Procedure or None
    crews : tuple of Crew
    book : Book
    reading : Reading

    Returns
    -------
    tuple
        People, and whose rule it is.
    """
    by_paper = procedure.people_for(size) if procedure else None
    by_crew = hands_for((row for c in crews for row in c.hands), size)
    if by_crew is not None and by_crew > (by_paper or 0):
        return by_crew, "crew"
    if by_paper is not None:
        return by_paper, "procedure"
    table = cement.crew(book, size, reading)
    return (table.fewest, "table") if table else (None, "")
