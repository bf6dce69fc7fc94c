"""What ``hours --json`` prints; docs/schemas/hours.json is written from this."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime

from lineproof.floor.verdicts import Finding, Verdict
from lineproof.plan.hours import HourRow, Hours, SizeHands


@dataclass(frozen=True, slots=True, kw_only=True)
class HoursAnswer:
    """Which hours of the coming days a joint of a line can be made in, and what binds each.

    Parameters
    ----------
    job, line, size, card : str
        The line with the largest joint unless asked for another; its largest joint; the card's id.
    now : datetime
        The moment judged.
    cover, colour : str
        ``"open"``, ``"shade"`` or ``"tent"``, and the colour of the pipe as said.
    tent_air : float or None
        [K]
    verdict : Verdict
        Of the hour judged, the tent's rules with it.
    governs : Finding or None
        What decides.
    asked : HourRow or None
        The hour judged; None where the weather has no such hour.
    tent : Finding or None
    hands : tuple of SizeHands
        Hands for each size of the line in the hours that are not refused.
    dry_wanted : float or None
        Joint and set, beginning in the hour judged. [s]
    days : tuple of tuple of HourRow
        Each day from midnight to midnight on the site.
    """

    job: str
    line: str
    size: str
    card: str
    now: datetime
    cover: str
    colour: str
    tent_air: float | None
    verdict: Verdict
    governs: Finding | None
    asked: HourRow | None
    tent: Finding | None
    hands: tuple[SizeHands, ...]
    dry_wanted: float | None
    days: tuple[tuple[HourRow, ...], ...]


def hours_answer(job: str, hours: Hours) -> HoursAnswer:
    """The answer of the hours of a job.

    Parameters
    ----------
    job : str
        Id of the job.
    hours : Hours

    Returns
    -------
    HoursAnswer
    """
    said = [f for f in (hours.asked.finding if hours.asked else None, hours.tent) if f is not None]
    governs = max(said, key=lambda f: f.verdict, default=None)
    return HoursAnswer(
        job=job, line=hours.line, size=hours.size.text, card=hours.card, now=hours.now,
        cover=hours.cover.kind, colour=hours.cover.colour, tent_air=hours.cover.air,
        verdict=governs.verdict if governs and hours.asked else Verdict.CANNOT_TELL,
        governs=governs, asked=hours.asked, tent=hours.tent, hands=hours.hands, dry_wanted=hours.dry_wanted,
        days=hours.days,
    )  # fmt: skip
