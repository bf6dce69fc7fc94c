"""The calls and pages do what their description says, for whatever is sent: schemathesis tries them all.

What stands outside the project: the OpenAPI description is read by schemathesis, which makes requests that
fit it and requests that do not, and holds each answer against it.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import schemathesis
from fastapi import FastAPI
from hypothesis import given, seed, settings
from hypothesis import strategies as st
from hypothesis.errors import FailedHealthCheck, Unsatisfiable
from jsonschema import Draft202012Validator
from schemathesis import GenerationMode
from schemathesis.checks import CHECKS, load_all_checks
from schemathesis.core.failures import FailureGroup
from schemathesis.schemas import APIOperation, BaseSchema
from starlette.testclient import TestClient
from starlette.types import Receive, Scope, Send

from lineproof.desk.record_book import job_uuid, settings_of
from lineproof.desk.web.app import create_app
from lineproof.desk.web.guard import LOOPBACK
from logbook.rig import SHA, chain
from web_rig import HERE, broken, client, small, works

LINES = "application/x-ndjson"
load_all_checks()
NOT_ASKED = [CHECKS.get_one("positive_data_acceptance")]
"""What fits the description may still name a joint that is not there: that is a sentence and 400."""
FEW, MANY = 6, 30
SEED, OTHER_SEED = 20261130, 4
NAMES = (*LOOPBACK, "testserver")


@pytest.fixture(scope="module")
def app(tmp_path_factory: pytest.TempPathFactory) -> Iterator[FastAPI]:
    folder = works(tmp_path_factory.mktemp("described") / "job")
    (folder / "out").mkdir(exist_ok=True)
    (folder / "out" / "pack.pdf").write_bytes(b"%PDF-1.7 invented")
    made = create_app(folder, names=NAMES)
    yield made
    made.state.site.close()


def sendings(folder: Path) -> st.SearchStrategy[bytes]:
    """Chains of this job whole, with a line taken out, doubled or cut short, and plain rubbish."""
    job = job_uuid(settings_of(folder))
    told: list[tuple[str, dict[str, Any]]] = [
        ("hold_end", {"joint": "B-201/J1"}),
        ("note", {"joint": "B-201/J1", "text": "a photo", "photos": [SHA]}),
        ("disturbed", {"joint": "B-201/J2"}), ("joint_made", {"joint": "B-201/J3"}),
    ]  # fmt: skip
    chains = [[e.raw for e in chain(f"phone {n}", told, job=job)] for n in range(4)]
    several = st.sampled_from(chains).flatmap(lambda c: st.lists(st.sampled_from(c), min_size=1, max_size=6))
    whole = st.sampled_from(chains)
    joined = st.one_of(whole, several).map(lambda some: b"\n".join(some) + b"\n")
    cut = st.tuples(joined, st.integers(1, 400)).map(lambda two: two[0][: -two[1]] or b"{")
    return st.one_of(joined, cut, st.binary(min_size=1, max_size=200))


@pytest.fixture(scope="module")
def described(app: FastAPI) -> BaseSchema:
    schemathesis.openapi.media_type(LINES, sendings(app.state.site.folder))

    async def without_end(scope: Scope, receive: Receive, send: Send) -> None:
        """The client starts and ends the application around every call; here it goes on."""
        if scope["type"] == "lifespan":
            await receive()
            await send({"type": "lifespan.startup.complete"})
            await receive()
            await send({"type": "lifespan.shutdown.complete"})
        else:
            await app({**scope, "server": ("127.0.0.1", 80)}, receive, send)

    refuses = {"negative_data_rejection": {"expected-statuses": [400, 404, 409, 413, 415, 422]}}
    config = schemathesis.Config.from_dict({"checks": refuses})
    return schemathesis.openapi.from_asgi("/openapi.json", without_end, config=config)


def key_of(ask: TestClient) -> str:
    """What the forms of this run carry."""
    found = re.search(r'name="key" value="([^"]+)"', ask.get("/tape").text)
    assert found
    return found[1]


def _fill(case: schemathesis.Case, there: Mapping[str, str]) -> None:
    """Names that are in the job, so that what lies behind the first refusal is tried as well."""
    for values in (case.path_parameters, case.query, case.body):
        if isinstance(values, dict):
            values |= {name: there[name] for name in values.keys() & there.keys()}


def try_all(described: BaseSchema, app: FastAPI, number: int, examples: int) -> Counter[int]:
    """Every operation with what fits its description and what does not; how often each status came."""
    came: Counter[int] = Counter()
    failed: list[str] = []
    there = {
        "key": key_of(client_of(app)), "file": "lines/B-201.walk", "line": "B-201", "number": "J1",
        "verb": "raise", "subject": "B-2", "gauge": "95 psi", "at": "PG-2", "medium": "water",
        "a": "J1", "b": "J2",
        "text": "line B-201 size 12in pipe pvc sch80\nstarts at cap\ngo north 4'\n", "length": "2'-3 1/2\"",
    }  # fmt: skip
    operations = [found.ok() for found in described.get_all_operations()]
    assert {o.path for o in operations} >= {"/sync/entries", "/sync/job", "/api/pad/step", "/tape", "/may"}
    for operation in operations:
        for mode in (GenerationMode.POSITIVE, GenerationMode.NEGATIVE):
            try:
                _trial(operation, mode, number, examples, there, came)
            except (Unsatisfiable, FailedHealthCheck):
                assert mode is GenerationMode.NEGATIVE, operation.label  # nothing can be wrong in it
            except (FailureGroup, Exception) as error:  # noqa: BLE001 - each is told at the end
                failed.append(f"{operation.label} {mode.value}: {_why(error)}")
    assert not failed, "\n\n".join(failed)
    return came


def _trial(
    operation: APIOperation,
    mode: GenerationMode,
    number: int,
    examples: int,
    there: Mapping[str, str],
    came: Counter[int],
) -> None:
    @seed(number)
    @settings(max_examples=examples, derandomize=False, database=None)
    @given(case=operation.as_strategy(generation_mode=mode), real=st.booleans())
    def tried(case: schemathesis.Case, real: bool) -> None:
        if real and mode is GenerationMode.POSITIVE:
            _fill(case, there)
        answer = case.call()
        came[answer.status_code] += 1
        case.validate_response(answer, excluded_checks=NOT_ASKED)

    tried()


def _why(error: BaseException) -> str:
    each = error.exceptions if isinstance(error, FailureGroup) else [error]
    return "; ".join(f"{type(one).__name__} {one} {getattr(one, '__notes__', '')}" for one in each)


@pytest.mark.slow
def test_every_answer_is_described(described: BaseSchema, app: FastAPI) -> None:
    came = try_all(described, app, SEED, FEW)
    assert {200, 400, 422} <= came.keys()


@pytest.mark.slow
def test_every_answer_is_described_at_length(described: BaseSchema, app: FastAPI) -> None:
    came = try_all(described, app, OTHER_SEED, MANY)
    assert {200, 400, 409, 422} <= came.keys()


# ---------------------------------------------------------------- what a client can make no case of

REFUSED = {"/sync/": "sentence", "/api/": "refused"}


def validator(app: FastAPI, name: str) -> Draft202012Validator:
    told = app.openapi()["components"]
    return Draft202012Validator({"$ref": f"#/components/schemas/{name}", "components": told})


@pytest.mark.parametrize(
    ("method", "path", "sent", "kind", "code"),
    [
        ("POST", "/api/pad/step", b"{", "application/json", 422),
        ("POST", "/api/pad/step", b"[1, 2", "application/json", 422),
        ("POST", "/api/pad/step", b"\xff\xfe\x00", "application/json", 400),
        ("POST", "/api/pad/step", b'{"row": 1e999}', "application/json", 422),
        ("POST", "/api/pad/save", b"key=1", "application/x-www-form-urlencoded", 415),
        ("POST", "/api/pad/save", b"", "application/json", 422),
        ("POST", "/sync/entries", b"{}", "application/json", 415),
        ("POST", "/sync/entries", b"\x00\xff", LINES, 400),
        ("POST", "/sync/job", b"", LINES, 405),
        ("GET", "/sync/nothing", b"", LINES, 404),
        ("GET", "/api/nothing", b"", LINES, 404),
        ("DELETE", "/sync/entries", b"", LINES, 405),
    ],
)
def test_a_broken_body_is_answered_as_described(
    app: FastAPI, method: str, path: str, sent: bytes, kind: str, code: int
) -> None:
    answer = client_of(app).request(method, path, content=sent, headers={"content-type": kind})
    assert answer.status_code == code
    assert answer.headers["content-type"] == "application/json"
    assert answer.json()[next(name for start, name in REFUSED.items() if path.startswith(start))]
    assert ("allow" in answer.headers) is (code == 405)
    spoken = "PadRefused" if path.startswith("/api/") else "Refused"
    validator(app, spoken).validate(answer.json())


def client_of(app: FastAPI) -> TestClient:
    return TestClient(app, base_url=HERE, raise_server_exceptions=True)


def test_a_body_that_says_less_than_it_sends_is_too_large_in_the_form_of_its_address(app: FastAPI) -> None:
    def much() -> Iterator[bytes]:
        for _ in range(30):
            yield b"x" * 50_000

    for path, kind, form in (
        ("/sync/entries", LINES, "application/json"),
        ("/api/pad/save", "application/json", "application/json"),
        ("/tape", "application/x-www-form-urlencoded", "text/plain; charset=utf-8"),
    ):
        answer = client_of(app).post(path, content=much(), headers={"content-type": kind})
        assert answer.status_code == 413, path
        assert answer.headers["content-type"] == form


def test_a_foreign_or_misnamed_call_is_refused_in_its_own_form(app: FastAPI) -> None:
    ask = client_of(app)
    away = ask.post("/sync/entries", content=b"{}", headers={"origin": "http://elsewhere.example"})
    assert (away.status_code, away.json()["lineproof"]) == (403, "refused")
    named = ask.get("/sync/job", headers={"host": "elsewhere.example"})
    assert (named.status_code, named.json()["lineproof"]) == (421, "refused")
    page = ask.get("/", headers={"host": "elsewhere.example"})
    assert page.headers["content-type"].startswith("text/plain")


@pytest.mark.parametrize("make", [works, small, broken])
def test_what_a_card_keeps_fits_its_description_for_every_job(tmp_path: Path, make: Any) -> None:
    ask = client(make(tmp_path / "job"))
    answer = ask.get("/sync/job")
    name = "CardJob" if make is not broken else "Refused"
    assert answer.status_code == (200 if make is not broken else 409)
    validator(ask.app, name).validate(answer.json())  # type: ignore[arg-type]


ODD = (
    "%00",
    "..%2f..%2fjob.toml",
    "..%5c..",
    "%ff%fe",
    "a" * 3000,
    "%F0%9F%9B%A0",
    "'%22%3Cscript%3E",
    "%0d%0aX:1",
)


@pytest.mark.slow
@pytest.mark.parametrize("make", [small, broken])
def test_no_page_breaks_on_an_odd_address_or_form(tmp_path: Path, make: Any) -> None:
    """Of a job whose files are whole and of one whose walk cannot be read: a sentence, never a fault."""
    ask = client(make(tmp_path / "job"))
    key = key_of(ask) if make is small else "none"
    for operation, item in ask.app.openapi()["paths"].items():  # type: ignore[attr-defined]
        for odd in ODD:
            path = re.sub(r"\{\w+\}", odd, operation)
            if "get" in item:
                for query in (
                    "",
                    f"?line={odd}&language={odd}&verb=raise&subject={odd}&name={odd}&size={odd}",
                ):
                    assert ask.get(path + query, follow_redirects=False).status_code < 500, path + query
            if "post" in item:
                for form in (
                    f"key={key}&line={odd}&a={odd}&b={odd}&length={odd}&file={odd}&seen=x&text={odd}",
                ):
                    kind = {"content-type": "application/x-www-form-urlencoded"}
                    assert ask.post(path, content=form, headers=kind).status_code < 500, path
