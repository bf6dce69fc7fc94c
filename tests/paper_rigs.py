"""Packs and papers for tests, made once, and what a reader of PDF sees on their pages."""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pypdf
import pypdfium2

from lineproof.desk.papers import papers
from lineproof.job.folder import read_job
from lineproof.plan.make_pack import make_pack
from lineproof.plan.pack import Pack

ROOT = Path(__file__).resolve().parents[1]
DEMO = ROOT / "src" / "lineproof" / "demo" / "brackstow"
METRIC = ROOT / "examples" / "sarnquell"
MM = 72 / 25.4


@cache
def demo_pack() -> Pack:
    return make_pack(read_job(DEMO)).pack


@cache
def metric_pack() -> Pack:
    return make_pack(read_job(METRIC)).pack


@cache
def demo_papers(paper: str = "a4", line: str = "B-301") -> dict[str, bytes]:
    return papers(demo_pack(), paper=paper, line=line)


@cache
def metric_papers(paper: str = "a4") -> dict[str, bytes]:
    pack = metric_pack()
    return papers(pack, paper=paper, line=pack.joints[0].place.line)


@dataclass(frozen=True)
class Page:
    """A page as read back: its number from 1, its text, the name in its head."""

    number: int
    text: str
    width: float
    height: float

    @property
    def tokens(self) -> list[str]:
        return self.text.split()


@cache
def pages(pdf: bytes) -> list[Page]:
    reader = pypdf.PdfReader(io.BytesIO(pdf))
    return [
        Page(n, p.extract_text(), float(p.mediabox.width), float(p.mediabox.height))
        for n, p in enumerate(reader.pages, 1)
    ]


def of_paper(pdf: bytes, name: str) -> list[Page]:
    """Pages whose head begins with a paper's name."""
    return [p for p in pages(pdf) if p.text.startswith(name)]


def pictures(pdf: bytes, dpi: float, only: list[int] | None = None) -> Iterator[tuple[int, np.ndarray]]:
    """Pages drawn in grey, by number from 1."""
    document = pypdfium2.PdfDocument(pdf)
    for n in only or range(1, len(document) + 1):
        yield n, document[n - 1].render(scale=dpi / 72, grayscale=True).to_numpy()
    document.close()


def boxes(pdf: bytes, number: int) -> list[tuple[float, float, float, float, str]]:
    """Boxes of the runs of text on a page: left, bottom, right, top [pt], and the text."""
    document = pypdfium2.PdfDocument(pdf)
    text = document[number - 1].get_textpage()
    found = []
    for i in range(text.count_rects()):
        left, bottom, right, top = text.get_rect(i)
        found.append((left, bottom, right, top, text.get_text_bounded(left, bottom, right, top).strip()))
    document.close()
    return found
