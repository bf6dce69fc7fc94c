"""The verb ``record print``: joint record, stickers, cure ledger and release form, as PDF into out/."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING

import typer

from lineproof.desk.answers_record import RecordPrinted
from lineproof.desk.as_json import dumps
from lineproof.desk.record_book import job_uuid, people_of
from lineproof.desk.verbs_may import humidity_of
from lineproof.desk.verbs_now import Seen, see
from lineproof.desk.words import ENGLISH, words_of
from lineproof.floor.errors import BadInput
from lineproof.floor.verdicts import Verdict
from lineproof.job.section_record import PRESSURE, Release, SectionRecord
from lineproof.job.write import why, write_whole
from lineproof.logbook.store import SHORT

if TYPE_CHECKING:
    from lineproof.desk.papers.record_data import RecordPaper
    from lineproof.desk.papers.release import Replayed

OUT = "out"


@dataclass(frozen=True, slots=True, kw_only=True)
class Wish:
    """What is to be printed.

    Parameters
    ----------
    subjects : tuple of str
        Joints, lines, sections or cans; empty for all.
    day : str
        Joints made, or cans opened, on that day; empty for any.
    dampest : float or None
        As the one who asks says. [-]
    """

    subjects: tuple[str, ...]
    day: str
    dampest: float | None


Sheets = list[dict[str, object]]


def run_print(
    folder: Path,
    what: str,
    subjects: Sequence[str],
    *,
    day: str,
    when: str,
    known: int | None,
    dampest: str,
    paper: str,
    language: str,
    as_json: bool,
) -> None:
    """Print a paper of the record.

    Parameters
    ----------
    folder : Path
    what : str
        ``"joints"``, ``"stickers"``, ``"cans"``, ``"ledger"``, ``"release"`` or ``"cautions"``.
    subjects : sequence of str
    day : str
    when, known, dampest
        As for ``now``.
    paper : str
        ``"a4"`` or ``"letter"``; empty for the paper of the job's units.
    language : str
    as_json : bool

    Raises
    ------
    BadInput
        There is nothing to print, or no such thing.
    """
    told, title, warnings = print_record(
        folder, what, subjects, day=day, when=when, known=known, dampest=dampest, paper=paper,
        language=language,
    )  # fmt: skip
    for text in warnings:
        typer.echo(text, err=True)
    if as_json:
        typer.echo(dumps("record-printed", told))
        return
    items = told.subjects
    about = ", ".join(items[:3]) + (f" and {len(items) - 3} more" if len(items) > 3 else "")
    typer.echo(f"{told.file}: {title.lower()} of {about}; head {told.head[:SHORT]}")


def print_record(
    folder: Path,
    what: str,
    subjects: Sequence[str],
    *,
    day: str = "",
    when: str = "",
    known: int | None = None,
    dampest: str = "",
    paper: str = "",
    language: str = ENGLISH,
) -> tuple[RecordPrinted, str, tuple[str, ...]]:
    """Make a paper of the record and put it into out/.

    Parameters
    ----------
    folder, what, subjects, day, when, known, dampest, paper, language
        As for ``run_print``.

    Returns
    -------
    RecordPrinted, str, tuple of str
        What was printed, its title, and warnings.

    Raises
    ------
    BadInput
        There is nothing to print, or no such thing.
    """
    from lineproof.desk.papers.make import PAPERS
    from lineproof.desk.papers.record_data import RecordPaper
    from lineproof.desk.papers.typeset import typeset

    if what not in PRINTS:
        raise BadInput(
            f"{what[:40]!r} is not a paper of the record", allowed=", ".join(PRINTS), next="use one of these"
        )
    words_of(language)
    if day and not re.fullmatch(r"\d{4}-\d\d-\d\d", day):
        raise BadInput(
            f"--day {day[:40]!r} is no day", allowed="a day such as 2027-05-04", next="type it like that"
        )
    if day:
        _day(day)
    seen = see(folder, when=when, known=known, dampest=humidity_of(dampest))
    chosen = paper.lower() or ("letter" if seen.site.job.settings.shown.units == "us" else "a4")
    if chosen not in PAPERS:
        raise BadInput(f"paper {paper!r} is not carried", allowed=", ".join(PAPERS), next="use one of these")
    wish = Wish(subjects=tuple(subjects), day=day, dampest=seen.dampest)
    made = RecordPaper(seen.site, language)
    name, title, sheets, items = PRINTS[what](seen, made, wish)
    data = {**made.document(title, sheets), "paper": PAPERS[chosen]}
    pdf = typeset(data, made.stamp)
    file = folder / OUT / f"{name}{'' if language == ENGLISH else '-' + language}.pdf"
    try:
        file.parent.mkdir(exist_ok=True)
    except OSError as error:
        raise BadInput(
            f"the folder {file.parent} cannot be written: {why(error)}",
            allowed="a folder named out, for what we print",
            next="move what stands there",
        ) from error
    write_whole(file, pdf)
    told = RecordPrinted(
        paper=what, file=f"{OUT}/{file.name}", subjects=tuple(items), when=made.now,
        known=seen.site.log.receipt, head=seen.site.log.head,
    )  # fmt: skip
    return told, title, seen.site.log.warnings


def _day(day: str) -> None:
    try:
        date.fromisoformat(day)
    except ValueError as error:
        raise BadInput(
            f"--day {day} is no day", allowed="a day such as 2027-05-04", next="look it up"
        ) from error


Printed = tuple[str, str, Sheets, Sequence[str]]


def _joints(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.papers.chosen import chosen_joints
    from lineproof.desk.papers.joint_record import record_sheet

    names = chosen_joints(paper, wish.subjects, wish.day)
    _some(names, "joint", "record a joint first: lineproof record joint JOINT")
    sheets = [record_sheet(paper, names, seen.stands)]
    return "joint-record", paper.tell("joint_record"), sheets, names


def _stickers(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.papers.chosen import chosen_joints
    from lineproof.desk.papers.stickers import GONE, joint_stickers

    names = [n for n in chosen_joints(paper, wish.subjects, wish.day) if seen.stands[n].state not in GONE]
    if not wish.subjects and not wish.day:
        names = [n for n in names if seen.stands[n].verdict is not Verdict.GO]
    _some(names, "made joint", "name a joint that is made, or a day with --day")
    ledger = {row.joint.id: row for row in seen.ledger}
    return (
        "joint-stickers", paper.tell("stickers"), [joint_stickers(paper, names, seen.stands, ledger)], names,
    )  # fmt: skip


def _cans(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.now_cans import can_lives
    from lineproof.desk.papers.stickers import can_stickers

    cans = can_lives(seen.site.log.state, paper.settings, paper.now)
    known = {c.can.casefold(): c for c in cans}
    for word in wish.subjects:
        if word.casefold() not in known:
            raise BadInput(
                f"no can is called {word!r}",
                allowed=", ".join(c.can for c in cans[:12]) or "none is recorded",
                next="name one that was received and not thrown away",
            )
    if wish.subjects:
        cans = tuple(known[w.casefold()] for w in wish.subjects)
    if wish.day:
        cans = tuple(c for c in cans if c.opened is not None and c.opened.date().isoformat() == wish.day)
    names = [c.can for c in cans]
    _some(names, "can", "record it first: lineproof record add can_received CAN lot=LOT holds=cement")
    return "can-stickers", paper.tell("can_stickers"), [can_stickers(paper, cans)], names


def _ledger(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.papers.ledger import ledger_sheets

    every = [s.id for s in paper.settings.sections]
    for word in wish.subjects:
        if word not in every:
            raise BadInput(
                f"no section is called {word!r}", allowed=", ".join(every) or "a section of job.toml",
                next="name one of these",
            )  # fmt: skip
    sections = list(wish.subjects) or every
    sheets = ledger_sheets(paper, seen.ledger, sections, wish.dampest)
    return "cure-ledger", paper.tell("ledger"), sheets, sections


def _release(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.papers.release import release_sheet

    given = [(record, r) for record in seen.site.progress.sections.values() for r in record.releases]
    given = [(record, r) for record, r in given if r.may in PRESSURE]
    chosen = []
    for word in wish.subjects:
        mine = [(s, r) for s, r in given if word in (r.id, s.id)]
        if not mine:
            raise BadInput(
                f"no release to fill or raise is called {word!r}",
                allowed=", ".join(r.id for _, r in given[-8:]) or "none is given",
                next="name a release, or a section for its newest",
            )
        chosen.append(mine[-1])
    if not wish.subjects and given:
        chosen.append(max(given, key=lambda told: told[1].at))
    if wish.day:
        chosen = [(s, r) for s, r in chosen if r.at.astimezone(paper.zone).date().isoformat() == wish.day]
    names = [r.id for _, r in chosen]
    _some(names, "release", "give it with: lineproof may raise SECTION ... --by ID --release")
    sheets = [release_sheet(paper, _replayed(seen, s, r)) for s, r in chosen]
    return "release", paper.tell("release_form"), sheets, names


def _replayed(seen: Seen, section: SectionRecord, release: Release) -> Replayed:
    """Ask again what a release was given on, by what was known then."""
    from lineproof.desk.papers.release import Replayed
    from lineproof.desk.site_known import site_known
    from lineproof.logbook.entry import moment
    from lineproof.plan.may_raise import may_raise
    from lineproof.plan.section_at import Asked

    by_id = {e.id: e for e in seen.site.log.entries}
    given = by_id[release.entry]
    answer = by_id.get(str(given.body.get("answer", "")))
    if answer is None or "known" not in answer.body:
        return Replayed(
            section=section, release=release, given=given, answer=answer, found=None, then=None
        )  # fmt: skip
    at = moment(str(answer.body.get("at") or answer.wall.isoformat()))
    then = site_known(seen.site.folder, when=at.isoformat(), known=int(answer.body["known"]))
    people = people_of(job_uuid(seen.site.job.settings), seen.site.job.settings)
    asked = Asked(
        verb=release.may, section=section.id, pressure=release.pressure, gauge=release.gauge,
        medium=release.medium, asker=people.get(answer.who, ""),
    )  # fmt: skip
    was = {k: v for k, v in answer.body.get("inputs", {}).items() if k != "record"}
    now = dict(seen.site.job.inputs)
    changed = tuple(sorted(k for k in {*was, *now} if was.get(k) != now.get(k)))
    return Replayed(
        section=section, release=release, given=given, answer=answer,
        found=may_raise(asked, then.work, then.progress), then=then.progress.section(section.id),
        changed=changed,
    )  # fmt: skip


def _cautions(seen: Seen, paper: RecordPaper, wish: Wish) -> Printed:
    from lineproof.desk.papers.cautions import caution_sheet

    if wish.subjects or wish.day:
        raise BadInput(
            "the caution page is one for the whole job",
            allowed="no subject and no --day",
            next="leave them out",
        )
    sheet = caution_sheet(paper.settings, paper.language)
    return "cautions", str(sheet["name"]), [sheet], [seen.site.job.settings.job.id]


def _some(names: Sequence[str], what: str, then: str) -> None:
    if not names:
        raise BadInput(f"there is no {what} to print", allowed=f"a {what} with a record", next=then)


PRINTS: Mapping[str, Callable[[Seen, RecordPaper, Wish], Printed]] = {
    "joints": _joints,
    "stickers": _stickers,
    "cans": _cans,
    "ledger": _ledger,
    "release": _release,
    "cautions": _cautions,
}
"""Papers of the record, and what makes them."""
