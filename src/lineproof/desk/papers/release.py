"""The release form: what was let go ahead, on which answer, who answered for what, what ends it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime

from lineproof.checks.conditions import CONDITIONS, HEARD_FOR
from lineproof.desk.papers.record_data import RecordPaper
from lineproof.desk.raise_keep import VOIDS
from lineproof.desk.say import reason
from lineproof.desk.words import SPANISH
from lineproof.desk.words_record import CONDITIONS_SAID, VOIDS_ES, said
from lineproof.floor.shown import show
from lineproof.floor.verdicts import Verdict
from lineproof.job.section_record import Release, SectionRecord
from lineproof.logbook.entry import Entry
from lineproof.plan.may_raise import MayRaise

ABOUT_SECTION = ("RAI-", "PRS-", "MOV-05")
"""Checks that speak of the section as a whole; those of joints are counted."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Replayed:
    """A release with the answer it was given on, asked again by what was known then.

    Parameters
    ----------
    section : SectionRecord
        As it stands now.
    release : Release
    given : Entry
    answer : Entry or None
        The answer that was kept; None if none was.
    found : MayRaise or None
        The same question asked again by the same record; None where it cannot be.
    then : SectionRecord or None
        The section as it was known then.
    changed : tuple of str
        Files of the job that are no longer as they were.
    """

    section: SectionRecord
    release: Release
    given: Entry
    answer: Entry | None
    found: MayRaise | None
    then: SectionRecord | None
    changed: tuple[str, ...] = ()


def release_sheet(paper: RecordPaper, told: Replayed) -> dict[str, object]:
    """One release as a form to sign.

    Parameters
    ----------
    paper : RecordPaper
    told : Replayed

    Returns
    -------
    dict
        For ``templates/release.typ``.
    """
    release, found = told.release, told.found
    charge = paper.settings.signs.test_in_charge
    pressure = show(release.pressure, "pressure", paper.shown) if release.pressure is not None else ""
    gauge = paper.settings.gauge(release.gauge)
    place = f"{release.gauge} ({gauge.where})" if gauge is not None and gauge.where else release.gauge
    return {
        "kind": "release",
        "name": paper.tell("release_form"),
        "where": f"{paper.field('section')} {told.section.id} · {release.id}",
        "verb": said(CONDITIONS_SAID, release.may, paper.language),
        "pressure": pressure or paper.tell("own_column"),
        "facts": [
            [paper.tell("at_gauge"), place or "-"],
            [paper.field("medium"), paper.value(release.medium) if release.medium else "-"],
            [paper.tell("given"), paper.moment(release.at)],
            [paper.tell("begun_by"), paper.moment(release.expires) or "-"],
            [paper.tell("given_by"), paper.named(release.who)],
        ],
        "claimed": paper.tell("claimed") if release.claimed else "",
        "loud": _loud(paper, told),
        "pressed": _pressed(paper, told),
        "governs_word": paper.tell("governs"),
        "governs": _governs(paper, found),
        "asked": paper.tell(
            "asked_of", n=len(found.joints) if found is not None else 0,
            when=paper.moment(_at(told)), asker=paper.named(found.asked.asker) if found is not None else "-",
        ),
        "conditions_word": paper.tell("conditions"),
        "condition_heads": [
            paper.tell("condition"), paper.field("answer"), paper.tell("by"), paper.tell("when"),
            paper.field("place"),
        ],
        "conditions": _conditions(paper, told),
        "checked_word": paper.tell("checked"),
        "checked": _checked(paper, found),
        "voids_word": paper.tell("voids"),
        "voids": [_void(paper, v) for v in told.given.body.get("voids", ())],
        "sign": paper.tell("sign"),
        "signs": [
            [paper.tell("sign_charge"), charge],
            [paper.tell("sign_ready"), paper.settings.signs.lead],
            [paper.tell("sign_out"), ""],
            [paper.tell("sign_witness"), paper.settings.signs.witness],
        ],
        "zero_word": paper.tell("zero_box"),
        "zero": [paper.field("vent"), paper.tell("when"), paper.tell("sign_charge")],
        "caution": paper.tell("release_caution"),
    }  # fmt: skip


def _at(told: Replayed) -> datetime:
    return told.release.at


def _loud(paper: RecordPaper, told: Replayed) -> list[str]:
    """What says that the form is not, or no longer, good."""
    release, found = told.release, told.found
    rows = []
    if release.ended:
        rows.append(paper.tell(f"ended_{release.ended}", reason=release.reason or "-"))
    elif release.expires is not None and paper.now > release.expires:
        rows.append(paper.tell("ran_out", when=paper.moment(release.expires)))
    if told.section.unclear:
        rows.append(paper.tell("unclear", unclear=", ".join(paper.code(c) for c in told.section.unclear)))
    if told.answer is None:
        rows.append(paper.tell("no_answer"))
    elif found is None:
        rows.append(paper.tell("no_replay"))
    elif found.verdict is not Verdict.GO:
        word = paper.small[found.verdict.word]
        changed = ", ".join(told.changed) or "-"
        rows.append(paper.tell("replay_differs", verdict=word, changed=changed))
    if release.who != paper.settings.signs.test_in_charge:
        rows.append(paper.tell("not_in_charge", who=release.who or paper.small["nobody"]))
    return rows


def _pressed(paper: RecordPaper, told: Replayed) -> str:
    """UNDER PRESSURE until an open vent proves zero."""
    section, release = told.section, told.release
    pressed = section.under_pressure
    if pressed is not None:
        return paper.tell("pressed", section=section.id, when=paper.moment(pressed.at))
    zero = section.zero
    if zero is not None and zero.at >= release.at:
        return paper.tell("zero_proved", when=paper.moment(zero.at), who=paper.named(zero.who))
    return paper.tell("pressed_then", section=section.id)


def _governs(paper: RecordPaper, found: MayRaise | None) -> str:
    if found is None or found.governs is None:
        return "-"
    return reason(found.governs, paper.shown, paper.language)


def _conditions(paper: RecordPaper, told: Replayed) -> list[list[str]]:
    """Each condition of this kind of release with who answered, when and where; unanswered ones too."""
    record = told.then or told.section
    rows = []
    wanted = [(c.id, "") for c in CONDITIONS.values() if told.release.may in c.verbs]
    wanted += [key for key in record.conditions if key[0] == HEARD_FOR]
    for name, about in wanted:
        found = record.conditions.get((name, about))
        what = said(CONDITIONS_SAID, name, paper.language) + (f": {about[:24]}" if about else "")
        if found is None:
            rows.append([what, paper.tell("not_answered"), "", "", ""])
            continue
        answer = paper.small["yes" if found.good else "no"]
        if found.since is not None:
            answer += f", {paper.field('since')} {paper.brief(found.since)}"
        rows.append([what, answer, paper.named(found.who), paper.moment(found.at), found.place])
    return rows


def _checked(paper: RecordPaper, found: MayRaise | None) -> list[dict[str, str]]:
    """What was asked of the section, one row each; what was asked of joints is told in one row a verdict."""
    if found is None:
        return []
    rows: list[dict[str, str]] = []
    joints: dict[Verdict, dict[str, None]] = {}
    for f in sorted(found.findings, key=lambda f: (-f.verdict, f.id, f.subject)):
        if f.id == "RAI-06":
            continue  # they stand above, with who answered and when
        if f.id.startswith(ABOUT_SECTION):
            rows.append(
                {"verdict": f.verdict.word, "id": f.id, "text": reason(f, paper.shown, paper.language)}
            )
        else:
            joints.setdefault(f.verdict, {})[f.id] = None
    for verdict, ids in joints.items():
        text = paper.tell("each_joint", n=len(found.joints), checks=", ".join(ids))
        rows.append({"verdict": verdict.word, "id": "", "text": text})
    return rows


def _void(paper: RecordPaper, text: object) -> str:
    told = str(text)
    if paper.language != SPANISH or told not in VOIDS:
        return told
    return VOIDS_ES[VOIDS.index(told)]


def voids_carried() -> Sequence[str]:
    """What ends a release, as it is carried in Spanish: one for each of the English ones."""
    return VOIDS_ES
