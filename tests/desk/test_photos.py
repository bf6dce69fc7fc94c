"""Photographs: after their entry, in parts, by their hash; owed until they are here."""

from __future__ import annotations

import hashlib
import io
import itertools
import re
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from starlette.testclient import TestClient

from lineproof.desk.record_book import job_uuid, settings_of
from lineproof.logbook.photos import LARGEST_PART, LARGEST_PHOTO, Photos, kind_of, photos_of
from logbook.rig import chain
from verb_rig import verb
from web_rig import client, works

PARTS = {"content-type": "application/octet-stream"}
LINES = {"content-type": "application/x-ndjson"}


def picture(kind: str = "JPEG", size: tuple[int, int] = (640, 480)) -> bytes:
    out = io.BytesIO()
    Image.effect_noise(size, 90).convert("RGB").save(out, kind)
    return out.getvalue()


def sha(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()


def tell(ask: TestClient, folder: Path, *photos: bytes, joint: str = "B-201/J1", word: str = "phone") -> None:
    job = job_uuid(settings_of(folder))
    body = {"joint": joint, "text": "photo", "photos": [sha(p) for p in photos]}
    sent = chain(word, [("note", body)], job=job)
    answer = ask.post("/sync/entries", content=b"".join(e.raw + b"\n" for e in sent), headers=LINES)
    assert answer.status_code == 200, answer.text


def part(ask: TestClient, digest: str, content: bytes, at: int, of: int) -> Any:
    return ask.post(f"/sync/photo/{digest}", params={"at": at, "of": of}, content=content, headers=PARTS)


@pytest.fixture
def job(tmp_path: Path) -> tuple[TestClient, Path]:
    folder = works(tmp_path / "job")
    return client(folder), folder


def test_a_photograph_comes_in_parts_and_goes_on_where_it_broke_off(job: tuple[TestClient, Path]) -> None:
    ask, folder = job
    whole = picture()
    digest = sha(whole)
    tell(ask, folder, whole)
    assert ask.get(f"/photo/{digest}").status_code == 400, "owed: told, and not here"
    assert "PHOTO OWED" in ask.get("/joint/B-201/J1").text
    cut = [0, 50_000, 90_000, len(whole)]
    for start, end in itertools.pairwise(cut):
        told = part(ask, digest, whole[start:end], start, len(whole)).json()
        assert told == {"lineproof": "photo", "photo": digest, "have": end, "whole": end == len(whole)}
        again = part(ask, digest, whole[start:end], start, len(whole)).json()
        assert again == told, "a part sent again changes nothing"
        client_after_restart = client(folder)
        assert client_after_restart.get(f"/sync/photo/{digest}").json() == told, "it outlives the server"
    shown = ask.get(f"/photo/{digest}")
    assert shown.content == whole
    assert shown.headers["content-type"] == "image/jpeg"
    assert shown.headers["x-content-type-options"] == "nosniff"
    page = ask.get("/joint/B-201/J1").text
    assert f'src="/photo/{digest}"' in page
    assert "PHOTO OWED" not in page
    assert (folder / "files" / digest[:2] / digest).read_bytes() == whole
    assert not list((folder / "files" / "coming").iterdir())


def test_what_is_not_the_photograph_that_was_told_is_refused(job: tuple[TestClient, Path]) -> None:
    ask, folder = job
    good, html = picture("PNG"), b"<html><script>1</script></html>" * 20
    other = picture()
    tell(ask, folder, good, html, other)
    cases = {
        "no entry": (sha(b"never told"), b"\xff\xd8\xff", 0, 3),
        "no picture": (sha(html), html, 0, len(html)),
        "size": (sha(good), good[:9], 0, LARGEST_PHOTO + 1),
        "empty": (sha(good), b"", 0, len(good)),
        "past its end": (sha(good), good[:100], 0, 50),
        "large part": (sha(good), good[:8] + b"x" * LARGEST_PART, 0, LARGEST_PHOTO),
    }
    for why, (digest, content, at, of) in cases.items():
        told = part(ask, digest, content, at, of)
        assert told.status_code in (400, 422), why
        assert told.json()["lineproof"] == "refused", why
    swapped = part(ask, sha(other), good[:LARGEST_PART], 0, min(len(good), LARGEST_PART))
    assert swapped.status_code == 400
    assert "does not bear the hash" in swapped.json()["sentence"]
    assert ask.get(f"/sync/photo/{sha(other)}").json()["have"] == 0, "it starts anew"
    assert not [p for p in (folder / "files").rglob("*") if p.is_file()]
    for name in ("..%2f..%2fjob.toml", "../../job.toml", sha(good).upper(), sha(good)[:-1], "%00"):
        for answer in (ask.get(f"/photo/{name}"), part(ask, name, b"\xff\xd8\xff", 0, 3)):
            assert answer.status_code in (404, 405, 422), name


def test_a_part_out_of_order_says_where_to_go_on(job: tuple[TestClient, Path]) -> None:
    ask, folder = job
    whole = picture()
    tell(ask, folder, whole)
    told = part(ask, sha(whole), whole[1000:2000], 1000, len(whole)).json()
    assert (told["have"], told["whole"]) == (0, False)
    part(ask, sha(whole), whole[:1000], 0, len(whole))
    assert part(ask, sha(whole), whole[5000:6000], 5000, len(whole)).json()["have"] == 1000


def test_only_files_that_an_entry_names_as_a_photograph_are_shown(job: tuple[TestClient, Path]) -> None:
    """The shelf holds loggers' files too: they are no pictures for everybody."""
    ask, folder = job
    content = picture()
    digest = sha(content)
    shelf = folder / "files" / digest[:2]
    shelf.mkdir(parents=True)
    (shelf / digest).write_bytes(content)
    assert ask.get(f"/photo/{digest}").status_code == 400


def test_a_photograph_is_owed_on_now_and_counted_in_the_record(job: tuple[TestClient, Path]) -> None:
    ask, folder = job
    here, owed = picture(), picture("PNG")
    tell(ask, folder, here, owed)
    part(ask, sha(here), here[:LARGEST_PART], 0, len(here))
    if len(here) > LARGEST_PART:
        part(ask, sha(here), here[LARGEST_PART:], LARGEST_PART, len(here))
    said = verb("now", "--job", folder)
    assert re.search(r"photo: .*J1", said.out), said.out
    told = verb("record", "print", "joints", "B-201/J1", "--job", folder)
    assert told.code == 0, told
    from pypdf import PdfReader

    file = next((folder / "out").glob("joint-record*.pdf"))
    text = " ".join(" ".join(page.extract_text() for page in PdfReader(file).pages).split())
    assert "PHOTO OWED: 1 here, 1 to come" in text
    assert "2 photos, 1 of them not here yet" in text


def test_a_note_that_promises_a_photograph_is_owed_until_one_is_told() -> None:
    owed = ("note", {"joint": "L/J1", "text": "photo owed"})
    taken = ("note", {"joint": "L/J1", "text": "photo", "photos": ["ab" * 32]})
    other = ("note", {"joint": "L/J2", "text": "photo owed, said Bela"})
    promised = photos_of(chain("one", [owed, other]), lambda _d: False)
    assert promised == {"L/J1": Photos(promised=True)}
    told = photos_of(chain("one", [owed, taken]), lambda _d: True)
    assert told == {"L/J1": Photos(here=("ab" * 32,))}
    assert not told["L/J1"].any_owed
    assert photos_of(chain("one", [owed, taken]), lambda _d: False)["L/J1"].owed == ("ab" * 32,)


def test_pictures_are_known_by_their_first_bytes() -> None:
    """ITU-T T.81 annex B and ISO/IEC 15948 clause 5.2, as written by another library (Pillow)."""
    assert kind_of(picture("JPEG")) == "image/jpeg"
    assert kind_of(picture("PNG")) == "image/png"
    for kind in ("GIF", "BMP", "TIFF", "WEBP"):
        assert kind_of(picture(kind)) == "", kind
