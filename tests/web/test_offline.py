"""The survey away from the shop: what is taken along, what is kept, what comes back and its answer."""

from __future__ import annotations

import json
import re
import uuid
from typing import TYPE_CHECKING, Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.utils import timezone

from sashwright.record import people, store
from sashwright.record.facts import knowledge
from sashwright.record.models import Window
from sashwright.web import shell
from sashwright.web.outlined import boxes_of, outline_of
from sashwright.window.resolve import Placed, place_each
from tests.factories import family_document, house_document, make_house, window_document
from tests.pictures import picture_file

if TYPE_CHECKING:
    from django.contrib.auth.models import User

ELSEWHERE = {"SERVER_NAME": "localhost", "REMOTE_ADDR": "192.0.2.7"}


def entry(kind: str, who: User, **fields: Any) -> dict[str, Any]:
    common = {
        "key": str(uuid.uuid4()),
        "kind": kind,
        "who": who.pk,
        "at": timezone.now().isoformat(),
    }
    return {**common, **fields}


def send(client: Client, *entries: dict[str, Any]) -> list[dict[str, Any]]:
    body = json.dumps({"entries": entries})
    answer = client.post("/offline/send", body, content_type="application/json")
    assert answer.status_code == 200
    answers: list[dict[str, Any]] = answer.json()["answers"]
    return answers


# --- the page and its files -----------------------------------------------------------


def test_the_page_is_the_same_for_everybody_and_says_nothing_of_anybody(
    here: Client, elm: str
) -> None:
    people.add_person("Ned Nobody", "surveyor", "a long enough word")
    ned = Client(**ELSEWHERE)
    ned.force_login(people.find_person("Ned Nobody"))
    pages = [client.get("/offline/").content for client in (here, ned, ned)]
    assert pages[0] == pages[1] == pages[2]
    assert b"csrf" not in pages[0]
    assert b"Elm" not in pages[0]


def test_what_a_browser_needs_to_keep_it(here: Client) -> None:
    nobody = Client(**ELSEWHERE)
    manifest = nobody.get("/manifest.webmanifest")
    said = manifest.json()
    assert manifest.headers["Content-Type"] == "application/manifest+json"
    assert (said["start_url"], said["display"]) == ("/offline/", "standalone")
    assert {icon["purpose"] for icon in said["icons"]} == {"any", "maskable"}
    for icon in said["icons"]:
        size = int(icon["sizes"].split("x")[0])
        data = b"".join(here.get(icon["src"]).streaming_content)  # type: ignore[attr-defined]
        assert data[:8] == b"\x89PNG\r\n\x1a\n"
        assert int.from_bytes(data[16:20]) == int.from_bytes(data[20:24]) == size
    worker = nobody.get("/offline/worker.js")
    assert worker.headers["Content-Type"] == "text/javascript"
    assert worker.headers["Cache-Control"] == "no-cache"
    policy = worker.headers["Content-Security-Policy"]
    assert "worker-src 'self'" in policy
    assert "manifest-src 'self'" in policy
    assert "unsafe" not in policy


def test_all_that_the_page_loads_is_kept(here: Client) -> None:
    """Page, style sheets and every module that a module names are in the worker's list, and are there."""
    page = here.get("/offline/").content.decode()
    kept = set(shell.addresses())
    linked = set(re.findall(r'(?:href|src)="(/static/[^"]+)"', page))
    assert linked - kept == set()
    for name in shell.files():
        text = (shell.FOLDER / name).read_bytes().decode("utf-8", "replace")
        if name.endswith(".js"):
            for module in re.findall(r'from "(\.[^"]+)"', text):
                assert ((shell.FOLDER / name).parent / module).resolve().is_file(), (name, module)
                base = (shell.FOLDER / name).parent / module
                assert f"/static/{base.resolve().relative_to(shell.FOLDER.resolve())}" in kept
        for url in re.findall(r'url\("([^"]+)"\)', text) if name.endswith(".css") else ():
            base = (shell.FOLDER / name).parent / url
            assert f"/static/{base.resolve().relative_to(shell.FOLDER.resolve())}" in kept
    for address in kept:
        assert here.get(address).status_code == 200, address


def test_a_changed_file_makes_another_digest(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Any
) -> None:
    before = shell.digest(b"page")
    assert before == shell.digest(b"page")
    assert before != shell.digest(b"other")
    other = tmp_path / "file.js"
    other.write_text("1")
    monkeypatch.setattr(shell.finders, "find", lambda _: str(other))
    changed = shell.digest(b"page")
    other.write_text("2")
    assert shell.digest(b"page") not in (before, changed)


# --- taken along ------------------------------------------------------------------------


def test_a_house_goes_along_without_its_money(here: Client, owner: User) -> None:
    document = house_document(pricing={"options": [{"key": "a", "name": "b", "amount": "77.00"}]})
    slug = store.create_house(document, owner)
    spent = [{"task": "reglaze", "hours": 2.5}]
    store.save_fields(slug, "window", "101", {"spent": spent}, 1, owner)
    store.add_photograph(slug, picture_file(), owner, window="102")
    answer = here.get(f"/offline/houses/{slug}.json")
    taken = answer.json()
    assert "77" not in json.dumps({k: v for k, v in taken.items() if k in ("name", "windows")})
    assert "pricing" not in answer.content.decode()
    assert "spent" not in answer.content.decode()
    assert [each["number"] for each in taken["windows"]] == store.window_numbers(slug)
    assert taken["windows"][0]["version"] == 2
    assert taken["windows"][0]["id"] == Window.objects.get(number="101").pk
    assert [each["photographs"] for each in taken["windows"][:2]] == [0, 1]
    assert {row["key"] for row in taken["faults"]} == set(knowledge().fault)
    pieces = {name for name, _, _ in taken["families"][0]["pieces"]}
    assert {"lower.bottom_rail", "frame.sill", "upper.putty"} <= pieces
    known = here.get("/offline/here.json").json()
    assert known["who"]["id"] == owner.pk
    assert [row["slug"] for row in known["houses"]] == [slug]
    assert here.get("/offline/houses/nowhere.json").status_code == 404


@pytest.mark.parametrize(
    "fields",
    [
        {},
        {"frame": {"casing_width": "0"}, "meeting": {"lower_share": 0.4}},
        {
            "sash": {"stile": "2 1/2", "horn": "3", "lites": "3x2"},
            "frame": {"sill_slope": "10 deg"},
        },
    ],
)
@pytest.mark.parametrize(
    ("width", "height", "met"), [("28", "52", None), ("44 3/8", "90", None), ("36", "70", "41")]
)
def test_the_device_draws_what_the_layout_says(
    fields: dict[str, Any], width: str, height: str, met: str | None
) -> None:
    """By its few numbers every edge of any other window falls where the layout puts it, to 0.01 mm."""
    window = window_document(family="A", width=width, height=height)
    if met:
        window["meeting_height"] = met
    house = make_house(families={"A": family_document(**fields)}, windows=[window])
    ((_, placed),) = place_each(house, knowledge())
    assert isinstance(placed, Placed)
    alone = house.model_copy(update={"windows": ()})
    outline = outline_of(alone, "A", knowledge())
    assert outline is not None
    sizes = [1.0, placed.window.width, placed.window.height, placed.window.meeting_height or 0.0]
    expected = boxes_of(placed)
    assert expected.keys() == outline["put" if met else "free"].keys()
    for name, edges in outline["put" if met else "free"].items():
        drawn = [sum(a * b for a, b in zip(edge, sizes, strict=False)) for edge in edges]
        assert drawn == pytest.approx(expected[name], abs=1e-5), name


def test_boxes_are_those_of_the_layout() -> None:
    ((_, placed), *_) = place_each(make_house(), knowledge())
    assert isinstance(placed, Placed)
    boxes = boxes_of(placed)
    lower = placed.layout.lower
    lites = lower.lites
    left, bottom, right, top = boxes["lower.daylight"]
    assert (left, bottom) == pytest.approx((lites[0].left, lites[0].bottom))
    assert (right, top) == pytest.approx((lites[-1].right, lites[-1].top))
    assert boxes["lower.bottom_rail"][3] - boxes["lower.bottom_rail"][1] == pytest.approx(
        3 * 0.0254
    )


# --- sent -------------------------------------------------------------------------------


def test_a_page_from_elsewhere_sends_nothing(elm: str, owner: User) -> None:
    client = Client(enforce_csrf_checks=True, SERVER_NAME="localhost")
    added = entry("add-window", owner, house=elm, document=window_document("104"))
    body = json.dumps({"entries": [added]})
    assert client.post("/offline/send", body, content_type="application/json").status_code == 403
    token = client.get("/offline/here.json").json()["token"]
    answer = client.post(
        "/offline/send", body, content_type="application/json", headers={"X-CSRFToken": token}
    )
    assert answer.json()["answers"][0]["status"] == "kept"


@pytest.mark.parametrize("body", ["", "{}", "[]", '{"entries": 3}', '{"entries": [3]}', "null"])
def test_what_is_no_list_is_refused_whole(here: Client, body: str) -> None:
    answer = here.post("/offline/send", body, content_type="application/json")
    assert answer.status_code == 400
    assert "expected" in answer.json()["says"]


def test_too_many_together(here: Client, owner: User) -> None:
    body = json.dumps({"entries": [{}] * 201})
    assert here.post("/offline/send", body, content_type="application/json").status_code == 400


def test_what_follows_trouble_at_the_same_window_waits(here: Client, elm: str, owner: User) -> None:
    taken = entry("add-window", owner, house=elm, document=window_document("101"))
    on_it = entry(
        "set-fields", owner, house=elm, window={"made": taken["key"]}, fields={"note": "x"}
    )
    other = entry("add-window", owner, house=elm, document=window_document("104"))
    back = entry("undo", owner, house=elm, of=taken["key"])
    answers = send(here, taken, on_it, other, back)
    assert [each["status"] for each in answers] == ["refused", "waits", "kept", "waits"]
    assert answers[0]["says"] == "Number: found '101', expected a number no other window has."
    assert store.stored(elm, "window", "101").document["note"] == ""


def test_a_conflict_shows_both_values(here: Client, elm: str, owner: User, bob: User) -> None:
    window = {"id": Window.objects.get(number="101").pk}
    store.save_fields(elm, "window", "101", {"width": "33"}, 1, bob)
    mine = entry("set-fields", owner, house=elm, window=window, base=1, fields={"width": "34 3/8"})
    (answer,) = send(here, mine)
    assert answer["status"] == "conflict"
    assert answer["who"] == "bob"
    assert answer["fields"] == [
        {"path": "width", "label": "Width of opening", "mine": "34 3/8 in", "theirs": "33 in"}
    ]
    assert answer["window"]["version"] == 2


def test_a_photograph_comes_with_its_entry(here: Client, elm: str, owner: User) -> None:
    window = {"id": Window.objects.get(number="101").pk}
    mine = entry("photo", owner, house=elm, window=window, component="lower.bottom_rail")

    def bring(data: bytes) -> dict[str, Any]:
        file = SimpleUploadedFile("photograph", data, "image/jpeg")
        posted = here.post("/offline/photograph", {"entry": json.dumps(mine), "photo": file})
        answer: dict[str, Any] = posted.json()["answers"][0]
        return answer

    picture = picture_file(place=True)
    assert [bring(picture)["again"] for _ in range(2)] == [False, True]
    (row,) = store.photographs(elm)
    assert (row.window, row.component) == ("101", "lower.bottom_rail")
    assert bring(picture_file(seed=3))["status"] == "refused"
    assert here.post("/offline/photograph", {"entry": json.dumps(mine)}).status_code == 400
    mine["key"] = str(uuid.uuid4())
    assert "no picture" in bring(b"nothing")["says"]
