"""Sets a paper in type: templates and fonts of the package, data as JSON; alike data give alike bytes."""

from __future__ import annotations

import json
from collections.abc import Mapping
from datetime import datetime
from pathlib import Path

import typst

from lineproof.floor.errors import OurFault

HERE = Path(__file__).resolve().parent
FONTS = HERE / "fonts"
TEMPLATES = HERE / "templates"


def typeset(data: Mapping[str, object], stamp: datetime) -> bytes:
    """Make a PDF.

    Parameters
    ----------
    data : mapping
        Plain strings, numbers and lists for ``templates/main.typ``; nothing in it is read as markup.
    stamp : datetime
        The moment the document carries as its date; no clock is read.

    Returns
    -------
    bytes
        The PDF.

    Raises
    ------
    OurFault
        If a template and its data do not fit.
    """
    try:
        # Tags for screen readers are left out: they triple the time of a thousand cards.
        return typst.compile(
            TEMPLATES / "main.typ",
            root=TEMPLATES,
            format="pdf",
            sys_inputs={"data": json.dumps(data, ensure_ascii=False, separators=(",", ":"))},
            font_paths=[FONTS],
            ignore_system_fonts=True,
            timestamp=int(stamp.timestamp()),
            pdf_tags=False,
        )
    except typst.TypstError as error:
        raise OurFault(f"a paper could not be set: {error}") from error
