"""The line of ``move_rig`` with qualified people and cans, and a joint recorded as a joint should be."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from joint_rig import PAPERS
from lineproof.floor.verdicts import Finding, Verdict
from lineproof.job.folder import read_job
from lineproof.job.progress import Progress
from lineproof.logbook.clocks import Stamp
from lineproof.logbook.entry import Entry, moment_text
from lineproof.logbook.fold import fold
from lineproof.logbook.progress_of import progress_of
from lineproof.logbook.writing import Pen
from lineproof.plan.made_joint import made_findings
from lineproof.plan.make_pack import named_work
from lineproof.plan.subjects import joint_name
from lineproof.plan.work import work
from logbook.rig import ANNA, BELA, CORA, metres, writer
from move_rig import CARD, J1, PARTS, READ_BACK, WALK, Story, at, fahr
from rigs import job_at, stock

PEOPLE = {ANNA: "A", BELA: "B", CORA: "C"}
QUALIFIED = """[[people.qualifications]]
material = "pvc"
steps = "two-step"
size_lo = "2in"
size_hi = "12in"
document = "card {id} (invented)"
tested_on = 2026-03-02
last_used_on = 2026-11-02
"""
CANS = """
[[cans]]
id = "K-1"
kind = "cement"
card = "C-2"
volume = "1 qt"
lot = "7731"
expires = 2027-06-30
[[cans]]
id = "K-2"
kind = "primer"
volume = "1 qt"
lot = "118"
expires = 2027-06-30
"""


def made_job(
    folder: Path,
    *,
    papers: Mapping[str, str] | None = None,
    rows: str = CARD,
    cans: str = CANS,
    walk: str = WALK,
    parts: list[str] | None = None,
) -> Path:
    """Write the job folder; ``papers`` holds words of job.toml to be replaced."""
    people = "".join(
        f'[[people]]\nid = "{p}"\nname = "Joiner {p} (invented)"\n'
        + (QUALIFIED.format(id=p) if p != "C" else "")
        for p in "ABC"
    )
    toml = PAPERS.replace('[[people]]\nid = "A"\nname = "Joiner A (invented)"\n', people)
    toml = toml.replace('source = "container (invented)"\n', f'source = "container (invented)"{READ_BACK}')
    told = toml + rows + cans + stock("2in")
    for old, new in (papers or {}).items():
        assert old in told
        told = told.replace(old, new, 1)
    job_at(folder, walk, PARTS if parts is None else parts, toml=told)
    return folder


class Made:
    """A job and its logbook, asked how its joints were made."""

    def __init__(self, folder: Path, **job: Any) -> None:
        self.folder = made_job(folder, **job)
        self.story = Story(self.folder)
        self.story.pens[CORA] = Pen(self.story.store, writer("cora", CORA), self.story.clock)
        self.work, _ = named_work(work(read_job(folder), nest=False))

    def record(self, clock: str, kind: str, who: str = ANNA, *, day: int = 0, **body: Any) -> Entry:
        """One entry about a joint, the first one unless said."""
        return self.story.write(clock, kind, {"joint": J1, **body}, who=who, day=day)

    def make(self, clock: str = "9:00", *, day: int = 0, **change: Any) -> Entry:
        """The making of a joint, told as it went home."""
        body = {
            "joint": J1,
            "roles": {"pipe_end": ANNA, "socket": BELA},
            "lots": {"cement": "7731", "primer": "118"},
            "joint_temperature": fahr(52),
            **change,
        }
        kept = {key: value for key, value in body.items() if value is not None}
        return self.story.write(clock, "joint_made", kept, day=day)

    def whole(self, **change: Any) -> None:
        """A joint made, held, measured and examined as it should be."""
        self.make(**change)
        self.record("9:03", "hold_end")
        self.record("9:10", "insertion", shortfall=metres("2 mm", "0.002"))
        self.record("9:20", "examined", CORA, list="A-1", accepted=True)

    def correct(self, clock: str, entry: Entry, who: str = ANNA, *, second: str = "", **fields: Any) -> None:
        """A correction, by one person or with a second one."""
        body = {"corrects": entry.id, "reason": "misread", "fields": fields}
        self.story.write(clock, "correction", body | ({"second": second} if second else {}), who=who)

    def progress(self, clock: str = "20:00", *, day: int = 0) -> Progress:
        """What is known of it then."""
        state = fold(self.story.store.read_since())
        return progress_of(state, Stamp(wall=at(clock, day=day), confirmed=True), people=PEOPLE)

    def findings(self) -> list[Finding]:
        """All answers."""
        progress = self.progress(day=400)
        places = [(progress.of(joint_name(j, n)), j) for n, j in enumerate(self.work.cutting.joints)]
        return made_findings(places, self.work, progress)

    def against(self) -> set[str]:
        """Check and reason of all that stands against it."""
        return {f"{f.id} {f.facts['why']}" for f in self.findings() if f.verdict > Verdict.GO}

    def verdict(self, check: str) -> Verdict:
        """Of one check."""
        return max(f.verdict for f in self.findings() if f.id == check)


def said(clock: str, *, day: int = 0) -> str:
    """A moment as a body holds it."""
    return moment_text(at(clock, day=day))
