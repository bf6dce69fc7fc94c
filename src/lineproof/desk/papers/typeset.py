"""Sets a paper in type: templates and fonts of the package, data as JSON, the same bytes for the same data."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from functools import cache
from pathlib import Path

import typst

from lineproof.floor.errors import OurFault

HERE = Path(__file__).resolve().parent
FONTS = HERE / "fonts"
TEMPLATES = HERE / "templates"


@cache
def _templates() -> dict[str, bytes]:
    return {file.name: file.read_bytes() for file in sorted(TEMPLATES.glob("*.typ"))}


def typeset(data: Mapping[str, object], stamp: datetime, pictures: Mapping[str, str] | None = None) -> bytes:
    """Make a PDF.

    Parameters
    ----------
    data : mapping
        Plain strings, numbers and lists for ``templates/main.typ``; nothing in it is read as markup.
    stamp : datetime
        The moment the document carries as its date; no clock is read.
    pictures : mapping, optional
        SVG text by file name.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    OurFault
        If a template and its data do not fit.
    """
    files = dict(_templates())
    main = files.pop("main.typ")
    files["data.json"] = json.dumps(data, ensure_ascii=False, separators=(",", ":")).encode()
    for name, svg in (pictures or {}).items():
        files[name] = svg.encode()
    try:
        made = typst.compile(
            {"main.typ": main, **files},
            format="pdf",
            font_paths=[FONTS],
            ignore_system_fonts=True,
            timestamp=int(stamp.timestamp()),
            pdf_tags=False,
        )
    except typst.TypstError as error:
        raise OurFault(f"a paper could not be set: {error}") from error
    if not isinstance(made, bytes):
        raise OurFault("a paper could not be set: nothing came back")
    return made
