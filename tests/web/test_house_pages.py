"""Houses made, brought in, looked through, and taken along."""

from __future__ import annotations

import io
import re
import tomllib

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse
from pypdf import PdfReader

from sashwright.record import store


def numbers(page: str) -> list[str]:
    """Windows of the schedule, in its order."""
    return re.findall(r'<th scope="row"><a [^>]*class="figure">([^<]+)</a>', page)


def schedule(client: Client, slug: str, **query: str) -> list[str]:
    return numbers(client.get(reverse("house", args=[slug]), query).content.decode())


def upload(text: str, name: str = "house.toml") -> dict[str, SimpleUploadedFile]:
    return {"file": SimpleUploadedFile(name, text.encode())}


def test_a_new_house(here: Client, db: None) -> None:
    page = here.post("/new", {"name": " 4 Oak Lane ", "place": "Salem", "units": "metric"})
    assert page.headers["Location"] == "/4-oak-lane/"
    assert store.stored("4-oak-lane", "house").document["units"] == "metric"
    assert "Describe a family" in here.get("/4-oak-lane/").content.decode()


def test_a_house_without_a_name(here: Client, db: None) -> None:
    page = here.post("/new", {"name": "  ", "place": "Salem"})
    assert page.status_code == 422
    assert "A house needs a name." in page.content.decode()
    assert 'value="Salem"' in page.content.decode()


def test_a_house_removed_and_put_back(here: Client, elm: str) -> None:
    page = here.post(reverse("remove-house", args=[elm]), follow=True).content.decode()
    assert "12 Elm Street removed." in page
    change = re.search(r"/undo/(\d+)", page)
    assert change is not None
    assert store.list_houses() == []
    here.post(f"/undo/{change[1]}")
    assert [house.slug for house in store.list_houses()] == [elm]
    here.post(reverse("remove-house", args=[elm]))
    here.post(reverse("restore-house", args=[elm]))
    assert [house.slug for house in store.list_houses()] == [elm]


def test_a_house_goes_out_and_comes_in_again(here: Client, elm: str) -> None:
    file = here.get(reverse("export-house", args=[elm]))
    assert file.headers["Content-Disposition"] == f'attachment; filename="{elm}.toml"'
    text = file.content.decode()
    assert tomllib.loads(text)["name"] == "12 Elm Street"
    page = here.post("/import", upload(text))
    assert page.headers["Location"] == f"/{elm}-2/"
    assert store.load_house(f"{elm}-2") == store.load_house(elm)


def test_a_bad_file_changes_nothing_and_says_where(here: Client, elm: str) -> None:
    text = here.get(reverse("export-house", args=[elm])).content.decode()
    bad = text.replace('width = "32 in"', 'width = "wide"', 1)
    line = bad.splitlines().index('width = "wide"') + 1
    for address in ("/import", reverse("replace-house", args=[elm])):
        page = here.post(address, upload(bad))
        assert page.status_code == 422
        words = page.content.decode()
        assert f'<td class="figure">{line}</td>' in words
        assert "wide" in words
    assert len(store.list_houses()) == 1
    assert store.stored(elm, "window", "101").version == 1


@pytest.mark.parametrize("data", [b"\xff\xfe\x00", b"", b"name = ", b"x" * 5_100_000])
def test_a_file_that_is_no_house(here: Client, db: None, data: bytes) -> None:
    page = here.post("/import", {"file": SimpleUploadedFile("x.toml", data)})
    assert page.status_code == 422
    assert store.list_houses() == []


def test_no_file_at_all(here: Client, db: None) -> None:
    assert here.post("/import").status_code == 422


def test_replacing_can_be_undone(here: Client, elm: str) -> None:
    text = here.get(reverse("export-house", args=[elm])).content.decode()
    page = here.post(
        reverse("replace-house", args=[elm]),
        upload(text.replace('width = "32 in"', 'width = "33 in"')),
        follow=True,
    ).content.decode()
    assert store.load_house(elm).windows[0].width == pytest.approx(33 * 0.0254)
    change = re.search(r"/undo/(\d+)", page)
    assert change is not None
    here.post(f"/undo/{change[1]}")
    assert store.load_house(elm).windows[0].width == pytest.approx(32 * 0.0254)


@pytest.mark.parametrize(
    ("query", "found"),
    [
        ({}, ["101", "102", "103L", "103R", "301"]),
        ({"text": "DINING"}, ["103L", "103R"]),
        ({"text": "august"}, ["102"]),
        ({"family": "B"}, ["301"]),
        ({"wall": "south"}, ["103L", "103R"]),
        ({"storey": "3"}, ["301"]),
        ({"wall": "east", "storey": "1"}, ["101", "102"]),
        ({"text": "nothing like it"}, []),
        ({"sort": "-number"}, ["301", "103R", "103L", "102", "101"]),
        ({"sort": "size"}, ["301", "103L", "103R", "101", "102"]),
        ({"sort": "nonsense", "storey": "x"}, []),
    ],
)
def test_looking_for_windows(
    here: Client, elm: str, query: dict[str, str], found: list[str]
) -> None:
    assert schedule(here, elm, **query) == found


def test_only_the_list_comes_when_only_that_is_asked_for(part: Client, elm: str) -> None:
    page = part.get(reverse("house", args=[elm]), {"family": "B"}).content.decode()
    assert "<html" not in page
    assert numbers(page) == ["301"]


def test_levels_of_findings_narrow_the_list(here: Client, elm: str) -> None:
    total = len(schedule(here, elm))
    assert len(schedule(here, elm, level="note")) <= total
    assert set(schedule(here, elm, level="fail")) <= set(schedule(here, elm, level="caution"))


def test_walls_lead_to_windows(here: Client, elm: str) -> None:
    page = here.get(reverse("house", args=[elm]), {"by": "wall"}).content.decode()
    assert "East wall" in page
    assert f'href="/{elm}/windows/101/"' in page


def test_the_schedule_follows_a_change(here: Client, elm: str) -> None:
    assert "32 × 62 1/2" in here.get(reverse("house", args=[elm])).content.decode()
    here.post(
        reverse("window-field", args=[elm, "101"]), {"field": "width", "width": "35", "base": 1}
    )
    assert "35 × 62 1/2" in here.get(reverse("house", args=[elm])).content.decode()


def test_other_units_for_looking_only(here: Client, elm: str) -> None:
    here.post(reverse("units", args=[elm]), {"units": "metric", "next": f"/{elm}/"})
    assert "813 × 1588" in here.get(reverse("house", args=[elm])).content.decode()
    assert store.stored(elm, "house").document["units"] == "us"
    here.post(reverse("units", args=[elm]), {"units": "furlongs"})
    assert "813 × 1588" in here.get(reverse("house", args=[elm])).content.decode()


@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_papers(here: Client, elm: str, paper: str) -> None:
    file = here.get(reverse("papers", args=[elm]), {"paper": paper})
    assert file.headers["Content-Type"] == "application/pdf"
    text = "".join(page.extract_text() for page in PdfReader(io.BytesIO(file.content)).pages)
    assert "12 Elm Street" in text
    assert here.get(reverse("papers", args=[elm]), {"paper": "napkin"}).status_code == 404


@pytest.mark.parametrize("view", ["outside", "inside", "opened", "vertical", "horizontal"])
def test_drawings_as_files(here: Client, elm: str, view: str) -> None:
    file = here.get(reverse("window-svg", args=[elm, "101", view]))
    assert file.headers["Content-Type"] == "image/svg+xml"
    text = file.content.decode()
    assert text.startswith("<svg")
    assert "var(--" not in text


# --- details ----------------------------------------------------------------------


def detail(client: Client, slug: str, field: str, value: str, base: int) -> int:
    data = {"field": field, field: value, "base": base}
    return client.post(reverse("house-field", args=[slug]), data).status_code


def test_details_save_themselves(part: Client, elm: str) -> None:
    assert detail(part, elm, "owner", "The Hollis family", 1) == 200
    assert detail(part, elm, "walls.south.faces", "SSE", 2) == 200
    document = store.stored(elm, "house").document
    assert document["owner"] == "The Hollis family"
    assert document["walls"]["south"]["faces"] == 157.5
    assert detail(part, elm, "built", "long ago", 3) == 422
    assert detail(part, elm, "name", "", 3) == 422
    assert detail(part, elm, "colour", "red", 3) == 404


def test_walls_come_and_go(here: Client, elm: str) -> None:
    address = reverse("house-wall", args=[elm])
    here.post(address, {"wall": "bay"})
    assert "bay" in store.stored(elm, "house").document["walls"]
    here.post(address, {"wall": "bay", "act": "remove"})
    assert "bay" not in store.stored(elm, "house").document["walls"]
    page = here.post(address, {"wall": "east", "act": "remove"}, follow=True)
    assert "east" in store.stored(elm, "house").document["walls"]
    assert "expected" in page.content.decode()
