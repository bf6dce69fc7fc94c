"""What every form is held against before anything is written."""

from __future__ import annotations

from fastapi import Request

from lineproof.desk.web.guard import FormKey
from lineproof.floor.errors import BadInput


def must_be_ours(request: Request, key: str) -> None:
    """Refuse a form that was not made by this run of the server.

    Parameters
    ----------
    request : Request
    key : str
        As the form carried it.

    Raises
    ------
    BadInput
    """
    ours: FormKey = request.app.state.key
    if not ours.fits(key):
        raise BadInput(
            "this form was made before the server was started again",
            allowed="a form of a page that is open now",
            next="open the page again and send it from there; nothing was written",
        )
