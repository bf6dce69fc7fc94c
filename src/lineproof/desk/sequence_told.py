"""Closure and order in sentences, for screen and paper alike."""

from __future__ import annotations

import math
from collections.abc import Sequence

from lineproof.desk.say import Words, say
from lineproof.desk.words import ENGLISH
from lineproof.desk.words_sequence import sequence_words, way_said
from lineproof.floor.verdicts import Finding
from lineproof.plan.names import short
from lineproof.plan.sequence.closure import Loop
from lineproof.plan.sequence.repair import repairs
from lineproof.plan.sequence.rig import GROUND
from lineproof.plan.sequence.sheet import DAY, StepLine
from lineproof.plan.sequence.whole import Ordered
from lineproof.plan.work import Work

CLOSE = 600.0
"""A wait that ends no longer than this before the step is told: it governs. [s]"""


class Told:
    """Says closure and order of a job.

    Parameters
    ----------
    work : Work
    ordered : Ordered
    language : str
        ``"en"`` or ``"es"``.
    """

    def __init__(self, work: Work, ordered: Ordered, language: str = ENGLISH) -> None:
        self.work = work
        self.ordered = ordered
        self.language = language
        self.words = sequence_words(language)
        self.format = Words(work.job.settings.shown.shown, language)

    def fill(self, key: str, **values: object) -> str:
        """One sentence with its values."""
        return self.format.fill(self.words[key], values)

    def finding(self, finding: Finding) -> str:
        """A finding in its sentence."""
        return say(finding, self.work.job.settings.shown.shown, language=self.language)

    # ------------------------------------------------------------- the answer
    def rows(self) -> list[tuple[str, str]]:
        """Label and sentence of everything but the findings."""
        c, words = self.ordered.closure, self.words
        found = []
        if not c.loops:
            found.append((words["loops"], words["loops_none"]))
        else:
            found.append((words["loops"], self.fill("loops_told", count=c.count, bound=c.bound)))
            found.append(("", self.openings()))
        changes = [x for loop in c.loops for x in self.changes(loop)]
        found += [(words["cuts"] if n == 0 else "", text) for n, text in enumerate(changes)]
        found += [(words["instead"] if n == 0 else "", t) for n, t in enumerate(self.instead())]
        found.append((words["order"], self.order()))
        found.append((words["spools"], self.spools()))
        if c.rough:
            found.append(("", words["rough"]))
        return found

    def openings(self) -> str:
        """What was found, and what it proves."""
        c = self.ordered.closure
        if not c.openings:
            return self.words["found_none"] if c.opens else self.words["order_none"]
        proof = "proof_least" if c.complete else f"proof_{c.out_of or 'time'}"
        return self.fill(
            "found", n=len(c.openings), proof=self.fill(proof, tried=c.tried, least=c.least),
            joints=sum(o.joints for o in c.openings), cost=c.cost,
        )  # fmt: skip

    def changes(self, loop: Loop) -> list[str]:
        """Pieces whose cut changes."""
        return [
            self.fill(
                "change" if x.cut is not None else "change_unknown", piece=x.piece, into=x.into, cut=x.cut
            )
            for x in loop.changes
        ]

    def instead(self) -> list[str]:
        """A gasketed repair coupling in place of an opening, where the engineer named what holds it."""
        return [
            self.fill("repair", piece=r.piece, load=r.load, pressure=r.pressure, restraint=r.restraint)
            for r in repairs(self.work, self.ordered.closure)
        ]

    def order(self) -> str:
        """How many steps, where, how long."""
        o = self.ordered
        if not o.steps:
            return self.words["order_none"]
        told = self.fill("order_told", steps=len(o.steps), bench=o.bench, place=o.in_place, days=len(o.days))
        return (self.words["order_with"] if o.closure.openings else "") + told

    def spools(self) -> str:
        """Spools and their repeats."""
        spools = self.ordered.spools
        if not spools:
            return self.words["spools_none"]
        told = self.fill(
            "spools_told", n=len(spools), long=max(s.sides[0] for s in spools),
            heavy=max(s.mass for s in spools),
        )  # fmt: skip
        same = [self.fill("alike", n=s.alike, spool=s.n) for s in spools if s.alike > 1]
        return "; ".join([told, *same])

    # ------------------------------------------------------------- steps
    def names(self, bodies: Sequence[str], spool: int = 0, most: int = 3) -> str:
        """Bodies as a fitter says them."""
        if spool:
            return self.fill("spool", n=spool)
        said = [self.words["ground"] if b == GROUND else b.replace("/", " ") for b in bodies]
        more = f" +{len(said) - most}" if len(said) > most else ""
        return ", ".join(said[:most]) + more

    def step(self, s: StepLine) -> str:
        """What is brought where, in one line."""
        into = self.words["onto" if s.onto else "into"] + " " + self.names(s.into)
        if s.kind == "bench":
            position = self.words.get(s.position, "") if s.position else self.words["turn"]
            return self.fill("bench_step", position=position, what=self.names(s.brought), into=into)
        what = self.names(s.brought, s.spool)
        if s.move == "turn":
            return self.fill("turn_step", what=what, into=into)
        return self.fill(f"{s.kind}_step", what=what, way=way_said(s.move, self.language), into=into)

    def remarks(self, s: StepLine) -> list[str]:
        """Travel, strap, bolts and waits of a step."""
        found = []
        if s.travel:
            found.append(self.fill("travel", travel=s.travel))
        if not s.spool and len(s.brought) > 1 and s.kind != "bench":
            found.append(self.fill("slid", mass=s.mass))
        if s.strap:
            found.append(self.fill("strap", strap=self.names([s.strap])))
        elif s.joints:
            found.append(self.fill("by_hand", strap=self.names(s.into)))
        if len(s.joints) > 1:
            found.append(self.words["at_once"])
        if s.bolts:
            found.append(self.fill("bolt", what=", ".join(b.replace("/", " ") for b in s.bolts)))
        if s.waits_for and (s.ready is None or s.join_at is None or s.join_at - s.ready < CLOSE):
            key = "waits" if s.ready is not None else "unknown"
            found.append(self.fill(key, joint=short(s.waits_for)))
        return found

    def at(self, when: float | None, today: int) -> str:
        """A moment of the order: ``09:40``, or with its day where it is another."""
        if when is None:
            return "?"
        minutes = math.ceil(when % DAY / 60 - 1e-9)
        day = 1 + int(when // DAY)
        if minutes >= 24 * 60:
            day, minutes = day + 1, 0
        hour = f"{minutes // 60:02d}:{minutes % 60:02d}"
        return hour if day == today else self.fill("tomorrow", day=day, hour=hour)
