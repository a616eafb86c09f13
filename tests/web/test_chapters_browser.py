"""Parts of a window's page and pages of a house in a real browser: seen, changed, looked for."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import Page, expect

from sashwright.record import store
from tests.factories import family_document, house_document

if TYPE_CHECKING:
    from collections.abc import Callable

PARTS = ("fit", "seal", "season", "heat", "grade")


@pytest.fixture
def maine(transactional_db: None) -> str:
    family = family_document(storm="winter", screen={"kind": "half"})
    document = house_document(climate="Portland, Maine", families={"A": family, "B": family})
    return store.create_house(document, store.local_owner())


@pytest.fixture
def visit(browser_page: Any, live_server: Any) -> Callable[..., Page]:
    """Open a page; whatever the browser complains of fails the test."""
    complaints: list[str] = []
    opened: list[Page] = []

    def open_page(path: str, **context: Any) -> Page:
        page: Page = browser_page(base_url=live_server.url, **context)
        page.on("pageerror", lambda error: complaints.append(str(error)))
        page.on("console", lambda said: _complain(said, complaints))
        opened.append(page)
        page.goto(path)
        return page

    yield open_page
    for page in opened:
        # Nothing may still be on its way when the server is stopped.
        page.wait_for_load_state("networkidle")
    assert complaints == []


def _complain(said: Any, complaints: list[str]) -> None:
    # A mark that is refused answers 422, which the browser also tells in the console.
    if said.type == "error" and "status of 422" not in said.text:
        complaints.append(said.text)


def see(page: Page, chapter: str) -> Any:
    """Scroll to a part; answer it once it has come."""
    part = page.locator(f"#part-{chapter}")
    part.scroll_into_view_if_needed()
    expect(part).not_to_have_attribute("aria-busy", "true")
    return part


def test_each_part_comes_when_it_is_seen(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/windows/101/")
    expect(page.locator("#part-season")).to_have_attribute("aria-busy", "true")
    for chapter in PARTS:
        part = see(page, chapter)
        expect(part.locator(".drawing").first).to_be_visible()
        expect(part.locator(".finding").first).to_be_visible()
        part.locator("summary").last.click()
        expect(part.locator(".working-steps")).to_be_visible()


def test_parts_follow_what_is_saved(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/windows/101/")
    part = see(page, "season")
    expect(part.locator(".size").first).to_contain_text("31 7/8")
    page.fill("#f-width", "40")
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.press("#f-width", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    # Nobody waits for what is out of sight.
    expect(part).to_have_attribute("aria-busy", "true")
    assert not [url for url in asked if url.endswith(PARTS)]
    expect(see(page, "season").locator(".size").first).to_contain_text("39 7/8")


def test_the_date_of_the_shop(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/windows/101/")
    part = see(page, "fit")
    part.locator("#shop-date").focus()
    page.keyboard.type("03202026")
    expect(page.locator("#part-fit .clearances thead")).to_contain_text("Leave on 20 Mar")
    expect(page.locator("#shop-date")).to_have_value("2026-03-20")
    # It stays while the window is changed.
    page.fill("#f-height", "70")
    page.press("#f-height", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    fit = see(page, "fit")
    expect(fit.locator(".clearances thead")).to_contain_text("Leave on 20 Mar")


def test_a_mark_is_kept_as_it_is_typed(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/seasons")
    page.fill("#mark-101", "XIV")
    page.press("#mark-101", "Tab")
    expect(page.locator("#marklist")).to_contain_text("4 are only proposed")
    expect(page.locator("#mark-101")).to_have_value("XIV")
    page.fill("#mark-102", "two words")
    page.press("#mark-102", "Enter")
    expect(page.locator("#says-102")).to_contain_text("expected")
    expect(page.locator("#mark-102")).to_have_value("two words")
    assert store.stored(maine, "window", "101").document["mark"] == "XIV"


def test_a_place_is_looked_for_and_taken(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/climate")
    page.fill("#place", "portland")
    page.get_by_role("button", name="Take it: Portland International Airport, OR").click()
    expect(page.locator("#climate-block")).to_contain_text("Portland International Airport, OR")
    page.get_by_role("button", name="Undo").click()
    expect(page.locator("#climate-block")).to_contain_text("Portland International Jetport, ME")


def test_details_show_what_a_typed_place_was_taken_for(
    visit: Callable[..., Page], maine: str
) -> None:
    page = visit(f"/{maine}/details")
    expect(page.locator("#climate-block")).to_contain_text("Jetport")
    page.fill("#f-climate", "Springfield")
    page.press("#f-climate", "Tab")
    expect(page.locator("#climate-block")).to_contain_text("expected one place; did you mean")


def test_the_table_of_windows_follows_the_site(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/wind")
    expect(page.locator("#winds")).to_contain_text("no wind speed is given")
    page.fill("#f-site-wind_speed", "130")
    page.press("#f-site-wind_speed", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    expect(page.locator("#winds")).to_contain_text("The wind speed of 130 mph is a placeholder")
    expect(page.locator("#f-site-wind_speed")).to_have_value("130 mph")
    page.fill("#f-site-confirmed_by", "the town, in May")
    page.press("#f-site-confirmed_by", "Enter")
    expect(page.locator("#winds .findings")).not_to_contain_text("placeholder")
    expect(page.locator("#winds")).to_contain_text("the town, in May")


def test_another_section_is_chosen_in_other_air(visit: Callable[..., Page], maine: str) -> None:
    page = visit(f"/{maine}/windows/101/")
    part = see(page, "heat")
    part.locator("#warm-section").select_option("head")
    picture = part.locator("#isotherms .drawing")
    expect(picture).to_contain_text("Head with the top rail of the upper sash")
    page.fill("#warm-humidity", "70")
    page.press("#warm-humidity", "Tab")
    expect(picture).to_contain_text("air at 70 %, as asked for")
    expect(picture).to_contain_text("the edge is wet")
    # What is chosen stays chosen when the window changes.
    page.fill("#f-width", "40")
    page.press("#f-width", "Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    see(page, "heat")
    expect(part.locator("#warm-section")).to_have_value("head")
    expect(picture).to_contain_text("air at 70 %, as asked for")
