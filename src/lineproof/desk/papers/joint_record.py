"""The joint record: all that the logbook says of a joint, in order; what was corrected is struck through."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime

from lineproof.desk.papers import words
from lineproof.desk.papers.record_data import FIGURES, RecordPaper, makers, newest_issue
from lineproof.desk.papers.tags import is_named, tag_svg, tag_text
from lineproof.desk.words_record import KINDS_SAID, said
from lineproof.floor.shown import show
from lineproof.logbook.entry import Entry
from lineproof.logbook.photos import named_in, photos_of
from lineproof.logbook.state import Event, JointState
from lineproof.logbook.subjects import AMENDING, body_of, subjects_of
from lineproof.plan.joint_states import JointStands
from lineproof.plan.model import JointPlace
from lineproof.plan.names import short
from lineproof.plan.subjects import joint_name

HELD_BACK = ("at", "joint", "joints", "photos", "insisted")
"""Fields of a body that have a place of their own on the paper."""
FIRST = (
    "roles", "joint_temperature", "air_temperature", "humidity", "wind", "temperature", "of", "shortfall",
    "allowed", "depth", "accepted", "list", "points", "reason", "how", "steps", "cans", "lots", "card",
    "issue",
)  # fmt: skip
"""Fields in the order a paper tells them; the others follow by name."""
TOGETHER = 4
"""From so many plain readings on, those that follow each other are told in one row. [-]"""
LONG = 26
"""Rows of one joint that fit on a page; a longer record may break over pages. [-]"""


def record_sheet(
    paper: RecordPaper, names: Sequence[str], stands: Mapping[str, JointStands]
) -> dict[str, object]:
    """The record of some joints.

    Parameters
    ----------
    paper : RecordPaper
    names : sequence of str
        Joint ids, in the order wanted.
    stands : mapping
        Where each joint stands.

    Returns
    -------
    dict
        For ``templates/record.typ``.
    """
    maker = _Records(paper, stands)
    return {
        "kind": "record",
        "name": paper.tell("joint_record"),
        "where": paper.tell("record_where"),
        "heads": [paper.tell(k) for k in ("when", "what", "told", "by", "entry")],
        "sign": paper.tell("sign"),
        "joints": [maker.joint(name) for name in names],
    }


class _Records:
    """Makes the record of one joint after another."""

    def __init__(self, paper: RecordPaper, stands: Mapping[str, JointStands]) -> None:
        self.paper = paper
        self.stands = stands
        work = paper.site.work
        self.places = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
        self.by_joint: dict[str, list[Entry]] = {}
        self.about: dict[str, list[Entry]] = {}
        by_seal = {e.seal: e for e in paper.entries}
        for entry in paper.entries:
            body = body_of(entry)
            for sort, name in subjects_of(entry.kind, body):
                if sort == "joint":
                    self.by_joint.setdefault(name, []).append(entry)
            if entry.kind == "hold_tag_set" and isinstance(body.get("on"), str):
                self.by_joint.setdefault(str(body["on"]), []).append(entry)
            if entry.kind in AMENDING:
                for target in (body.get("corrects"), body.get("of"), *(body.get("seals") or ())):
                    found = by_seal.get(str(target))
                    self.about.setdefault(found.id if found else str(target), []).append(entry)
        self.newest = newest_issue(paper.site)
        shelf = paper.site.log.shelf
        self.has = shelf.has if shelf is not None else lambda _digest: False
        self.photos = photos_of(paper.entries, self.has)

    def joint(self, name: str) -> dict[str, object]:
        """One joint."""
        p = self.paper
        place = self.places.get(name)
        state = p.site.log.state.joints.get(name)
        stands = self.stands.get(name)
        rows = self._rows(name, state)
        made = state.made[-1] if state is not None and state.made else None
        return {
            "id": name,
            "number": short(name),
            "size": self._size(place, state),
            "where": self._where(name, place),
            "made_of": self._made_of(made),
            "tag": tag_svg(tag_text(p.settings.job.id, name, str(self.newest))) if is_named(name) else "",
            "state": p.small[stands.state.value] if stands is not None else "",
            "loud": self._loud(state),
            "rows": rows,
            "breaks": len(rows) > LONG,
            "signs": self._signs(state),
            "people": self._people(name),
        }

    def _size(self, place: JointPlace | None, state: JointState | None) -> str:
        if place is not None:
            return words.pipe_words(place.size, place.material, place.series)
        told = state.of("field_joint") if state is not None else ()
        return str(told[-1].body.get("size", "")) if told else ""

    def _where(self, name: str, place: JointPlace | None) -> str:
        line = place.line if place is not None else name.partition("/")[0]
        parts = [line]
        parts += [f"{self.paper.field('section')} {s.id}" for s in self.paper.settings.sections_of(line)]
        laid = self.paper.site.work.graph.lines.get(line)
        if laid is not None and laid.drawing:
            parts.append(f"{laid.drawing} rev {laid.rev}")
        return " · ".join(parts)

    def _made_of(self, made: Event | None) -> str:
        if made is None:
            return ""
        issue = made.body.get("issue")
        if not isinstance(issue, int):
            return self.paper.tell("made_of_none")
        key = "made_of_old" if issue < self.newest else "made_of"
        return self.paper.tell(key, issue=issue, newest=self.newest)

    def _loud(self, state: JointState | None) -> list[str]:
        """What must be read before anything else on the page."""
        p = self.paper
        if state is None:
            return [p.tell("no_record")]
        told = []
        if state.unclear:
            codes = ", ".join(p.code(c) for c in state.unclear)
            told.append(p.tell("unclear", unclear=codes))
        if p.site.progress.gaps:
            told.append(p.tell("gaps"))
        if state.id not in self.places:
            told.append(p.tell("off_drawing", beside=state.beside or p.small["not_known"]))
        if state.is_rejected:
            told.append(p.tell("rejected"))
        photos = self.photos.get(state.id)
        if photos is not None and photos.any_owed:
            owed = len(photos.owed) + photos.promised
            told.append(p.tell("photo_owed", here=len(photos.here), owed=owed))
        if state.is_cut_out:
            told.append(p.small["cut out"].upper())
        if not state.made and not state.is_cut_out:
            told.append(p.tell("not_made"))
        return told

    def _rows(self, name: str, state: JointState | None) -> list[dict[str, object]]:
        p = self.paper
        events = {e.entry.seal: e for e in (state.events if state is not None else ())}
        for tag in p.site.log.state.tags.values():
            if any(str(e.body.get("on")) == name for e in tag.of("hold_tag_set")):
                events |= {e.entry.seal: e for e in tag.events}
        entries = {e.seal: e for e in self.by_joint.get(name, ())}
        # A correction may have moved an entry here, or away from here: both are shown.
        for seal, event in events.items():
            entries[seal] = event.entry
        told = sorted(
            entries.values(),
            key=lambda e: (_at(events.get(e.seal), e), e.writer, e.sequence, e.seal),
        )
        rows: list[dict[str, object]] = []
        run: list[Event] = []
        for entry in told:
            found = events.get(entry.seal)
            if found is not None and self._plain_reading(found):
                run.append(found)
                continue
            rows += self._readings(run)
            run = []
            rows.append(self._row(entry, found, name))
        return rows + self._readings(run)

    def _plain_reading(self, event: Event) -> bool:
        """A joint temperature that was told in time and never amended."""
        told = event.kind == "reading" and isinstance(event.body.get("temperature"), Mapping)
        odd = event.late or event.was or event.flags or event.confirmed_by or event.body.get("note")
        return told and not odd and event.entry.id not in self.about

    def _readings(self, run: Sequence[Event]) -> list[dict[str, object]]:
        p = self.paper
        if len(run) < TOGETHER:
            return [self._row(e.entry, e, "") for e in run]
        values = [float(str(e.body["temperature"]["si"])) for e in run]
        text = p.tell(
            "readings", n=len(run), first=p.brief(run[0].at), last=p.brief(run[-1].at),
            warmest=show(max(values), "temperature", p.shown),
            coldest=show(min(values), "temperature", p.shown),
        )  # fmt: skip
        by = dict.fromkeys(p.who(e.entry.who) for e in run)
        return [
            _cells(
                when=p.brief(run[0].at), what=said(KINDS_SAID, "reading", p.language), told=text,
                by=", ".join(by), entry=f"{run[0].entry.seal[:6]} – {run[-1].entry.seal[:6]}",
            )
        ]  # fmt: skip

    def _row(self, entry: Entry, event: Event | None, name: str) -> dict[str, object]:
        p = self.paper
        body = event.body if event is not None else body_of(entry)
        gone = {w.field for w in event.was} if event is not None else set()
        told = [
            (p.field(k), p.value(v))
            for k, v in sorted(body.items(), key=_order)
            if k not in HELD_BACK and k not in gone and not (k in ("tag", "on") and v == name)
        ]
        moved = event is None and entry.kind not in AMENDING
        return _cells(
            when=p.brief(_at(event, entry)),
            what=said(KINDS_SAID, entry.kind, p.language),
            told=" · ".join(f"{k} {v}" for k, v in told),
            by=p.who(entry.who),
            entry=entry.seal[:FIGURES],
            was=[self._was(event, w.field) for w in event.was] if event is not None else [],
            marks=self._marks(entry, event),
            struck=moved,
        )

    def _was(self, event: Event, field: str) -> dict[str, str]:
        """A corrected field: what it said, what it says, and who stands by it."""
        p = self.paper
        was = next(w for w in event.was if w.field == field)
        second = p.who(was.second) if was.second and was.second != was.who else ""
        return {
            "field": p.field(field),
            "old": p.value(was.old),
            "new": p.value(was.new),
            "why": p.tell(
                "was_why", by=p.who(was.who), reason=was.reason,
                second=p.tell("second_is", second=second) if second else p.tell("second_none"),
            ),
        }  # fmt: skip

    def _marks(self, entry: Entry, event: Event | None) -> list[str]:
        p = self.paper
        marks = []
        body = body_of(entry)
        if event is None:
            marks += self._struck(entry)
        elif event.late:
            marks.append(p.tell("late", when=p.brief(entry.wall)))
        if "insisted" in body:
            marks.append(p.tell("insisted", why=str(body["insisted"])))
        for flag, key in (("faulty", "faulty"), ("newer", "newer"), ("forked", "forked")):
            if event is not None and flag in event.flags:
                marks.append(p.tell(key))
        if named := named_in(entry):
            owed = sum(not self.has(digest) for digest in named)
            marks.append(p.tell("photos_owed" if owed else "photos_here", n=len(named), owed=owed))
        if event is not None and event.confirmed_by:
            marks.append(p.tell("confirmed", who=", ".join(p.who(w) for w in event.confirmed_by)))
        return marks

    def _struck(self, entry: Entry) -> list[str]:
        """Who struck an entry out, and why; or that another was settled on."""
        p = self.paper
        voids = [
            c for c in self.about.get(entry.id, ()) if c.kind == "correction" and c.body.get("void") is True
        ]
        if not voids:
            return [p.tell("stands_not")]
        told = []
        for c in voids:
            second = str(c.body.get("second", ""))
            known = p.tell("second_is", second=p.who(second)) if second and second != c.who else ""
            told.append(
                p.tell(
                    "struck", by=p.who(c.who), reason=str(c.body.get("reason", "")),
                    second=known or p.tell("second_none"),
                )
            )  # fmt: skip
        return told

    def _signs(self, state: JointState | None) -> list[list[str]]:
        """Who is to sign, with the names that are recorded; the line itself is signed by hand."""
        p = self.paper
        made = state.made[-1] if state is not None and state.made else None
        joiners = ", ".join(p.who(w) for w in makers(made)) if made is not None else ""
        looked = state.examined_by_another if state is not None else ()
        other = ", ".join(dict.fromkeys(p.who(e.entry.who) for e in looked))
        signs = p.settings.signs
        return [
            [p.tell("sign_joiner"), joiners],
            [p.tell("sign_other"), other],
            [p.tell("sign_inspector"), signs.inspector],
            [p.tell("sign_lead"), signs.lead],
        ]

    def _people(self, name: str) -> str:
        """Everybody whose id stands on the page, with the name."""
        p = self.paper
        seen: dict[str, None] = {}
        entries = self.by_joint.get(name, [])
        for entry in [*entries, *(c for e in entries for c in self.about.get(e.id, ()))]:
            seen[p.who(entry.who)] = None
            seen |= dict.fromkeys(p.who(str(x)) for x in _people_of(body_of(entry)) if str(x) in p.people)
        ids = sorted(i for i in seen if p.settings.person(i) is not None)
        return p.tell("people", names=" · ".join(p.named(i) for i in ids)) if ids else ""


def _order(field: tuple[str, object]) -> tuple[int, str]:
    name = field[0]
    return (FIRST.index(name) if name in FIRST else len(FIRST)), name


def _people_of(value: object) -> Iterable[object]:
    if isinstance(value, Mapping):
        for v in value.values():
            yield from _people_of(v)
    elif isinstance(value, list | tuple):
        for v in value:
            yield from _people_of(v)
    else:
        yield value


def _at(event: Event | None, entry: Entry) -> datetime:
    return event.at if event is not None else entry.wall


def _cells(
    *,
    when: str,
    what: str,
    told: str,
    by: str,
    entry: str,
    was: Sequence[Mapping[str, str]] = (),
    marks: Sequence[str] = (),
    struck: bool = False,
) -> dict[str, object]:
    return {
        "when": when, "what": what, "told": told, "by": by, "entry": entry, "was": list(was),
        "marks": list(marks), "struck": struck,
    }  # fmt: skip
