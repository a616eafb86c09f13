"""Every page for everybody: by axe's rules in every light, by name, at every width, and for gloves."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from importlib import resources
from pathlib import Path
from typing import Any

import pytest
from axe_playwright_python.sync_playwright import Axe
from django.test import Client
from django.urls import NoReverseMatch, URLPattern, get_resolver, resolve, reverse

from tests.web.everypage import ELSEWHERE, OUTSIDE, PAGES, SLOW, arguments, record

Places = Mapping[str, str]


@pytest.fixture
def places(transactional_db: None) -> Places:
    return record()


def addresses(places: Places) -> dict[str, str]:
    return {name: path.format(**places) for name, path in PAGES.items()}


def opened(
    browser_page: Any, live_server: Any, places: Places, **context: Any
) -> Iterator[tuple[str, Any]]:
    """Each page once, all in one context; then those for whoever is not known, in another."""
    page = browser_page(base_url=live_server.url, **context)
    for name, path in addresses(places).items():
        page.goto(path)
        yield name, page
    outside = browser_page(base_url=live_server.url, extra_http_headers=ELSEWHERE, **context)
    for name, path in OUTSIDE.items():
        outside.goto(path)
        yield name, outside


# --- none is forgotten ----------------------------------------------------------------


def test_every_page_of_the_table_is_looked_at(places: Places) -> None:
    """What answers with a whole page of HTML has its line in ``PAGES``."""
    known = {str(resolve(path.partition("?")[0]).url_name) for path in addresses(places).values()}
    known |= {str(resolve(path).url_name) for path in OUTSIDE.values()}
    clients = Client(SERVER_NAME="localhost"), Client(SERVER_NAME="localhost", headers=ELSEWHERE)
    missing = set()
    for pattern in get_resolver().url_patterns:
        if not isinstance(pattern, URLPattern) or pattern.name in SLOW | known:
            continue
        try:
            address = reverse(str(pattern.name), kwargs=arguments(pattern, places))
        except NoReverseMatch:
            missing.add(f"{pattern.name}: no address")
            continue
        for client in clients:
            found = client.get(address)
            if found.status_code == 200 and b"<html" in b"".join(found):
                missing.add(str(pattern.name))
    assert missing == set()


# --- axe ------------------------------------------------------------------------------

LIGHTS: Mapping[str, Mapping[str, Any]] = {
    "dark": {"color_scheme": "dark"},
    "high contrast": {"color_scheme": "light", "forced_colors": "active"},
}
"""Lights in which only colours differ from the page by day."""


# The browser lays a patch in the colour of the page under letters it recolours: letters that already have
# that colour would be gone, and axe does not see it.
PATCHED = """() => {
  const page = getComputedStyle(document.body).backgroundColor;
  return [...document.querySelectorAll('body *')]
    .filter((each) => [...each.childNodes].some((node) => node.nodeType === 3 && node.data.trim()))
    .filter((each) => each.getClientRects().length && !(each instanceof SVGElement))
    .filter((each) => {
      const style = getComputedStyle(each);
      return style.color === page && style.forcedColorAdjust !== 'none';
    })
    .map((each) => each.outerHTML.slice(0, 80));
}"""


def grave(page: Any, *rules: str) -> list[Any]:
    """What axe calls serious or critical, by all its rules or by some."""
    options: dict[str, Any] = {"resultTypes": ["violations"]}
    if rules:
        options["runOnly"] = {"type": "rule", "values": list(rules)}
    return [
        (rule["id"], [node["target"] for node in rule["nodes"]][:3])
        for rule in Axe().run(page, options=options).response["violations"]
        if rule["impact"] in ("serious", "critical")
    ]


def test_axe_finds_nothing_serious(browser_page: Any, live_server: Any, places: Places) -> None:
    found: dict[str, Any] = {}
    kinds: set[str] = set()
    size = {"width": 1440, "height": 900}
    for name, page in opened(browser_page, live_server, places, viewport=size):
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        seen = {"light": grave(page)}
        kind = str(resolve(page.evaluate("location.pathname")).url_name)
        # The same kind of page with other figures in it has the same colours.
        for light, media in LIGHTS.items() if kind not in kinds else ():
            page.emulate_media(**media)
            seen[light] = grave(page, "color-contrast")
            if light == "high contrast":
                seen[light] += page.evaluate(PATCHED)
        kinds.add(kind)
        page.emulate_media(color_scheme="light", forced_colors="none")
        found |= {f"{name}, {light}": wrong for light, wrong in seen.items() if wrong}
    assert found == {}


# --- more contrast --------------------------------------------------------------------

CSS = Path(str(resources.files("sashwright.web"))) / "static/web/css"
INKS = ("ink", "ink-soft", "red")
GROUNDS = ("paper", "paper-deep", "sheet")


def colours(*files: str, more: bool) -> dict[str, str]:
    """What the names of colours stand for, the later files over the earlier ones."""
    found: dict[str, str] = {}
    for file in files:
        text = (CSS / file).read_text()
        plain, _, asked = text.partition("@media (prefers-contrast: more)")
        for part in (plain, asked) if more else (plain,):
            found |= dict(re.findall(r"--([\w-]+): (#[0-9a-f]{6});", part))
    return found


def contrast(one: str, other: str) -> float:
    """The contrast of two colours by WCAG 2.2, "contrast ratio" and "relative luminance"."""

    def luminance(colour: str) -> float:
        parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
        red, green, blue = (
            part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
        )
        return 0.2126 * red + 0.7152 * green + 0.0722 * blue

    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_that_of_the_standard() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    # The lightest grey on white that WCAG lets pass for text, as its own notes name it.
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)


@pytest.mark.parametrize("files", [("tokens.css",), ("tokens.css", "dark.css")])
@pytest.mark.parametrize(("more", "least"), [(False, 4.5), (True, 7.0)])
def test_whoever_asks_for_more_contrast_gets_it(
    files: tuple[str, ...], more: bool, least: float
) -> None:
    """WCAG 2.2: 4.5 to 1 for text (1.4.3), 7 to 1 for more (1.4.6), 3 to 1 round a field (1.4.11)."""
    found = colours(*files, more=more)
    texts = {
        f"{ink} on {ground}": contrast(found[ink], found[ground])
        for ink in INKS
        for ground in GROUNDS
    } | {"on ink": contrast(found["on-ink"], found["ink"])}
    assert {pair: ratio for pair, ratio in texts.items() if ratio < least} == {}
    edges = {ground: contrast(found["rule-strong"], found[ground]) for ground in GROUNDS}
    assert min(edges.values()) >= 3


# --- names, widths, gloves ------------------------------------------------------------

# A line of an aria snapshot: the role and the name of something people act on or look at.
NAMED = re.compile(
    r"^\s*- (?P<role>button|link|textbox|searchbox|spinbutton|combobox|checkbox|radio|slider|img|"
    r'switch|group|region|navigation)(?: "(?P<name>(?:[^"\\]|\\.)*)")?'
)
NEED_NONE = frozenset({"group", "navigation", "region"})
"""What may go without a name, but not by a bare one."""


NAMES_ENOUGH = frozenset({"A4", *"0123456789"})
"""A paper; and the keys of a keypad, which are called what they type."""


def nameless(snapshot: str) -> list[str]:
    """What has no name, or one without a word in it."""
    wrong = []
    for line in snapshot.splitlines():
        match = NAMED.match(line)
        if match is None:
            continue
        name = match["name"]
        if name is None and match["role"] in NEED_NONE:
            continue
        if name in NAMES_ENOUGH:
            continue
        if not re.search(r"[^\W\d_]{2}", name or ""):
            wrong.append(line.strip())
    return wrong


def test_everything_has_a_name_in_words(
    browser_page: Any, live_server: Any, places: Places
) -> None:
    found = {}
    for name, page in opened(browser_page, live_server, places):
        page.evaluate("for (const each of document.querySelectorAll('details')) each.open = true")
        wrong = nameless(page.locator("body").aria_snapshot())
        if wrong:
            found[name] = sorted(set(wrong))[:6]
    assert found == {}


SMALL = """() => [...document.querySelectorAll(
    'main .button, main .control, .tabset span, .housenav .steps li, .steppages a, .chip, .card')]
  .filter((each) => each.offsetParent && each.getBoundingClientRect().height < 43)
  .map((each) => each.outerHTML.slice(0, 80))"""
"""Targets that a glove would miss [43 CSS pixels are the 11 mm of a fingertip, less a border]."""


def test_pages_fit_every_width_and_gloves(
    browser_page: Any, live_server: Any, places: Places
) -> None:
    wide, small = {}, {}
    phone = {"width": 390, "height": 844}
    for name, page in opened(browser_page, live_server, places, viewport=phone, has_touch=True):
        if found := page.evaluate(SMALL):
            small[name] = found[:3]
        for width in (390, 768, 1440):
            page.set_viewport_size({"width": width, "height": 844})
            needed = page.evaluate("document.documentElement.scrollWidth")
            if needed > width:
                wide[f"{name} at {width}"] = needed
        page.set_viewport_size(phone)
    assert wide == {}
    assert small == {}
