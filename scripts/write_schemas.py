"""Writes docs/schemas: the JSON Schema of what each verb prints with --json, from the dataclasses it prints.

    .venv/bin/python scripts/write_schemas.py            writes them
    .venv/bin/python scripts/write_schemas.py --check    says which are out of date, writes nothing

Refuses to write a schema in which something went away or became another type while VERSION in
desk/as_json.py is the same: see docs/schemas/README.md.
"""

from __future__ import annotations

import json
import re
import sys
import types
from collections.abc import Iterator, Mapping, Sequence, Set
from datetime import date, datetime
from enum import Enum
from inspect import cleandoc
from pathlib import Path, PurePath
from typing import Any, Union, get_args, get_origin, get_type_hints

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT / "src"))

from lineproof.book.sizes import Size  # noqa: E402 - the package is found through the line above
from lineproof.desk.answer_days import DaysAnswer  # noqa: E402
from lineproof.desk.answer_hours import HoursAnswer  # noqa: E402
from lineproof.desk.answer_may import MayAnswer  # noqa: E402
from lineproof.desk.answer_now import NowAnswer  # noqa: E402
from lineproof.desk.answer_pack import PackAnswer  # noqa: E402
from lineproof.desk.answer_raise import RaiseAnswer  # noqa: E402
from lineproof.desk.answer_sequence import SequenceAnswer  # noqa: E402
from lineproof.desk.answers_job import (  # noqa: E402
    FigureAnswer,
    FiguresAnswer,
    NewAnswer,
    TapedAnswer,
    WalkAnswer,
)
from lineproof.desk.answers_record import (  # noqa: E402
    RecordAdded,
    RecordCarried,
    RecordChecked,
    RecordHead,
    RecordKinds,
    RecordList,
    RecordOpen,
    RecordPrinted,
)
from lineproof.desk.as_json import VERSION, CellShape, names_of  # noqa: E402
from lineproof.floor.errors import Place  # noqa: E402
from lineproof.floor.sources import Cell  # noqa: E402
from lineproof.floor.verdicts import Verdict  # noqa: E402

FOLDER = ROOT / "docs" / "schemas"
KINDS: dict[str, tuple[type, str]] = {
    "new": (NewAnswer, "lineproof new --json"),
    "walk": (WalkAnswer, "lineproof walk --json"),
    "taped": (TapedAnswer, "lineproof taped --json"),
    "figure": (FigureAnswer, "lineproof figure NAME name=value --json"),
    "figures": (FiguresAnswer, "lineproof figure --json and lineproof figure NAME --json"),
    "days": (DaysAnswer, "lineproof days --json"),
    "hours": (HoursAnswer, "lineproof hours --json"),
    "may": (MayAnswer, "lineproof may move, lower, load and open SUBJECT --json"),
    "may-raise": (RaiseAnswer, "lineproof may fill SECTION --json and lineproof may raise SECTION --json"),
    "now": (NowAnswer, "lineproof now --json"),
    "pack": (PackAnswer, "lineproof plan --json, lineproof demo --json and out/pack.json"),
    "sequence": (SequenceAnswer, "lineproof sequence --json"),
    "record-kinds": (RecordKinds, "lineproof record kinds --json"),
    "record-added": (RecordAdded, "lineproof record add, joint and settle ENTRY with --json"),
    "record-list": (RecordList, "lineproof record list --json"),
    "record-head": (RecordHead, "lineproof record head --json"),
    "record-checked": (RecordChecked, "lineproof record verify and backup with --json"),
    "record-carried": (RecordCarried, "lineproof record export and import with --json"),
    "record-open": (RecordOpen, "lineproof record settle --json"),
    "record-printed": (RecordPrinted, "lineproof record print PAPER --json"),
}
SIMPLE: dict[object, str] = {
    type(None): "null", bool: "boolean", int: "integer", float: "number", str: "string",
}  # fmt: skip
MOMENT = r"^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?[+-]\d\d:\d\d$"
DAY = r"^\d{4}-\d\d-\d\d$"

Schema = dict[str, Any]


class Writer:
    """Schemas of types; what has a name is written once under $defs."""

    def __init__(self) -> None:
        self.defs: dict[str, Schema] = {}
        self._names: dict[type, str] = {}

    def of(self, kind: Any) -> Schema:
        """The schema of one type hint, as ``desk.as_json`` writes its values."""
        if kind in SIMPLE:
            return {"type": SIMPLE[kind]}
        if kind is object or kind is Any:
            return {}
        origin, args = get_origin(kind), get_args(kind)
        if origin in (Union, types.UnionType):
            return self._one_of(args)
        if origin is not None:
            return self._many(origin, args)
        if not isinstance(kind, type):
            raise TypeError(f"no schema for {kind!r}")
        if issubclass(kind, datetime):
            return {"type": "string", "format": "date-time", "pattern": MOMENT}
        if issubclass(kind, date):
            return {"type": "string", "format": "date", "pattern": DAY}
        if issubclass(kind, PurePath):
            return {"type": "string"}
        return self._named(kind)

    def _named(self, kind: type) -> Schema:
        if kind not in self._names:
            name = kind.__name__
            if name in self.defs:  # two rooms use one word: the second is called by its module as well
                name = f"{kind.__module__.rsplit('.', 1)[-1]}.{name}"
            if name in self.defs:
                raise TypeError(f"two types are called {name}")
            self._names[kind] = name
            self.defs[name] = {}
            self.defs[name] = self._whole(kind)
        return {"$ref": f"#/$defs/{self._names[kind]}"}

    def _whole(self, kind: type) -> Schema:
        if kind is Size:
            return {"description": "A nominal size by its name: 12 in, d315.", "type": "string"}
        if kind is Place:
            return {"description": "file:line:column; what is not known is left out.", "type": "string"}
        if kind is Cell:
            return {"description": "Key of a table cell; it stands in full under cells.", "type": "string"}
        if issubclass(kind, Verdict):
            return {"description": summary(kind), "enum": [v.word for v in kind]}
        if issubclass(kind, Enum):
            return {"description": summary(kind), "enum": [v.value for v in kind]}
        if names_of(kind):
            return self.record(kind)
        raise TypeError(f"no schema for {kind.__module__}.{kind.__name__}")

    def record(self, kind: type) -> Schema:
        """A dataclass as an object that has all of its fields and no others."""
        hints, told = get_type_hints(kind), meanings(kind)
        properties: dict[str, Schema] = {}
        for name in names_of(kind):
            schema = self.of(hints[name])
            properties[name] = {"description": told[name], **schema} if name in told else schema
        return {
            "description": summary(kind),
            "type": "object",
            "properties": properties,
            "required": list(properties),
            "additionalProperties": False,
        }

    def _one_of(self, args: Sequence[Any]) -> Schema:
        choices: list[Schema] = []
        for arg in args:
            schema = self.of(arg)
            if schema not in choices:
                choices.append(schema)
        if {"type": "string"} in choices:  # a word, or one of listed words: any word
            choices = [c for c in choices if "enum" not in self._open(c)]
        if len(choices) == 1:
            return choices[0]
        if all(set(c) == {"type"} for c in choices):
            return {"type": [c["type"] for c in choices]}
        return {"anyOf": choices}

    def _open(self, schema: Schema) -> Schema:
        return self.defs[schema["$ref"].rsplit("/", 1)[-1]] if "$ref" in schema else schema

    def _many(self, origin: type, args: Sequence[Any]) -> Schema:
        if issubclass(origin, Mapping):
            key, value = args
            schema: Schema = {"type": "object", "additionalProperties": self.of(value)}
            if isinstance(key, type) and issubclass(key, Enum):
                schema["propertyNames"] = self._open(self.of(key)).copy()
                schema["propertyNames"].pop("description")
            return schema
        if issubclass(origin, tuple) and args[-1] is not Ellipsis:
            return {
                "type": "array",
                "prefixItems": [self.of(a) for a in args],
                "items": False,
                "minItems": len(args),
            }
        if issubclass(origin, (Sequence, Set)):
            schema = {"type": "array", "items": self.of(args[0])}
            return schema | ({"uniqueItems": True} if issubclass(origin, Set) else {})
        raise TypeError(f"no schema for {origin!r}")


def summary(kind: type) -> str:
    """First line of a class's docstring."""
    return cleandoc(kind.__doc__ or kind.__name__).splitlines()[0]


def meanings(kind: type) -> dict[str, str]:
    """What a class's docstring says of each of its fields, with the unit."""
    told: dict[str, str] = {}
    names: list[str] = []
    inside = False
    rows = cleandoc(kind.__doc__ or "").splitlines()
    for row, after in zip(rows, [*rows[1:], ""], strict=True):
        if after.startswith("---"):
            inside, names = row in ("Parameters", "Attributes"), []
        elif inside and (head := re.fullmatch(r"([\w, ]+?)(?: : .*)?", row)) and not row.startswith(" "):
            names = [n.strip() for n in head[1].split(",")]
        elif inside and row.startswith("    "):
            for name in names:
                told[name] = f"{told.get(name, '')} {row.strip()}".strip()
    return told


def schema_of(kind: str) -> Schema:
    """The whole schema of one kind of answer."""
    body, said_by = KINDS[kind]
    writer = Writer()
    record, cell = writer.record(body), writer.record(CellShape)
    head: dict[str, Schema] = {
        "kind": {"const": kind},
        "version": {"const": VERSION, "description": "Of this shape; raised when something goes away."},
        "lineproof": {"type": "string", "description": "The version that wrote it."},
    }
    cells: Schema = {
        "description": "Every table cell that is named by its key above, in full.",
        "type": "object",
        "additionalProperties": cell,
    }
    properties = {**head, **record["properties"], "cells": cells}
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": f"{kind}: what is printed by {said_by}",
        "description": f"{record['description']} Numbers are SI: m, Pa, K, s, kg, N, m3, rad, shares of 1.",
        "type": "object",
        "properties": properties,
        "required": list(properties),
        "additionalProperties": False,
        "$defs": dict(sorted(writer.defs.items())),
    }


def text_of(kind: str) -> str:
    """A schema as it stands in its file."""
    return json.dumps(schema_of(kind), ensure_ascii=False, indent=1) + "\n"


def broken(old: Schema, new: Schema) -> list[str]:
    """What a reader of the old shape would miss or misread in the new one, by its path."""
    if old["properties"]["version"] != new["properties"]["version"]:
        return []
    return list(_broken(old, new, old, new, ""))


def _broken(a: Schema, b: Schema, old: Schema, new: Schema, path: str) -> Iterator[str]:
    a, b = _bare(a, old), _bare(b, new)
    for name, was in a.get("properties", {}).items():
        if name not in b.get("properties", {}):
            yield f"{path}/{name} went away"
        else:
            yield from _broken(was, b["properties"][name], old, new, f"{path}/{name}")
    if "properties" in a:
        return
    if a.get("type") != b.get("type"):
        yield f"{path} was {a.get('type', 'anything')} and is {b.get('type', 'anything')}"
        return
    if gone := [v for v in a.get("enum", []) if v not in b.get("enum", [])]:
        yield f"{path} is no longer {', '.join(map(str, gone))}"
    for word in ("items", "additionalProperties"):
        if isinstance(a.get(word), dict) and isinstance(b.get(word), dict):
            yield from _broken(a[word], b[word], old, new, f"{path}/*")
        elif a.get(word) != b.get(word):
            yield f"{path} holds something else"
    for word in ("prefixItems", "anyOf"):
        before, after = a.get(word, []), b.get(word, [])
        if len(before) != len(after):
            yield f"{path} was one of {len(before)} and is one of {len(after)}"
            continue
        for n, (x, y) in enumerate(zip(before, after, strict=True)):
            yield from _broken(x, y, old, new, f"{path}/{n}")


def _bare(schema: Schema, whole: Schema) -> Schema:
    while "$ref" in schema:
        schema = whole["$defs"][schema["$ref"].rsplit("/", 1)[-1]]
    return schema


def main(words: Sequence[str]) -> int:
    """Write or check every schema; 1 if something is out of date or may not be written."""
    FOLDER.mkdir(exist_ok=True)
    bad = 0
    for kind in KINDS:
        file = FOLDER / f"{kind}.json"
        before = file.read_text("utf-8") if file.exists() else ""
        text = text_of(kind)
        if text == before:
            continue
        gone = broken(json.loads(before), json.loads(text)) if before else []
        for what in gone:
            print(f"{file.name}: {what}: raise VERSION in src/lineproof/desk/as_json.py")
        if "--check" in words:
            print(f"{file.name} is out of date: run scripts/write_schemas.py")
            bad = 1
        elif gone:
            bad = 1
        else:
            file.write_text(text, "utf-8")
            print(f"wrote {file.relative_to(ROOT)}")
    return bad


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
