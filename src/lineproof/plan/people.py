"""Joiners: by which profile they are qualified, what their joints say, and how far ahead it holds."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from lineproof.book.bonders import SCHEMES
from lineproof.book.sizes import Size
from lineproof.checks.joiners import Ahead, CrewSkill, Joiner, MockUp
from lineproof.checks.qualified import NO_WORK, Need, Worked, standing
from lineproof.checks.registry import ask
from lineproof.floor.sources import Reading
from lineproof.floor.verdicts import Finding
from lineproof.job.making import Making
from lineproof.job.people import Person
from lineproof.job.progress import Progress
from lineproof.plan.causes import Causes
from lineproof.plan.subjects import Subjects, joint_name
from lineproof.plan.work import Work

_SCHEME_WORDS = (
    ("b31.1", "asme-b31.1"),
    ("b31.3", "asme-b31.3"),
    ("a.753", "imo-a.753"),
    ("192", "49-cfr-192.285"),
    ("13067", "en-13067"),
)
Kind = tuple[str, str, str]
"""Person, material, steps."""


def scheme_of(work: Work) -> tuple[str, bool]:
    """The profile by which joiners are qualified on a job.

    Parameters
    ----------
    work : Work

    Returns
    -------
    tuple of str and bool
        The one that job.toml names, which then binds every qualification; else the first that its documents
        name, and the first one carried where they name none.
    """
    basis = work.job.settings.code_basis
    if basis.joiners:
        return basis.joiners, True
    words = " ".join(basis.documents).lower()
    return next((scheme for word, scheme in _SCHEME_WORDS if word in words), SCHEMES[0]), False


def worked_of(work: Work, progress: Progress | None) -> dict[Kind, Worked]:
    """What the record says of each person's joints, by material and steps.

    Parameters
    ----------
    work : Work
        With named joints.
    progress : Progress or None
        With its makings.

    Returns
    -------
    dict
        Person, material and steps to days. Somebody who is only named by a correction of one person alone
        has not used the process, nor has anybody on a day that one person alone says; a joint found bad
        counts against everybody who is named.
    """
    found: dict[Kind, tuple[list[date], list[date]]] = {}
    if progress is None or not progress.makings:
        return {}
    steps: dict[str, str] = {}
    zone, settings = work.job.zone, work.job.settings
    for n, place in enumerate(work.cutting.joints):
        making = progress.makings.get(joint_name(place, n))
        if making is None:
            continue
        if place.line not in steps:
            duty = settings.duty(place.line)
            procedure = settings.procedure(duty.procedure) if duty else None
            steps[place.line] = procedure.steps if procedure else ""
        day = making.earliest.astimezone(zone).date()
        sure = day == making.latest.astimezone(zone).date() and not progress.of(making.joint).unclear
        for person in _named(making):
            known = found.setdefault((person, place.material, steps[place.line]), ([], []))
            if sure and (making.pipe_end == (person,) or making.socket == (person,)):
                known[0].append(day)
            if making.failed is not None:
                known[1].append(making.failed.astimezone(zone).date())
    return {
        key: Worked(days=tuple(sorted(set(days))), joints=tuple(sorted(days)), failed=tuple(sorted(bad)))
        for key, (days, bad) in found.items()
    }


def _named(making: Making) -> set[str]:
    return {person for person in (*making.pipe_end, *making.socket) if person}


def add_joiners(
    causes: Causes,
    work: Work,
    names: Subjects,
    days: Mapping[str, tuple[str, ...]],
    progress: Progress | None = None,
) -> None:
    """Every joiner, and the crews together, against each line; and how far ahead their papers hold.

    Parameters
    ----------
    causes : Causes
    work : Work
    names : Subjects
    days : mapping
        ISO day to the joints planned for it; empty if no days are known.
    progress : Progress or None
        What was joined so far.
    """
    settings = work.job.settings
    scheme, bound = scheme_of(work)
    worked = worked_of(work, progress)
    ends = _last_days(days, names)
    sizes: dict[str, set[Size]] = {}
    materials: dict[str, str] = {}
    for j in names.joints:
        sizes.setdefault(j.line, set()).add(j.size)
        materials.setdefault(j.line, j.material)
    for line, found in sizes.items():
        procedure = names.procedure(line)
        need = Need(
            material=materials[line], steps=procedure.steps if procedure else "", smallest=min(found),
            largest=max(found), procedure=procedure.id if procedure else "", day=names.first_day,
        )  # fmt: skip
        crews = settings.crews_for(line)
        people = [p for c in crews for i in c.people if (p := settings.person(i)) is not None]

        def of(p: Person, need: Need = need) -> Worked:
            return worked.get((p.id, need.material, need.steps), NO_WORK)

        skills = tuple(dict.fromkeys((p.qualifications, of(p)) for p in people))
        causes.add(
            "PPL-02", (tuple(c.id for c in crews), need),
            CrewSkill(
                subject=line, line=line, crews=tuple(c.id for c in crews), people=skills, need=need,
                scheme=scheme, bound=bound,
            ),
            line, joints=names.of_line(line),
        )  # fmt: skip
        last = ends.get(line) or names.last_day((line,))
        for p in people:
            if p.qualifications or "joiner" in p.role.lower():
                _add_joiner(causes, work, p, of(p), need, line, last, scheme, bound=bound)


def _add_joiner(
    causes: Causes, work: Work, p: Person, worked: Worked, need: Need, line: str, last: date | None,
    scheme: str, *, bound: bool,
) -> None:  # fmt: skip
    causes.add(
        "PPL-01", (p.id, need),
        Joiner(
            subject=line, line=line, person=p.id, name=p.name, qualifications=p.qualifications, need=need,
            worked=worked, scheme=scheme, bound=bound,
        ),
        line,
    )  # fmt: skip
    state = standing(
        p.qualifications, need, need.day, scheme, work.book, Reading(), worked=worked, bound=bound
    )
    if state:
        return  # PPL-01 says so
    causes.add(
        "PPL-03", (p.id, need, last),
        Ahead(
            subject=line, line=line, person=p.id, name=p.name, qualifications=p.qualifications, need=need,
            last_day=last, worked=worked, scheme=scheme,
        ),
        line,
    )  # fmt: skip
    tests = [q.test_size for q in p.qualifications if q.test_size is not None and q.material == need.material]
    of_kind = [t for t in tests if t.system == need.largest.system]
    causes.add(
        "PPL-04", (p.id, need.largest, tuple(of_kind)),
        MockUp(
            subject=line, line=line, person=p.id, name=p.name, test=max(of_kind, default=None),
            largest=need.largest,
        ),
        line,
    )  # fmt: skip


def _last_days(days: Mapping[str, tuple[str, ...]], names: Subjects) -> dict[str, date]:
    """The last planned day of each line."""
    line_of = {name: j.line for name, j in zip(names.names, names.joints, strict=True)}
    found: dict[str, date] = {}
    for day in sorted(days):
        for name in days[day]:
            if name in line_of:
                found[line_of[name]] = date.fromisoformat(day)
    return found


@dataclass(frozen=True, slots=True)
class JoinerToday:
    """One joiner against lines that ask for the same.

    Parameters
    ----------
    person : str
        Id.
    lines : tuple of str
    finding : Finding
        Of ``PPL-01``, for the day asked.
    """

    person: str
    lines: tuple[str, ...]
    finding: Finding


def joiners_on(work: Work, day: date, progress: Progress | None = None) -> tuple[JoinerToday, ...]:
    """Whether each joiner is qualified for each line on a day: that of the record, not of the plan.

    Parameters
    ----------
    work : Work
        With named joints.
    day : date
    progress : Progress or None
        What was joined so far.

    Returns
    -------
    tuple of JoinerToday
        By person, in the order of job.toml; lines that ask for the same stand together.
    """
    settings = work.job.settings
    scheme, bound = scheme_of(work)
    worked = worked_of(work, progress)
    needs: dict[Need, list[str]] = {}
    sizes: dict[str, set[Size]] = {}
    materials: dict[str, str] = {}
    for j in work.cutting.joints:
        sizes.setdefault(j.line, set()).add(j.size)
        materials.setdefault(j.line, j.material)
    for line, found in sizes.items():
        duty = settings.duty(line)
        procedure = settings.procedure(duty.procedure) if duty is not None else None
        need = Need(
            material=materials[line], steps=procedure.steps if procedure else "", smallest=min(found),
            largest=max(found), procedure=procedure.id if procedure else "", day=day,
        )  # fmt: skip
        needs.setdefault(need, []).append(line)
    rows = []
    for p in settings.people:
        if not p.qualifications and "joiner" not in p.role.lower():
            continue
        for need, lines in needs.items():
            of = worked.get((p.id, need.material, need.steps), NO_WORK)
            facts = Joiner(
                subject=lines[0], line=lines[0], person=p.id, name=p.name, qualifications=p.qualifications,
                need=need, worked=of, scheme=scheme, bound=bound,
            )  # fmt: skip
            rows.append(JoinerToday(p.id, tuple(lines), ask("PPL-01", facts, work.book)))
    return tuple(rows)
