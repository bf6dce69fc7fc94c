"""Names and indices that the facts of checks need: which joints and pieces hang on a part, a run, a line."""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence
from datetime import date, timedelta

from lineproof.book.sizes import Size
from lineproof.checks.cement import ESTIMATE
from lineproof.job.graph import Part, Run
from lineproof.job.people import Crew, Procedure, hands_for
from lineproof.plan.model import JointPlace, Piece
from lineproof.plan.names import short
from lineproof.plan.rough_days import labour_of
from lineproof.plan.work import Work

SHIFT = 8 * 3600.0
"""A shift (own rule, for the estimate of the last day only). [s]"""
ON_JOINTS = 0.5
"""Share of a shift that goes on joints; bolting, moving, supports and waits take the rest (own rule). [-]"""


class Subjects:
    """Indices of one work, made once.

    Parameters
    ----------
    work : Work
    last_day : date or None
        Last day of joining by a plan of days; None estimates it from labour hours.
    """

    def __init__(self, work: Work, last_day: date | None = None) -> None:
        self.work = work
        self.joints: Sequence[JointPlace] = work.cutting.joints
        self.names = [joint_name(j, n) for n, j in enumerate(self.joints)]
        self._port: dict[tuple[str, str], list[str]] = {}
        self._part: dict[str, list[str]] = {}
        self._line: dict[str, list[str]] = {}
        self._run: dict[str, list[str]] = {}
        self._piece_run: dict[str, list[str]] = {}
        self._piece_part: dict[str, list[str]] = {}
        self._pipe: dict[tuple[Size, str, str], list[str]] = {}
        run_of: dict[str, str] = {}
        for p in work.cutting.pieces:
            run_of[p.id] = p.run
            self._piece_run.setdefault(p.run, []).append(p.id)
            for end in (p.a, p.b):
                if end.part:
                    self._piece_part.setdefault(end.part, []).append(p.id)
        kinds = {p.id: (p.size, p.material, p.series) for p in work.cutting.pieces}
        for name, j in zip(self.names, self.joints, strict=True):
            self._port.setdefault(j.socket, []).append(name)
            for part in {j.socket[0], j.spigot[0]}:
                self._part.setdefault(part, []).append(name)
                run = run_of.get(part)
                if run is not None:
                    self._run.setdefault(run, []).append(name)
            self._line.setdefault(j.line, []).append(name)
            kind = kinds.get(j.spigot[0])
            if kind is not None:
                self._pipe.setdefault(kind, []).append(name)
        self.first_day = work.job.settings.conditions.start
        self.planned = last_day
        self.last_day_by = "plan" if last_day else ESTIMATE
        self._ends = {} if last_day else self._estimate()

    def at_port(self, part: str, port: str) -> Sequence[str]:
        """Joints at one socket."""
        return self._port.get((part, port), ())

    def at_part(self, part: str) -> Sequence[str]:
        """Joints at a part."""
        return self._part.get(part, ())

    def of_line(self, line: str) -> Sequence[str]:
        """Joints of a line."""
        return self._line.get(line, ())

    def of_run(self, run: str) -> Sequence[str]:
        """Joints at the pieces of a run."""
        return self._run.get(run, ())

    def of_pipe(self, size: Size, material: str, series: str) -> Sequence[str]:
        """Joints whose spigot is pipe of this kind."""
        return self._pipe.get((size, material, series), ())

    def pieces_of(self, run: str) -> Sequence[str]:
        """Pieces of a run."""
        return self._piece_run.get(run, ())

    def pieces_at(self, part: str) -> Sequence[str]:
        """Pieces that end at a part."""
        return self._piece_part.get(part, ())

    def part(self, id: str) -> Part | None:
        """A part, couplings of split legs among them; None for a piece."""
        return self.work.graph.parts.get(id) or self.work.cutting.couplings.get(id)

    def between(self, run: Run) -> str:
        """A run by its two ends: ``B-201 E1 to T2``."""
        return f"{run.line} {short(run.a[0])} to {short(run.b[0])}"

    def pipe_words(self, item: Run | Piece) -> str:
        """Pipe in words: ``12 in pvc sch80``."""
        return f"{item.size.text} {item.material} {item.series}"

    def family(self, size: Size, material: str, series: str, by_line: str) -> str:
        """Family of outside diameters said for a pipe: by its line, else by its stock; empty if not said."""
        return "metric" if size.metric else by_line or self.work.pipes.family(size, material, series)

    def procedure(self, line: str) -> Procedure | None:
        """The joining procedure of a line."""
        duty = self.work.job.settings.duty(line)
        return self.work.job.settings.procedure(duty.procedure) if duty else None

    def angle_limit(self, line: str) -> tuple[float | None, str]:
        """How far out of line a joint may be made [rad], and who says so."""
        procedure = self.procedure(line)
        if procedure is not None and procedure.angle_limit is not None:
            return procedure.angle_limit, procedure.id
        limit = self.work.job.settings.cutting.joint_angle_limit
        return limit, "job.toml" if limit is not None else ""

    def last_day(self, lines: Iterable[str]) -> date | None:
        """Last day of joining on some lines: by the plan of days, else estimated; None if not known."""
        if self.planned is not None:
            return self.planned
        found = [self._ends.get(line) for line in lines]
        return max((d for d in found if d is not None), default=None) if None not in found else None

    def _estimate(self) -> dict[str, date | None]:
        """Last day of each line: labour of its crew's joints, one at a time, five shifts a week."""
        settings = self.work.job.settings
        start = settings.conditions.start
        shift: dict[str, float | None] = {}
        crew_of: dict[str, str] = {}
        crews: dict[str, Crew | None] = {}
        each: dict[tuple[str, Size], float | None] = {}
        for j in self.joints:
            if j.line not in crews:
                crews[j.line] = next(iter(settings.crews_for(j.line)), None)
            crew = crews[j.line]
            if crew is None or start is None:
                continue
            crew_of[j.line] = crew.id
            key = (j.line, j.size)
            if key not in each:
                procedure = self.procedure(j.line)
                said = hands_for(crew.hands, j.size) or (procedure.people_for(j.size) if procedure else None)
                hands = min(said or len(crew.people), len(crew.people)) or 1
                work = labour_of(self.work.book, j.size)
                each[key] = None if work is None else work / hands
            took, before = each[key], shift.get(crew.id, 0.0)
            shift[crew.id] = None if took is None or before is None else before + took
        ends: dict[str, date | None] = {}
        for line, crew_id in crew_of.items():
            seconds = shift[crew_id]
            ends[line] = (
                None if seconds is None or start is None else _after(start, seconds / (SHIFT * ON_JOINTS))
            )
        return ends


def _after(start: date, shifts: float) -> date:
    """The day on which so many shifts are done, Saturdays and Sundays left out."""
    weeks, days = divmod(math.ceil(shifts - 1e-9) - 1 if shifts > 0 else 0, 5)
    last = start + timedelta(weeks=weeks)
    while days:
        last += timedelta(days=1)
        days -= last.weekday() < 5
    return last


def joint_name(j: JointPlace, n: int) -> str:
    """The joint's id, or its place in the list while it has none.

    Parameters
    ----------
    j : JointPlace
    n : int
        From 0. [-]

    Returns
    -------
    str
        Such as ``"B-201/J31"`` or ``"B-201/joint 31"``.
    """
    return j.id or f"{j.line}/joint {n + 1}"
