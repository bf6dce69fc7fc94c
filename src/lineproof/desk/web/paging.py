"""Long lists in parts that a phone can open."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar
from urllib.parse import urlencode

MOST = 200
"""Rows of a list on one page. [-]"""
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Part(Generic[T]):
    """One part of a list.

    Parameters
    ----------
    rows : sequence
        What stands on this page.
    page, pages : int
        Which part, from 1, and how many there are. [-]
    first, last, count : int
        Rows on this page by their place in the whole list, from 1, and how many there are. [-]
    before, after : str
        Addresses of the parts beside it; empty at the ends.
    """

    rows: Sequence[T]
    page: int
    pages: int
    first: int
    last: int
    count: int
    before: str
    after: str


def part_of(
    rows: Sequence[T], page: int, path: str, /, *, most: int = MOST, name: str = "page", **kept: str
) -> Part[T]:
    """A part of a list; a page that is not there is the nearest one.

    Parameters
    ----------
    rows : sequence
    page : int
        From 1. [-]
    path : str
        Address of the list.
    most : int
        Rows on a page. [-]
    name : str
        What the page is called in the address.
    **kept
        What else the address says.

    Returns
    -------
    Part
    """
    pages = max(1, -(-len(rows) // most))
    page = min(max(page, 1), pages)
    shown = rows[(page - 1) * most : page * most]
    first = (page - 1) * most + 1 if shown else 0

    def at(other: int) -> str:
        said = {k: v for k, v in kept.items() if v} | {name: str(other)}
        return f"{path}?{urlencode(said)}" if 1 <= other <= pages else ""

    last = first + len(shown) - 1 if shown else 0
    return Part(shown, page, pages, first, last, len(rows), at(page - 1), at(page + 1))
