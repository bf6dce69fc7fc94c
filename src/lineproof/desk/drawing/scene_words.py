"""What sign and what words each kind of part gets on the drawing."""

from __future__ import annotations

from lineproof.desk.drawing.scene import Kind, Mate, Sign
from lineproof.job.graph import Part, Turn, Vec
from lineproof.job.parts import Form, PartKind
from lineproof.plan.names import short
from lineproof.sums.vectors import norm, scale, unit

MATES = {
    PartKind.FLANGE: Mate.FLANGE,
    PartKind.STUB: Mate.RING,
    PartKind.MALE_ADAPTER: Mate.THREAD,
    PartKind.FEMALE_ADAPTER: Mate.THREAD,
}
SIGNS = {
    PartKind.ELBOW: Sign.BEND,
    PartKind.TEE: Sign.TEE,
    PartKind.COUPLING: Sign.COUPLING,
    PartKind.REPAIR: Sign.COUPLING,
    PartKind.REDUCER: Sign.REDUCER,
    PartKind.BUSHING: Sign.REDUCER,
    PartKind.UNION: Sign.UNION,
    PartKind.FLANGE: Sign.FLANGE,
    PartKind.STUB: Sign.FLANGE,
    PartKind.BLIND: Sign.BLIND,
    PartKind.CAP: Sign.CAP,
    PartKind.VALVE: Sign.VALVE,
    PartKind.MALE_ADAPTER: Sign.THREAD,
    PartKind.FEMALE_ADAPTER: Sign.THREAD,
    PartKind.EXPANSION: Sign.EXPANSION,
}
NOWHERE: Vec = (0.0, 0.0, 0.0)


def sign_and_words(part: Part, turn: Turn | None) -> tuple[Sign, tuple[tuple[Kind, str], ...]]:
    """Sign and labels of a part of this line."""
    name = short(part.id)
    if not isinstance(part.kind, PartKind):
        form = part.ports[0].form if part.ports else Form.PLAIN
        sign = Sign.STANDS if part.fixed or form is not Form.PLAIN else Sign.OPEN
        text = part.name or name
        if part.may_unbolt:
            text += ", may unbolt"
        return sign, ((Kind.END, text),)
    sign = SIGNS.get(part.kind, Sign.BOX)
    match sign:
        case Sign.BEND:
            return sign, ((Kind.PART, f"{part.name or name}{_angle(part, turn)}"),)
        case Sign.REDUCER:
            small = (part.size2 or part.size).text
            return sign, ((Kind.PART, f"{name} {part.size.text} x {small}{_flat(part)}"),)
        case Sign.CAP | Sign.BLIND:
            return sign, ((Kind.END, part.name or part.kind.value),)
        case Sign.TEE:
            return sign, ((Kind.PART, name),)
        case Sign.COUPLING if part.kind is PartKind.REPAIR:
            return sign, ((Kind.PART, "repair coupling"),)
        case Sign.COUPLING | Sign.THREAD:
            return sign, ()
        case _:
            return sign, ((Kind.PART, part.name or name),)


def _angle(part: Part, turn: Turn | None) -> str:
    """The angle of a bend where it is not square, and what no fitting serves."""
    if turn is not None and turn.fitting_deg is None:
        return f" {turn.angle_deg:.4g}°, no fitting"
    return "" if abs(part.angle_deg - 90.0) <= 0.01 else f" {part.angle_deg:g}°"


def said(part: Part) -> str:
    """What a part is called in the side table: a tag or name if it is not only a branch label."""
    return short(part.id) if part.kind in (PartKind.TEE, PartKind.SADDLE) else part.name or short(part.id)


def _flat(part: Part) -> str:
    """Which side of an eccentric reducer is flat."""
    ports = {p.name: p for p in part.ports}
    shift = ports["b"].shift if "b" in ports else NOWHERE
    if norm(shift) < 1e-9 or "a" not in ports:
        return ""
    flat = unit(shift) if ports["a"].size.nominal > ports["b"].size.nominal else unit(scale(shift, -1.0))
    words = (("E", "W"), ("N", "S"), ("top", "bottom"))
    axis = max(range(3), key=lambda i: abs(flat[i]))
    side = words[axis][0 if flat[axis] > 0 else 1]
    return f", flat {side}"
