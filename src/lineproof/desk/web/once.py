"""What every form that writes goes through: it is ours, it is read whole, and sent twice it counts once."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any, TypeVar

from fastapi import Request
from starlette.datastructures import UploadFile

from lineproof.desk.web.forms import must_be_ours
from lineproof.desk.web.tongue import refused
from lineproof.logbook.entry import is_uuid, new_id

MOST_FIELDS = 120
"""Fields of one form. [-]"""
T = TypeVar("T")
LONGEST = 4_000
"""Letters of one field. [-]"""
REMEMBERED = 2_000
"""Forms whose outcome is held, so that one sent twice is answered with it. [-]"""


@dataclass(frozen=True, slots=True)
class Form:
    """A form as it was sent.

    Parameters
    ----------
    fields : mapping
        Name to what was typed; several of one name are joined by commas.
    files : mapping
        Name to the file's own name and its bytes.
    """

    fields: Mapping[str, str]
    files: Mapping[str, tuple[str, bytes]] = field(default_factory=dict)

    def get(self, name: str, default: str = "") -> str:
        """What was typed into a field."""
        return self.fields.get(name, default).strip()

    @property
    def keep(self) -> bool:
        """It is to be written, not only looked at."""
        return self.get("act") == "keep"


async def read_form(request: Request) -> Form:
    """A form of ours, whole.

    Parameters
    ----------
    request : Request

    Returns
    -------
    Form

    Raises
    ------
    Refused
        It is not one of our pages', or too much.
    """
    fields: dict[str, str] = {}
    files: dict[str, tuple[str, bytes]] = {}
    async with request.form(max_fields=MOST_FIELDS, max_files=8) as sent:
        for name, value in sent.multi_items():
            if isinstance(value, UploadFile):
                content = await value.read()
                if content:
                    files[name] = (value.filename or "file", content)
            elif len(name) > 80 or len(value) > LONGEST or "\0" in value:
                raise refused("keep.long", field=name[:40], most=LONGEST)
            elif value:
                fields[name] = f"{fields[name]},{value}" if name in fields else value
    must_be_ours(request, fields.get("key", ""))
    return Form(fields, files)


def dealt() -> str:
    """The id of one writing, put into a form when it is shown."""
    return new_id()


class Once:
    """Outcomes of forms by the id they were dealt: the second of two presses is told what the first did."""

    def __init__(self) -> None:
        self._lock = threading.RLock()
        self._done: OrderedDict[str, Any] = OrderedDict()

    def do(self, id: str, act: Callable[[], T]) -> tuple[T, bool]:
        """Do what a form asks, unless it was done.

        Parameters
        ----------
        id : str
            As dealt with the form.
        act : callable
            Does it; what it raises is not held, so the form may be sent again.

        Returns
        -------
        outcome, bool
            What it gave, and whether it was done before.

        Raises
        ------
        Refused
            The form carries no id.
        """
        if not is_uuid(id):
            raise refused("keep.no_id")
        with self._lock:
            if id in self._done:
                return self._done[id], True
            found = act()
            self._done[id] = found
            while len(self._done) > REMEMBERED:
                self._done.popitem(last=False)
            return found, False


def local(path: str, otherwise: str) -> str:
    """A path of this server to go back to; anything else is not followed.

    Parameters
    ----------
    path : str
    otherwise : str

    Returns
    -------
    str
    """
    good = path.startswith("/") and not path.startswith(("//", "/\\")) and path.isprintable()
    return path if good and len(path) < LONGEST else otherwise
