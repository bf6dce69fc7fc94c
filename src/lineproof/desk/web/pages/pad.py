"""The walk pad: a line told by tapping ways and lengths, drawn at each tap, saved as the same text."""

from __future__ import annotations

from collections.abc import Callable
from typing import Annotated, Any, Literal

from fastapi import APIRouter, Form, Query, Request
from fastapi.responses import HTMLResponse, JSONResponse, Response
from pydantic import BaseModel, Field

from lineproof.desk.drawing.held import HeldSheet, Hold
from lineproof.desk.drawing.project import North
from lineproof.desk.pad_answer import PadAnswer, pad_answer
from lineproof.desk.pad_files import PadFile, lines_of, new_line, open_file, open_line, save_walk
from lineproof.desk.web.forms import must_be_ours
from lineproof.desk.web.page import page
from lineproof.desk.web.pages.lines import side_words
from lineproof.desk.web.tongue import Refused as NotTaken
from lineproof.desk.web.tongue import refused, t, words_for_script
from lineproof.floor.errors import BadInput, LineproofError, Place
from lineproof.job.walk_cells import FORMS
from lineproof.job.walk_steps import Add, Change, Delete, Split, Step, said_with, with_ends_of

router = APIRouter()
LONGEST = 500_000
"""Characters of a walk that the pad takes."""
ARROWS = {
    "right": (("west", "\u2196"), ("up", "\u2191"), ("north", "\u2197"),
              ("south", "\u2199"), ("down", "\u2193"), ("east", "\u2198")),
    "left": (("north", "\u2196"), ("up", "\u2191"), ("east", "\u2197"),
             ("west", "\u2199"), ("down", "\u2193"), ("south", "\u2198")),
}  # fmt: skip
"""Where each way lies on the paper: keys stand as the axes of the drawing do."""
BEGIN = {
    "starts at": "starts at", "offset": "offset", "put": 'put "', "tee": "tee", "saddle": "saddle",
    "reduce to": "reduce to", "expansion joint": "expansion joint travel", "no joint": "no joint",
    "bells": "bells facing ahead", "spool": 'spool "', "ends at": "ends at",
}  # fmt: skip
"""What a key types for a word that needs more after it."""


class StepAsked(BaseModel):
    """One step: what to do, at which row, and the statement in words or in cells."""

    do: Literal["add", "change", "delete", "split"]
    row: int = Field(ge=0, le=200_000)
    said: str = Field("", max_length=2_000)
    word: str = Field("", max_length=40)
    cells: dict[str, str] = Field(default_factory=dict, max_length=40)
    at: str = Field("", max_length=40)


Mm = Annotated[float, Field(ge=-1e5, le=1e5, allow_inf_nan=False)]


class SheetHeld(BaseModel):
    """Where everything stood on a sheet, in millimetres; as the server told it last time."""

    first: str = Field(max_length=400)
    places: dict[str, tuple[Mm, Mm, Mm]] = Field(max_length=5_000)
    labels: dict[str, tuple[Mm, Mm, int]] = Field(max_length=5_000)
    shift: tuple[Mm, Mm]
    crowd: Mm


class Held(BaseModel):
    """Last positions of the drawing."""

    north: North
    sheets: list[SheetHeld] = Field(min_length=1, max_length=500)

    def hold(self) -> Hold:
        """The same for the drawing."""
        return Hold(
            self.north,
            tuple(
                HeldSheet(
                    s.first, dict(s.places), {k: ((x, y), to) for k, (x, y, to) in s.labels.items()},
                    s.shift, s.crowd,
                )
                for s in self.sheets
            ),
        )  # fmt: skip


class LastDrawn(BaseModel):
    """The last drawing: the text it shows, and where everything stood."""

    text: str = Field(max_length=LONGEST)
    hold: Held


class PadAsked(BaseModel):
    """The text as the pad has it, and a step on it."""

    file: str = Field(max_length=200)
    line: str = Field(max_length=200)
    text: str = Field(max_length=LONGEST)
    step: StepAsked | None = None
    last: LastDrawn | None = None


class RowTold(BaseModel):
    """A row of the walk."""

    row: int
    said: str
    comment: str
    word: str
    cells: dict[str, str]
    line: str


class TroubleTold(BaseModel):
    """What is wrong at a row; row 0 is not in this file."""

    row: int
    column: int
    sentence: str


class PadTold(BaseModel):
    """The walk after a step.

    ``marks`` names for each row what stands for it in the drawing (``data-ref``).
    """

    text: str
    row: int
    told: str
    rows: list[RowTold]
    troubles: list[TroubleTold]
    sheets: list[str]
    north: Literal["right", "left"]
    whole: bool
    joints: int
    pieces: int
    much: str
    marks: dict[int, list[str]]
    hold: Held | None


class SaveAsked(BaseModel):
    """A text to be written, and what was seen of its file."""

    key: str = Field(max_length=200)
    file: str = Field(max_length=200)
    text: str = Field(max_length=LONGEST)
    seen: str = Field(max_length=64)


class SaveTold(BaseModel):
    """What is on the disk now."""

    seen: str


class PadRefused(BaseModel):
    """Why nothing was done, in one sentence; the column is that of the statement, from 1."""

    refused: str
    column: int = 0


REFUSALS: dict[int | str, dict[str, Any]] = {400: {"model": PadRefused}}
"""One for all refusals of the pad; which there are is said in ``described``."""


def _step(asked: StepAsked) -> Step:
    said = said_with(asked.word, asked.cells) if asked.word else asked.said
    match asked.do:
        case "add":
            return Add(asked.row, said)
        case "change":
            return Change(asked.row, said)
        case "delete":
            return Delete(asked.row)
        case "split":
            return Split(asked.row, asked.at, said)


def _refusable(do: Callable[[], BaseModel], typed_code: int = 400) -> Response:
    """An answer as JSON, or the sentence that says why there is none."""
    try:
        told = do()
    except LineproofError as error:
        typed = isinstance(error, BadInput) and not error.place.file
        column, error.place = error.place.column, error.place if error.place.file else Place()
        return JSONResponse({"refused": str(error), "column": column}, typed_code if typed else 409)
    return Response(told.model_dump_json(), media_type="application/json")


def _told(answer: PadAnswer) -> PadTold:
    told = {n: getattr(answer, n) for n in answer.__slots__}
    held = None
    if answer.hold is not None:
        sheets = [
            SheetHeld(
                first=s.first, places=dict(s.places), shift=s.shift, crowd=round(s.crowd, 3),
                labels={k: (x, y, to) for k, ((x, y), to) in s.labels.items()},
            )
            for s in answer.hold.sheets
        ]  # fmt: skip
        held = Held(north=answer.hold.north, sheets=sheets)
    return PadTold.model_validate({**told, "much": _much(answer), "hold": held}, from_attributes=True)


@router.post(
    "/api/pad/step", response_model=PadTold | PadRefused, responses=REFUSALS, summary="One step on a walk"
)
def step(request: Request, asked: PadAsked) -> Response:
    """The text after one step, its rows, what is wrong beside each, and the drawing; nothing is written."""
    site = request.app.state.site

    def do() -> PadTold:
        open_file(site.folder, asked.file)
        return _told(
            pad_answer(
                site.folder, asked.file, asked.line, asked.text, _step(asked.step) if asked.step else None,
                recorded=site.recorded(),
                last=(asked.last.text, asked.last.hold.hold()) if asked.last else None,
                side=side_words(),
            )
        )  # fmt: skip

    return _refusable(do, 200)  # half a statement is no fault: it is being tapped


@router.post("/api/pad/save", response_model=SaveTold, responses=REFUSALS, summary="Write a walk")
def save(request: Request, asked: SaveAsked) -> Response:
    """Write the walk, whole or not at all; refused if its file changed or a recorded joint would be lost."""

    def do() -> SaveTold:
        must_be_ours(request, asked.key)
        return SaveTold(seen=_save(request, asked.file, asked.text, asked.seen))

    return _refusable(do)


def _save(request: Request, file: str, text: str, seen: str) -> str:
    site = request.app.state.site
    with site.writing:
        return save_walk(site.folder, file, text, seen, site.recorded())


@router.get("/pad", response_class=HTMLResponse)
def lines(request: Request) -> HTMLResponse:
    """Lines to open, and a new one to begin."""
    return page(
        request, "pad_lines.html", title=t("pad.title"), rows=list(lines_of(request.app.state.site.folder))
    )


@router.get("/pad/new", response_class=HTMLResponse)
def begun(
    request: Request,
    name: Annotated[str, Query(max_length=200)] = "",
    size: Annotated[str, Query(max_length=40)] = "",
    material: Annotated[str, Query(max_length=40)] = "pvc",
    wall: Annotated[str, Query(max_length=40)] = "",
    service: Annotated[str, Query(alias="for", max_length=200)] = "",
) -> HTMLResponse:
    """A new line with its first statement."""
    folder = request.app.state.site.folder
    if not name.strip():
        raise refused("pad.no_name")
    if open_line(folder, name) is not None:
        raise refused("pad.walked", name=name)
    opened = new_line(folder, name, {"size": size, "material": material, "wall": wall, "for": service})
    return _pad(request, name, opened, opened.text)


@router.get("/pad/{line:path}", response_class=HTMLResponse)
def pad(request: Request, line: str) -> HTMLResponse:
    """One line on the pad."""
    return _pad(request, line, _opened(request, line), None)


@router.post("/pad/{line:path}", response_class=HTMLResponse)
def typed(
    request: Request,
    line: str,
    key: Annotated[str, Form()],
    file: Annotated[str, Form()],
    seen: Annotated[str, Form()],
    text: Annotated[str, Form()],
    act: Annotated[Literal["look", "save"], Form()] = "look",
) -> HTMLResponse:
    """The whole text as typed, looked at or saved: the same without a script."""
    must_be_ours(request, key)
    opened = open_file(request.app.state.site.folder, file)
    whole = with_ends_of(opened.text, text)
    said = ""
    try:
        if act == "save":
            seen = _save(request, file, whole, seen)
            said = t("pad.saved_as", file=file)
    except LineproofError as error:
        why = error.sentence() if isinstance(error, NotTaken) else str(error)
        said = t("pad.not_saved_why", why=why)
    return _pad(request, line, PadFile(file, whole, seen), whole, said)


def _opened(request: Request, line: str) -> PadFile:
    folder = request.app.state.site.folder
    opened = open_line(folder, line)
    if opened is None:
        names = ", ".join(name for name, _ in lines_of(folder))
        raise refused("pad.no_line", line=line[:60], names=names or t("pad.a_new_line"))
    return opened


def _pad(request: Request, line: str, opened: PadFile, text: str | None, said: str = "") -> HTMLResponse:
    site = request.app.state.site
    whole = opened.text if text is None else text
    answer = pad_answer(site.folder, opened.file, line, whole, recorded=site.recorded(), side=side_words())
    return page(
        request, "pad.html", title=t("pad.title_line", line=line), line=line, opened=opened, text=whole,
        answer=answer,
        much=_much(answer), said=said, units=site.units(), ways=ARROWS[answer.north],
        words=[(w, BEGIN.get(w, w)) for w in FORMS if w not in ("go", "line", "drawing")],
        words_js=words_for_script("pad.js_"),
        fractions=("1/16", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"),
    )  # fmt: skip


def _much(answer: PadAnswer) -> str:
    """How much of the line is drawn."""
    return t("pad.much" if answer.whole else "pad.much_so_far", joints=answer.joints, pieces=answer.pieces)
