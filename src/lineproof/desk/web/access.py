"""Who may ask for what: one row for every page and call. What is in no row is refused.

On this machine alone everything is allowed to whoever sits at it. On the site's network a device was
paired by the lead to one person and to what that person does here; this table says what follows from it.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum


class Role(StrEnum):
    """What somebody does on the job. Who signs as what stands in job.toml under ``[signs]``."""

    LEAD = "lead"
    JOINER = "joiner"
    INSPECTOR = "inspector"
    ENGINEER = "engineer"
    TEST_IN_CHARGE = "test_in_charge"
    WITNESS = "witness"
    VIEWER = "viewer"


SIGNING = frozenset({Role.LEAD, Role.INSPECTOR, Role.ENGINEER, Role.TEST_IN_CHARGE, Role.WITNESS})
"""Roles that hold only while job.toml names the person for them."""

EVERYBODY = frozenset(Role)
RECORDS = EVERYBODY - {Role.VIEWER}
LEAD = frozenset({Role.LEAD})
CREW = frozenset({Role.LEAD, Role.JOINER})

FORM = ("application/x-www-form-urlencoded",)
UPLOAD = ("multipart/form-data",)
JSON = ("application/json",)
ENTRIES = ("application/x-ndjson",)
PARTS = ("application/octet-stream",)

LARGEST = 1_000_000
"""Largest body, unless a row says otherwise. [bytes]"""


@dataclass(frozen=True, slots=True, kw_only=True)
class Row:
    """One page or call.

    Parameters
    ----------
    method, path : str
        As the route has them, ``{names}`` included. A GET row is also for HEAD.
    roles : frozenset of Role
        Whose devices may ask for it; any of them is enough.
    takes : tuple of str
        Content types of the body; none if it takes no body.
    largest : int
        Largest body. [bytes]
    unpaired : bool
        A device that nobody paired may ask for it too.
    """

    method: str
    path: str
    roles: frozenset[Role]
    takes: tuple[str, ...] = ()
    largest: int = LARGEST
    unpaired: bool = False


def see(path: str, roles: frozenset[Role] = EVERYBODY, *, unpaired: bool = False) -> Row:
    """A page that only shows."""
    return Row(method="GET", path=path, roles=roles, unpaired=unpaired)


def send(
    path: str,
    roles: frozenset[Role],
    takes: tuple[str, ...] = FORM,
    *,
    largest: int = LARGEST,
    unpaired: bool = False,
) -> Row:
    """A form or a call that writes, or that works hard."""
    return Row(method="POST", path=path, roles=roles, takes=takes, largest=largest, unpaired=unpaired)


ROWS: tuple[Row, ...] = (
    see("/"),
    see("/lines"),
    see("/lines/{name}"),
    see("/pad", LEAD),
    see("/pad/new", LEAD),
    see("/pad/{line:path}", LEAD),
    send("/pad/{line:path}", LEAD),
    send("/api/pad/step", LEAD, JSON),
    send("/api/pad/save", LEAD, JSON),
    see("/tape"),
    send("/tape", CREW),
    see("/tape/fitting"),
    send("/tape/fitting", CREW),
    see("/pieces"),
    see("/joints"),
    see("/tag"),
    see("/joint/{line}/{number}"),
    see("/may"),
    send("/may", RECORDS),
    send("/release", frozenset({Role.TEST_IN_CHARGE})),
    see("/release/{id:path}"),
    see("/figures"),
    see("/figures/{name}"),
    see("/record"),
    see("/record/{kind}", RECORDS),
    send("/record/{kind}", RECORDS, (*FORM, *UPLOAD)),
    see("/settle"),
    send("/settle", frozenset({Role.LEAD, Role.INSPECTOR, Role.ENGINEER, Role.TEST_IN_CHARGE})),
    see("/people"),
    see("/papers"),
    send("/papers/make", RECORDS),
    see("/papers/{name}"),
    see("/issue", LEAD),
    send("/issue", LEAD),
    see("/sync/job"),
    see("/sync/heads"),
    send("/sync/entries", RECORDS, ENTRIES),
    see("/sync/photo/{digest}", RECORDS),
    send("/sync/photo/{digest}", RECORDS, PARTS, largest=300_000),
    see("/photo/{digest}"),
    see("/card/"),
    see("/card/words.json"),
    see("/card/card.webmanifest", unpaired=True),  # a browser asks for it without the cookie
    see("/card/worker.js"),
    see("/card/{line}/{number}"),
    see("/pair", unpaired=True),
    send("/pair", EVERYBODY, largest=2000, unpaired=True),
    see("/phones", LEAD),
    send("/phones/pair", LEAD),
    send("/phones/drop", LEAD),
    see("/openapi.json"),
    see("/static/{path:path}", unpaired=True),
)
"""Every page and call of the server. A house test holds this against the routes."""

TABLE = {(row.method, row.path): row for row in ROWS}


def row_of(method: str, path: str) -> Row | None:
    """The row of a route; None if nobody may ask for it.

    Parameters
    ----------
    method : str
    path : str
        As the route has it.

    Returns
    -------
    Row or None
    """
    return TABLE.get(("GET" if method == "HEAD" else method, path))
