"""The walk pad in a real browser: the line walked on it is the line of the same text on the command line."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from web_rig import browser, served, small, works

pytestmark = pytest.mark.slow

LEAST = 56.0
"""Side of a key for a gloved hand. [CSS px]"""
KEYS = """least => [...document.querySelectorAll('#keys button, #rows button')]
  .filter(e => e.offsetParent !== null)
  .filter(e => e.getBoundingClientRect().height < least || e.getBoundingClientRect().width < least)
  .map(e => e.outerHTML.slice(0, 80))"""


@pytest.fixture(scope="module")
def started() -> Iterator[Browser]:
    with browser() as one:
        yield one


def opened(started: Browser, address: str, size: tuple[int, int] = (360, 740)) -> tuple[Page, list[str]]:
    page = started.new_context(viewport={"width": size[0], "height": size[1]}, has_touch=True).new_page()
    trouble: list[str] = []
    page.on("console", lambda m: trouble.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: trouble.append(str(e)))
    page.goto(address)
    ready(page)
    return page, trouble


def until(page: Page, true: str) -> None:
    """Wait for something to be so; the pages forbid the waiting that a browser's driver would inject."""
    for _ in range(600):
        if page.evaluate(true):
            return
        page.wait_for_timeout(20)
    raise AssertionError(f"never so: {true}")


def ready(page: Page) -> None:
    page.wait_for_selector("#pad[data-ready]")


def tap(page: Page, *keys: str) -> None:
    for key in keys:
        page.get_by_role("button", name=key, exact=True).tap()


def enter(page: Page, said: str = "") -> None:
    """Type a statement, or take the one that was tapped, and wait until it stands in the list."""
    if said:
        page.fill("#said", said)
    page.get_by_role("button", name="Enter", exact=True).click()
    until(
        page, "document.getElementById('said').value === '' && !document.getElementById('pad').dataset.busy"
    )


def begin(page: Page, address: str, name: str) -> None:
    page.goto(f"{address}/pad/new?name={name}&size=6in&material=pvc&wall=sch80&for=drain")
    ready(page)


def cli_pieces(folder: Path, line: str) -> list[tuple[Any, ...]]:
    run = subprocess.run(
        [sys.executable, "-m", "lineproof", "plan", "--job", str(folder), "--json"],
        capture_output=True, text=True, check=False,
    )  # fmt: skip
    told = json.loads(run.stdout)
    return [(p["letter"], p["cut"], p["state"]) for p in found_pieces(told) if p["line"] == line]


def found_pieces(told: Any) -> list[dict[str, Any]]:
    """Pieces wherever the answer holds them."""
    if isinstance(told, dict):
        if {"letter", "cut", "line"} <= told.keys():
            return [told]
        return [p for v in told.values() for p in found_pieces(v)]
    return [p for v in told for p in found_pieces(v)] if isinstance(told, list) else []


def test_a_line_tapped_on_the_pad_is_the_line_of_the_same_text(started: Browser, tmp_path: Path) -> None:
    folder, typed = small(tmp_path / "tapped"), small(tmp_path / "typed")
    with served(folder) as address:
        page, trouble = opened(started, address + "/pad/EX-1")
        begin(page, address, "Z-1")
        enter(page, "starts at open at 0, 0, 0 facing north")
        tap(page, "north", "1", "2", "feet", "6", "1/2")
        assert page.input_value("#said") == "go north 12'-6 1/2\""
        enter(page)
        tap(page, "west", "8", "feet", "up", "3", "feet", "3/4")  # a rolling leg
        assert page.input_value("#said") == "go west 8' up 3'-3/4\""
        tap(page, "back one")
        enter(page, "go west 8' up 3'")
        enter(page, "go west 4'")
        page.locator("summary", has_text="Parts and other").click()
        tap(page, "union")
        enter(page)
        tap(page, "west", "5", "feet", "field")
        enter(page)
        enter(page, "ends at cap  # end of the drain")
        until(page, "!document.getElementById('state').textContent.includes('mend')")
        tap(page, "Save")
        until(page, "document.getElementById('state').textContent.includes('Saved as')")
        assert trouble == []
        page.context.close()
    text = (folder / "lines" / "Z-1.walk").read_text("utf-8")
    (typed / "lines" / "Z-1.walk").write_text(
        'line Z-1 size 6in pipe pvc sch80 for "drain"\nstarts at open at 0, 0, 0 facing north\n'
        "go north 12'-6 1/2\"\ngo west 8' up 3'\ngo west 4'\nunion\n"
        "go west 5' field\nends at cap  # end of the drain\n",
        "utf-8",
    )
    assert text == (typed / "lines" / "Z-1.walk").read_text("utf-8")
    mine, theirs = cli_pieces(folder, "Z-1"), cli_pieces(typed, "Z-1")
    assert mine == theirs
    assert len(mine) == 4


def test_undo_redo_reload_and_a_change_of_somebody_else(started: Browser, tmp_path: Path) -> None:
    folder = small(tmp_path / "job")
    file = next((folder / "lines").glob("*.walk"))
    before = file.read_text("utf-8")
    line = next(r.split()[1] for r in before.splitlines() if r.startswith("line "))
    with served(folder) as address:
        page, trouble = opened(started, f"{address}/pad/{line}")
        rows = page.locator("#rows li")
        many = rows.count()
        enter(page, "# one")
        enter(page, "# two")
        assert rows.count() == many + 2
        told = page.evaluate("JSON.parse(sessionStorage.getItem(Object.keys(sessionStorage)[0]))")
        assert len(told["texts"]) == 3
        tap(page, "Undo")
        until(page, "!document.getElementById('redo').disabled")
        page.reload()
        ready(page)
        tap(page, "Redo")
        until(page, "document.getElementById('redo').disabled")
        told = page.evaluate("JSON.parse(sessionStorage.getItem(Object.keys(sessionStorage)[0]))")
        assert "# two" in told["texts"][told["at"]]
        assert file.read_text("utf-8") == before
        file.write_text(before + "# by somebody else\n", "utf-8")
        tap(page, "Save")
        page.wait_for_selector("#theirs:visible")
        assert "changed by somebody else" in page.inner_text("#refused")
        page.reload()
        ready(page)
        assert "Yours is still here" in page.inner_text("#refused")
        page.locator("#theirs").tap()
        page.wait_for_selector("#theirs", state="hidden")
        ready(page)
        assert file.read_text("utf-8").endswith("# by somebody else\n")
        assert [t for t in trouble if "409" not in t] == []
        page.context.close()


def test_no_tap_is_lost_however_fast_it_comes(started: Browser, tmp_path: Path) -> None:
    with served(small(tmp_path / "job")) as address:
        page, trouble = opened(started, address + "/pad/EX-1")
        begin(page, address, "Z-1")
        page.evaluate(
            """() => {
              const said = document.getElementById('said'), enter = document.getElementById('enter');
              const way = (name) => document.querySelector(`[data-way=${name}]`).click();
              said.value = 'starts at open at 0, 0, 0 facing north'; enter.click();
              for (let n = 1; n < 6; n += 1) {
                way(n % 2 ? 'north' : 'east');
                document.querySelector(`[data-type="${n}"]`).click();
                document.querySelector(`[data-type="'"]`).click();
                enter.click();
              }
              said.value = 'ends at open'; enter.click(); way('up');
            }"""
        )
        until(page, "!document.getElementById('pad').dataset.busy")
        told = page.evaluate("JSON.parse(sessionStorage.getItem('pad lines/Z-1.walk'))")
        assert told["texts"][told["at"]].splitlines()[1:] == [
            "starts at open at 0, 0, 0 facing north", "go north 1'", "go east 2'", "go north 3'",
            "go east 4'", "go north 5'", "ends at open",
        ]  # fmt: skip
        assert page.input_value("#said") == "go up "  # tapped meanwhile, kept
        assert trouble == []
        page.context.close()


def test_what_is_wrong_stands_beside_its_step(started: Browser, tmp_path: Path) -> None:
    with served(works(tmp_path / "job")) as address:
        page, trouble = opened(started, address + "/pad/B-201")
        page.fill("#said", "go nort 3'")
        page.get_by_role("button", name="Enter", exact=True).tap()
        until(page, "document.getElementById('refused').textContent.includes('did you mean north')")
        until(page, "!document.getElementById('pad').dataset.busy")
        assert page.input_value("#said") == "go nort 3'"
        row = page.locator("#rows button", has_text="go north 5'-6\"")
        row.click()
        at = int(row.get_attribute("data-row") or 0)
        enter(page, 'put "V-99"')
        item = page.locator(f'#rows li:has(button[data-row="{at + 1}"])')
        assert "no part with the tag V-99" in item.locator(".trouble").inner_text()
        assert f"lines/B-201.walk:{at + 1}" in item.inner_text()
        assert page.locator("#rows .trouble").count() == 1
        assert page.locator("#sheets svg").count() >= 1
        assert "1 to mend" in page.inner_text("#state")
        tap(page, "Take out")
        until(page, "!document.querySelector('#rows .trouble')")
        assert trouble == []
        page.context.close()


@pytest.mark.parametrize("size", [(360, 740), (820, 1180), (1440, 900)], ids=lambda s: f"{s[0]}")
def test_keys_are_large_and_nothing_runs_off(started: Browser, tmp_path: Path, size: tuple[int, int]) -> None:
    with served(works(tmp_path / "job")) as address:
        page, trouble = opened(started, address + "/pad/B-201", size)
        page.locator("summary", has_text="Parts and other").click()
        assert page.evaluate(KEYS, LEAST) == []
        assert page.evaluate("document.documentElement.scrollWidth - innerWidth") <= 0
        page.fill("#said", "go west 3'")
        page.wait_for_selector("#sheets path.here")
        assert trouble == []
        page.context.close()


def test_the_keyboard_alone_walks_a_leg(started: Browser, tmp_path: Path) -> None:
    with served(works(tmp_path / "job")) as address:
        page, _ = opened(started, address + "/pad/B-201", (820, 1180))
        page.locator("#rows button").first.focus()
        page.keyboard.press("ArrowDown")
        page.keyboard.press("ArrowDown")
        assert page.locator("#rows button[aria-pressed=true]").inner_text().endswith("go north 4'-6\"")
        while page.evaluate("document.activeElement.dataset.way ?? ''") != "east":
            page.keyboard.press("Tab")
        page.keyboard.press("Enter")
        until(page, "document.getElementById('said').value === 'go east '")
        page.focus("#said")
        page.keyboard.press("End")
        page.keyboard.type("2'-6\"")
        page.keyboard.press("Enter")
        until(page, "document.querySelector('#rows [aria-pressed=true]').innerText.includes('go east 2')")
        assert page.locator("#rows button[aria-pressed=true]").inner_text().endswith("go east 2'-6\"")
        page.locator("#rows button[aria-pressed=true]").focus()
        page.keyboard.press("Control+z")
        until(page, "!document.getElementById('redo').disabled")
        page.context.close()


def test_without_a_script_the_page_reads_and_its_text_is_looked_at(started: Browser, tmp_path: Path) -> None:
    with served(small(tmp_path / "job")) as address:
        page = started.new_context(
            java_script_enabled=False, viewport={"width": 360, "height": 740}
        ).new_page()
        page.goto(address + "/pad")
        page.locator("main ul a").first.click()
        page.locator("#sheets svg").first.wait_for()
        assert page.locator("#keys").is_hidden()
        page.locator("#whole summary").click()
        text = page.locator("textarea").input_value()
        page.locator("textarea").fill(text.replace("go north", "go nort", 1))
        page.get_by_role("button", name="Look at it").click()
        assert "did you mean north" in page.locator("#rows .trouble").first.inner_text()
        page.context.close()
