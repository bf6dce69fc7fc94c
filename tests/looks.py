"""What is asked of every page in a real browser: axe-core, contrast, width, targets, the keyboard."""

from __future__ import annotations

import hashlib
from pathlib import Path
from typing import Any

from fastapi.responses import HTMLResponse
from playwright.sync_api import Page

from lineproof.desk.web.app import PAGES

AXE = Path(__file__).resolve().parent / "vendor" / "axe-core" / "axe.min.js"
AXE_VERSION, AXE_SHA256 = "4.10.3", "880970c081707360e64f34cea25ff91892f5bc95675b0776925b9709dd8a68bb"
LOOKS = ("day", "dark", "glare")

FILLED = {
    "/": ["/"],
    "/lines/{name}": ["/lines/EX-1", "/lines/none"],
    "/pad/new": ["/pad/new?name=N-1&size=6in&material=pvc&wall=sch80&for=test", "/pad/new"],
    "/pad/{line:path}": ["/pad/EX-1"],
    "/joint/{line}/{number}": ["/joint/EX-1/J1", "/joint/EX-1/J99"],
    "/may": [
        "/may",
        "/may?verb=move&subject=EX-1",
        "/may?verb=raise&subject=EX-1",
        "/may?verb=fly&subject=x",
    ],
    "/figures/{name}": ["/figures/head", "/figures/head?height=22ft&density=1000kg/m3", "/figures/none"],
    "/record/{kind}": ["/record/hold_end", "/record/joint_made", "/record/none"],
    "/release/{id:path}": ["/release/R-1"],
    "/card/": ["/card/"],
    "/card/{line}/{number}": ["/card/EX-1/J1"],
}
"""Addresses of routes that need something filled in, or answer in several ways; lines as in a new folder."""


def is_page(answer: object) -> bool:
    """Whether a route answers with a page."""
    return isinstance(answer, type) and issubclass(answer, HTMLResponse)


def routes() -> list[str]:
    """Every route that answers with a page, as the application has them."""
    return [
        route.path
        for page in PAGES
        for route in page.router.routes
        if "GET" in route.methods and is_page(route.response_class)
    ]


def addresses(line: str = "EX-1", joint: str = "J1") -> list[str]:
    """Every page with its places filled in; a route that needs something and is not in FILLED fails here."""
    found = []
    for path in routes():
        assert path in FILLED or "{" not in path, f"{path} is not looked at: fill it in"
        found += FILLED.get(path, [path])
    return [a.replace("EX-1/J1", f"{line}/{joint}").replace("EX-1", line) for a in found]


def axe_of(page: Page, *, only: tuple[str, ...] = ()) -> list[str]:
    """What axe-core finds against a page, one line each."""
    if not page.evaluate("() => 'axe' in window"):
        script = AXE.read_bytes()
        assert hashlib.sha256(script).hexdigest() == AXE_SHA256
        page.evaluate(script.decode())
    options: dict[str, Any] = {"resultTypes": ["violations"]}
    if only:
        options["runOnly"] = {"type": "rule", "values": list(only)}
    told = page.evaluate("(options) => axe.run(document, options)", options)
    assert told["testEngine"]["version"] == AXE_VERSION
    assert only or len(told["passes"]) > 5  # it looked at something
    return [
        f"{v['id']}: {v['help']}: {n['html'][:160]}" + "".join(a["message"] for a in n["any"])[:200]
        for v in told["violations"]
        for n in v["nodes"][:4]
    ]


def look(page: Page, way: str) -> None:
    """The page in one of its lights."""
    page.evaluate(
        "(way) => { for (const w of ['day', 'dark', 'glare'])"
        " document.documentElement.classList.toggle(w, w === way); }",
        way,
    )


WIDE = "document.documentElement.scrollWidth - innerWidth"
"""How much wider a page is than its window. [CSS px]"""

SMALL = """(least) => [...document.querySelectorAll('a[href], button, input, select, textarea, summary')]
  .filter((e) => e.type !== 'hidden' && !e.classList.contains('skip') && e.checkVisibility())
  .filter((e) => !(e.tagName === 'A' && getComputedStyle(e).display === 'inline'))
  .map((e) => [(e.closest('label.pick') ?? e).getBoundingClientRect(), e])
  .filter(([box]) => box.width > 0 && (box.height < least - 0.01 || box.width < least - 0.01))
  .map(([box, e]) => `${Math.round(box.width)} x ${Math.round(box.height)}: ${e.outerHTML.slice(0, 90)}`)"""
"""Targets smaller than this; links within a sentence are left out (WCAG 2.2, 2.5.8, from memory)."""

FAINT = """(least) => {
  const rgba = (text) => {
    const n = text.match(/[\\d.]+/g).map(Number);
    return [n[0], n[1], n[2], n[3] ?? 1]; };
  const over = (top, under) => [0, 1, 2].map((i) => top[i] * top[3] + under[i] * (1 - top[3])).concat(1);
  const behind = (e) => {
    const layers = [];
    for (let at = e; at; at = at.parentElement) {
      const colour = rgba(getComputedStyle(at).backgroundColor);
      if (colour[3] > 0) layers.push(colour);
      if (colour[3] === 1) break;
    }
    return layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
  };
  const light = (c) => [0.2126, 0.7152, 0.0722].reduce((sum, weight, i) => {
    const s = c[i] / 255;
    return sum + weight * (s <= 0.04045 ? s / 12.92 : ((s + 0.055) / 1.055) ** 2.4); }, 0);
  const ratio = (a, b) => {
    const [x, y] = [light(a), light(b)].sort((p, q) => q - p);
    return (x + 0.05) / (y + 0.05); };
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  const faint = []; let looked = 0;
  while (walker.nextNode()) {
    const e = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !e.checkVisibility({ visibilityProperty: true })) continue;
    if (e.closest('svg, script, noscript, .skip, option, datalist, textarea')) continue;
    looked += 1;
    const paper = behind(e), ink = over(rgba(getComputedStyle(e).color), paper);
    const told = ratio(ink, paper);
    if (told < least) faint.push(`${told.toFixed(2)}: ${e.outerHTML.slice(0, 90)}`);
  }
  return looked ? [...new Set(faint)].slice(0, 8) : ['nothing was looked at'];
}"""
"""Texts with less contrast than this: WCAG 2.2, relative luminance and contrast ratio (from memory)."""

TABBED = """() => {
  const e = document.activeElement;
  if (!e || e === document.body || e === document.documentElement) return null;
  const style = getComputedStyle(e), box = e.getBoundingClientRect();
  const all = [...document.querySelectorAll('*')];
  return { at: all.indexOf(e), what: e.outerHTML.slice(0, 100),
    seen: style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2,
    there: box.width > 0 && box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
    many: all.length };
}"""
