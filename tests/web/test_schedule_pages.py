"""The pages of a schedule: sent, its columns named, looked at row by row, brought in; and taken along."""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from playwright.sync_api import expect

from sashwright.record import people, store
from sashwright.record.models import Change
from sashwright.record.schedule import read_book
from tests.record.schedules import csv_file, xlsx_file

ROWS = [
    ["Windows of the shop", "", "", ""],
    ["Tag", "Location", "W", "Price"],
    ["101", "Parlor", "33 1/4", "12"],
    ["401", "hall", "28", "9"],
]


def send(client: Client, slug: str, data: bytes, name: str = "shop.csv") -> Any:
    return client.post(f"/{slug}/schedule", {"file": SimpleUploadedFile(name, data)})


def posted(page: str, **other: str) -> dict[str, str]:
    """What the form of the page would send, but for what is chosen otherwise."""
    found = dict(re.findall(r'<input type="hidden" name="(\w+)" value="([^"]*)"', page))
    found |= dict(re.findall(r'<input type="number" name="(\w+)"[^>]* value="([^"]*)"', page))
    for name, options in re.findall(r'<select name="([\w-]+)".*?>(.*?)</select>', page, re.DOTALL):
        chosen = re.search(r'<option(?: value="([^"]*)")? selected>([^<]*)', options)
        found[name] = (chosen[1] if chosen[1] is not None else chosen[2]) if chosen else ""
    return {**found, **other}


def test_from_the_file_to_the_house_and_back(here: Client, elm: str) -> None:
    answer = send(here, elm, csv_file([*ROWS[:3], [*ROWS[3], ""]]))
    assert answer.status_code == 302
    page = here.get(answer.url).content.decode()
    assert "row 4" not in page
    assert "Found" in page  # 401 has no height yet
    page = page_of(here, send(here, elm, csv_file([*ROWS[:3]])))
    assert "1 window changed" in page
    assert "Left out: D (Price)" in page
    assert "<del>32 in</del> → <ins>33 1/4 in</ins>" in page
    assert store.stored(elm, "window", "101").document["width"] == "32 in"
    address = send(here, elm, csv_file(ROWS[:3])).url
    answer = here.post(address, posted(page, act="bring"), follow=True)
    assert "shop.csv: 1 window changed." in answer.content.decode()
    assert store.stored(elm, "window", "101").document["width"] == "33 1/4 in"
    change = store.changes(elm)[0]
    assert change.says == "schedule shop.csv read: 1 window changed"
    assert f"/undo/{change.id}" in answer.content.decode()
    # Sent once more it changes nothing.
    page = page_of(here, send(here, elm, csv_file(ROWS[:3])))
    assert "Nothing new" in page
    assert 'value="bring"' not in page


def page_of(client: Client, answer: Any) -> str:
    assert answer.status_code == 302
    return str(client.get(answer.url).content.decode())


def test_what_the_columns_hold_can_be_changed(here: Client, part: Client, elm: str) -> None:
    rows = [["Tag", "Wide", "Hi"], ["401", "711", "1524"]]
    address = send(here, elm, csv_file(rows)).url
    page = here.get(address).content.decode()
    assert posted(page)["path-2"] == ""
    told = posted(
        page, **{"path-2": "height", "unit-2": "mm", "unit-1": "mm", "family": "B", "wall": "west"}
    )
    found = part.post(address, told).content.decode()
    assert found.lstrip().startswith("<form")
    assert "1 window added" in found
    assert "<ins>711 mm</ins>" in found
    here.post(address, {**told, "seen": posted(found)["seen"], "act": "bring"})
    window = store.stored(elm, "window", "401").document
    told_of = [window[name] for name in ("family", "wall", "width", "height")]
    assert told_of == ["B", "west", "711 mm", "60 in"]


def test_another_row_of_heads_or_sheet_is_guessed_anew(here: Client, elm: str) -> None:
    data = xlsx_file([["a", "b"], ["No.", "W"], [101, 30]], [["No.", "Remarks"], [102, "soft"]])
    address = send(here, elm, data, "shop.xlsx").url
    page = here.get(address).content.decode()
    assert (posted(page)["head"], posted(page)["path-1"]) == ("2", "width")
    other = here.post(address, posted(page, head="1")).content.decode()
    assert posted(other)["path-1"] == ""
    assert "no column with the numbers" in other
    other = here.post(address, posted(page, sheet="Sheet 2", head="1")).content.decode()
    assert posted(other)["path-1"] == "note"
    assert here.post(address, posted(page, sheet="nowhere")).status_code == 422


def test_reasons_are_told_and_nothing_is_brought_in(here: Client, elm: str) -> None:
    address = send(here, elm, csv_file([["No.", "W"], ["101", "3-Aug"], ["102", "<b>"]])).url
    page = here.get(address).content.decode()
    assert "2 things to put right" in page
    assert "B2" in page
    assert "looks like a date" in page
    assert "&lt;b&gt;" in page
    changes = Change.objects.count()
    answer = here.post(address, posted(page, act="bring"))
    assert answer.status_code == 422
    assert "there are rows to put right first" in answer.content.decode()
    assert Change.objects.count() == changes


def test_nothing_else_than_was_looked_at(here: Client, elm: str, owner: User) -> None:
    address = send(here, elm, csv_file([["No.", "W"], ["101", "33"]])).url
    page = here.get(address).content.decode()
    store.save_fields(elm, "window", "101", {"width": "34"}, 1, owner)
    answer = here.post(address, posted(page, act="bring"))
    assert answer.status_code == 422
    assert "The house was changed meanwhile" in answer.content.decode()
    assert store.stored(elm, "window", "101").document["width"] == "34 in"


@pytest.mark.parametrize(
    ("data", "says"),
    [(b"", "nothing in it"), (b"%PDF-1.7", "a PDF"), (b"PK\x03\x04", "cannot be read")],
)
def test_what_is_no_schedule(here: Client, elm: str, data: bytes, says: str) -> None:
    answer = send(here, elm, data)
    assert answer.status_code == 422
    assert says in answer.content.decode()
    assert here.post(f"/{elm}/schedule").status_code == 422


def test_a_file_that_is_not_kept_any_more(here: Client, elm: str) -> None:
    for key in ("0" * 32, "x"):
        answer = here.get(f"/{elm}/schedule/{key}")
        assert answer.status_code == 404
        assert "kept for a day" in answer.content.decode()


def test_the_windows_are_taken_along(here: Client, elm: str) -> None:
    house = here.get(f"/{elm}/").content.decode()
    for ending in ("csv", "xlsx"):
        assert f'href="/{elm}/schedule.{ending}"' in house
        answer = here.get(f"/{elm}/schedule.{ending}")
        assert f"{elm}-windows.{ending}" in answer.headers["Content-Disposition"]
        assert len(read_book(answer.content, "x").sheet().rows) == 6
        page = page_of(here, send(here, elm, answer.content))
        assert "Nothing new" in page


def test_a_house_without_a_family(here: Client, owner: User) -> None:
    slug = store.create_house({"name": "Mill"}, owner)
    assert "Describe a family" in here.get(f"/{slug}/schedule").content.decode()
    page = page_of(here, send(here, slug, csv_file([["No.", "W", "H"], ["1", "30", "60"]])))
    assert "found nothing" in page.lower() or "to put right" in page


def test_those_who_only_look_take_along_and_do_not_send(db: None, elm: str) -> None:
    looking = Client(SERVER_NAME="localhost", REMOTE_ADDR="192.0.2.7")
    looking.force_login(people.add_person("eve", "viewer", "a long enough word"))
    assert looking.get(f"/{elm}/schedule.csv").status_code == 200
    assert looking.get(f"/{elm}/schedule").status_code == 403
    assert send(looking, elm, csv_file(ROWS)).status_code == 403


def test_everything_is_taken_along_from_the_backups(here: Client, elm: str, settings: Any) -> None:
    assert 'href="/backups/everything.zip"' in here.get("/backups").content.decode()
    answer = here.get("/backups/everything.zip")
    data = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert {"README.txt", "history.csv", f"houses/{elm}.toml"} <= set(archive.namelist())
    assert list((Path(settings.DATA_FOLDER) / "cache").iterdir()) == []


@pytest.mark.django_db(transaction=True)
def test_in_a_browser(live_server: Any, browser_page: Callable[..., Any], tmp_path: Path) -> None:
    owner = store.local_owner()
    slug = store.create_house({"name": "Mill", "families": {"A": {}}}, owner)
    file = tmp_path / "shop.csv"
    file.write_bytes(csv_file([["Tag", "W", "H", "Says"], ["1", "30", "60", "soft"]]))
    page = browser_page(base_url=live_server.url)
    page.goto(f"/{slug}/schedule")
    page.set_input_files("#file", file)
    page.get_by_role("button", name="Look at it").click()
    expect(page.get_by_role("status").first).to_contain_text("1 window added")
    page.select_option("#path-3", "note")
    expect(page.locator(".effects")).to_contain_text("Note soft")
    page.get_by_role("button", name="Bring it in").click()
    expect(page.locator("#notices")).to_contain_text("shop.csv: 1 window added.")
    assert store.load_house(slug).windows[0].note == "soft"
