"""What every form is held against before anything is written."""

from __future__ import annotations

from fastapi import Request

from lineproof.desk.web.who import who_of
from lineproof.floor.errors import BadInput


def must_be_ours(request: Request, key: str) -> None:
    """Refuse a form that was not made for who sends it: by this run of the server, in this session.

    Parameters
    ----------
    request : Request
    key : str
        As the form carried it.

    Raises
    ------
    BadInput
    """
    if not who_of(request).fits(key):
        raise BadInput(
            "this form was made before the server was started again, or for another phone",
            allowed="a form of a page that is open now",
            next="open the page again and send it from there; nothing was written",
        )
