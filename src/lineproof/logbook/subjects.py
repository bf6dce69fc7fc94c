"""What an entry is about: joints, cans, tags, gauges, releases, sections."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from lineproof.logbook.entry import Entry

Subject = tuple[str, str]
"""Sort and name, such as ``("joint", "B-201/J31")``."""

SORTS = {"joint": "joint", "can": "can", "tag": "tag", "release": "release", "section": "section"}
"""Field that names a subject, and the sort it names."""

AMENDING = ("correction", "time_confirmed", "fork_settled")
"""Kinds that say something of other entries."""


def subjects_of(kind: str, body: Mapping[str, Any]) -> frozenset[Subject]:
    """Everything a body names.

    Parameters
    ----------
    kind : str
        Of the entry; kinds of newer releases are searched as well.
    body : mapping
        Its fields, or the fields a correction gives it.

    Returns
    -------
    frozenset of tuple
    """
    found: set[Subject] = set()
    for field, sort in SORTS.items():
        if isinstance(body.get(field), str):
            found.add((sort, body[field]))
    joints = body.get("joints")
    if isinstance(joints, list | tuple):
        found |= {("joint", name) for name in joints if isinstance(name, str)}
    if kind == "gauge" and isinstance(body.get("gauge"), str):
        found.add(("gauge", body["gauge"]))
    return frozenset(found)


def body_of(entry: Entry) -> Mapping[str, Any]:
    """The body of an entry, also of one whose envelope is newer, as far as it has one.

    Parameters
    ----------
    entry : Entry

    Returns
    -------
    mapping
    """
    if not entry.newer:
        return entry.body
    told = json.loads(entry.raw).get("body")
    return told if isinstance(told, dict) else {}
