"""Cement: the card of the line, what it suits, the lots, what runs in the line."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from lineproof.book.cement import body_needed
from lineproof.book.load import Book
from lineproof.book.sizes import Size
from lineproof.checks.registry import About, answer, check
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding, Verdict

BODIES = ("regular", "medium", "heavy", "extra heavy")
"""Thin to thick."""
ATTACK_SILICA = ("hypochlorite", "caustic")
"""What attacks silica-thickened cement: trade-magazine questions and answers, found twice."""


ESTIMATE = "labour estimate"
SAFE = 1.5
"""Waits and weather may stretch the days of joining so much beyond the estimate (own rule). [-]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class CardNamed(About):
    """The cement card of a line.

    Parameters
    ----------
    card : str
        Id as named for the line; empty if none is.
    known : bool
        A card with that id stands in job.toml.
    """

    card: str
    known: bool


@check(id="CEM-01", stage="order", rule="the container or the bonding procedure governs", facts=CardNamed)
def card_named(facts: CardNamed, _book: Book) -> Finding:
    """CANNOT TELL anything about cement while no card is named for the line."""
    if facts.card and facts.known:
        return answer("CEM-01", Verdict.GO, facts)
    why = "not_there" if facts.card else "none"
    return answer(
        "CEM-01", Verdict.CANNOT_TELL, facts, why=why, missing=("cement card",), next_step="type_card"
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class CardFits(About):
    """Material and steps of a card (or of a lot that carries it) against those of the line.

    Parameters
    ----------
    card : str
    card_material, line_material : str
    card_steps, line_steps : str
        ``"two-step"``, ``"one-step"``; empty if not said.
    lot : str
        The lot, where the question is about cans.
    """

    card: str
    card_material: str
    line_material: str
    card_steps: str = ""
    line_steps: str = ""
    lot: str = ""


@check(
    id="CEM-02",
    stage="order",
    rule="ASTM D2564 for PVC, F493 for CPVC; the procedure's steps",
    facts=CardFits,
)
def card_fits(facts: CardFits, _book: Book) -> Finding:
    """STOP where the cement is made for another material, or for other steps than the procedure's."""
    if not facts.card_material:
        return answer(
            "CEM-02", Verdict.CANNOT_TELL, facts, why="not_said", missing=("card material",),
            next_step="type_card",
        )  # fmt: skip
    if facts.card_material != facts.line_material:
        return answer("CEM-02", Verdict.STOP, facts, why="material", next_step="right_cement")
    if facts.card_steps and facts.line_steps and facts.card_steps != facts.line_steps:
        return answer("CEM-02", Verdict.STOP, facts, why="steps", next_step="right_cement")
    return answer("CEM-02", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Chemistry(About):
    """What runs in the line and what thickens the cement.

    Parameters
    ----------
    chemical : str
        ``"water"``, ``"hypochlorite"``, ``"caustic"`` ...; empty if nobody said.
    chemical_text : str
        As typed, with its strength.
    thickener : str
        ``"silica"``, ``"none"``; empty if nobody knows.
    card : str
    lot : str
        The lot, where the question is about cans.
    lines : tuple of str
        Lines it is meant for.
    """

    chemical: str
    thickener: str
    chemical_text: str = ""
    card: str = ""
    lot: str = ""
    lines: tuple[str, ...] = ()


@check(
    id="CEM-03", stage="order", facts=Chemistry, hurts=True,
    rule="caustic and hypochlorite attack silica-thickened cement: trade-magazine questions and answers",
)  # fmt: skip
def cement_resists(facts: Chemistry, _book: Book) -> Finding:
    """STOP for silica-thickened cement where hypochlorite or caustic runs; CANNOT TELL if nobody knows."""
    if not facts.chemical:
        return answer(
            "CEM-03", Verdict.CANNOT_TELL, facts, why="no_chemical", missing=("chemical",),
            next_step="say_chemical",
        )  # fmt: skip
    if facts.chemical not in ATTACK_SILICA:
        return answer("CEM-03", Verdict.GO, facts)
    if facts.thickener == "silica":
        return answer("CEM-03", Verdict.STOP, facts, why="silica", next_step="right_cement")
    if not facts.thickener:
        return answer(
            "CEM-03", Verdict.CANNOT_TELL, facts, why="no_thickener", missing=("thickener",),
            next_step="ask_maker",
        )  # fmt: skip
    return answer("CEM-03", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class LotDate(About):
    """A lot of cement, primer or cleaner and the days it is to be used on.

    Parameters
    ----------
    kind : str
        ``"cement"``, ``"primer"``, ``"cleaner"``.
    lot : str
    expires : date or None
        As printed, the last day; None if nobody read it.
    first_day, last_day : date or None
        First and last day of use as planned or estimated.
    last_day_by : str
        ``"plan"``, ``"labour estimate"``.
    """

    kind: str
    lot: str
    expires: date | None
    first_day: date | None
    last_day: date | None
    last_day_by: str = ""


@check(
    id="CEM-04", stage="order", facts=LotDate,
    rule="cement past its marked date is not used: Kentucky 815 KAR 20:071 s.1(3); the container",
)  # fmt: skip
def lot_in_date(facts: LotDate, _book: Book) -> Finding:
    """STOP for a lot that is past its date before its planned day of use."""
    if facts.expires is None:
        return answer(
            "CEM-04",
            Verdict.CANNOT_TELL,
            facts,
            why="no_date",
            missing=("expiry date",),
            next_step="read_date",
        )
    if facts.first_day is None:
        return answer(
            "CEM-04", Verdict.CANNOT_TELL, facts, why="no_start", missing=("conditions.start",),
            next_step="say_start",
        )  # fmt: skip
    if facts.expires < facts.first_day:
        return answer("CEM-04", Verdict.STOP, facts, why="expired", next_step="new_lot", governs=facts.lot)
    if facts.last_day is None:
        return answer(
            "CEM-04", Verdict.CANNOT_TELL, facts, why="no_end", missing=("last day of joining",),
            next_step="say_last_day",
        )  # fmt: skip
    if facts.expires < facts.last_day:
        week = (facts.expires - facts.first_day).days // 7 + 1
        return answer(
            "CEM-04", Verdict.STOP, facts, why="expires_early", next_step="new_lot", week=week,
            governs=facts.lot,
        )  # fmt: skip
    if facts.last_day_by == ESTIMATE and facts.expires - facts.first_day < SAFE * (
        facts.last_day - facts.first_day
    ):
        return answer("CEM-04", Verdict.CARE, facts, why="close", next_step="say_last_day")
    return answer("CEM-04", Verdict.GO, facts)


@dataclass(frozen=True, slots=True, kw_only=True)
class Body(About):
    """Body of the cement against the joint's size and fit.

    Parameters
    ----------
    size : Size
    material : str
        Of the pipe; bodies are classed for PVC cement only.
    card : str
    body : str
        As on the card; empty if it does not say.
    suits : bool or None
        Whether the card says it is made for this size; None if it does not say.
    fit : str
        ``"interference"``, ``"net"``; empty before the dry fit.
    """

    size: Size
    material: str
    card: str
    body: str
    suits: bool | None
    fit: str = ""


@check(
    id="CEM-05", stage="order", rule="ASTM D2564 bodies by size; the card's largest size governs", facts=Body
)
def body_for_size(facts: Body, book: Book) -> Finding:
    """STOP where the cement is too thin for the size or the fit, or the card ends below the size."""
    if facts.suits is False:
        return answer("CEM-05", Verdict.STOP, facts, why="card_ends", next_step="right_cement")
    if not facts.body:
        return answer(
            "CEM-05", Verdict.CANNOT_TELL, facts, why="no_body", missing=("cement body",),
            next_step="type_card",
        )  # fmt: skip
    log = Reading()
    needed = body_needed(book, facts.size, log) if facts.material == "pvc" else None
    wanted = needed.body if needed else ""
    if facts.fit == "net" and wanted == BODIES[0]:
        wanted = BODIES[1]
    if wanted and BODIES.index(facts.body) < BODIES.index(wanted):
        return answer("CEM-05", Verdict.STOP, facts, log, why="thin", wanted=wanted, next_step="right_cement")
    if not wanted and facts.suits is None:
        return answer(
            "CEM-05", Verdict.CANNOT_TELL, facts, log, why="no_class", missing=("largest size on the card",),
            next_step="type_card",
        )  # fmt: skip
    return answer("CEM-05", Verdict.GO, facts, log, wanted=wanted)


@dataclass(frozen=True, slots=True, kw_only=True)
class ReadBack(About):
    """Who typed a card and who read it back.

    Parameters
    ----------
    card : str
    typed_by, read_back_by : str
        Ids of people; empty if nobody.
    changed : bool
        Its times are others than when it was sealed, and who read it back when is the same.
    """

    card: str
    typed_by: str
    read_back_by: str
    changed: bool = False


@check(id="CEM-06", stage="order", rule="own rule: two different people", facts=ReadBack, hurts=True)
def read_back(facts: ReadBack, _book: Book) -> Finding:
    """CANNOT TELL what a card says until a second person has read it back against its photo."""
    if facts.typed_by and facts.read_back_by and facts.typed_by != facts.read_back_by:
        if not facts.changed:
            return answer("CEM-06", Verdict.GO, facts)
        return answer(
            "CEM-06", Verdict.CANNOT_TELL, facts, why="changed", missing=("second reader",),
            next_step="read_back",
        )  # fmt: skip
    if facts.typed_by and facts.typed_by == facts.read_back_by:
        why = "same_person"
    else:
        why = "not_read_back" if facts.typed_by else "not_typed"
    return answer(
        "CEM-06", Verdict.CANNOT_TELL, facts, why=why, missing=("second reader",), next_step="read_back"
    )
