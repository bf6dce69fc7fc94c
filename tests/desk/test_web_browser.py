"""The pages in a real browser: nothing runs off the screen, targets are large, no error is logged."""

from __future__ import annotations

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser

from lineproof.desk.web.page import PLACES
from web_rig import browser, served, works

SCREENS = [(360, 740), (820, 1180), (1440, 900)]
LOOKED_AT = [
    *(path for path, _ in PLACES), "/lines/B-201", "/figures/head?height=22ft&density=1000kg/m3", "/issue",
    "/may?verb=raise&subject=B-2&gauge=135psi&at=PG-2&medium=water", "/record/joint_made",
    "/tape/fitting?of=elbow%20|%2090%20|%20pvc%20|%20sch80%20|%2012%20in%20|%20%20|%20E12-3",
]  # fmt: skip
LEAST = 44.0
"""Side of a target on a page for the office or the tablet; the joint card has its own. [CSS px]"""
SMALL = """() => [...document.querySelectorAll('nav a, button, input, select, .rows a, .press, .pick')]
  .filter(e => e.offsetParent !== null && !['hidden', 'checkbox', 'radio'].includes(e.type))
  .filter(e => e.getBoundingClientRect().height < %f)
  .map(e => e.outerHTML.slice(0, 80))"""


@pytest.fixture(scope="module")
def there(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[str, Browser]]:
    folder = works(tmp_path_factory.mktemp("browser") / "job")
    with served(folder) as address, browser() as started:
        yield address, started


@pytest.mark.parametrize("screen", SCREENS, ids=lambda s: f"{s[0]}x{s[1]}")
def test_pages_fit_the_screen_with_large_targets_and_no_error(
    there: tuple[str, Browser], screen: tuple[int, int]
) -> None:
    address, started = there
    context = started.new_context(viewport={"width": screen[0], "height": screen[1]})
    page = context.new_page()
    trouble: list[str] = []
    page.on("console", lambda m: trouble.append(m.text) if m.type in ("error", "warning") else None)
    page.on("pageerror", lambda e: trouble.append(str(e)))
    for path in LOOKED_AT:
        page.goto(address + path)
        wide = page.evaluate("document.documentElement.scrollWidth - innerWidth")
        assert wide <= 0, (path, wide)
        assert page.evaluate(SMALL % LEAST) == [], path
    assert trouble == []
    context.close()


def test_light_on_dark_is_a_choice_that_stays(there: tuple[str, Browser]) -> None:
    address, started = there
    context = started.new_context(viewport={"width": 820, "height": 1180})
    page = context.new_page()
    page.goto(address + "/joints")
    ink = "getComputedStyle(document.documentElement).backgroundColor"
    assert page.evaluate(ink) == "rgb(255, 255, 255)"
    page.get_by_role("button", name="dark").click()
    assert page.evaluate(ink) == "rgb(16, 18, 20)"
    page.goto(address + "/people")
    assert page.evaluate(ink) == "rgb(16, 18, 20)"
    context.close()


def test_the_keyboard_alone_reaches_the_content_and_asks(there: tuple[str, Browser]) -> None:
    address, started = there
    page = started.new_page()
    page.goto(address + "/may")
    page.keyboard.press("Tab")
    assert page.evaluate("document.activeElement.className") == "skip"
    page.keyboard.press("Enter")
    page.get_by_label("what", exact=True).focus()
    page.keyboard.type("B-201")
    page.keyboard.press("Enter")
    page.wait_for_url("**subject=B-201**")
    assert page.get_by_role("status").inner_text().startswith("CANNOT TELL")
    page.close()


def test_a_length_is_tapped_on_large_keys_and_shown_back_before_it_is_kept(
    there: tuple[str, Browser],
) -> None:
    address, started = there
    context = started.new_context(viewport={"width": 360, "height": 740}, has_touch=True, is_mobile=True)
    page = context.new_page()
    page.set_default_timeout(60_000)
    page.goto(address + LOOKED_AT[-1])
    page.locator("input[name='d1.1']").tap()
    pad = page.locator(".length-pad")
    heights = pad.locator("button").evaluate_all("all => all.map(b => b.getBoundingClientRect().height)")
    assert min(heights) >= 56.0
    for key in ("6", "1/16"):
        pad.get_by_role("button", name=key, exact=True).tap()
    assert page.locator("input[name='d1.1']").input_value() == '6 1/16"'
    page.locator("input[name='d2.1']").fill("6 1/16")
    page.locator("select[name=by]").select_option("P-2")
    page.get_by_role("button", name="Show it back before it is kept").tap()
    page.get_by_text("4 pieces can be cut now").wait_for()
    assert page.get_by_role("button", name="Keep it", exact=True).is_visible()
    assert "built-in" not in page.inner_text("main")
    context.close()
