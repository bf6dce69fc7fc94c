"""The rows of the order list: one thing to have each, with what is short and what is to be ordered.

Counts and volumes are floats in SI or whole numbers; what nobody knows is None and its input is named under
``missing``. Nothing here is a sentence: the desk says it from the codes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from lineproof.book.sizes import Size
from lineproof.floor.sources import Cell
from lineproof.plan.joint_needs import Missing


class Group(StrEnum):
    """What kind of thing a row is, in the order of the paper."""

    STICKS = "sticks"
    OFFCUTS = "kept offcuts"
    FITTINGS = "fittings"
    TAGGED = "tagged items"
    FLANGES = "flange pairs"
    CEMENT = "cleaner, primer, cement"
    APPLICATORS = "applicators"
    TOOLS = "tools"
    TEST = "test materials"


class Unit(StrEnum):
    """What a row counts: pieces of the thing, or its volume [m3]."""

    EACH = "each"
    VOLUME = "volume"


class Code(StrEnum):
    """What is remarkable about a row."""

    NOT_COUNTED = "pieces that wait for a measure are not counted"
    FIELD_COUNTED = "field pieces are counted at their long length"
    STICK_BY_LINE = "a stick shared by lines counts for the line that takes most of it"
    USES_OFFCUTS = "these kept offcuts are used"
    NO_ROW = "not in parts.csv: what is in the yard is not known"
    COUNT_NOT_SAID = "the count is not said"
    WHICH_LOT = "several lots, and no count or lot said"
    LOT_USED_UP = "more are needed than the lot holds"
    ONE_BY_ONE = "fabricated: each one has its own row"
    COMPANIONS = "of these, put on by the walk to meet a flange"
    FROM_SPLITTING = "of these, added where legs are longer than a stick"
    RING_ASK = "ask whether the rings come with the stubs"
    LENGTH_UNKNOWN = "length: measure both thicknesses"
    BY_RULE = "washer, nut and thread taken at their largest by a rule, not measured"
    CLASS_150 = "drilled to Class 150 unless the equipment says otherwise"
    FILLER = "flat plastic against a raised face: not without a full-face filler"
    AT_LEAST = "at least: some joints could not be told"
    UNSURE_CANS = "cans that may not be counted yet"
    LAST_USE_UNKNOWN = "good on the first day; the day of the last use is not known"
    CANS_REFUSED = "cans that may not be used"
    NOT_USED_UP = "an opened can is thrown away before it is used up"
    OPEN_AT_ONCE = "cans open at the same time, by crew and size: own assumption"
    CLEANER = "how much cleaner a joint takes is for the procedure to say"
    OWN_ASSUMPTION = "by an assumption of our own"
    SHARED = "shared by the lines"
    NOT_ON_TOOL_LIST = "the tool list has no place for it"
    NARROW = "narrower than half the pipe: more of them and more hands"
    COMMON_PRACTICE = "by common practice, no source"
    PLACES = "at these places"
    NO_SECTION = "lines in no test section"


@dataclass(frozen=True, slots=True)
class Note:
    """A remark: its code, the names it is about, a number if it has one."""

    code: Code
    names: tuple[str, ...] = ()
    number: float | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class What:
    """What is needed, as data.

    Parameters
    ----------
    kind : str
        ``"stick"``, ``"elbow"``, ``"bolt"``, ``"cement"``, ``"puller"``, ``"vent"`` and so on.
    id : str
        Stock item, tag, cement card or section it stands for.
    angle_deg : float
        Of an elbow or wye, else 0. [deg]
    length, diameter, thickness, width : float or None
        As far as the thing has them. [m]
    volume : float or None
        Content of one can. [m3]
    detail : str
        Body of a cement, face of a gasket.
    """

    kind: str
    id: str = ""
    size: Size | None = None
    size2: Size | None = None
    angle_deg: float = 0.0
    material: str = ""
    series: str = ""
    lot: str = ""
    length: float | None = None
    diameter: float | None = None
    thickness: float | None = None
    width: float | None = None
    volume: float | None = None
    detail: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class OrderRow:
    """One thing to have.

    Parameters
    ----------
    needed : float or None
        In the row's unit; None if it cannot be told.
    in_yard : float or None
        What was there and may be used; None if nobody said.
    received, ordered : float or None
        What came in since, and what is on order and not here; None where they are not kept apart.
    short : float or None
        Needed less what is here; never below 0.
    to_order : float or None
        Short less what is on order; never below 0. None: somewhere between 0 and ``needed``.
    by_line : mapping
        Quantity for each line; sums to ``needed``. Empty where lines share the thing (``Code.SHARED``).
    missing : tuple of Missing
        Inputs that are missing.
    notes : tuple of Note
    source : str
        The paper a value comes from, where there is one.
    """

    group: Group
    what: What
    unit: Unit = Unit.EACH
    needed: float | None
    in_yard: float | None = None
    received: float | None = None
    ordered: float | None = None
    short: float | None = None
    to_order: float | None = None
    by_line: Mapping[str, float] = field(default_factory=dict)
    missing: tuple[Missing, ...] = ()
    notes: tuple[Note, ...] = ()
    source: str = ""
    cells: tuple[Cell, ...] = ()


def order_row(
    group: Group,
    what: What,
    *,
    needed: float | None,
    in_yard: float | None = None,
    received: float | None = None,
    ordered: float | None = None,
    covered: float | None = None,
    unit: Unit = Unit.EACH,
    by_line: Mapping[str, float] | None = None,
    missing: Iterable[Missing] = (),
    notes: Iterable[Note] = (),
    source: str = "",
    cells: tuple[Cell, ...] = (),
) -> OrderRow:
    """A row with what is short and what to order worked out.

    Parameters
    ----------
    covered : float, optional
        How much of the need the things here can serve, where that is less than there is (cans meant for
        other lines); what is in the yard and what was received by default.

    Returns
    -------
    OrderRow
        Short and to order stay None where need or yard are not known.
    """
    if covered is None and in_yard is not None:
        covered = in_yard + (received or 0)
    short = None if needed is None or covered is None else max(0, needed - covered)
    to_order = None if short is None else max(0, short - (ordered or 0))
    if needed == 0:
        short = to_order = 0
    return OrderRow(
        group=group, what=what, unit=unit, needed=needed, in_yard=in_yard, received=received, ordered=ordered,
        short=short, to_order=to_order, by_line=dict(by_line or {}), missing=tuple(dict.fromkeys(missing)),
        notes=tuple(notes), source=source, cells=cells,
    )  # fmt: skip
