"""The description of every call and page: each status it gives, in the form it gives it.

Pages speak HTML, calls of a script speak JSON: what is refused follows its address.
``tests/desk/test_described.py`` holds every answer against this description.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from fastapi import FastAPI
from fastapi.openapi.utils import get_openapi
from starlette.responses import JSONResponse, PlainTextResponse, Response

from lineproof.desk.web.told import Refused

CALLS = ("/sync/", "/api/")
PAD = "/api/"
HTML = {"text/html": {"schema": {"type": "string"}}}
PLAIN = {"text/plain": {"schema": {"type": "string"}}}
_SAID = {
    "400": "What was sent cannot be taken; one sentence says why. Nothing was written.",
    "401": "Nobody paired this device.",
    "403": "Not from a page of this server, or not for what this device is paired as.",
    "404": "There is nothing at this address.",
    "408": "It came too slowly.",
    "409": "The files of the job do not allow it; one sentence says how. Nothing was written.",
    "413": "Larger than may be sent at once.",
    "415": "Not a type of body that is taken here.",
    "421": "This server is not called that.",
    "422": "Not what is asked for here.",
    "429": "Asked too often.",
}
_WRITES = ("408", "413", "415")
_DOOR = ("400", "401", "403", "421", "429", *_WRITES)
"""What is answered before a page sees the request: one plain line."""
_METHODS = frozenset({"get", "post", "put", "delete", "patch"})


def is_call(path: str) -> bool:
    """Whether an address is asked by a script and not looked at by a person.

    Parameters
    ----------
    path : str

    Returns
    -------
    bool
    """
    return path.startswith(CALLS)


def refuse(path: str, sentence: str, code: int, headers: Mapping[str, str] | None = None) -> Response:
    """A refusal in the form in which its address answers: JSON for a call, else one plain line.

    Parameters
    ----------
    path : str
    sentence : str
    code : int
        HTTP status. [-]
    headers : mapping, optional

    Returns
    -------
    Response
    """
    if path.startswith(PAD):
        return JSONResponse({"refused": sentence, "column": 0}, code, headers)
    if is_call(path):
        return JSONResponse({"lineproof": "refused", "sentence": sentence}, code, headers)
    return PlainTextResponse(sentence, code, headers)


def describe(app: FastAPI) -> dict[str, Any]:
    """The OpenAPI description of an application, made once.

    Parameters
    ----------
    app : FastAPI

    Returns
    -------
    dict
    """
    if app.openapi_schema:
        return app.openapi_schema
    told = get_openapi(title=app.title, version=app.version, summary=app.summary, routes=app.routes)
    schemas = told.setdefault("components", {}).setdefault("schemas", {})
    schemas.setdefault("Refused", Refused.model_json_schema())
    for path, item in told["paths"].items():
        for method, operation in item.items():
            if method in _METHODS:
                _add(path, method, operation)
    for name in ("HTTPValidationError", "ValidationError"):
        schemas.pop(name, None)
    app.openapi_schema = told
    return told


def _add(path: str, method: str, operation: dict[str, Any]) -> None:
    """The answers that every operation of a form has, beside its own."""
    said = operation["responses"]
    name = "PadRefused" if path.startswith(PAD) else "Refused"
    json = {"application/json": {"schema": {"$ref": f"#/components/schemas/{name}"}}}
    form = json if is_call(path) else HTML
    codes = ["400", "401", "403", "409", "421", "429"]
    takes = operation.get("parameters") or "requestBody" in operation
    codes += ["422"] if takes or method != "get" else []
    codes += ["404"] if "{" in path else []
    codes += _WRITES if method != "get" else []
    for code in codes:
        before_pages = code in _DOOR and not is_call(path)
        content = {**form, **(PLAIN if before_pages else {})}
        said[code] = {"description": said.get(code, {}).get("description") or _SAID[code], "content": content}
    if "422" not in codes:
        said.pop("422", None)
    operation["responses"] = dict(sorted(said.items()))
