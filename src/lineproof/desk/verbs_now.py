"""The verb ``now``: clocks that run, what may be moved, what must not be touched, who owes a signature."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import typer

from lineproof.desk.answer_now import NowAnswer
from lineproof.desk.as_json import dumps
from lineproof.desk.now_lines import lines_of
from lineproof.desk.now_read import now_answer
from lineproof.desk.now_short import short_lines
from lineproof.desk.site_known import SiteKnown, site_known
from lineproof.desk.verbs_may import humidity_of
from lineproof.desk.words import words_of
from lineproof.plan.cure_ledger import LedgerRow, cure_ledger
from lineproof.plan.joint_states import JointStands, joint_stands


@dataclass(frozen=True, slots=True, kw_only=True)
class Seen:
    """A job at a moment, its clocks held against each other.

    Parameters
    ----------
    site : SiteKnown
    ledger : tuple of LedgerRow
        Both clocks of every made joint.
    stands : dict
        Where each joint stands.
    dampest : float or None
        As the one who asks says. [-]
    """

    site: SiteKnown
    ledger: tuple[LedgerRow, ...]
    stands: dict[str, JointStands]
    dampest: float | None = None


def see(folder: Path, *, when: str, known: int | None, dampest: float | None = None) -> Seen:
    """Read a job and its logbook, and hold the clocks against each other.

    Parameters
    ----------
    folder : Path
        A job folder; it may have no logbook yet.
    when : str
        The moment judged, in the site's zone unless it has an offset; empty for now.
    known : int or None
        Only entries taken by this receipt count; None for all. [-]
    dampest : float or None
        Highest humidity since the joints were made, as the one who asks says. [-]

    Returns
    -------
    Seen
    """
    return seen_of(site_known(folder, when=when, known=known), dampest=dampest)


def seen_of(site: SiteKnown, *, dampest: float | None = None) -> Seen:
    """Hold the clocks of a job against each other.

    Parameters
    ----------
    site : SiteKnown
    dampest : float or None
        Highest humidity since the joints were made, as the one who asks says. [-]

    Returns
    -------
    Seen
    """
    ledger = cure_ledger(site.work, site.progress, dampest=dampest)
    cured = frozenset(row.joint.id for row in ledger if row.is_cured)
    return Seen(
        site=site,
        ledger=ledger,
        stands=joint_stands(site.work, site.progress, cured=cured, dampest=dampest),
        dampest=dampest,
    )


def answer_of(seen: Seen) -> NowAnswer:
    """What ``now`` tells of a job.

    Parameters
    ----------
    seen : Seen

    Returns
    -------
    NowAnswer
    """
    return now_answer(seen.site, seen.stands, seen.site.log.entries, dampest=seen.dampest)


def run_now(
    folder: Path,
    *,
    when: str,
    known: int | None,
    dampest: str,
    short: bool,
    language: str,
    as_json: bool,
) -> None:
    """Print what happens now.

    Parameters
    ----------
    folder : Path
    when : str
        The moment judged; empty for now.
    known : int or None
        Receipt. [-]
    dampest : str
        Highest humidity since the joints were made, as said; empty if nobody says.
    short : bool
        Five plain lines for the radio.
    language : str
        ``"en"`` or ``"es"``.
    as_json : bool
    """
    words_of(language)
    seen = see(folder, when=when, known=known, dampest=humidity_of(dampest))
    answer = answer_of(seen)
    for text in seen.site.log.warnings:
        typer.echo(text, err=True)
    if as_json:
        typer.echo(dumps("now", answer))
        return
    shown = seen.site.job.settings.shown.shown
    for text in (short_lines if short else lines_of)(answer, shown, language):
        typer.echo(text)
