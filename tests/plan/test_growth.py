"""Growth guarded by counts: table reads a run, look-ups a joint, questions asked of the checks."""

from __future__ import annotations

import importlib.util
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

from lineproof.book.load import Book, book
from lineproof.checks import registry
from lineproof.job.folder import read_job
from lineproof.job.resolve import Resolver
from lineproof.plan.make_pack import make_pack


def generated() -> ModuleType:
    path = Path(__file__).parents[2] / "benchmarks" / "generated.py"
    spec = importlib.util.spec_from_file_location("generated_jobs", path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def counts(folder: Path, joints: int, patch: pytest.MonkeyPatch) -> tuple[Counter[str], int]:
    """What one plan of so many joints asked for."""
    seen: Counter[str] = Counter()
    real_cell, real_type, real_ask = Book.cell, Resolver.type, registry.ask

    def cell(self, *words):
        seen["cells"] += 1
        return real_cell(self, *words)

    def kind(self, *words, **more):
        seen["fittings"] += 1
        return real_type(self, *words, **more)

    def ask(*words, **more):
        seen["checks"] += 1
        return real_ask(*words, **more)

    with patch.context() as m:
        m.setattr(Book, "cell", cell)
        m.setattr(Resolver, "type", kind)
        m.setattr("lineproof.plan.causes.ask", ask)
        before = dict(book().reads)
        pack = make_pack(read_job(generated().write_job(folder, joints))).pack
        after = dict(book().reads)
    seen["table reads"] = max(after[t] - before.get(t, 0) for t in after)
    return seen, len(pack.joints)


def test_four_times_the_joints_ask_no_oftener_a_joint(tmp_path, monkeypatch):
    small, few = counts(tmp_path / "small", 300, monkeypatch)
    large, many = counts(tmp_path / "large", 1200, monkeypatch)
    assert many > 3.5 * few
    assert small["cells"] > 20  # the counters do count
    assert small["checks"] > 10
    # what the tables are asked hangs on lines and sizes: under one look-up a joint, no more with more joints
    assert large["cells"] / many <= 1.05 * small["cells"] / few
    assert large["cells"] <= many
    assert large["checks"] / many <= 0.6 * small["checks"] / few
    # one fitting is dealt a place, and a joint has no more than one place of its own
    assert large["fittings"] <= many
    assert max(small["table reads"], large["table reads"]) <= 1
