"""Whatever is edited, issued and recorded: no id twice, none used again, none lost that has a record."""

from __future__ import annotations

from dataclasses import dataclass, field

from hypothesis import given, settings
from hypothesis import strategies as st

from id_rig import Bench, ids
from lineproof.floor.errors import EntrySealed
from lineproof.job.joints_csv import LINE, read_joints
from lineproof.plan.align import align
from lineproof.plan.ask import SameAs

FITTINGS = ("coupling", "union", "tee")


@dataclass
class Leg:
    """``go WAY FEET'`` and what stands at its end; a leg in another way makes an elbow."""

    way: str
    feet: int
    fitting: str = ""
    label: str = ""


@dataclass
class Line:
    name: str
    east: int
    legs: list[Leg] = field(default_factory=list)

    def text(self, *, inches: bool, comment: str) -> str:
        rows = [f"line {self.name} size 6in pipe pvc sch80{comment}"]
        rows.append(f'starts at flange fixed "P" at {self.east}\', 0, 0 facing {self.legs[0].way}')
        for leg in self.legs:
            length = f'{leg.feet * 12}"' if inches else f"{leg.feet}'"
            rows.append(f"go {leg.way} {length}{comment}")
            if leg.fitting == "tee":
                rows.append(f"tee {'west' if leg.way != 'east' else 'south'} as {leg.label}")
            elif leg.fitting:
                rows.append(leg.fitting)
        return "\n".join([*rows, "ends at cap", ""])


@dataclass
class Drawing:
    lines: list[Line]
    inches: bool = False
    comment: str = ""
    stick: str = "20 ft"
    flipped: bool = False
    labels: int = 0

    def files(self) -> dict[str, str]:
        texts = [line.text(inches=self.inches, comment=self.comment) for line in self.lines]
        if self.flipped:
            texts = texts[::-1]
        return {f"{n}.walk": text for n, text in enumerate(texts)}

    def new_label(self) -> str:
        self.labels += 1
        return f"t{self.labels}"


ways = st.sampled_from(["north", "east", "up"])
feet = st.integers(4, 55)


def tidy(line: Line) -> None:
    """After a fitting the line goes on the way it came, so the fitting of a turning leg is dropped."""
    for leg, after in zip(line.legs, line.legs[1:], strict=False):
        if after.way != leg.way:
            leg.fitting = leg.label = ""


def make_line(draw, drawing: Drawing, name: str, east: int) -> Line:
    line = Line(name, east)
    for _ in range(draw(st.integers(1, 4))):
        fitting = draw(st.sampled_from(["", "", *FITTINGS]))
        label = drawing.new_label() if fitting == "tee" else ""
        line.legs.append(Leg(draw(ways), draw(feet), fitting, label))
    line.legs.append(Leg(line.legs[-1].way, draw(feet)))
    tidy(line)
    return line


QUIET = ("inches", "comment", "flip", "nothing", "rename")
LOUD = ("length", "split", "merge", "turn", "drop", "stick", "fitting")


def edit(draw, drawing: Drawing, what: str) -> None:
    line = draw(st.sampled_from(drawing.lines))
    n = draw(st.integers(0, len(line.legs) - 1))
    leg = line.legs[n]
    if what == "inches":
        drawing.inches = not drawing.inches
    elif what == "comment":
        drawing.comment = draw(st.sampled_from(["", "  # seen", "  # to the tank"]))
    elif what == "flip":
        drawing.flipped = not drawing.flipped
    elif what == "rename":
        drawing.labels += 1
        line.name = f"R{drawing.labels}"
    elif what == "length":
        leg.feet = draw(feet)
    elif what == "split":
        fitting = draw(st.sampled_from(FITTINGS))
        label = drawing.new_label() if fitting == "tee" else ""
        line.legs.insert(n, Leg(leg.way, draw(feet), fitting, label))
    elif what == "merge":
        leg.fitting = leg.label = ""
    elif what == "turn":
        line.legs.insert(n, Leg(draw(ways), draw(feet)))
        tidy(line)
    elif what == "drop" and len(line.legs) > 2:
        del line.legs[n]
        line.legs[-1].fitting = line.legs[-1].label = ""
        tidy(line)
    elif what == "stick":
        drawing.stick = draw(st.sampled_from(["10 ft", "20 ft", "40 ft"]))
    elif what == "fitting" and n + 1 < len(line.legs) and line.legs[n + 1].way == leg.way:
        if leg.fitting != "tee":
            leg.fitting = draw(st.sampled_from(["", "coupling", "union"]))


def settle(bench: Bench, drawing: Drawing, recorded: set[str], draw):
    """Name for an issue, answering what is asked."""
    answers: list[SameAs] = []
    for _ in range(60):
        named = bench.name(drawing.files(), recorded=recorded, answers=answers, stick=drawing.stick)
        if not named.questions:
            return named
        assert named.rows == ()  # as long as anything is asked, nothing changes
        question = named.questions[0]
        joint = question.joints[0]
        spot = draw(st.sampled_from(question.candidates))
        gone = question.may_be_gone and draw(st.booleans())
        answers.append(SameAs(joint) if gone else SameAs(joint, spot.file, spot.line))
    raise AssertionError("the same question again and again")


def tee_joints(bench: Bench, named) -> dict[tuple[str, str], str]:
    """Ids at tees by label and port: labels are the drawing's own names, which no edit here changes."""
    parts = bench.graph.parts
    found = {}
    for joint in named.joints:
        part = parts.get(joint.socket[0])
        if part is not None and part.kind == "tee":
            found[part.name, joint.socket[1]] = joint.id
    return found


@settings(max_examples=120, deadline=None)
@given(st.data())
def test_ids_outlast_any_sequence_of_edits(data: st.DataObject) -> None:
    draw = data.draw
    drawing = Drawing([])
    for n in range(draw(st.integers(1, 3))):
        drawing.lines.append(make_line(draw, drawing, f"L{n}", 100 * n))
    bench, recorded = Bench(), set()
    last = bench.issue(drawing.files())
    ever = set(ids(last))
    tees = tee_joints(bench, last)
    for _ in range(draw(st.integers(1, 6))):
        what = draw(st.sampled_from(QUIET + LOUD))
        before = drawing.files(), drawing.stick
        edit(draw, drawing, what)
        old = bench.old
        try:
            named = settle(bench, drawing, recorded, draw)
        except EntrySealed:
            assert recorded, "only a record is a reason to refuse"
            return
        now = ids(named)
        assert len(set(now)) == len(now), "an id twice"
        assert recorded <= set(now), "a recorded joint is lost"
        assert not set(named.born) & ever, "an id used again"
        assert set(now) <= {*old.joints, *named.born}
        kept = tee_joints(bench, named)
        assert {k: kept[k] for k in kept if k in tees} == {k: tees[k] for k in kept if k in tees}
        if what in QUIET or (drawing.files(), drawing.stick) == before:
            assert set(now) == set(ids(last)), "an edit that says nothing new"
        bench.take(named)
        assert bench.old.text.startswith(old.text), "a row was changed"
        living = {r.id for r in bench.old.joints.values()}
        assert living == set(now)
        assert read_joints(bench.old.text).rows == bench.old.rows
        ever |= set(now)
        tees, last = kept, named
        if draw(st.booleans()):
            recorded |= set(draw(st.lists(st.sampled_from(now), max_size=2)))
    births = [r.id for n, r in enumerate(bench.old.rows) if r.kind != LINE and not seen(bench, n, r.id)]
    assert len(births) == len(set(births)) == len(ever)


def seen(bench: Bench, n: int, joint: str) -> bool:
    return any(r.id == joint and r.kind != LINE for r in bench.old.rows[:n])


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_an_edit_undone_before_the_issue_leaves_every_id(data: st.DataObject) -> None:
    draw = data.draw
    drawing = Drawing([])
    for n in range(draw(st.integers(1, 2))):
        drawing.lines.append(make_line(draw, drawing, f"L{n}", 100 * n))
    bench = Bench()
    files = drawing.files()
    first = bench.issue(files)
    edit(draw, drawing, draw(st.sampled_from(LOUD)))
    bench.name(drawing.files(), issuing=False, stick=drawing.stick)
    again = bench.name(files)
    assert ids(again) == ids(first)
    assert again.rows == ()


@settings(max_examples=200, deadline=None)
@given(st.lists(st.sampled_from("abcd"), max_size=12), st.lists(st.sampled_from("abcd"), max_size=12))
def test_matched_entries_say_the_same_and_none_is_taken_twice(old: list[str], new: list[str]) -> None:
    found = align(old, new)
    assert all(old[i] == new[j] for i, j in found.pairs.items())
    assert len(set(found.pairs.values())) == len(found.pairs)
    assert not set(found.unclear) & set(found.pairs)
    assert not {j for js in found.unclear.values() for j in js} & set(found.pairs.values())


@settings(max_examples=200, deadline=None)
@given(st.lists(st.integers(0, 400), unique=True, max_size=40), st.data())
def test_entries_alone_of_their_kind_are_all_found_after_insertions_and_deletions(
    old: list[int], data: st.DataObject
) -> None:
    texts = [str(n) for n in old]
    gone = data.draw(st.sets(st.sampled_from(texts))) if texts else set()
    new = [t for t in texts if t not in gone]
    for n in range(data.draw(st.integers(0, 5))):
        new.insert(data.draw(st.integers(0, len(new))), f"new {n}")
    found = align(texts, new)
    assert {texts[i]: new[j] for i, j in found.pairs.items()} == {t: t for t in texts if t not in gone}
    assert found.unclear == {}
