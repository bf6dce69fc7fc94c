"""What every form is held against before anything is written."""

from __future__ import annotations

from fastapi import Request

from lineproof.desk.web.tongue import refused
from lineproof.desk.web.who import who_of


def must_be_ours(request: Request, key: str) -> None:
    """Refuse a form that was not made for who sends it: by this run of the server, in this session.

    Parameters
    ----------
    request : Request
    key : str
        As the form carried it.

    Raises
    ------
    Refused
    """
    if not who_of(request).fits(key):
        raise refused("trouble.old_form")
