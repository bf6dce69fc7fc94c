"""The register of figures, filled: each module of sums is imported once, when a figure is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module

from lineproof.floor.worked import REGISTER, Figure

MODULES = (
    "air",
    "angles",
    "bolts",
    "bond",
    "bow",
    "content",
    "cure_share",
    "diameters",
    "energy",
    "forces",
    "growth",
    "hands",
    "labour",
    "marks",
    "offsets",
    "pressure",
    "pull",
    "ratings",
    "slopes",
    "sticks",
    "takeout",
    "taper",
    "vapour",
    "wall",
)


def load_all() -> Mapping[str, Figure]:
    """Import every module of sums, so that the register holds every figure.

    Returns
    -------
    mapping of str to Figure
        The figures by name, in the order of their names.

    Examples
    --------
    >>> load_all()["travel"].formula
    'c = t/sin(θ)'
    """
    for name in MODULES:
        import_module(f"lineproof.sums.{name}")
    return {name: REGISTER[name] for name in sorted(REGISTER)}
