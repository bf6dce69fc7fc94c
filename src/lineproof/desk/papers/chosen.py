"""Which joints a paper of the record is about."""

from __future__ import annotations

import difflib
from collections.abc import Sequence

from lineproof.desk.papers.record_data import RecordPaper
from lineproof.floor.errors import BadInput
from lineproof.plan.subjects import joint_name


def chosen_joints(paper: RecordPaper, asked: Sequence[str], day: str) -> tuple[str, ...]:
    """Joints whose record is printed: those named (a joint, a line, a section), or all that have a record.

    Parameters
    ----------
    paper : RecordPaper
    asked : sequence of str
    day : str
        Only joints made on this day of the site, such as 2027-04-20; empty for any.

    Returns
    -------
    tuple of str
        In the order of the drawing, then those that are not on it.

    Raises
    ------
    BadInput
        Nothing is called so.
    """
    work = paper.site.work
    places = {joint_name(j, n): j for n, j in enumerate(work.cutting.joints)}
    state = paper.site.log.state
    every = [*places, *(n for n in state.joints if n not in places)]
    recorded = {n for n, j in state.joints.items() if j.events}
    wanted: set[str] = set()
    for word in asked:
        hit = {n for n in every if n.casefold() == word.casefold()}
        hit = hit or {n for n in every if n.rpartition("/")[2].casefold() == word.casefold()}
        lines = {n for n in every if n.rpartition("/")[0].casefold() == word.casefold()}
        named = {s.id: s for s in paper.settings.sections}.get(word)
        if named is not None:
            lines |= {n for n in every if named in paper.settings.sections_of(n.rpartition("/")[0])}
        if len(hit) > 1:
            raise BadInput(
                f"{word!r} is several joints: {', '.join(sorted(hit)[:4])}",
                allowed="one joint with its line", next="name it such as B-201/J14",
            )  # fmt: skip
        if not hit and not lines:
            near = difflib.get_close_matches(word, every, 2, 0.4)
            raise BadInput(
                f"nothing is called {word!r}",
                allowed=", ".join(near) or "a joint, a line or a section of the job",
                next="name it as on the pack",
            )
        wanted |= hit | (lines & recorded)
    if not asked:
        wanted = recorded
    return tuple(n for n in every if n in wanted and (not day or made_on(paper, n, day)))


def made_on(paper: RecordPaper, name: str, day: str) -> bool:
    """Whether a joint was made on a day of the site."""
    state = paper.site.log.state.joints.get(name)
    return state is not None and any(
        e.at.astimezone(paper.zone).date().isoformat() == day for e in state.made
    )
