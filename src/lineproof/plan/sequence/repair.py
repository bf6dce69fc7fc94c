"""A gasketed repair coupling in place of an opening: never without what holds it, and with its load."""

from __future__ import annotations

from dataclasses import dataclass

from lineproof.plan.sequence.closure import Closure
from lineproof.plan.sequence.openings import FACES
from lineproof.plan.work import Work
from lineproof.sums.forces import end_load


@dataclass(frozen=True, slots=True)
class Repair:
    """Where a repair coupling could stand, and the end load that its restraint takes.

    Parameters
    ----------
    piece : str
    load : float
        At the highest planned pressure of the line. [N]
    pressure : float
        [Pa]
    restraint : str
        As job.toml names it.
    """

    piece: str
    load: float
    pressure: float
    restraint: str


def repairs(work: Work, closure: Closure) -> tuple[Repair, ...]:
    """Repair couplings that could stand in place of openings.

    Parameters
    ----------
    work : Work
    closure : Closure

    Returns
    -------
    tuple of Repair
        None unless job.toml names a restraint, and none where pressure or diameter is not known. It opens no
        more than a flat union does.
    """
    restraint = work.job.settings.closing.restraint
    if not restraint:
        return ()
    pieces = {p.id: p for p in work.cutting.pieces}
    found = []
    for o in closure.openings:
        piece = pieces.get(o.at)
        if o.kind == FACES or piece is None:
            continue
        dims = work.pipes.dims(piece.size, piece.material, piece.series)
        duty = work.job.settings.duty(piece.line)
        pressures = [s.pressure for s in work.job.settings.sections_of(piece.line) if s.pressure is not None]
        if duty is not None and duty.test_pressure is not None:
            pressures.append(duty.test_pressure)
        if dims is not None and pressures:
            most = max(pressures)
            found.append(Repair(o.at, end_load(most, dims.od), most, restraint))
    return tuple(found)
