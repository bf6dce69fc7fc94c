"""Puts a cement card into the logbook when a joint is recorded that was made by it."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from lineproof.job.card_seal import seal_of, told_of
from lineproof.job.files import Folder
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.making_of import sealed_cards
from lineproof.logbook.state import State
from lineproof.logbook.writing import Pen


def seal_card(
    folder: Path, settings: Settings, state: State, kind: str, body: Mapping[str, Any], pen: Pen
) -> list[Entry]:
    """Seal the card that a joint was made by, if its newest sealed version is another one.

    Parameters
    ----------
    folder : Path
        The job.
    settings : Settings
    state : State
        What the logbook says so far.
    kind : str
        Of the entry that is written next.
    body : mapping
        Of the same; a correction that names a card is one.
    pen : Pen

    Returns
    -------
    list of Entry
        The one that was written, if one was.
    """
    fields = body.get("fields", {}) if kind == "correction" else body
    if kind not in ("joint_made", "correction") or (kind == "correction" and "card" not in fields):
        return []
    name = str(fields.get("card", ""))
    if not name:
        duty = settings.duty(str(body.get("joint", "")).partition("/")[0])
        name = duty.cement if duty is not None else ""
    if settings.card(name) is None:
        return []  # it is not known, and the checks say so
    told = told_of(Folder(folder).text("job.toml", needed=True) or "", name)
    seal = seal_of(told)
    before = [e for e in sealed_cards(state) if e.body["card"] == name]
    if before and before[-1].body["seal"] == seal:
        return []
    return [pen.write("card", {"card": name, "seal": seal, "told": told})[0]]
