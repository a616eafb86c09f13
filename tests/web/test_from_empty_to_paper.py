"""From an empty record to paper, typed through the pages only, and checked against the terminal.

A house of five windows is made as a person would make it; then the weights in the PDF that they take
to the shop are those that the command line works out from the file they exported.
"""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, expect
from pypdf import PdfReader

from sashwright.units import format_mass

WINDOWS = [
    ("101", "32", "62 1/2"),
    ("102", "32", "62 1/2"),
    ("103", "2'-6 1/4\"", "5' 2 1/2\""),
    ("104", "34 3/8", "66"),
    ("105", "28-1/2", "58"),
]

MASS = r"\d+ lb(?: \d+ oz)?"


@pytest.mark.usefixtures("transactional_db")
def test_a_house_of_five_windows(browser_page: Any, live_server: Any, tmp_path: Path) -> None:
    page: Page = browser_page(base_url=live_server.url, accept_downloads=True)
    page.goto("/")
    _make_house(page)
    _describe_family(page)
    _add_windows(page)
    _look_closer(page)
    _weigh(page)
    toml, pdf = _take_along(page, tmp_path)
    expected = _weights_by_command(toml)
    assert list(expected) == [number for number, _, _ in WINDOWS]
    assert len(expected["105"]) == 1, "the upper sash of a single-hung window has no weights"
    assert _weights_on_paper(pdf) == expected
    assert _weight_list(pdf) == [mass for masses in expected.values() for mass in masses]
    # The reading of the scale went all the way: half of 18 lb 6 oz, less the closing bias.
    assert expected["103"][1] == "8 lb 15 oz"


def _make_house(page: Page) -> None:
    page.get_by_role("link", name="New house").first.click()
    page.get_by_label("Name").fill("7 Chestnut Street")
    page.get_by_label("Place").fill("Salem, Massachusetts")
    page.get_by_role("button", name="Make the house").click()


def _describe_family(page: Page) -> None:
    page.get_by_role("link", name="Describe a family").click()
    expect(page.get_by_label("Letter or short name")).to_have_value("A")
    page.get_by_label("What the shop calls it").fill("six over six")
    page.get_by_role("button", name="Make the family").click()
    _type(page, "sash.thickness", "1 3/4")
    _type(page, "sash.rabbet_depth", "5/8")
    _type(page, "sash.lites", "3x2")
    page.locator("summary", has_text="Weight pocket").click()
    _type(page, "pocket.across", "2 3/8")
    page.get_by_role("link", name="Add windows").click()


def _type(page: Page, path: str, text: str) -> None:
    """Type into a field, leave it, and see that it is saved."""
    field = page.locator(f'[name="{path}"]')
    before = page.locator("#base").input_value()
    field.fill(text)
    field.press("Tab")
    expect(page.locator("#base")).not_to_have_value(before)
    expect(page.locator("#state")).to_contain_text("Saved")


def _add_windows(page: Page) -> None:
    page.get_by_label("Room").fill("parlor")
    page.get_by_label("Room").press("Tab")
    for number, width, height in WINDOWS:
        expect(page.get_by_label("Number")).to_have_value(number)
        expect(page.get_by_label("Room")).to_have_value("parlor")
        page.get_by_label("Width").fill(width)
        page.keyboard.press("Tab")
        page.keyboard.type(height)
        page.keyboard.press("Enter")
        expect(page.locator(".justadded")).to_contain_text(f"Window {number} added")
    page.get_by_role("link", name="Done").click()


def _look_closer(page: Page) -> None:
    page.get_by_role("link", name="Window 104", exact=True).click()
    page.select_option('[name="head.shape"]', "segmental")
    page.locator('[name="head.rise"]').fill("3 1/2")
    page.locator('[name="head.rise"]').press("Tab")
    expect(page.locator("#state")).to_contain_text("Saved")
    page.get_by_role("link", name="Next window, 105").click()
    page.select_option('[name="hung"]', "single")
    expect(page.locator("#answer")).to_contain_text("Fixed: it has no weights.")


def _weigh(page: Page) -> None:
    page.get_by_role("link", name="Previous window, 104").click()
    page.get_by_role("link", name="Previous window, 103").click()
    page.get_by_role("link", name="Weigh at the bench").click()
    page.get_by_label("The scale says").fill("18 lb 6")
    page.get_by_role("button", name="Weighed").click()
    expect(page.locator("#answer")).to_contain_text("18 lb 6 oz, weighed")
    page.locator(".titleblock").get_by_role("link", name="7 Chestnut Street").click()


def _take_along(page: Page, folder: Path) -> tuple[Path, Path]:
    files = []
    for name in ("House file (TOML)", "Windows, weights and sheets, Letter (PDF)"):
        with page.expect_download() as download:
            page.get_by_role("link", name=name).click()
        file = folder / download.value.suggested_filename
        download.value.save_as(file)
        files.append(file)
    return files[0], files[1]


def _weights_by_command(toml: Path) -> dict[str, list[str]]:
    """Each window's weights, the upper sash's first, as `sashwright hang --json` has them."""
    told = subprocess.run(
        [sys.executable, "-m", "sashwright.cli.main", "hang", str(toml), "--json"],
        capture_output=True,
        text=True,
        check=False,
    )
    assert told.stdout, told.stderr
    return {
        window["number"]: [
            format_mass(values["weight_each_kg"])
            for which in ("upper", "lower")
            if (values := window["values"][which]) is not None
        ]
        for window in json.loads(told.stdout)["windows"]
    }


def _weights_on_paper(pdf: Path) -> dict[str, list[str]]:
    """The same, read off each window's own sheet in the packet."""
    found: dict[str, list[str]] = {}
    for text in _pages(pdf):
        sheet = re.search(r"^Window (\S+): ", text, re.MULTILINE)
        if sheet is not None:
            found[sheet[1]] = re.findall(rf"^Two weights of ({MASS})$", text, re.MULTILINE)
    return found


def _weight_list(pdf: Path) -> list[str]:
    """The weights of the list for the bench, window by window, the upper sash's first."""
    pages = [text for text in _pages(pdf) if "Weights and cords\n" in text]
    listed = "\n".join(pages).partition("Weights to cast")[0]
    return re.findall(rf"^2 × ({MASS})$", listed, re.MULTILINE)


def _pages(pdf: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(pdf).pages]
