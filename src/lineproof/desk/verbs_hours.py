"""The verb ``hours``: which hours of the coming days a joint can be made in, and what binds each."""

from __future__ import annotations

from datetime import datetime, timedelta
from pathlib import Path

import typer

from lineproof.book.hour import COLOURS
from lineproof.book.load import book
from lineproof.desk.answer_hours import HoursAnswer, hours_answer
from lineproof.desk.as_json import dumps
from lineproof.desk.hours_strip import screen_lines, strip_svg
from lineproof.desk.site_known import stamp_of
from lineproof.desk.words import words_of
from lineproof.floor.errors import BadInput
from lineproof.floor.units import parse
from lineproof.job.files import read_bytes
from lineproof.job.folder import Job, read_job
from lineproof.job.settings import confirmed_set
from lineproof.job.weather import FILE, read_weather
from lineproof.plan.hours import Hours, Read, TentKept, hours_of
from lineproof.plan.hours_air import OPEN, SHADE, TENT, Cover
from lineproof.plan.joints import joint_plans
from lineproof.plan.work import work

MOST_DAYS = 14


def run_hours(
    folder: Path,
    *,
    when: str,
    days: int,
    line: str,
    colour: str,
    shade: bool,
    tent: str,
    heater_out: bool | None,
    heat_off: bool | None,
    pipe: str,
    dry_hand: bool,
    read_at: str,
    svg: Path | None,
    language: str,
    as_json: bool,
) -> None:
    """Print the hours.

    Parameters
    ----------
    folder : Path
    when : str
        The moment judged; empty for now.
    days : int
        How many, 1 to 14. [-]
    line, colour : str
    shade : bool
    tent : str
        Air in it, with its unit; empty for none.
    heater_out, heat_off : bool or None
        How the tent is kept; None where nobody says.
    pipe : str
        Pipe temperature as read, with its unit; empty if nobody read it.
    dry_hand : bool
        A dry hand was run over it and stayed dry.
    read_at : str
        When; empty for the moment judged.
    svg : Path or None
        Where the strip goes as a picture.
    language : str
        ``"en"`` or ``"es"``.
    as_json : bool
    """
    words_of(language)
    job = read_job(folder)
    now = stamp_of(when, job.zone).wall.astimezone(job.zone)
    cover = _cover(colour, shade, tent)
    read = None
    if pipe or dry_hand:
        at = stamp_of(read_at, job.zone).wall.astimezone(job.zone) if read_at else now
        if at > now:
            raise BadInput(
                f"the reading of {read_at} lies ahead of the moment judged", allowed="a reading of before"
            )
        read = Read(pipe=parse(pipe, "temperature") if pipe else None, at=at, hand_dry=dry_hand)
    kept = TentKept(heater_out=heater_out, heat_on_joint=None if heat_off is None else not heat_off)
    answer = answer_of(job, folder, now=now, days=days, line=line, cover=cover, read=read, kept=kept)
    if svg is not None:
        svg.write_text(strip_svg(answer, language), "utf-8")
    if as_json:
        typer.echo(dumps("hours", answer))
        return
    for text in screen_lines(answer, job.settings.shown.shown, language):
        typer.echo(text)


def answer_of(
    job: Job,
    folder: Path,
    *,
    now: datetime,
    days: int = 3,
    line: str = "",
    cover: Cover | None = None,
    read: Read | None = None,
    kept: TentKept | None = None,
) -> HoursAnswer:
    """The hours of a job folder.

    Parameters
    ----------
    job : Job
    folder : Path
        Holds weather.csv.
    now : datetime
        The moment judged.
    days : int
        [-]
    line : str
        Empty for the line with the largest joint.
    cover : Cover or None
    read : Read or None
    kept : TentKept or None

    Returns
    -------
    HoursAnswer

    Raises
    ------
    BadInput
        No weather.csv, no joints, or more days than are looked at.
    """
    if not 1 <= days <= MOST_DAYS:
        raise BadInput(f"{days} days", allowed=f"1 to {MOST_DAYS}")
    content = read_bytes(folder / FILE, FILE, needed=False)
    if content is None:
        raise BadInput(
            f"there is no {FILE} in the job folder", allowed="one row an hour, see docs/weather.md",
            next="write the hours there, seen or forecast",
        )  # fmt: skip
    begin, end = now - timedelta(days=2), now + timedelta(days=days + 3)
    rows = tuple(r for r in read_weather(content, job.zone) if r.last >= begin and r.first <= end)
    tables = book().with_confirmations(confirmed_set(job.settings))
    made = work(job, nest=False)
    joints = joint_plans(made.graph, made.cutting, job.settings, tables, catalogue=job.parts)
    found: Hours = hours_of(
        job.settings, joints, rows, tables, now=now, zone=job.zone, days=days, line=line, cover=cover or
        Cover(), read=read, kept=kept or TentKept(),
    )  # fmt: skip
    return hours_answer(job.settings.job.id, found)


def _cover(colour: str, shade: bool, tent: str) -> Cover:
    if colour not in COLOURS:
        raise BadInput(f"a pipe of colour {colour!r}", allowed=", ".join(COLOURS), next="say the nearest")
    if shade and tent:
        raise BadInput("both a shade and a tent", allowed="one of them", next="leave one out")
    if tent:
        return Cover(kind=TENT, air=parse(tent, "temperature"), colour=colour)
    return Cover(kind=SHADE if shade else OPEN, colour=colour)
