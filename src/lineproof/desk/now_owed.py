"""Signatures that are owed, and what was recorded in doubt, by the logbook and job.toml."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from lineproof.desk.answer_now import NowDoubt, NowOwed, NowSection
from lineproof.job.progress import Progress
from lineproof.job.settings import Settings
from lineproof.logbook.entry import Entry
from lineproof.logbook.photos import photos_of
from lineproof.logbook.state import State, Thing


def owed_now(
    state: State,
    progress: Progress,
    settings: Settings,
    entries: Iterable[Entry],
    sections: Iterable[NowSection],
    has: Callable[[str], bool],
) -> tuple[NowOwed, ...]:
    """Signatures that are owed.

    Parameters
    ----------
    state : State
    progress : Progress
    settings : Settings
    entries : iterable of Entry
        All that are known.
    sections : iterable of NowSection
        Those under pressure.
    has : callable
        Whether a photograph is here.

    Returns
    -------
    tuple of NowOwed
    """
    signs = settings.signs
    entries = tuple(entries)
    zero = tuple(s.section for s in sections)
    asked = tuple(name for name, r in state.releases.items() if r.of("release_asked") and not _answered(r))
    looked = tuple(
        name
        for name, j in state.joints.items()
        if j.is_made and not j.is_rejected and not j.examined_by_another
    )
    used = {d.cement for d in settings.lines if d.cement}
    used |= {str(e.body["card"]) for j in state.joints.values() for e in j.made if e.body.get("card")}
    cards = tuple(
        c.id for c in settings.cards if c.id in used and (not c.read_back or progress.changed_unread(c))
    )
    caps = tuple(s.id for s in settings.sections if settings.cap_of(s.id) is None)
    told = (
        NowOwed(what="zero", names=zero, who=signs.test_in_charge),
        NowOwed(what="looked at", names=looked),
        NowOwed(what="read back", names=cards, who=signs.second_reader),
        NowOwed(what="cap", names=caps, who=signs.engineer),
        NowOwed(what="release", names=asked, who=signs.test_in_charge),
        NowOwed(what="second", names=lone_corrections(entries)),
        NowOwed(what="photo", names=tuple(n for n, p in photos_of(entries, has).items() if p.any_owed)),
    )
    return tuple(o for o in told if o.names)


def _answered(release: Thing) -> bool:
    return bool(release.of("release_given", "release_expired", "release_withdrawn"))


def lone_corrections(entries: Iterable[Entry]) -> tuple[str, ...]:
    """Corrections that nobody but their writer stands by.

    Parameters
    ----------
    entries : iterable of Entry

    Returns
    -------
    tuple of str
        First figures of their seals, in the order given.
    """
    corrections = [e for e in entries if e.kind == "correction" and not e.newer and "corrects" in e.body]
    later: dict[str, list[Entry]] = {}
    for c in corrections:
        later.setdefault(str(c.body["corrects"]), []).append(c)
    found = []
    for c in corrections:
        seconds = {str(c.body.get("second", ""))}
        seconds |= {str(o.body.get("fields", {}).get("second", "")) for o in later.get(c.id, ())}
        voided = any(o.body.get("void") is True for o in later.get(c.id, ()))
        if not voided and not seconds - {"", c.who}:
            found.append(c.seal[:12])
    return tuple(found)


def doubts_now(state: State, progress: Progress, drawn: Iterable[str]) -> tuple[NowDoubt, ...]:
    """What was recorded in doubt.

    Parameters
    ----------
    state : State
    progress : Progress
    drawn : iterable of str
        Joints of the drawing.

    Returns
    -------
    tuple of NowDoubt
    """
    on_drawing = set(drawn)
    by_code: dict[str, list[str]] = {}
    for joint in state.joints.values():
        for code in joint.unclear:
            by_code.setdefault(code, []).append(joint.id)
    for things in (state.cans, state.tags, state.releases, state.sections, state.gauges):
        for thing in things.values():
            for code in thing.unclear:
                by_code.setdefault(code, []).append(thing.id)
    faulty = (*by_code.get("faulty-entry", ()), *by_code.get("made-after-cut-out", ()))
    newer = (*by_code.get("newer-entry", ()), *(e.entry.seal[:12] for e in state.unknown))
    files = {name for j in progress.joints.values() for name in j.unread}
    off = tuple(n for n, j in progress.joints.items() if n not in on_drawing and not j.untouched)
    told = (
        NowDoubt(what="two stories", names=tuple(by_code.get("two-stories", ()))),
        NowDoubt(
            what="fork",
            names=tuple(by_code.get("fork", ())) or tuple(s[:12] for f in state.forks for s in f.seals),
        ),
        NowDoubt(what="hole", names=tuple(f"{h.writer[:8]} {h.first}-{h.last}" for h in state.holes)),
        NowDoubt(what="unread", names=tuple(sorted(files))),
        NowDoubt(what="newer", names=newer),
        NowDoubt(what="pending", names=tuple(e.entry.seal[:12] for e in state.pending)),
        NowDoubt(what="faulty", names=faulty),
        NowDoubt(what="alone", names=tuple(by_code.get("taken-away-alone", ()))),
        NowDoubt(what="off drawing", names=off),
        NowDoubt(
            what="clock", names=tuple(e.entry.device for e in state.others if e.kind == "step_in_clock")
        ),
    )
    return tuple(d for d in told if d.names)
