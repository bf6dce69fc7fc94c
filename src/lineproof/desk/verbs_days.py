"""The verb ``days``: which joints on which days by which crews, the tests, and what a change would do."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date
from pathlib import Path

import typer

from lineproof.desk.as_json import dumps
from lineproof.desk.days_lines import answer_lines, strips
from lineproof.desk.days_read import KEPT, Asked, days_of, kept_text
from lineproof.desk.days_svg import days_svg
from lineproof.desk.site_known import site_known
from lineproof.desk.words import ENGLISH, SPANISH
from lineproof.floor.errors import BadInput
from lineproof.job.toml_words import day as day_word
from lineproof.job.toml_words import quantity
from lineproof.job.write import why, write_whole
from lineproof.plan.days.from_job import Change


def run_days(
    folder: Path,
    *,
    first_day: str,
    when: str,
    seconds: float,
    seed: int,
    workers: int,
    crews: int,
    tent: Sequence[str],
    colder: str,
    lost: Sequence[str],
    strip: bool,
    keep: bool,
    language: str,
    as_json: bool,
) -> None:
    """Lay the job out over the days and say so; with a change, what it would do to the dates."""
    if language not in (ENGLISH, SPANISH):
        raise BadInput(f"{language!r} is no language of ours", allowed="en or es", next="give --in en or es")
    tried, tried_as = _tried(crews, tent, colder, lost)
    asked = Asked(
        first_day=_day(first_day) if first_day else None, seconds=seconds, seed=seed, workers=workers,
        tried=tried, tried_as=tried_as,
    )  # fmt: skip
    site = site_known(folder, when=when)
    answer, laid = days_of(site, asked)
    if keep and answer.finish is not None:
        out = site.job.folder / "out"
        try:
            out.mkdir(exist_ok=True)
        except OSError as error:
            raise BadInput(
                f"the folder {out} cannot be written: {why(error)}",
                allowed="a folder named out, for what we print",
                next="move what stands there",
            ) from error
        write_whole(out / KEPT, kept_text(answer).encode())
        write_whole(out / "days.svg", days_svg(answer, laid.weather, language).encode())
    if as_json:
        typer.echo(dumps("days", answer))
        return
    for text in answer_lines(answer, language):
        typer.echo(text)
    if strip:
        ahead = laid.outlook.ahead
        for text in strips(answer, dict(ahead.calendars), ahead.begin, laid.weather, site.job.zone, language):
            typer.echo(text)


def _day(raw: str) -> date:
    return day_word(raw)


def _tried(crews: int, tent: Sequence[str], colder: str, lost: Sequence[str]) -> tuple[Change | None, str]:
    """What is tried, and in words."""
    if not (crews or tent or colder or lost):
        return None, ""
    told = []
    dT_K = 0.0
    since = until = None
    if crews:
        told.append(f"{crews} more crew" + ("s" if crews > 1 else ""))
    if tent:
        told.append(f"a tent over {', '.join(tent)}")
    if colder:
        words = colder.split("/")
        dT_K = quantity("temperature_step", least=0.0)(words[0].strip())
        since = _day(words[1].strip()) if len(words) > 1 and words[1].strip() else None
        until = _day(words[2].strip()) if len(words) > 2 and words[2].strip() else None
        told.append(f"{colder} colder")
    if lost:
        told.append(f"{', '.join(lost)} lost")
    change = Change(
        crews=crews, tent=tuple(tent), dT_K=dT_K, since=since, until=until, lost=tuple(_day(d) for d in lost)
    )
    return change, " and ".join(told)
