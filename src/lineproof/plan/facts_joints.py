"""Facts for the checks of cement, cards and hands."""

from __future__ import annotations

from collections.abc import Sequence

from lineproof.book.sizes import Size
from lineproof.checks.card_guards import CardRows
from lineproof.checks.card_times import BesideStandard, CardCure, CardTimes
from lineproof.checks.cement import Body, CardFits, CardNamed, Chemistry, LotDate, ReadBack
from lineproof.checks.joiners import HandsThere
from lineproof.job.cards import CementCard
from lineproof.job.graph import LaidLine
from lineproof.job.settings import hands_for, matches
from lineproof.job.stock import Can
from lineproof.plan.causes import Causes
from lineproof.plan.joint_model import Clock, JointPlan
from lineproof.plan.subjects import Subjects
from lineproof.plan.work import Work

NO_ROW = "card-row"
"""The code by which a joint's plan says that the card has no row: not an input that is missing."""


def card_of(work: Work, line: str) -> CementCard | None:
    """The cement card named for a line."""
    duty = work.job.settings.duty(line)
    return work.job.settings.card(duty.cement) if duty else None


def add_cement(causes: Causes, work: Work, names: Subjects) -> None:
    """Cards and lots against lines, chemicals and days."""
    settings = work.job.settings
    for line in work.graph.lines.values():
        joints = names.of_line(line.name)
        if joints:
            _add_card(causes, work, names, line, joints)
    for can in settings.cans:
        if not can.count + can.ordered:
            continue
        lines = [v for v in work.graph.lines.values() if any(matches(p, v.name) for p in can.lines)]
        if can.lines and not lines:
            continue
        lot = lot_words(can)
        causes.add(
            "CEM-04", can.id,
            LotDate(
                subject=lot, kind=can.kind, lot=can.lot or can.id, expires=can.expires,
                first_day=names.first_day,
                last_day=names.last_day([v.name for v in lines] or work.graph.lines),
                last_day_by=names.last_day_by,
            ),
        )  # fmt: skip
        card = settings.card(can.card) if can.kind == "cement" else None
        if card is not None:
            _add_lot(causes, work, lines, lot, card)


def lot_words(can: Can) -> str:
    """A lot as findings name it: ``cement Heavy grey, lot HG-1``."""
    return f"{can.kind} {can.product or can.id}" + (f", lot {can.lot}" if can.lot else "")


def _add_lot(causes: Causes, work: Work, lines: list[LaidLine], lot: str, card: CementCard) -> None:
    for line in lines:
        causes.add(
            "CEM-02", (lot, line.material),
            CardFits(
                subject=lot, card=card.id, card_material=card.material, line_material=line.material, lot=lot
            ),
        )  # fmt: skip
        duty = work.job.settings.duty(line.name)
        chemical = duty.chemical if duty else None
        causes.add(
            "CEM-03", (lot, chemical),
            Chemistry(
                subject=lot, chemical=chemical.name.value if chemical else "", thickener=card.thickener,
                chemical_text=chemical.text if chemical else "", card=card.id, lot=lot,
                lines=tuple(v.name for v in lines),
            ),
        )  # fmt: skip


def _add_card(causes: Causes, work: Work, names: Subjects, line: LaidLine, joints: Sequence[str]) -> None:
    duty = work.job.settings.duty(line.name)
    named = duty.cement if duty else ""
    card = card_of(work, line.name)
    causes.add(
        "CEM-01", (named, card is not None),
        CardNamed(subject=line.name, line=line.name, card=named, known=card is not None),
        line.name, joints=joints,
    )  # fmt: skip
    if card is None:
        return
    procedure = names.procedure(line.name)
    causes.add(
        "CEM-02", (card.id, line.material, procedure.steps if procedure else ""),
        CardFits(
            subject=line.name, card=card.id, card_material=card.material, line_material=line.material,
            card_steps=card.steps, line_steps=procedure.steps if procedure else "",
        ),
        line.name, joints=joints,
    )  # fmt: skip
    chemical = duty.chemical if duty else None
    causes.add(
        "CEM-03", (card.id, chemical),
        Chemistry(
            subject=line.name, chemical=chemical.name.value if chemical else "", thickener=card.thickener,
            chemical_text=chemical.text if chemical else "", card=card.id,
        ),
        line.name, joints=joints,
    )  # fmt: skip
    causes.add(
        "CEM-06", card.id,
        ReadBack(subject=card.id, card=card.id, typed_by=card.typed_by, read_back_by=card.read_back_by),
        joints=joints,
    )  # fmt: skip
    rows = CardRows(
        subject=card.id, card=card.id, rows=card.rows, both_names=card.read_back, material=card.material,
        steps=card.steps,
    )  # fmt: skip
    for guard in ("CEM-10", "CEM-11"):
        causes.add(guard, card.id, rows, joints=joints)


def add_joints(causes: Causes, work: Work, names: Subjects, plans: Sequence[JointPlan]) -> None:
    """Body, times and hands of every joint, by size and card."""
    groups: dict[tuple[str, Size, str], list[str]] = {}
    times: dict[tuple[str, Size, str, float | None, float | None], tuple[JointPlan, list[str]]] = {}
    cures: dict[tuple[str, Size, float | None, tuple[str, ...]], tuple[JointPlan, list[str]]] = {}
    for name, plan in zip(names.names, plans, strict=True):
        size, material = plan.place.size, plan.place.material
        groups.setdefault((plan.card, size, material), []).append(name)
        key = (plan.card, size, material, plan.hold.time, plan.hands_off.time)
        times.setdefault(key, (plan, []))[1].append(name)
        lacking = () if plan.cure.time is not None else _lacks(plan.cure, *plan.pressure.missing)
        cured = (plan.card, size, plan.cure.time, lacking)
        known = cures.get(cured)
        if known is None:
            cures[cured] = (plan, [name])
        else:
            known[1].append(name)
            if (plan.pressure.pressure or 0.0) > (known[0].pressure.pressure or 0.0):
                cures[cured] = (plan, known[1])
    for (card_id, size, material), joints in groups.items():
        card = work.job.settings.card(card_id)
        if card is not None:
            causes.add(
                "CEM-05", (card_id, size, material),
                Body(
                    subject=f"{size.text} {material}", size=size, material=material, card=card_id,
                    body=card.body, suits=card.suits(size),
                ),
                joints=joints,
            )  # fmt: skip
    for (card_id, size, material, *_), (plan, joints) in times.items():
        causes.add(
            "CEM-07", (card_id, size, material, plan.hold.time, plan.hands_off.time),
            CardTimes(
                subject=size.text, size=size, card=card_id, hold=plan.hold.time, handling=plan.hands_off.time,
                temperature=plan.temperature, humidity=plan.humidity,
                lacks=_lacks(plan.hold, *plan.hands_off.missing),
            ),
            joints=joints,
        )  # fmt: skip
    for (card_id, size, _, lacking), (plan, joints) in cures.items():
        causes.add(
            "CEM-09", (card_id, size, plan.cure.time, lacking),
            CardCure(
                subject=size.text, size=size, card=card_id, cure=plan.cure.time,
                pressure=plan.pressure.pressure, temperature=plan.temperature, humidity=plan.humidity,
                lacks=lacking,
            ),
            joints=joints,
        )  # fmt: skip
        card = work.job.settings.card(card_id)
        if card is not None:
            causes.add(
                "CEM-08", (card_id, size, plan.hands_off.time, plan.cure.time),
                BesideStandard(
                    subject=f"card {card_id}, {size.text}", size=size, material=plan.place.material,
                    card=card_id, handling=plan.hands_off.time, cure=plan.cure.time,
                    temperature=plan.temperature,
                    pressure=plan.pressure.pressure, humidity=plan.humidity, both_names=card.read_back,
                ),
            )  # fmt: skip
    _add_hands(causes, work, names, plans)


def _lacks(clock: Clock, *more: object) -> tuple[str, ...]:
    """Names of inputs that are missing; a row that the card does not print is none of them."""
    codes = [m.code for m in clock.missing] + [str(getattr(m, "code", m)) for m in more]
    return tuple(dict.fromkeys(c.replace("-", " ") for c in codes if c != NO_ROW))


def _add_hands(causes: Causes, work: Work, names: Subjects, plans: Sequence[JointPlan]) -> None:
    settings = work.job.settings
    groups: dict[tuple[str, Size, int | None, int | None], tuple[JointPlan, list[str]]] = {}
    for name, plan in zip(names.names, plans, strict=True):
        hands = plan.needs.hands
        key = (plan.place.line, plan.place.size, hands.by_brushes, hands.by_time)
        groups.setdefault(key, (plan, []))[1].append(name)
    for (line, size, by_brushes, by_time), (plan, joints) in groups.items():
        crews = settings.crews_for(line)
        procedure = names.procedure(line)
        present = min((len(c.people) for c in crews), default=None)
        by_crew = max((n for c in crews if (n := hands_for(c.hands, size)) is not None), default=None)
        by_procedure = procedure.people_for(size) if procedure else None
        causes.add(
            "HND-01", (size, present, by_procedure, by_crew, by_brushes, by_time),
            HandsThere(
                subject=f"{line}, {size.text}", size=size, present=present, by_procedure=by_procedure,
                by_crew=by_crew, by_brushes=by_brushes, coating_time=plan.needs.hands.coating_time,
                working_time=plan.needs.hands.working_time, by_time=by_time,
            ),
            f"{line}, {size.text}", joints=joints,
        )  # fmt: skip
