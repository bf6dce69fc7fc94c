"""Makes the papers of a pack: one PDF of everything, and the cards, strips and tags by themselves."""

from __future__ import annotations

from collections.abc import Sequence

from lineproof.desk.papers import words
from lineproof.desk.papers.answer import answer_sheets
from lineproof.desk.papers.cards import CAUTION, RECORD, SHORT, card_sheet
from lineproof.desk.papers.cautions import caution_sheet
from lineproof.desk.papers.cuts import cut_sheet, stick_sheet
from lineproof.desk.papers.days import day_sheet, joint_sheet
from lineproof.desk.papers.lines import line_papers
from lineproof.desk.papers.orders import order_sheet
from lineproof.desk.papers.sources import source_sheet
from lineproof.desk.papers.tags import is_named, tag_svg, tag_text
from lineproof.desk.papers.tape import tape_sheet
from lineproof.desk.papers.typeset import typeset
from lineproof.desk.papers.wrap import wrap_sheet
from lineproof.floor.errors import BadInput
from lineproof.job.duty import matches
from lineproof.logbook.store import SHORT as FIGURES
from lineproof.plan.joint_model import JointPlan
from lineproof.plan.pack import Pack

PAPERS = {"a4": "a4", "letter": "us-letter"}


def papers(
    pack: Pack, *, paper: str = "a4", day: str | None = None, line: str | None = None, head: str = ""
) -> dict[str, bytes]:
    """The papers of a pack as PDF.

    Parameters
    ----------
    pack : Pack
    paper : str
        ``"a4"`` or ``"letter"``.
    day : str, optional
        A day of ``pack.days``: its day sheet and joint cards.
    line : str, optional
        A line or pattern, such as ``"B-201"`` or ``"B-2*"``: its day sheet and joint cards.
    head : str
        Head seal of the logbook, for the foot of every page; empty if there is none yet.

    Returns
    -------
    dict
        ``pack.pdf``, ``joint-cards.pdf``, ``wrap-strips.pdf`` and ``tags.pdf`` as far as there is something
        on them. The same bytes for the same pack.

    Raises
    ------
    BadInput
        For a paper, day or line that is not there.
    """
    if paper not in PAPERS:
        raise BadInput(f"paper {paper!r} is not carried", allowed=", ".join(PAPERS), next="use one of these")
    size = PAPERS[paper]
    chosen, what = choose(pack, day=day, line=line)
    whole = pack_sheets(pack, size, chosen, what)
    made = {"pack.pdf": typeset(document(pack, size, "Work pack", whole, head), pack.stamp)}
    cards = chosen if chosen is not None else pack.joints
    if cards:
        sheets = [card_sheet(pack, cards, _name("Joint cards", what))]
        made["joint-cards.pdf"] = typeset(document(pack, size, "Joint cards", sheets, head), pack.stamp)
        tags = document(pack, size, "Tags", [tag_sheet(pack, cards, what)], head)
        made["tags.pdf"] = typeset(tags, pack.stamp)
    wrap = wrap_sheet(pack, size)
    if wrap is not None:
        made["wrap-strips.pdf"] = typeset(document(pack, size, "Wrap strips", [wrap], head), pack.stamp)
    return made


def _name(paper: str, what: str) -> str:
    return f"{paper}, {what}" if what else paper


def choose(pack: Pack, *, day: str | None, line: str | None) -> tuple[tuple[JointPlan, ...] | None, str]:
    """The joints of a day or a line, in order, and what they are called; None where nothing was chosen.

    Parameters
    ----------
    pack : Pack
    day, line : str or None

    Returns
    -------
    tuple

    Raises
    ------
    BadInput
        If there is no such day or line.
    """
    chosen: tuple[JointPlan, ...] | None = None
    said = []
    if day:
        if day not in pack.days:
            raise BadInput(
                f"no joints are planned for {day!r}",
                allowed=words.listed(list(pack.days), 12) or "a line: no days are planned in this pack",
                next="name a planned day or a line",
            )
        by_id = {j.place.id: j for j in pack.joints}
        chosen = tuple(by_id[i] for i in pack.days[day] if i in by_id)
        said.append(day)
    if line:
        chosen = tuple(j for j in (pack.joints if chosen is None else chosen) if matches(line, j.place.line))
        if not chosen and not any(matches(line, name) for name in pack.work.graph.lines):
            raise BadInput(
                f"no line is named {line!r}",
                allowed=words.listed(list(pack.work.graph.lines), 12),
                next="name one of these",
            )
        said.append(f"line {line}")
    return chosen, ", ".join(said)


def pack_sheets(
    pack: Pack, size: str, chosen: Sequence[JointPlan] | None, what: str
) -> list[dict[str, object]]:
    """The sheets of the whole pack in the order a crew wants them.

    Parameters
    ----------
    pack : Pack
    size : str
        ``"a4"`` or ``"us-letter"``.
    chosen : sequence of JointPlan or None
    what : str

    Returns
    -------
    list
    """
    answer, more = answer_sheets(pack)
    sheets = [answer, caution_sheet(pack.work.job.settings)]
    tape = pack.work.tape
    if tape.rows or tape.bells or tape.gaps:
        sheets.append(tape_sheet(pack))
    sheets += line_papers(pack, size)
    later = [cut_sheet(pack), stick_sheet(pack), order_sheet(pack), joint_sheet(pack)]
    if chosen:
        later += [day_sheet(pack, chosen, what), card_sheet(pack, chosen, _name("Joint cards", what))]
    later += [wrap_sheet(pack, size), source_sheet(pack), more]
    return sheets + [s for s in later if s is not None]


def tag_sheet(pack: Pack, joints: Sequence[JointPlan], what: str) -> dict[str, object]:
    """A sheet of tags to cut out and tie to the joints.

    Parameters
    ----------
    pack : Pack
    joints : sequence of JointPlan
    what : str

    Returns
    -------
    dict
        For ``templates/sources.typ``.
    """
    job = pack.work.job.settings.job.id
    tags = [
        {"svg": tag_svg(tag_text(job, j.place.id, pack.issue)), "name": j.place.id}
        for j in joints
        if is_named(j.place.id)
    ]
    return {"kind": "tags", "name": "Tags", "where": what or "every joint; cut out and tie on", "tags": tags}


def document(
    pack: Pack, size: str, name: str, sheets: Sequence[dict[str, object]], head: str = ""
) -> dict[str, object]:
    """What every page of a document shares, with its sheets.

    Parameters
    ----------
    pack : Pack
    size : str
    name : str
    sheets : sequence of dict
    head : str
        Head seal of the logbook; its first figures stand in the foot.

    Returns
    -------
    dict
        For ``templates/main.typ``.
    """
    settings = pack.work.job.settings
    lines = pack.work.graph.lines.values()
    drawings = list(dict.fromkeys(f"{x.drawing} rev {x.rev}" for x in lines if x.drawing))
    issue = f"issue {pack.issue}" if pack.issue else "NOT ISSUED: a draft"
    where = "" if name == "Work pack" else " in the work pack"
    gap = pack.counts.sticks - pack.counts.bound
    return {
        "title": f"{settings.job.name}: {name}, {issue}",
        "paper": size,
        "job": {
            "id": settings.job.id,
            "name": settings.job.name,
            "invented": settings.job.invented,
            "drawings": f"drawing {words.listed(drawings, 2)}" if drawings else "no drawing named",
            "issue": issue,
            "made": f"inputs to {words.moment(pack.stamp, pack.work.job.zone)}"
            + (f" · logbook {head[:FIGURES]}" if head else ""),
            "tables": f"table editions: paper Sources{where}",
        },
        "lines": words.listed(list(pack.work.graph.lines), 24),
        "sticks": f"{words.plural(pack.counts.sticks, 'stick')} (bound {pack.counts.bound}, gap {gap})",
        "cards": {"short": SHORT, "record": RECORD, "caution": CAUTION},
        "papers": list(sheets),
    }
