"""The same inputs give the same bytes, whatever the machine's zone, language and hash seed; lists as XLSX."""

from __future__ import annotations

import io
import os
import subprocess
import sys
import zipfile
from datetime import UTC, datetime, timedelta

import pypdf
import pytest
from python_calamine import CalamineWorkbook

from lineproof.desk.papers import xlsx
from lineproof.desk.papers.typeset import FONTS, typeset
from lineproof.floor.errors import OurFault
from paper_rigs import DEMO, ROOT, demo_pack, demo_papers, metric_pack

MAKE = """
import hashlib, sys
from pathlib import Path
from lineproof.desk.papers import papers, xlsx
from lineproof.job.folder import read_job
from lineproof.plan.make_pack import make_pack
pack = make_pack(read_job(Path(sys.argv[1]))).pack
made = papers(pack, line="B-301") | {"lists.xlsx": xlsx(pack)}
for name, data in sorted(made.items()):
    print(name, len(data), hashlib.sha256(data).hexdigest())
"""


def made_with(**environment: str) -> str:
    run = subprocess.run(
        [sys.executable, "-c", MAKE, str(DEMO)], capture_output=True, text=True, check=False,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src"), "SOURCE_DATE_EPOCH": ""} | environment,
    )  # fmt: skip
    assert run.returncode == 0, run.stderr
    return run.stdout


@pytest.mark.slow
def test_bytes_are_the_same_from_two_processes_of_another_place() -> None:
    one = made_with(TZ="America/Denver", LANG="C", LC_ALL="C", PYTHONHASHSEED="1")
    two = made_with(TZ="Asia/Kolkata", LANG="de_DE.UTF-8", LC_ALL="C.UTF-8", PYTHONHASHSEED="4711")
    assert one.count("\n") == 5
    assert one == two


def test_the_documents_date_is_the_newest_input() -> None:
    pack = demo_pack()
    for pdf in demo_papers().values():
        made = pypdf.PdfReader(io.BytesIO(pdf)).metadata
        assert made is not None
        assert made.creation_date is not None
        assert abs(made.creation_date.astimezone(UTC) - pack.stamp) < timedelta(seconds=1)


def test_a_template_that_does_not_fit_is_our_own_fault() -> None:
    with pytest.raises(OurFault, match="a paper could not be set"):
        typeset({"title": "x", "paper": "a4"}, datetime(2027, 1, 1, tzinfo=UTC))


def test_the_fonts_licence_lies_beside_them() -> None:
    fonts = {f.name for f in FONTS.iterdir()}
    assert fonts == {"DejaVuSansCondensed.ttf", "DejaVuSansCondensed-Bold.ttf", "LICENSE.txt"}
    assert "Permission is hereby granted" in (FONTS / "LICENSE.txt").read_text("utf-8")


def sheet(data: bytes, name: str) -> list[list[object]]:
    """Rows of a sheet, read by an independent reader of spreadsheets (calamine)."""
    return CalamineWorkbook.from_filelike(io.BytesIO(data)).get_sheet_by_name(name).to_python()


def test_the_cut_list_reads_back_with_its_numbers() -> None:
    """Lengths come back in inches: one inch is 0.0254 m exactly (international inch, 1959)."""
    pack = demo_pack()
    first, heads, *rows = sheet(xlsx(pack), "Cut list")
    assert "INVENTED DATA" in str(first[0])
    pieces = pack.work.cutting.pieces
    assert [r[0] for r in rows] == [p.id for p in pieces]
    cut, face = heads.index("cut (in)"), heads.index("face to face (in)")
    depth = heads.index("depth mark a (in)")
    for p, row in zip(pieces, rows, strict=True):
        for value, cell in ((p.cut, row[cut]), (p.face_to_face, row[face])):
            if value is None:
                assert cell == ""
            else:
                assert cell == pytest.approx(value / 0.0254, abs=2e-6)
        if not p.a.bell and p.a.depth is not None:
            assert row[depth] == pytest.approx(p.a.depth / 0.0254, abs=2e-6)


def test_the_order_list_reads_back_row_by_row() -> None:
    pack = demo_pack()
    assert pack.order is not None
    _, heads, *rows = sheet(xlsx(pack), "Order list")
    assert len(rows) == len(pack.order.rows)
    needed, unit = heads.index("needed"), heads.index("unit")
    for asked, row in zip(pack.order.rows, rows, strict=True):
        assert row[0] == asked.group.value
        if asked.needed is None:
            assert row[needed] == ""
        elif row[unit] == "each":
            assert row[needed] == pytest.approx(asked.needed)
        else:
            # US gallon: 231 cubic inches exactly (NIST Handbook 44, appendix C; from memory)
            assert row[unit] == "gal"
            assert row[needed] == pytest.approx(asked.needed / (231 * 0.0254**3), abs=2e-6)


def test_metric_lists_are_in_millimetres() -> None:
    _, heads, *rows = sheet(xlsx(metric_pack()), "Cut list")
    cut = heads.index("cut (mm)")
    whole = [r[cut] for r in rows if r[cut] != ""]
    assert whole
    assert all(abs(float(str(x)) - round(float(str(x)))) < 1e-5 for x in whole), "saw lengths are whole mm"


def test_nothing_in_the_workbook_tells_where_or_when_it_was_made() -> None:
    pack = demo_pack()
    data = xlsx(pack)
    with zipfile.ZipFile(io.BytesIO(data)) as book:
        core = book.read("docProps/core.xml").decode()
        assert {i.date_time for i in book.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    local = pack.stamp.astimezone(pack.work.job.zone)
    assert f"{local:%Y-%m-%dT%H:%M:%S}Z" in core
    assert str(ROOT) not in data.decode("latin-1")
