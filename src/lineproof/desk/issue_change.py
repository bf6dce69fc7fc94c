"""What an issue would change for the crew, told before it is given: joints, pieces, drawings, files."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from lineproof.floor.shown import Shown, show_length
from lineproof.plan.ask import AskWhich
from lineproof.plan.issued import Issue, latest
from lineproof.plan.make_pack import Made

FILE = "joints.csv"


@dataclass(frozen=True, slots=True, kw_only=True)
class IssueChange:
    """The next issue held against the last one.

    Parameters
    ----------
    before : int
        Number of the last issue; 0 if there is none. [-]
    number : int
        Number of the next. [-]
    born, retired : tuple of str
        Joints that get an id, and ids that are taken back.
    pieces : tuple of str
        Pieces that are new, gone, or cut to another length, in words.
    lines : tuple of str
        Lines that are new or gone, or whose drawing or revision is another, in words.
    files : tuple of str
        Files that changed, came or went.
    questions : tuple of AskWhich
        What has to be answered first.
    """

    before: int
    number: int
    born: tuple[str, ...]
    retired: tuple[str, ...]
    pieces: tuple[str, ...]
    lines: tuple[str, ...]
    files: tuple[str, ...]
    questions: tuple[AskWhich, ...]

    @property
    def nothing(self) -> bool:
        """Nothing is new: no issue would be made."""
        told = (self.born, self.retired, self.pieces, self.lines, self.files, self.questions)
        return bool(self.before) and not any(told)


def issue_change(folder: Path, made: Made) -> IssueChange:
    """Hold a plan against the last issue.

    Parameters
    ----------
    folder : Path
        The job.
    made : Made
        Planned for an issue.

    Returns
    -------
    IssueChange
    """
    before = latest(folder)
    work = made.pack.work
    shown = work.job.settings.shown.shown
    now = {path: digest for path, digest in work.job.inputs if path != FILE}
    was = before.inputs if before else {}
    lines = {name: (line.drawing, line.rev) for name, line in work.graph.lines.items()}
    return IssueChange(
        before=before.number if before else 0,
        number=made.named.revision,
        born=made.named.born,
        retired=made.named.retired,
        pieces=tuple(_pieces(before, made, shown)),
        lines=tuple(_lines(before.lines if before else {}, lines)),
        files=tuple(sorted(path for path in {*now, *was} if now.get(path) != was.get(path))),
        questions=made.named.questions,
    )


def _pieces(before: Issue | None, made: Made, shown: Shown) -> list[str]:
    def words(cut: float | None, state: str) -> str:
        return state if cut is None else f"{state}, {show_length(cut, shown)}"

    old = {str(p["id"]): p for p in before.pieces} if before else {}
    rows = []
    for p in made.pack.work.cutting.pieces:
        was = old.pop(p.id, None)
        if was is None:
            if before:
                rows.append(f"{p.id}: {words(p.cut, p.state.value)} (new)")
        elif (was["cut"], was["state"]) != (p.cut, p.state.value):
            rows.append(f"{p.id}: {words(p.cut, p.state.value)} (was {words(was['cut'], str(was['state']))})")
    return rows + [f"{name}: gone" for name in old]


def _lines(old: dict[str, tuple[str, str]], new: dict[str, tuple[str, str]]) -> list[str]:
    rows = []
    for name in sorted({*old, *new}):
        was, now = old.get(name), new.get(name)
        if was == now:
            continue
        told = [f"{d} rev {r}".strip() if d else "no drawing" for d, r in (was or ("", ""), now or ("", ""))]
        if was is None:
            rows.append(f"{name}: {told[1]} (new)")
        elif now is None:
            rows.append(f"{name}: gone")
        else:
            rows.append(f"{name}: {told[1]} (was {told[0]})")
    return rows
