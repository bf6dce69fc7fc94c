"""Frames of invented pipe, and the same frames told to PyNiteFEA."""

from __future__ import annotations

from typing import Any

import numpy as np

from lineproof.sums.frame import Frame, Loads, Springs, ring

E, G, ALPHA = 2.9e9, 1.05e9, 5.4e-5
WALL = ring(od=0.3239, wall=0.0175)


def piped(points: Any, members: Any, held: Any, **more: Any) -> Frame:
    """A frame of one pipe."""
    return Frame(
        points=np.asarray(points, float), members=np.asarray(members), held=np.asarray(held, bool), modulus=E,
        shear_modulus=G, area=WALL.area, inertia_y=WALL.inertia, inertia_z=WALL.inertia, torsion=WALL.torsion,
        **more,
    )  # fmt: skip


def serpentine(count: int) -> tuple[Frame, Loads]:
    """A run that winds and climbs: each seventh node held, each third of these fixed; warm, full."""
    turn = [(1, 0, 0), (1, 0, 0), (0, 1, 0), (-1, 0, 0), (-1, 0, 0), (0, 1, 0), (0, 0, 1)]
    steps = np.tile(turn, (count // 7 + 1, 1))
    points = np.vstack([np.zeros(3), np.cumsum(steps[:count] * 1.5, axis=0)])
    held = np.zeros((count + 1, 6), bool)
    held[::7, :3] = True
    held[::21] = held[-1] = True
    frame = piped(points, np.stack([np.arange(count), np.arange(count) + 1], axis=1), held)
    return frame, Loads(strain=np.full(count, ALPHA * 25), along=np.tile([0.0, 0.0, -900.0], (count, 1)))


def second_opinion(frame: Frame, loads: Loads) -> Any:
    """The model as PyNiteFEA has it, not yet analysed; warmth goes in as equal and opposite pushes."""
    from Pynite import FEModel3D

    model = FEModel3D()
    model.add_material("pvc", float(frame.modulus[0]), float(frame.shear_modulus[0]), 0.4, 0.0)
    model.add_section(
        "wall",
        float(frame.area[0]),
        float(frame.inertia_y[0]),
        float(frame.inertia_z[0]),
        float(frame.torsion[0]),
    )
    for i, (x, y, z) in enumerate(frame.points):
        model.add_node(f"N{i}", float(x), float(y), float(z))
        model.def_support(f"N{i}", *(bool(h) for h in frame.held[i]))
    for i, (a, b) in enumerate(frame.members):
        model.add_member(f"M{i}", f"N{a}", f"N{b}", "pvc", "wall")
        if frame.released is not None and frame.released[i].any():
            model.def_releases(f"M{i}", *(bool(r) for r in frame.released[i]))
        if loads.along is not None:
            for way, value in zip(("FX", "FY", "FZ"), loads.along[i], strict=True):
                if value:
                    model.add_member_dist_load(f"M{i}", way, float(value), float(value))
    pushed = np.zeros((len(frame.points), 6))
    if loads.at_nodes is not None:
        pushed += loads.at_nodes
    if loads.strain is not None:
        push = (frame.modulus * frame.area * loads.strain)[:, None] * frame.axes[:, 0]
        np.subtract.at(pushed[:, :3], frame.members[:, 0], push)
        np.add.at(pushed[:, :3], frame.members[:, 1], push)
    for i, row in enumerate(pushed):
        for way, value in zip(("FX", "FY", "FZ", "MX", "MY", "MZ"), row, strict=True):
            if value:
                model.add_node_load(f"N{i}", way, float(value))
    if loads.moved is not None:
        for i, row in enumerate(loads.moved):
            for way, value in zip(("DX", "DY", "DZ", "RX", "RY", "RZ"), row, strict=True):
                if value:
                    model.def_node_disp(f"N{i}", way, float(value))
    springs: Springs | None = frame.springs
    if springs is not None:
        for node, along, stiff, turns in zip(
            springs.node, springs.direction, springs.stiffness, springs.turns, strict=True
        ):
            way = ("RX", "RY", "RZ") if turns else ("DX", "DY", "DZ")
            model.def_support_spring(f"N{node}", way[int(np.argmax(np.abs(along)))], float(stiff))
    return model


def moves_of(model: Any, nodes: int) -> np.ndarray:
    """Moves and turns of every node as PyNiteFEA has them."""
    ways = ("DX", "DY", "DZ", "RX", "RY", "RZ")
    return np.array([[getattr(model.nodes[f"N{i}"], way)["Combo 1"] for way in ways] for i in range(nodes)])


def reactions_of(model: Any, nodes: int) -> np.ndarray:
    """What the ground does to every node as PyNiteFEA has it."""
    ways = ("RxnFX", "RxnFY", "RxnFZ", "RxnMX", "RxnMY", "RxnMZ")
    return np.array([[getattr(model.nodes[f"N{i}"], way)["Combo 1"] for way in ways] for i in range(nodes)])
