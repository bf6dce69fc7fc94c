"""An independent check of a cutting plan, in plain floats: it shares no code with the planner."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence

from lineproof.plan.nest_model import CutStick, Nesting, Offcut, Stick, Want

NEAR = 1e-7
"""Lengths nearer than this are the same: a tenth of a micrometre. [m]"""


def check_nesting(
    nesting: Nesting, wants: Sequence[Want], stick: Stick, kerf: float, offcuts: Sequence[Offcut] = ()
) -> list[str]:
    """Measure every stick of a plan again and say what is wrong with it.

    Parameters
    ----------
    nesting : Nesting
        The plan.
    wants, stick, kerf, offcuts
        What the plan was made from, lengths in metres. [m]

    Returns
    -------
    list of str
        One sentence for each fault; empty when the plan can be cut and its totals are right.
    """
    faults: list[str] = []
    by_id = {w.id: w for w in wants}
    racks = {o.id: o for o in offcuts}
    cut = Counter(i for s in nesting.sticks for i in s.pieces)
    faults += [f"piece {i} is cut {n} times" for i, n in sorted(cut.items()) if n != 1]
    faults += [f"piece {i} is not cut" for i in sorted(by_id) if i not in cut]
    faults += [f"piece {i} was not asked for" for i in sorted(cut) if i not in by_id]
    used = Counter(s.stick_id for s in nesting.sticks if s.source == "offcut")
    faults += [f"offcut {i} is cut {n} times" for i, n in sorted(used.items()) if n > 1]
    faults += [f"offcut {i} is not on the rack" for i in sorted(used) if i not in racks]
    if sorted(nesting.unused_offcuts) != sorted(i for i in racks if i not in used):
        faults.append("the list of unused offcuts is wrong")
    new = sum(1 for s in nesting.sticks if s.source == "new")
    if new != nesting.new_sticks:
        faults.append(f"{nesting.new_sticks} new sticks are stated, {new} are cut")
    if nesting.gap != nesting.new_sticks - nesting.bound or nesting.gap < 0:
        faults.append(
            f"gap {nesting.gap} is not {nesting.new_sticks} sticks less bound {nesting.bound}, or below 0"
        )
    if nesting.complete != (nesting.gap == 0):
        faults.append("'complete' does not agree with the gap")
    if nesting.not_placed:
        faults.append(f"pieces left over: {', '.join(nesting.not_placed)}")
    if faults:
        return faults
    for number, s in enumerate(nesting.sticks, start=1):
        faults += [
            f"stick {number} ({s.stick_id}): {fault}" for fault in _stick(s, by_id, stick, kerf, racks)
        ]
    spent = sum(s.overall for s in nesting.sticks) - sum(w.length for w in wants)
    spent -= sum(s.offcut_length for s in nesting.sticks if s.kept)
    if abs(spent - nesting.waste) > NEAR * (1 + len(wants)):
        faults.append(f"waste is {spent:.4f} m, {nesting.waste:.4f} m is stated")
    kept = sorted((s.offcut_length, s.offcut_bell) for s in nesting.sticks if s.kept)
    if kept != sorted((o.length, o.bell) for o in nesting.kept_offcuts):
        faults.append("the kept offcuts are not those of the sticks")
    return faults


def _stick(
    s: CutStick, by_id: dict[str, Want], stick: Stick, kerf: float, racks: dict[str, Offcut]
) -> list[str]:
    """Check one stick from the end where the saw starts."""
    if s.source == "new":
        overall, belled, bell_length, trim = stick.length, stick.belled, stick.bell_length, stick.trim
        named = s.stick_id == stick.id
    else:
        rack = racks[s.stick_id]
        overall, belled, bell_length, trim, named = rack.length, rack.bell, rack.bell_length, 0.0, True
    faults: list[str] = []
    if not named or s.source not in ("new", "offcut") or abs(s.overall - overall) > NEAR:
        faults.append("not the stock it is said to be")
    if not s.pieces or len(s.starts) != len(s.pieces):
        return [*faults, "pieces and starts do not pair"]
    keepers = [i for i in s.pieces if by_id[i].bell]
    if len(keepers) > 1 or (keepers and (not belled or s.pieces[0] != keepers[0])):
        faults.append(f"{', '.join(keepers)} cannot keep the bell")
    if s.bell_used_by != (keepers[0] if keepers else None):
        faults.append("it is not said which piece keeps the bell")
    at = 0.0 if keepers else trim
    for i, start in zip(s.pieces, s.starts, strict=True):
        if start < at - NEAR:
            faults.append(f"piece {i} starts at {start:.4f} m, before {at:.4f} m")
        at = start + by_id[i].length + kerf
    end = at - kerf
    spare_bell = belled and not keepers
    limit = overall - bell_length - kerf if spare_bell else overall - trim
    if end > limit + NEAR:
        faults.append(f"the last piece ends at {end:.4f} m, the stick allows {limit:.4f} m")
    left = max(0.0, (overall if spare_bell else overall - trim) - at)
    if abs(left - s.offcut_length) > NEAR:
        faults.append(f"{left:.4f} m is left, {s.offcut_length:.4f} m is stated")
    if s.offcut_bell != spare_bell:
        faults.append("the bell of what is left is stated wrongly")
    ends = [start + by_id[i].length for i, start in zip(s.pieces, s.starts, strict=True)]
    marks = [m for m in s.cuts if any(abs(m - e) <= NEAR for e in ends)]
    needed = [e for e in ends if e < overall - NEAR]
    if len(marks) != len(needed):
        faults.append(f"{len(marks)} cuts end a piece, {len(needed)} are needed")
    before = len(s.cuts) - len(marks)
    if before != (1 if not keepers and trim > 0 else 0):
        faults.append(f"{before} trimming cuts before the first piece")
    return faults
