"""From a tapped part to an accepted price, in a real browser."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING, Any

import pytest
from playwright.sync_api import Page, expect

from sashwright.record import store
from tests.factories import family_document, house_document, window_document

if TYPE_CHECKING:
    from collections.abc import Callable

PHONE = {"viewport": {"width": 390, "height": 844}, "has_touch": True, "is_mobile": True}


@pytest.fixture
def oak(transactional_db: None) -> str:
    options = [{"key": "sills", "name": "Sills by the owner", "amount": "-40.00"}]
    document = house_document(
        name="Oak",
        owner="Ann",
        families={"A": family_document(storm="winter"), "B": family_document()},
        windows=[window_document("101")],
        pricing={"options": options},
    )
    return store.create_house(document, store.local_owner())


@pytest.fixture
def visit(browser_page: Any, live_server: Any) -> Callable[..., Page]:
    """Open a page; whatever the browser complains of fails the test."""
    said: list[str] = []

    def open_page(path: str, **context: Any) -> Page:
        page: Page = browser_page(base_url=live_server.url, **context)
        page.on("pageerror", lambda error: said.append(str(error)))
        page.on("console", lambda told: said.append(told.text) if told.type == "error" else None)
        page.goto(path)
        return page

    yield open_page
    assert said == []


def found(slug: str) -> list[dict[str, Any]]:
    kept: list[dict[str, Any]] = store.stored(slug, "window", "101").document["condition"]["found"]
    return kept


def test_from_a_tapped_part_to_an_accepted_price(visit: Callable[..., Page], oak: str) -> None:
    page = visit(f"/{oak}/windows/101/")
    page.locator("#part-condition").scroll_into_view_if_needed()
    part = page.get_by_role("link", name="Lower bottom rail", exact=True)
    part.click()
    expect(page.locator("#finding-form h3")).to_have_text("Lower bottom rail")
    # The form is ready to be filled in by keys alone.
    expect(page.locator("#found-fault")).to_be_focused()
    page.select_option("#found-fault", "decay")
    expect(page.locator("#finding-form .severities input:checked")).to_have_value("moderate")
    page.locator("#finding-form").get_by_label("Severe", exact=True).check()
    page.fill("#found-length", "8 1/2")
    page.press("#found-length", "Enter")
    expect(page.locator(".foundlist")).to_contain_text("severe")
    expect(page.locator("#notices")).to_contain_text("Lower bottom rail: kept.")
    assert [(each["fault"], each["length"]) for each in found(oak)] == [("decay", "8 1/2 in")]
    # The other fields of the page go on from the new version, as if nobody else had been there.
    page.fill("#f-room", "library")
    page.press("#f-room", "Tab")
    expect(page.locator("#state")).to_contain_text(re.compile(r"^Saved \d\d:\d\d$"))

    needs = page.locator("#part-treat")
    needs.scroll_into_view_if_needed()
    needs.get_by_role("radio", name="Restored in the shop").check()
    needs.get_by_role("textbox", name="Note").fill("With the street front.")
    needs.get_by_role("button", name="Decide").click()
    expect(needs).to_contain_text("restored in the shop. With the street front.")

    page.goto(f"/{oak}/price")
    before = page.locator(".hang .weight strong").first.inner_text()
    page.get_by_label("Sills by the owner").check()
    expect(page.locator(".hang h3").first).to_have_text("What if")
    expect(page.locator(".hang .weight strong").first).not_to_have_text(before)
    after = page.locator(".hang .weight strong").first.inner_text()
    page.locator("summary", has_text="Accept USD").click()
    page.get_by_role("button", name="Accept this price").click()
    expect(page.locator(".accepted")).to_contain_text(f"USD {after}")
    expect(page.locator(".accepted")).to_contain_text("Nothing in the price has changed since.")
    assert store.stored(oak, "house").document["pricing"]["accepted"]["ticked"] == ["sills"]


def test_on_site_with_one_finger(visit: Callable[..., Page], oak: str) -> None:
    page = visit(f"/{oak}/windows/101/condition", **PHONE)
    page.locator('a[href*="on=lower.left_stile#"] path').first.tap()
    expect(page.locator("#finding-form h3")).to_have_text("Lower left stile")
    page.get_by_role("button", name="Sound", exact=True).tap()
    expect(page.locator("#part-condition")).to_contain_text("Sound: lower left stile.")
    page.locator('a[href*="on=frame.sill#"] path').first.tap()
    expect(page.locator("#finding-form h3")).to_have_text("Sill")
    expect(page.locator("#found-fault")).to_be_focused()
    page.select_option("#found-fault", "decay")
    page.locator("#found-length").tap()
    page.keyboard.type("9")
    page.get_by_role("button", name="and 3/8").tap()
    expect(page.locator("#found-length")).to_have_value("9 3/8")
    page.get_by_role("button", name="Keep", exact=True).first.tap()
    expect(page.locator(".foundlist")).to_contain_text("Sill")
    page.get_by_role("button", name="Rest as typical").tap()
    expect(page.locator("#notices")).to_contain_text("the rest as typical")
    assert [each["length"] for each in found(oak)] == ["9 3/8 in"]


def test_a_window_is_unfolded_into_its_lines(visit: Callable[..., Page], oak: str) -> None:
    store.save_fields(
        oak, "window", "101",
        {"condition.found": [{"on": "sill", "fault": "decay"}]}, 1, store.local_owner(),
    )  # fmt: skip
    page = visit(f"/{oak}/price")
    page.locator("#window-101 summary").focus()
    page.keyboard.press("Enter")
    expect(page.locator("#lines-101 tfoot")).to_contain_text("Price of window 101")
    page.select_option("#spent-task-101", index=1)
    page.fill("#spent-hours-101", "2.5")
    page.get_by_role("button", name="Write them down").click()
    expect(page.locator(".spenttable")).to_contain_text("2.5")
    page.goto(f"/{oak}/price")
    expect(page.locator("#learned")).to_contain_text("Finished tasks")
