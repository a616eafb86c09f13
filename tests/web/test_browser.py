"""The pages in a real browser: typing, sliding, weighing, looking, with keys and with fingers."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import Page, expect

from sashwright.record import store
from tests.factories import house_document

if TYPE_CHECKING:
    from collections.abc import Callable

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture
def elm(transactional_db: None) -> str:
    """The house of the factories, in a database that the server's threads see."""
    return store.create_house(house_document(), store.local_owner())


@pytest.fixture
def visit(browser_page: Any, live_server: Any) -> Callable[..., Page]:
    """Open a page; whatever the browser complains of fails the test."""
    opened: list[tuple[str, list[str]]] = []

    def open_page(path: str, **context: Any) -> Page:
        page: Page = browser_page(base_url=live_server.url, **context)
        complaints: list[str] = []
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: _complain(said, complaints))
        opened.append((path, complaints))
        page.goto(path)
        return page

    yield open_page
    assert [(path, said) for path, said in opened if said] == []


def _complain(said: Any, complaints: list[str]) -> None:
    # A refused field answers 422 or 409, which the browser also tells in the console; and one test
    # takes the connection away.
    expected = ("status of 4", "ERR_FAILED", "htmx:sendError", "htmx:afterRequest")
    if said.type == "error" and not any(words in said.text for words in expected):
        complaints.append(said.text)


def width_of(slug: str) -> str:
    return str(store.stored(slug, "window", "101").document["width"])


def test_a_field_saves_itself_and_the_drawing_follows(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.fill("#f-width", "36 1/4")
    # Drawn as it is typed, before anything is saved.
    expect(page.locator("#view desc")).to_contain_text('36 1/4" wide')
    expect(page.locator("#state")).to_have_text("All saved")
    assert width_of(elm) == "32 in"
    page.press("#f-width", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    assert width_of(elm) == "36 1/4 in"
    expect(page.locator("#answer")).to_contain_text("What it hangs on")


def test_a_bad_value_stays_with_its_reason(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.fill("#f-height", "62 1/x")
    page.press("#f-height", "Enter")
    expect(page.locator("#s-f-height")).to_contain_text("expected a length")
    expect(page.locator("#state")).to_have_text("Not saved: Height of opening")
    expect(page.locator("#f-height")).to_have_value("62 1/x")
    expect(page.locator("#f-height")).to_have_attribute("aria-invalid", "true")
    expect(page.locator("#f-height")).to_be_focused()
    # Another field goes its own way meanwhile.
    page.fill("#f-room", "library")
    page.press("#f-room", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    expect(page.locator("#f-height")).to_have_value("62 1/x")
    page.fill("#f-height", "5' 3\"")
    page.press("#f-height", "Enter")
    expect(page.locator("#s-f-height")).to_be_empty()
    expect(page.locator("#f-height")).to_have_value("63")


def test_undo_and_redo_with_keys(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.fill("#f-width", "40")
    page.press("#f-width", "Tab")
    expect(page.locator("#undo")).to_be_enabled()
    page.locator("h1").click()
    page.keyboard.press("Control+z")
    expect(page.locator("#notices")).to_contain_text("Undid: window 101: width 32 in to 40 in.")
    expect(page.locator("#f-width")).to_have_value("32")
    page.keyboard.press("Control+Shift+z")
    expect(page.locator("#f-width")).to_have_value("40")
    # Inside a field these keys are the browser's own.
    page.fill("#f-room", "x")
    page.press("#f-room", "Control+z")
    expect(page.locator("#f-width")).to_have_value("40")


def test_two_people_at_one_window(visit: Callable[..., Page], elm: str) -> None:
    first, second = visit(f"/{elm}/windows/101/"), visit(f"/{elm}/windows/101/")
    first.fill("#f-room", "library")
    first.press("#f-room", "Tab")
    expect(first.locator("#state")).to_contain_text("Saved")
    second.fill("#f-width", "33")
    second.press("#f-width", "Tab")
    expect(second.locator("#conflict")).to_contain_text("both are kept")
    expect(second.locator("#f-room")).to_have_value("library")
    first.fill("#f-width", "35")
    first.press("#f-width", "Tab")
    expect(first.locator("#conflict")).to_contain_text("Which is right?")
    expect(first.locator("#conflict")).to_contain_text("35 in")
    expect(first.locator("#conflict")).to_contain_text("33 in")
    expect(first.locator("#f-width")).to_have_value("35")
    first.get_by_role("button", name="Keep mine").click()
    expect(first.locator("#state")).to_contain_text("Saved")
    expect(first.locator("#conflict")).to_be_empty()
    assert width_of(elm) == "35 in"


def test_taking_theirs(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    store.save_fields(elm, "window", "101", {"width": "31 in"}, 1, store.local_owner())
    page.fill("#f-width", "35")
    page.press("#f-width", "Tab")
    page.get_by_role("link", name="Take theirs").click()
    expect(page.locator("#f-width")).to_have_value("31")


def test_a_lost_connection_is_told_and_made_good(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.route("**/field", lambda route: route.abort())
    page.fill("#f-room", "library")
    page.press("#f-room", "Tab")
    expect(page.locator("#state")).to_contain_text("Not saved: no connection")
    page.unroute("**/field")
    page.evaluate("window.dispatchEvent(new Event('online'))")
    expect(page.locator("#state")).to_contain_text("Saved")
    assert store.stored(elm, "window", "101").document["room"] == "library"


def test_a_difference_from_the_family(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.locator("#differs summary").click()
    page.select_option("#add-field", "pocket.across")
    field = page.locator("#f-changes-pocket-across")
    expect(field).to_be_focused()
    field.fill("1 7/8")
    field.press("Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    page.reload()
    expect(field).to_have_value("1 7/8")
    page.get_by_role("button", name="Clear width across as the rest").click()
    expect(field).to_have_count(0)


def sash(page: Page, which: str) -> Any:
    return page.locator(f'#view [role=slider][data-moves="{which}"]')


def test_a_sash_slides_by_keyboard(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/?view=opened")
    lower = sash(page, "lower")
    travel = int(lower.get_attribute("aria-valuemax"))
    assert 600 < travel < 900
    lower.focus()
    page.keyboard.press("ArrowUp")
    expect(lower).to_have_attribute("aria-valuetext", 'raised 1/2"')
    page.keyboard.press("PageUp")
    expect(lower).to_have_attribute("aria-valuetext", 'raised 4 1/2"')
    page.keyboard.press("End")
    expect(lower).to_have_attribute("aria-valuenow", str(travel))
    # The weights have gone down as far as the sash went up.
    up = lower.get_attribute("transform")
    down = page.locator('#view [data-part="lower.weight.left"]').get_attribute("transform")
    assert up == down.replace("translate(0 ", "translate(0 -")
    # What is read off at the end is what the chapter worked out for it.
    values = page.evaluate("JSON.parse(document.getElementById('slides').dataset.slides)")
    slide = values["sashes"]["lower"]
    shown = page.locator('[data-slide="lower"] [data-read="raise"]')
    expect(shown).to_have_text(f"{slide['raise_n'][-1] / 4.4482216152605:.1f} lb")
    page.keyboard.press("Home")
    expect(lower).to_have_attribute("aria-valuenow", "0")
    upper = sash(page, "upper")
    upper.focus()
    page.keyboard.press("ArrowDown")
    expect(upper).to_have_attribute("aria-valuetext", 'lowered 1/2"')


def test_a_sash_is_taken_hold_of(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/?view=opened")
    box = page.locator('#view [data-part="lower.bottom_rail"]').bounding_box()
    assert box is not None
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y - 120, steps=6)
    page.mouse.up()
    raised = int(sash(page, "lower").get_attribute("aria-valuenow"))
    assert raised > 100
    moved = page.locator('#view [data-part="lower.bottom_rail"]').bounding_box()
    assert moved is not None
    assert box["y"] - moved["y"] == pytest.approx(120, abs=3)
    # It stays where it is while the window is changed.
    page.fill("#f-width", "36")
    expect(page.locator("#view desc")).to_contain_text('36" wide')
    assert int(sash(page, "lower").get_attribute("aria-valuenow")) == pytest.approx(raised, abs=2)


def test_findings_point_at_their_part(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/?view=opened")
    finding = page.locator('.finding[data-on="lower.weight"]').first
    finding.focus()
    expect(page.locator('#view [data-part="lower.weight.left"]')).to_have_class("pointed")
    page.locator("h1").click()
    expect(page.locator('#view [data-part="lower.weight.left"]')).not_to_have_class("pointed")


def test_views_change_without_a_new_page(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/")
    page.evaluate("window.stays = true")
    for view, title in (("Inside", "from inside"), ("Opened", "opened"), ("Sections", "section")):
        page.get_by_label(view).check()
        expect(page.locator("#view svg title").first).to_contain_text(title)
    assert page.evaluate("window.stays") is True
    page.reload()
    expect(page.locator("#view svg title").first).to_contain_text("section")


def test_a_family_redraws_as_it_is_typed(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/families/A/")
    before = page.locator(".picture-vertical").inner_html()
    page.fill("#f-sash-bottom_rail", "5")
    page.wait_for_function(
        "before => document.querySelector('.picture-vertical').innerHTML !== before", arg=before
    )
    page.press("#f-sash-bottom_rail", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    assert store.stored(elm, "family", "A").document["sash"]["bottom_rail"] == "5 in"
    page.get_by_label("Level").check()
    expect(page.locator(".picture-horizontal")).to_be_visible()
    expect(page.locator(".picture-vertical")).to_be_hidden()


def test_windows_are_added_with_keys_alone(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/add")
    expect(page.locator("#f-width")).to_be_focused()
    for number, width, height in (("302", "26", "44"), ("303", "26 1/4", "3' 8\"")):
        page.keyboard.type(width)
        page.keyboard.press("Tab")
        page.keyboard.type(height)
        page.keyboard.press("Enter")
        expect(page.locator(".justadded")).to_contain_text(f"Window {number} added")
        expect(page.locator("#f-width")).to_be_focused()
        expect(page.locator("#f-width")).to_have_value("")
    page.keyboard.type("no")
    page.keyboard.press("Enter")
    expect(page.locator("#f-width")).to_be_focused()
    expect(page.locator("#s-f-width")).to_contain_text("Found 'no'")
    assert [window.number for window in store.load_house(elm).windows][-2:] == ["302", "303"]


def test_weighing_with_the_large_keys(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/bench")
    page.fill("#number", "101")
    expect(page.locator("#answer")).to_contain_text("computed")
    for key in ("1", "9", "take back", "8", "lb", "6"):
        page.get_by_role("button", name=key, exact=True).click()
    expect(page.locator("#mass")).to_have_value("18 lb 6")
    page.get_by_role("button", name="Weighed").click()
    expect(page.locator("#answer .giant").first).to_contain_text("8 lb 15 oz")
    expect(page.locator("#mass")).to_have_value("")
    # Readable from two yards: a capital of an inch at arm's length is far smaller than this.
    size = page.locator("#answer .giant strong").first.evaluate(
        "element => parseFloat(getComputedStyle(element).fontSize)"
    )
    assert size >= 64
    page.get_by_role("button", name="Undo this reading").click()
    expect(page.locator("#answer")).to_contain_text("computed")
    assert store.readings(elm, "101") == []


def test_the_schedule_is_narrowed_without_a_new_page(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/")
    page.evaluate("window.stays = true")
    page.fill("#text", "dining")
    rows = page.locator("#schedule tbody th")
    expect(rows).to_have_text(["103L", "103R"])
    page.locator("#sort-number").click()
    page.locator("#sort-number").click()
    expect(rows).to_have_text(["103R", "103L"])
    page.fill("#text", "")
    expect(rows).to_have_count(5)
    page.select_option("#family", "B")
    expect(rows).to_have_text(["301"])
    assert page.evaluate("window.stays") is True
    page.go_back()
    expect(rows).not_to_have_text(["301"])


def test_the_schedule_is_walked_with_arrows(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/")
    page.locator("#schedule tbody th a").first.focus()
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowDown")
    page.keyboard.press("ArrowUp")
    page.keyboard.press("Enter")
    page.wait_for_url("**/windows/102/")


def test_fractions_under_the_thumb(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/", **PHONE)
    page.locator("#f-width").tap()
    page.fill("#f-width", "33")
    page.get_by_role("button", name="and 5/8").tap()
    expect(page.locator("#f-width")).to_have_value("33 5/8")
    page.get_by_role("button", name="sixteenths").tap()
    page.get_by_role("button", name="and 9/16").tap()
    expect(page.locator("#f-width")).to_have_value("33 9/16")
    expect(page.locator("#view desc")).to_contain_text('33 9/16" wide')
    page.locator("#f-room").tap()
    expect(page.locator("#state")).to_contain_text("Saved")
    assert width_of(elm) == "33 9/16 in"


def test_light_dark_and_units(visit: Callable[..., Page], elm: str) -> None:
    page = visit(f"/{elm}/windows/101/", color_scheme="dark")

    def ground() -> str:
        return str(page.evaluate("getComputedStyle(document.body).backgroundColor"))

    dark = ground()
    page.get_by_role("button", name="Light", exact=True).click()
    assert ground() != dark
    page.get_by_role("button", name="As the computer").click()
    assert ground() == dark
    page.get_by_role("button", name="mm").click()
    expect(page.locator("#f-width")).to_have_value("812.8")
    page.emulate_media(media="print")
    assert ground() == "rgb(255, 255, 255)"
