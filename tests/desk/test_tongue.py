"""Which language a page is in: asked for in the address, kept on the device, heard from the browser."""

from __future__ import annotations

from pathlib import Path

import pytest
from starlette.testclient import TestClient

from web_rig import broken, client, works


@pytest.fixture(scope="module")
def job(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return works(tmp_path_factory.mktemp("tongue") / "job")


def asked(job: Path, **headers: str) -> TestClient:
    at = client(job)
    at.headers.update({k.replace("_", "-"): v for k, v in headers.items()})
    return at


def test_the_address_chooses_and_the_device_keeps_it(job: Path) -> None:
    at = asked(job)
    assert '<html lang="en">' in at.get("/people").text
    told = at.get("/people?in=es")
    assert '<html lang="es">' in told.text
    assert told.headers["content-language"] == "es"
    assert "Max-Age=31536000" in told.headers["set-cookie"]
    kept = at.get("/joints")
    assert "<h1>Juntas</h1>" in kept.text
    assert "set-cookie" not in kept.headers
    assert '<html lang="en">' in at.get("/joints?in=en").text
    assert "<h1>Joints</h1>" in at.get("/joints").text


@pytest.mark.parametrize(
    ("heard", "language"),
    [
        ("es-MX,es;q=0.9,en;q=0.8", "es"),
        ("en-US,en;q=0.9,es;q=0.8", "en"),
        ("de, es;q=0.4, en;q=0.3", "es"),
        ("de, fr", "en"),
        ("es;q=0", "en"),
        ("es;q=lots, en", "en"),
        ("", "en"),
    ],
)
def test_the_first_time_the_browser_says(job: Path, heard: str, language: str) -> None:
    """RFC 9110, 12.5.4 and 12.4.2 (from memory): the highest weight first, 0 means not acceptable."""
    assert f'<html lang="{language}">' in asked(job, accept_language=heard).get("/figures").text


@pytest.mark.parametrize("wrong", ["?in=de", "?in=", "?in=es%0d%0aset-cookie:%20a=b", "?in"])
def test_a_language_that_is_not_carried_changes_nothing(job: Path, wrong: str) -> None:
    told = asked(job).get("/figures" + wrong)
    assert told.status_code == 200
    assert '<html lang="en">' in told.text
    assert "set-cookie" not in told.headers


def test_what_was_kept_wrongly_is_not_heard(job: Path) -> None:
    for kept in ("language=de", "language", "=;;\x7f", "language=" + "e" * 5000):
        assert '<html lang="en">' in asked(job, cookie=kept).get("/figures").text


def test_the_link_leads_to_the_same_question_in_the_other_language(job: Path) -> None:
    told = asked(job).get("/may?verb=move&subject=B-201").text
    assert 'href="/may?verb=move&amp;subject=B-201&amp;in=es" hreflang="es" lang="es">Español</a>' in told
    back = asked(job).get("/may?verb=move&subject=B-201&in=es").text
    assert 'href="/may?verb=move&amp;subject=B-201&amp;in=en" hreflang="en" lang="en">English</a>' in back
    assert "FALTA UN DATO" in back
    assert back.count("to be read over by a native-speaking fitter") == 1


def test_trouble_is_told_in_the_language_of_the_page(job: Path, tmp_path: Path) -> None:
    told = asked(job).get("/papers/none.pdf?in=es")
    assert told.status_code == 400
    assert "no hay ningún papel none.pdf; se permite: un papel de la lista; siguiente paso:" in told.text
    read = asked(broken(tmp_path / "b")).get("/joints?in=es")
    assert read.status_code == 409
    assert "En inglés:" in read.text
    assert '<p class="sentence" role="alert" lang="en">' in read.text
    assert "gallop" in read.text
    assert "esa página no existe" in asked(job).get("/nada?in=es").text
