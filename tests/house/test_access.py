"""Who may ask for what: every page and call is in the table; what is in no row is refused."""

from __future__ import annotations

from pathlib import Path

import pytest
from fastapi.responses import PlainTextResponse
from starlette.routing import BaseRoute

from lineproof.desk.web.access import EVERYBODY, ROWS, TABLE, Role, row_of
from lineproof.desk.web.app import create_app, routes_of
from lineproof.desk.web.guard import key_of
from web_rig import client, small

NEXT = "add a row to ROWS in desk/web/access.py: who may ask for it, and what its body may be"


@pytest.fixture(scope="module")
def routes(tmp_path_factory: pytest.TempPathFactory) -> tuple[BaseRoute, ...]:
    return routes_of(create_app(small(tmp_path_factory.mktemp("access") / "job")))


def asked(routes: tuple[BaseRoute, ...]) -> set[tuple[str, str]]:
    return {
        (method, key_of(route))
        for route in routes
        for method in getattr(route, "methods", None) or {"GET"}
        if method != "HEAD"
    }


def test_every_route_is_in_the_table_and_every_row_has_a_route(routes: tuple[BaseRoute, ...]) -> None:
    assert asked(routes) - TABLE.keys() == set(), NEXT
    assert TABLE.keys() - asked(routes) == set(), "a row of a page that is gone"
    assert len(ROWS) == len(TABLE), "two rows for one route"


def test_what_writes_says_what_it_takes_and_is_not_for_everybody() -> None:
    for row in ROWS:
        assert row.method in {"GET", "POST"}
        assert row.roles <= EVERYBODY
        assert row.roles
        if row.method == "GET":
            assert row.takes == ()
            continue
        assert row.takes, f"{row.path}: say which content types it takes"
        assert 0 < row.largest <= 32_000_000
        assert row.unpaired or Role.VIEWER not in row.roles, f"{row.path}: a viewer looks on"
    assert {Role.WITNESS, Role.VIEWER}.isdisjoint(row_of("POST", "/tape").roles)  # type: ignore[union-attr]


def test_only_what_a_phone_needs_before_it_is_paired_is_open_to_all() -> None:
    open_to_all = {(row.method, row.path) for row in ROWS if row.unpaired}
    assert open_to_all <= {
        ("GET", "/static/{path:path}"), ("GET", "/card/card.webmanifest"),
        ("GET", "/pair"), ("POST", "/pair"),
    }  # fmt: skip


def test_a_route_without_a_row_is_refused_to_everybody(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Default deny, also at this machine: a page that somebody adds opens only with its row."""
    from lineproof.desk.web.pages import pieces

    ask = client(small(tmp_path / "job"))
    assert ask.get("/pieces").status_code == 200
    monkeypatch.delitem(TABLE, ("GET", "/pieces"))
    assert ask.get("/pieces").status_code == 404
    assert pieces.router.routes


def test_the_second_lock_holds_when_the_first_asks_for_another_route(tmp_path: Path) -> None:
    """If the guard took a route for another one, the page would still not open."""
    folder = small(tmp_path / "job")
    app = create_app(folder)

    @app.get("/hidden")
    def hidden() -> PlainTextResponse:
        return PlainTextResponse("seen")

    from starlette.testclient import TestClient

    assert TestClient(app, base_url="http://localhost").get("/hidden").status_code == 404
    assert row_of("GET", "/hidden") is None
