"""The main job by keys alone: Tab, Enter, Space, arrows and what is typed; the focus is always to be seen."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from sashwright.record import store
from tests.factories import family_document, house_document, window_document

FAR = 250
"""Presses of Tab after which something counts as out of reach."""

# The focus is drawn on the thing itself, or on what stands for it: the border round a field, the face
# of a radio button, the parts of a drawing that are a link.
AT = """() => {
  const at = document.activeElement;
  if (!at || at === document.body) return null;
  const faces = [at, at.closest('.control'), at.nextElementSibling, at.closest('label')];
  const probe = document.createElement('i');
  probe.style.color = 'var(--red)';
  document.body.append(probe);
  const red = getComputedStyle(probe).color;
  probe.remove();
  // A part of a drawing is drawn over in red pencil.
  const pencilled = at instanceof SVGElement
    && [...at.querySelectorAll('*')].some((each) => getComputedStyle(each).stroke === red);
  const seen = pencilled || faces.filter(Boolean).some((each) => {
    const style = getComputedStyle(each);
    return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
  });
  const box = at.getBoundingClientRect();
  return {
    what: at.outerHTML.slice(0, 120),
    seen,
    inside: box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth,
    top: box.top + scrollY,
    main: Boolean(at.closest('main')) && !at.closest('svg'),
  };
}"""


class Keys:
    """A keyboard at a page; whatever has the focus must be seen to have it."""

    def __init__(self, page: Page) -> None:
        self.page = page

    def press(self, key: str) -> dict[str, Any] | None:
        """Press it; answer what has the focus then, after Tab."""
        self.page.keyboard.press(key)
        if not key.endswith("Tab"):
            return None
        at: dict[str, Any] | None = self.page.evaluate(AT)
        if at is not None:
            assert at["seen"], f"no focus to be seen: {at['what']}"
            assert at["inside"], f"the focus is out of sight: {at['what']}"
        return at

    def follow(self) -> None:
        """Enter, and the page that comes."""
        with self.page.expect_navigation():
            self.page.keyboard.press("Enter")

    def to(self, selector: str, *, back: bool = False) -> None:
        """Go on, or back, to the first thing that matches."""
        key = "Shift+Tab" if back else "Tab"
        for _ in range(FAR):
            at = self.press(key)
            if at and self.page.evaluate("css => document.activeElement.matches(css)", selector):
                return
        raise AssertionError(f"{selector} is out of reach of {key}")

    def type(self, text: str) -> None:
        self.page.keyboard.type(text)


@pytest.fixture
def oak(transactional_db: None) -> str:
    options = [{"key": "sills", "name": "Sills by the owner", "amount": "-40.00"}]
    document = house_document(
        name="Oak",
        owner="Ann",
        families={"A": family_document()},
        windows=[window_document("101")],
        pricing={"options": options},
    )
    return store.create_house(document, store.local_owner())


@pytest.fixture
def keys(browser_page: Any, live_server: Any) -> Iterator[Callable[..., Keys]]:
    """Open a page and put the mouse away; whatever the browser complains of fails the test."""
    said: list[str] = []

    def open_page(path: str, **context: Any) -> Keys:
        page: Page = browser_page(base_url=live_server.url, **context)
        page.on("pageerror", lambda error: said.append(str(error)))

        def told(message: Any) -> None:
            # A part that is still asked for when the page is left is no fault.
            if message.type == "error" and not message.text.startswith("htmx:"):
                said.append(message.text)

        page.on("console", told)
        page.goto(path)
        return Keys(page)

    yield open_page
    assert said == []


def test_the_first_key_skips_to_the_page(keys: Callable[..., Keys], oak: str) -> None:
    at = keys(f"/{oak}/")
    at.press("Tab")
    expect(at.page.get_by_role("link", name="To the page")).to_be_focused()
    expect(at.page.locator(".skip")).to_be_in_viewport()
    at.press("Enter")
    expect(at.page.locator("#main")).to_be_focused()
    at.press("Tab")
    expect(at.page.get_by_role("link", name="Add windows")).to_be_focused()


def test_the_job_by_keys_alone(keys: Callable[..., Keys], oak: str) -> None:
    at = keys(f"/{oak}/")
    _add_a_window(at)
    _record_a_finding(at)
    _decide(at)
    _accept_the_price(at)
    _note_a_stage(at)


def _add_a_window(at: Keys) -> None:
    """A window: the width has the focus, the number and the rest are suggested."""
    page = at.page
    at.to('main a[href$="/add"]')
    at.follow()
    expect(page.locator("#f-width")).to_be_focused()
    at.type("30 1/4")
    at.to('[name="height"]')
    at.type("58")
    at.press("Enter")
    expect(page.locator(".justadded")).to_contain_text("Window 102 added")
    expect(page.locator("#f-width")).to_be_focused()
    at.to('.pagehead a[href$="/oak/"]', back=True)
    at.follow()
    at.to('[aria-label="Window 102"]')
    at.follow()


def _record_a_finding(at: Keys) -> None:
    """A finding: the part of the map, the fault by its first letters, how bad by the arrows."""
    page = at.page
    at.to('.sheetnav [href="#part-condition"]')
    at.press("Enter")
    expect(page.locator("#part-condition:not(.waiting) .surveymap")).to_be_in_viewport()
    at.to('.surveymap a[href*="on=lower.bottom_rail#"]')
    at.press("Enter")
    expect(page.locator("#found-fault")).to_be_focused()
    at.type("Decay")
    severe = page.locator("#finding-form").get_by_label("Severe", exact=True)
    expect(severe).to_be_attached()
    expect(page.locator("#found-fault")).to_have_value("decay")
    at.to('[name="severity"]:checked')
    at.press("ArrowRight")
    expect(severe).to_be_checked()
    at.to('#finding-form button[value="finding"]')
    at.press("Enter")
    expect(page.locator("#notices")).to_contain_text("Lower bottom rail: kept.")
    (found,) = store.stored("oak", "window", "102").document["condition"]["found"]
    assert (found["on"], found["fault"], found["severity"]) == (
        "lower.bottom_rail",
        "decay",
        "severe",
    )


def _decide(at: Keys) -> None:
    """Decided: the alternatives are one set of radio buttons."""
    page = at.page
    at.to('.sheetnav [href="#part-treat"]', back=True)
    at.press("Enter")
    expect(page.locator("#part-treat:not(.waiting)")).to_be_in_viewport()
    at.to('#part-treat [name="alternative"]')
    shop = page.locator('#part-treat [value="shop"]')
    for _ in range(page.locator('#part-treat [name="alternative"]').count()):
        if shop.is_checked():
            break
        at.press("ArrowDown")
    at.to("#part-treat button.primary")
    at.press("Enter")
    expect(page.locator("#part-treat")).to_contain_text(
        re.compile(r"Decided .*: restored in the shop")
    )
    assert store.stored("oak", "window", "102").document["decision"]["alternative"] == "shop"


def _accept_the_price(at: Keys) -> None:
    """The price: an option ticked, and accepted."""
    page = at.page
    at.to('.titleblock a[href="/oak/"]', back=True)
    at.follow()
    at.to('.housenav [href$="/treat"]')
    at.follow()
    at.to('.housenav [href$="/price"]')
    at.follow()
    at.to("#tick-sills")
    at.press("Space")
    expect(page.locator(".hang h3").first).to_have_text("What if")
    expect(page.locator("#tick-sills")).to_be_focused()
    expect(page.locator("#tick-sills")).to_be_checked()
    at.to(".accepting summary")
    at.press("Enter")
    at.to('.accepting button[value="accept"]')
    at.follow()
    expect(page.locator(".accepted")).to_contain_text("Nothing in the price has changed since.")
    assert store.stored("oak", "house").document["pricing"]["accepted"]["ticked"] == ["sills"]


def _note_a_stage(at: Keys) -> None:
    """The first stage of a sash."""
    page = at.page
    at.to('.housenav [href$="/make"]')
    at.follow()
    at.to('.housenav [href$="/board"]')
    at.follow()
    at.to('[href$="/scan/102-lower"]')
    at.follow()
    at.to(".nextstage")
    at.press("Space")
    expect(page.locator(".stands strong")).to_have_text("Removed")
    assert [(row.piece, row.stage) for row in store.stages("oak", "102")] == [("lower", "removed")]


@pytest.mark.parametrize(
    "path", ["price", "orders", "board", "papers", "windows/101/condition?on=sill&fault=decay"]
)
def test_the_focus_goes_down_the_page_and_out_of_it(
    keys: Callable[..., Keys], oak: str, path: str
) -> None:
    """One column, as on a phone: never far back up but within a drawing, and no place that holds it."""
    at = keys(f"/{oak}/{path}", viewport={"width": 390, "height": 844})
    assert at.page.locator("[tabindex]:not([tabindex='0'], [tabindex='-1'])").count() == 0
    seen: list[str] = []
    last = 0.0
    for _ in range(FAR):
        found = at.press("Tab")
        if found is None:
            break
        if found["main"]:
            assert found["top"] >= last - 60, f"back up the page to {found['what']}"
            last = found["top"]
        seen.append(found["what"])
    else:
        raise AssertionError("the focus never comes out of the page")
    assert len(seen) > 15
