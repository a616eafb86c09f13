"""Photographs in a real browser: sent, drawn on by keyboard, measured on by pointer."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from playwright.sync_api import Page, expect

from sashwright.record import store
from tests.cameras import CORNERS, HIGH, SIZE, WIDE, PinholeCamera, turned
from tests.factories import house_document
from tests.pictures import picture_file

if TYPE_CHECKING:
    from collections.abc import Callable


@pytest.fixture
def elm(transactional_db: None) -> str:
    return store.create_house(house_document(), store.local_owner())


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
        page.wait_for_load_state("networkidle")
    assert complaints == []


def _complain(said: Any, complaints: list[str]) -> None:
    # A file that is no picture is answered with 422, which the browser also tells in the console.
    if said.type == "error" and "status of 422" not in said.text:
        complaints.append(said.text)


def test_photographs_are_sent_and_one_is_drawn_on_by_keyboard(
    visit: Callable[..., Page], elm: str
) -> None:
    page = visit(f"/{elm}/windows/101/photographs")
    page.select_option("#photo-part", "lower.bottom_rail")
    chooser = page.locator('input[type="file"][multiple]')
    chooser.set_input_files(
        [
            {"name": "one.jpg", "mimeType": "image/jpeg", "buffer": picture_file(size=(400, 300))},
            {"name": "bad.jpg", "mimeType": "image/jpeg", "buffer": b"nothing"},
        ]
    )
    expect(page.locator(".sending .refused")).to_contain_text(
        "bad.jpg: found a file that is no picture"
    )
    expect(page.locator(".photocards li")).to_have_count(1)
    page.locator(".photocards a").click()
    page.get_by_role("radio", name="Ring").check()
    page.fill("#mark-text", "soft")
    page.focus(".photomarks")
    page.keyboard.press("ArrowRight")
    page.keyboard.press("Enter")
    for _ in range(4):
        page.keyboard.press("ArrowDown")
    page.keyboard.press("Enter")
    expect(page.locator(".marklist")).to_contain_text("Ring: soft")
    (row,) = store.photographs(elm, "101")
    assert row.component == "lower.bottom_rail"
    assert np.allclose(row.marks[0].points, [[0.52, 0.5], [0.52, 0.58]])
    # The ring stays in the hand; by pointer, another.
    box = page.locator(".photomarks").bounding_box()
    page.mouse.move(box["x"] + 40, box["y"] + 40)
    page.mouse.down()
    page.mouse.move(box["x"] + 90, box["y"] + 40)
    page.mouse.up()
    expect(page.locator(".marklist li")).to_have_count(2)
    assert store.photographs(elm, "101")[0].marks[1].kind == "ring"
    page.click("#undo")
    expect(page.locator(".marklist li")).to_have_count(1)


def test_a_length_is_marked_and_taken_over(visit: Callable[..., Page], elm: str) -> None:
    sent = picture_file(size=(900, 1200), quality=60)
    store.add_photograph(elm, sent, store.local_owner(), window="101", key="whole")
    camera = PinholeCamera(3000.0, turned(20, 5, 2), np.array([0.0, 0, 3.0]))
    points = np.array([[0.0, 0.0], [0.0, 29.5 * 0.0254]])
    spots = camera.sees(np.vstack((CORNERS, points))) / np.array(SIZE)
    page = visit(f"/{elm}/photographs/whole/measure", viewport={"width": 1200, "height": 1300})
    box = page.locator("#surface").bounding_box()
    scale = min(box["width"] / 900, box["height"] / 1200)
    left, top = (
        box["x"] + (box["width"] - 900 * scale) / 2,
        box["y"] + (box["height"] - 1200 * scale) / 2,
    )
    for index, (x, y) in enumerate(spots):
        if index == 4:
            page.locator('input[name="marking"][value="points"]').check(force=True)
        page.mouse.move(left + 900 * scale * x, top + 1200 * scale * y)
        page.mouse.down()
        expect(page.locator("#loupe")).to_be_visible()
        page.mouse.up()
    expect(page.locator("#loupe")).to_be_hidden()
    page.fill("#m-width", f"{WIDE / 0.0254}")
    page.fill("#m-height", f"{HIGH / 0.0254}")
    expect(page.locator(".bigresult")).to_contain_text("29")
    first = page.locator(".set-points text").last.get_attribute("x")
    # By keyboard the chosen mark moves by one pixel of the picture.
    page.focus("#surface")
    page.keyboard.press("ArrowLeft")
    moved = page.locator(".set-points text").last.get_attribute("x")
    assert float(first or 0) - float(moved or 0) == pytest.approx(1)
    page.select_option("#use-as", "meeting_height")
    with page.expect_navigation():
        page.locator("#measured button.primary").click()
    kept = store.stored(elm, "window", "101").document["meeting_height"]
    inches = float(sum(float(np.divide(*map(float, each.split("/")))) if "/" in each else float(each)
                       for each in kept.removesuffix(" in").split()))  # fmt: skip
    assert abs(inches - 29.5) < 0.5
    assert store.photograph(elm, "whole").measures[0].used_as == "meeting_height"
