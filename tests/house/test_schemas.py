"""docs/schemas says what --json prints: written from the dataclasses, never narrowed under one version."""

from __future__ import annotations

import copy
import importlib.util
import json
from pathlib import Path
from typing import Any

import pytest

ROOT = Path(__file__).resolve().parents[2]
FOLDER = ROOT / "docs" / "schemas"


def _script() -> Any:
    spec = importlib.util.spec_from_file_location("write_schemas", ROOT / "scripts" / "write_schemas.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


SCRIPT = _script()
KINDS = sorted(SCRIPT.KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_the_schema_is_that_of_the_dataclasses(kind: str) -> None:
    kept = (FOLDER / f"{kind}.json").read_text("utf-8")
    made = SCRIPT.text_of(kind)
    gone = SCRIPT.broken(json.loads(kept), json.loads(made))
    assert gone == [], "raise VERSION in src/lineproof/desk/as_json.py"
    assert kept == made, "run .venv/bin/python scripts/write_schemas.py"


def test_every_schema_is_of_a_kind_and_named_in_the_page() -> None:
    page = (FOLDER / "README.md").read_text("utf-8")
    assert sorted(f.stem for f in FOLDER.glob("*.json")) == KINDS
    assert [k for k in KINDS if f"[{k}]({k}.json)" not in page] == []


def _properties(schema: Any) -> list[dict[str, Any]]:
    found = []
    if isinstance(schema, dict):
        if isinstance(schema.get("properties"), dict):
            found.append(schema)
        for value in schema.values():
            found += _properties(value)
    elif isinstance(schema, list):
        for value in schema:
            found += _properties(value)
    return found


@pytest.mark.parametrize("kind", KINDS)
def test_objects_of_ours_have_their_fields_and_no_others(kind: str) -> None:
    records = _properties(json.loads((FOLDER / f"{kind}.json").read_text("utf-8")))
    assert len(records) > 1
    for record in records:
        assert record["additionalProperties"] is False, record["description"]
        assert record["required"] == list(record["properties"]), record["description"]


def _pack() -> dict[str, Any]:
    whole: dict[str, Any] = json.loads((FOLDER / "pack.json").read_text("utf-8"))
    return whole


def test_a_field_that_goes_away_or_changes_type_is_seen_wherever_it_stands() -> None:
    old, seen = _pack(), 0
    for name, record in old["$defs"].items():
        for field in record.get("properties", {}):
            new = copy.deepcopy(old)
            del new["$defs"][name]["properties"][field]
            assert SCRIPT.broken(old, new), f"{name}.{field} went away"
            new = copy.deepcopy(old)
            new["$defs"][name]["properties"][field] = {"type": "array", "items": {"type": "null"}}
            assert SCRIPT.broken(old, new), f"{name}.{field} became a list of nothing"
            seen += 1
    assert seen > 100


def test_what_is_new_or_told_in_other_words_breaks_nobody() -> None:
    old = _pack()
    new = copy.deepcopy(old)
    new["$defs"]["Piece"]["properties"]["colour"] = {"type": "string"}
    new["$defs"]["Piece"]["description"] = "Said otherwise."
    new["$defs"]["Verdict"]["enum"].append("REST")
    assert SCRIPT.broken(old, new) == []
    assert SCRIPT.broken(old, old) == []


def test_a_word_that_goes_away_is_seen_and_a_raised_version_lets_all_through() -> None:
    old = _pack()
    new = copy.deepcopy(old)
    new["$defs"]["Verdict"]["enum"].remove("WAIT")
    assert any("WAIT" in what for what in SCRIPT.broken(old, new))
    new["properties"]["version"]["const"] += 1
    assert SCRIPT.broken(old, new) == []
