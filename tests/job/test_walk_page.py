"""What the page on the walk shows is what the reader takes."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from lineproof.job.statements import Remark
from lineproof.job.walk_csv import HEADER, read_walk_csv
from lineproof.job.walk_read import read_walk
from lineproof.job.walk_words import key_words
from lineproof.job.walk_write import print_walk

PAGE = (Path(__file__).parents[2] / "docs" / "walk.md").read_text("utf-8")
FENCES = re.findall(r"^```([a-z ]+)\n(.*?)^```$", PAGE, re.MULTILINE | re.DOTALL)
AROUND = ("line L-1 size 12in pipe pvc sch80\nstarts at open\n", "ends at open\n")


@pytest.mark.parametrize(("kind", "text"), FENCES, ids=[text.splitlines()[0] for _, text in FENCES])
def test_every_example_reads_and_prints(kind: str, text: str) -> None:
    if kind == "csv":
        walk = read_walk_csv(text, "page.csv")
    else:
        assert kind in ("walk", "walk part")
        before, after = AROUND if kind == "walk part" else ("", "")
        walk = read_walk(before + text + after, "page.walk")
    assert read_walk(print_walk(walk), walk.file) == walk
    assert not any(isinstance(s, Remark) for s in walk.statements)


def test_the_page_shows_every_word_of_the_grammar() -> None:
    shown = set(re.findall(r"[a-z][a-z-]*", " ".join(text for _, text in FENCES) + " ".join(PAGE.split("`"))))
    assert key_words() - shown == set()


def test_the_page_lists_the_columns_of_the_sheet_in_order() -> None:
    listed = re.search(r"^All columns: (.*)\.$", PAGE, re.MULTILINE)
    assert listed is not None
    assert tuple(listed[1].split(", ")) == HEADER
