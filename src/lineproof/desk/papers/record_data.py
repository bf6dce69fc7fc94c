"""What every paper of the record shares: the words of one language, the values, the head and the foot."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime

import lineproof
from lineproof.desk.record_book import job_uuid, people_of
from lineproof.desk.say import Words
from lineproof.desk.site_known import SiteKnown
from lineproof.desk.words import term, words_of
from lineproof.desk.words_papers import PAPER_SAID
from lineproof.desk.words_record import CODES_SAID, FIELDS_SAID, STEPS_SAID, said
from lineproof.desk.words_when import day_and_hour, not_before
from lineproof.floor.shown import show
from lineproof.logbook.entry import moment
from lineproof.logbook.state import Event
from lineproof.logbook.store import SHORT
from lineproof.plan.issued import latest

UNITS: Mapping[str, str] = {
    "K": "temperature", "m": "length", "Pa": "pressure", "1": "fraction", "m/s": "wind", "m3": "volume",
    "s": "time", "N m": "torque", "N": "force", "kg": "mass",
}  # fmt: skip
"""Unit of a stored value to what it is shown as."""
FIGURES = 12
"""Figures of a seal that name an entry on paper, as on the screen."""


class RecordPaper:
    """One paper in one language.

    Parameters
    ----------
    site : SiteKnown
    language : str
        ``"en"`` or ``"es"``.
    """

    def __init__(self, site: SiteKnown, language: str) -> None:
        self.site = site
        self.language = language
        self.entries = site.log.entries
        self.settings = site.job.settings
        self.shown = self.settings.shown.shown
        self.zone = site.job.zone
        self.now = site.now.wall.astimezone(self.zone)
        self.small = words_of(language)
        self._said = PAPER_SAID[language]
        self._fill = Words(self.shown, language)
        job = job_uuid(self.settings)
        self.people = people_of(job, self.settings)

    def tell(self, key: str, **values: object) -> str:
        """A sentence of the catalogue."""
        return self._fill.fill(self._said[key], values)

    def moment(self, when: datetime | None) -> str:
        """A moment with its day and year, in the time of the site; empty for None."""
        if when is None:
            return ""
        local = when.astimezone(self.zone)
        return f"{day_and_hour(local, self.language)[:-6]} {local.year} {local:%H:%M}"

    def brief(self, when: datetime | None) -> str:
        """A moment with its day, and with its year if it is not this one; empty for None."""
        if when is None:
            return ""
        here = when.astimezone(self.zone)
        return day_and_hour(here, self.language, year=here.year != self.now.year)

    def not_before(self, until: datetime) -> str:
        """NOT BEFORE, then ask again: always with its day, as a paper is read on other days too."""
        far = datetime(1, 1, 1, tzinfo=UTC)
        return not_before(until.astimezone(self.zone), far, self.language)

    def who(self, uuid: str) -> str:
        """A person by the id in job.toml, or the first figures of one who is not there."""
        return self.people.get(uuid) or (uuid[:8] if uuid else self.small["nobody"])

    def named(self, id: str) -> str:
        """A person of job.toml with the name."""
        person = self.settings.person(id)
        return id if person is None else f"{id} {person.name}"

    def value(self, value: object) -> str:
        """A value of a body: as typed, and as this job shows it where that reads otherwise."""
        if isinstance(value, Mapping):
            if "typed" in value:
                return self._measured(value)
            if "step" in value:
                step = said(STEPS_SAID, str(value["step"]), self.language)
                return f"{step} {moment(str(value['at'])).astimezone(self.zone):%H:%M:%S}"
            return ", ".join(f"{self.field(str(k))} {self.value(v)}" for k, v in value.items())
        if isinstance(value, list | tuple):
            return ", ".join(self.value(v) for v in value)
        if isinstance(value, bool):
            return self.small["yes" if value else "no"]
        if value is None:
            return self.small["not_known"]
        text = str(value)
        if text in self.people:
            return self.people[text]
        if len(text) == 64 and set(text) <= set("0123456789abcdef"):
            return text[:SHORT]
        return str(term(text, self.language))

    def _measured(self, value: Mapping[str, object]) -> str:
        typed = str(value["typed"])
        quantity = UNITS.get(str(value.get("unit", "")))
        if quantity is None:
            return typed
        ours = show(float(str(value["si"])), quantity, self.shown)
        alike = typed.replace(" ", "").casefold() == ours.replace(" ", "").casefold()
        return typed if alike else f"{typed} ({ours})"

    def code(self, code: str) -> str:
        """Why a record does not hold, in words."""
        return said(CODES_SAID, code, self.language)

    def field(self, name: str) -> str:
        """A field's name."""
        return said(FIELDS_SAID, name, self.language)

    def document(self, name: str, sheets: Sequence[Mapping[str, object]]) -> dict[str, object]:
        """What every page shares, with its sheets.

        Parameters
        ----------
        name : str
            Of the paper.
        sheets : sequence of mapping

        Returns
        -------
        dict
            For ``templates/main.typ``, with ``paper`` still to be set.
        """
        job = self.settings.job
        lines = self.site.work.graph.lines.values()
        drawings = list(dict.fromkeys(f"{x.drawing} rev {x.rev}" for x in lines if x.drawing))
        shown = ", ".join(drawings[:2]) + (f" + {len(drawings) - 2}" if len(drawings) > 2 else "")
        log = self.site.log
        newest = max((e.wall for e in self.entries), default=None)
        to = self.tell("record_to", when=self.moment(newest) or self.small["not_known"])
        return {
            "title": f"{job.name}: {name}",
            "job": {
                "id": job.id,
                "name": job.name,
                "invented": job.invented,
                "drawings": shown or "-",
                "issue": f"{self.field('issue')} {newest_issue(self.site) or '-'}",
                "made": f"{self.tell('logbook')} {log.head[:SHORT]}",
                "tables": f"{to} · lineproof {lineproof.__version__}",
            },
            "words": {k: self._said[k] for k in ("foot", "page", "page_of", "invented")},
            "lang": self.language,
            "lines": "", "sticks": "",
            "papers": list(sheets),
        }  # fmt: skip

    @property
    def stamp(self) -> datetime:
        """What the document carries as its date: the moment of the newest entry, or the moment judged."""
        return max((e.wall for e in self.entries), default=self.now).replace(microsecond=0)


def newest_issue(site: SiteKnown) -> int:
    """Number of the newest issue: of the logbook, or of the folder issued/; 0 for none. [-]"""
    numbers = [int(e.body["number"]) for e in site.log.state.others if e.kind == "issue"]
    kept = latest(site.folder)
    return max([*numbers, kept.number if kept is not None else 0])


def makers(event: Event) -> tuple[str, ...]:
    """Who did the pipe end and the socket, as UUIDs; who wrote it where nobody is named."""
    roles = event.body.get("roles")
    told = [roles[r] for r in ("pipe_end", "socket") if r in roles] if isinstance(roles, Mapping) else []
    return tuple(dict.fromkeys(str(t) for t in told)) or (event.entry.who,)
