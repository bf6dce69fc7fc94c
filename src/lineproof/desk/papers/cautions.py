"""The caution page: what can hurt, whose paper stands above ours, and who must be asked, by role."""

from __future__ import annotations

from lineproof.desk.papers.cautions_es import ABOVE_ES, CAUTIONS_ES, HEADS_ES, ROLES_ES
from lineproof.desk.words import ENGLISH, SPANISH
from lineproof.job.settings import Settings

CAUTIONS: tuple[tuple[str, tuple[str, ...]], ...] = (
    (
        "Solvent: fire and vapour",
        (
            "Cement, primer and cleaner burn, and so does their vapour. No flames, no sparks, no smoking, "
            "no hot work near open cans, wet joints or open pipe, weeks later too, unless it is ventilated"
            " or closed off by permit.",
            "The vapour is heavier than air and lies in trenches, pits and low pipe. Moving air, drawn low"
            " and far; electric tools and lights there must be made for flammable vapour.",
            "Gloves, goggles, long sleeves. Cans shut between coats, rags in a covered metal can, an "
            "extinguisher at hand. The safety data sheets are on the site. A respirator only within a "
            "respirator programme.",
        ),
    ),
    (
        "Confined space",
        (
            "A vault, manhole, pit, tank or large pipe may be one. Nobody goes in to cement before the "
            "competent person has tested the air at the bottom, ventilation runs, an attendant stands "
            "outside and the entry is permitted.",
        ),
    ),
    (
        "Trench",
        (
            "The competent person looks at the trench every day and after rain. Shore, shield or slope it "
            "before anyone goes in; spoil back from the edge; a ladder near. The shield must be long "
            "enough for the pull-in tools.",
        ),
    ),
    (
        "Pull-in tools, saws, lifting",
        (
            "Rated straps and come-alongs within their force; nobody in line with a loaded strap; no hand "
            "between pipe and socket. A fitting that needs more force than planned is stopped, not pulled "
            "harder.",
            "Goggles and gloves at the saw; pipe held so that it cannot roll. Lift by mass: see the cut "
            "list.",
        ),
    ),
    (
        "Setting and curing",
        (
            "Hands off until the time on the joint card: nothing is moved, lowered or joined to it. No "
            "heat to hasten it.",
        ),
    ),
    (
        "Pressure test: water only",
        (
            "Never test plastic pipe with air or gas. No pressure before every joint of the section has "
            "cured for the pressure at its own height, and only on the release of the person in charge of "
            "the test.",
            "Vent all air, raise in steps, stand clear, nobody in the trench while raising. Caps and "
            "blinds restrained; zero proved at every closed-off part before anything is loosened.",
        ),
    ),
)

ABOVE = (
    "The container's label and safety data sheet, the approved joining procedure, the drawing, the local "
    "code and the site's permits stand above everything in this pack. Where they differ from it, they win:"
    " stop and ask."
)

ROLES = (
    ("lead", "lead of the crew", "joints of a section are ready"),
    ("engineer", "engineer", "pressure cap, restraint, cold spring, values confirmed"),
    ("quality", "quality person", "values confirmed against the open document"),
    ("second_reader", "second reader", "cement card read back from the container"),
    ("inspector", "inspector", "hold points"),
    ("test_in_charge", "person in charge of the test", "take it to pressure; people out; zero proved"),
    ("witness", "owner's witness", "what was seen; releases nothing"),
)


HEADS = {
    "name": "Cautions",
    "where": "read out before the first can is opened",
    "who": "Who decides, by role",
    "role": "role",
    "signs_for": "signs for",
    "person": "name",
    "field": "Licensed or competent persons named by the local code (engineer, entry supervisor, crane "
    "operator, "
    "electrician) decide in their own field.",
    "hot": "Hot work is planned: {kind}, {place}",
    "hot_lines": ", lines {lines}",
}
"""Headings of the page."""


def caution_sheet(settings: Settings, language: str = ENGLISH) -> dict[str, object]:
    """The caution page.

    Parameters
    ----------
    settings : Settings
    language : str
        ``"en"`` or ``"es"``.

    Returns
    -------
    dict
        For ``templates/text.typ``.
    """
    spanish = language == SPANISH
    heads = HEADS_ES if spanish else HEADS
    signs = []
    for role, word, what in ROLES:
        person = settings.person(getattr(settings.signs, role))
        said = ROLES_ES[role] if spanish else (word, what)
        signs.append([*said, person.name if person is not None else ""])
    hot = [
        heads["hot"].format(kind=h.kind, place=h.place)
        + (heads["hot_lines"].format(lines=", ".join(h.lines)) if h.lines else "")
        for h in settings.hot_work
    ]
    told = CAUTIONS_ES if spanish else CAUTIONS
    return {
        "kind": "cautions", "name": heads["name"], "where": heads["where"],
        "above": ABOVE_ES if spanish else ABOVE,
        "cautions": [[title, list(texts)] for title, texts in told], "signs": signs, "hot": hot,
        "heads": {k: heads[k] for k in ("who", "role", "signs_for", "person", "field")},
    }  # fmt: skip
