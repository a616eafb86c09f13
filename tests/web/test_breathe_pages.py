"""How a house breathes, and the rooms and doors that it breathes through."""

from __future__ import annotations

from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.answer import Answer
from sashwright.chapters.breathe import breathe, breathe_hour, chapter
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.record.outdoors import named
from sashwright.web.answers.breathe import Choice
from sashwright.web.views.papers import PARTS
from tests.airhouse import airy_document
from tests.factories import house_document
from tests.web.test_chapters import text_of

FEW = 0.1
"""Seconds of search: enough for a plan, whichever."""


@pytest.fixture(autouse=True)
def _short_search(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(chapter, "SECONDS", FEW)


@pytest.fixture
def airy(owner: User) -> str:
    return store.create_house(airy_document(), owner)


def answer_of(slug: str, system: Any = "us") -> Answer:
    year = named("Portland, Maine").year
    return breathe(store.load_house(slug), knowledge(), system, year=year, seconds=FEW)


def page(client: Client, slug: str, **query: Any) -> Any:
    return client.get(reverse("breathe", args=[slug]), query)


# --- the answer -----------------------------------------------------------------------


def test_the_page_comes_at_once_and_asks_for_the_answer(
    here: Client, airy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never(*_: Any, **__: Any) -> Any:
        raise AssertionError("searched before the page was sent")

    monkeypatch.setattr("sashwright.chapters.breathe.breathe", never)
    found = page(here, airy).content.decode()
    assert f'hx-get="{reverse("breathe", args=[airy])}"' in found
    assert 'hx-trigger="load"' in found
    assert "ten seconds to a minute" in found


def test_the_part_says_what_the_chapter_says(part: Client, airy: str) -> None:
    found, answer = page(part, airy), answer_of(airy)
    text = text_of(found)
    for finding in answer.findings:
        assert finding.says in text
    for plan in answer.values["plans"]:
        name = plan["name"][:1].upper() + plan["name"][1:]
        shares = (plan[f"{each}_share"] for each in ("comfortable", "overheated", "cold"))
        row = " ".join(f"{100 * share:.0f} %" for share in shares)
        assert f"{name} {row}" in text
    for season in answer.values["card"]:
        for each in season["parts"]:
            for line in each["lines"]:
                assert line in text
    assert "<html" not in found.content.decode()


def test_the_whole_page_can_be_waited_for_without_a_script(here: Client, airy: str) -> None:
    found = page(here, airy, now=1)
    assert "The card for the household" in text_of(found)
    assert "<html" in found.content.decode()


def test_the_answer_is_searched_once(
    part: Client, airy: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    page(part, airy)
    searched = []
    known = chapter.compare
    monkeypatch.setattr(chapter, "compare", lambda *a: searched.append(1) or known(*a))  # type: ignore[func-returns-value]
    page(part, airy)
    page(part, airy, season="hot", hour="15")
    assert not searched


@pytest.mark.parametrize(("hour", "words"), [("15", "3 pm"), ("0", "midnight"), ("12", "noon")])
def test_another_hour_of_another_plan_can_be_looked_at(
    here: Client, airy: str, hour: str, words: str
) -> None:
    asked = {"season": "hot", "hour": hour, "plan": "everything open"}
    found = here.get(
        reverse("breathe", args=[airy]),
        asked,
        headers={"HX-Request": "true", "HX-Target": "airhour"},
    ).content.decode()
    assert found.lstrip().startswith('<div id="airhour"')
    assert f'<option value="{hour}" selected>{words}</option>' in found
    assert '<option value="everything open" selected>' in found
    values = breathe_hour(
        store.load_house(airy), knowledge(), season="hot", hour=int(hour), plan="everything open",
        year=named("Portland, Maine").year, seconds=FEW,
    )  # fmt: skip
    assert values is not None
    for row in values["rooms"]:
        assert f"{row['operative_c'] * 1.8 + 32:.0f} °F" in found


def test_an_hour_that_is_none_is_the_usual_one(airy: str) -> None:
    values = answer_of(airy).values
    choice = Choice.of({"season": "wet", "hour": "25", "plan": "the worst"}, values)
    assert choice == Choice(values["seasons"][-1]["name"], 21, values["best"])


def test_the_plans_can_be_seen_for_one_season(part: Client, airy: str) -> None:
    shut = answer_of(airy).values["plans"][0]["seasons"]["hot"]
    text = text_of(page(part, airy, days="hot"))
    assert f"All shut {100 * shut['comfortable_share']:.0f} %" in text
    assert "Ways to open the house, hot season" in text


def test_without_weather_it_asks_for_a_place(here: Client, owner: User) -> None:
    slug = store.create_house(airy_document(climate=""), owner)
    text = text_of(page(here, slug))
    assert "Found no climate for the house" in text


def test_a_house_without_windows_has_nothing_to_open(here: Client, owner: User) -> None:
    slug = store.create_house(airy_document(windows=[]), owner)
    assert "No window yet" in text_of(page(here, slug))


def test_a_house_without_a_plan_is_told_that_one_is_assumed(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(climate="Portland, Maine"), owner)
    text = text_of(page(here, slug, now=1))
    assert "no plan of its rooms yet" in text
    assert "only its section can be drawn" in text


def test_the_answer_stands_beside_the_page_as_json(here: Client, airy: str) -> None:
    found = here.get(reverse("answer", args=[airy, "breathe"])).json()
    assert found["chapter"] == "breathe"
    assert found["values"]["best"] == answer_of(airy).values["best"]
    one = here.get(reverse("answer", args=[airy, "breathe"]), {"window": "102"}).json()
    assert [each["number"] for each in one["windows"]] == ["102"]


def test_json_without_weather_says_what_is_missing(here: Client, owner: User) -> None:
    slug = store.create_house(airy_document(climate=""), owner)
    found = here.get(reverse("answer", args=[slug, "breathe"]))
    assert found.status_code == 400
    assert "climate" in found.json()["error"]


def test_the_card_can_be_printed(here: Client, airy: str) -> None:
    assert PARTS["card"] == ("Ventilation card", ("card",))
    found = here.get(reverse("papers", args=[airy]), {"part": "card"})
    assert found.content.startswith(b"%PDF")


# --- rooms ----------------------------------------------------------------------------

ROOM = {
    "act": "save", "storey": "1", "left": "27'", "front": "0'", "width": "10'", "depth": "14'",
    "height": "9'", "use": "passing", "heated": "yes", "people": "0", "appliances": "0",
}  # fmt: skip


def base(slug: str) -> int:
    return store.stored(slug, "house").version


def keep(client: Client, slug: str, view: str = "room-save", **fields: str) -> Any:
    return client.post(reverse(view, args=[slug]), {"base": base(slug), **fields})


def test_rooms_and_doors_are_listed_with_their_plan(here: Client, airy: str) -> None:
    found = here.get(reverse("rooms", args=[airy]))
    text = text_of(found)
    assert "Parlor storey 1, 15'-0\" by 14'-0\", by day; windows 101" in text
    assert "Parlor – kitchen archway 4'-0\" by 6'-8\"" in text
    assert "Storey 2" in text


def test_a_room_is_added_changed_and_taken_out_again(here: Client, airy: str) -> None:
    assert keep(here, airy, **ROOM, name="back porch").status_code == 302
    made = store.load_house(airy).rooms["back porch"]
    assert (made.width, made.use) == (pytest.approx(3.048), "passing")
    keep(here, airy, **{**ROOM, "width": "12'"}, room="back porch")
    assert store.load_house(airy).rooms["back porch"].width == pytest.approx(3.6576)
    keep(here, airy, act="remove", room="back porch")
    assert "back porch" not in store.load_house(airy).rooms


def test_a_room_is_renamed_with_its_windows_and_doors(here: Client, airy: str) -> None:
    rooms = store.load_house(airy).rooms
    chamber = {**ROOM, "storey": "2", "left": "0'", "width": "27'", "height": "8'", "use": "night",
               "people": "0.5", "room": "chamber"}  # fmt: skip
    before = len(store.changes(airy))
    assert keep(here, airy, **chamber, name="north room").status_code == 302
    house = store.load_house(airy)
    assert [w.number for w in house.windows if w.room == "north room"] == ["201", "202"]
    assert house.doors[1].between == ("parlor", "north room")
    assert house.rooms["north room"].height == pytest.approx(8 * 0.3048)
    assert rooms["chamber"].height != house.rooms["north room"].height
    # What was typed into its fields is one change, the name with all that has it another.
    assert len(store.changes(airy)) == before + 2
    found = here.get(reverse("rooms", args=[airy]))
    assert "The chamber is now the north room" in text_of(found)
    assert keep(here, airy, **{**chamber, "room": "north room"}, name="parlor").status_code == 422


def test_a_room_with_a_full_stop_is_given_a_name_that_can_be_changed(
    here: Client, owner: User
) -> None:
    document = airy_document()
    document["rooms"] = {key.replace("kit", "k."): room for key, room in document["rooms"].items()}
    document["doors"] = [{"between": ["parlor", "k.chen"], "kind": "archway", "width": "48"}]
    document["windows"] = []
    slug = store.create_house({**document, "name": "Dotted"}, owner)
    assert keep(here, slug, act="save", room="k.chen", name="kitchen").status_code == 302
    house = store.load_house(slug)
    assert "kitchen" in house.rooms
    assert house.doors[0].between == ("parlor", "kitchen")


def test_what_reaches_a_wall_is_asked_on_the_details_page(here: Client, airy: str) -> None:
    page = here.get(reverse("house-details", args=[airy])).content.decode()
    for field, typed in (
        ("walls.south.noise", "loud road"),
        ("walls.west.weather", "driving rain"),
    ):
        assert f'name="{field}"' in page
        sent = {"field": field, field: typed, "base": base(airy)}
        assert here.post(reverse("house-field", args=[airy]), sent).status_code == 200
    walls = store.load_house(airy).walls
    assert walls["south"].noise == "loud road"
    assert walls["west"].weather == "driving rain"


def test_a_room_goes_with_its_doors(here: Client, airy: str) -> None:
    keep(here, airy, act="remove", room="chamber")
    assert [door.between for door in store.load_house(airy).doors] == [("parlor", "kitchen")]


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"width": "wide"}, "Along the front:"),
        ({"width": ""}, "Along the front: found nothing"),
        ({"left": "10'"}, "rooms of one storey side by side"),
        ({"name": "parlor"}, "expected a name of its own"),
        ({"name": "no.1"}, "such as 'front hall'"),
    ],
)
def test_what_is_wrong_is_said_at_the_form_and_nothing_is_kept(
    here: Client, airy: str, fields: dict[str, str], says: str
) -> None:
    before = base(airy)
    found = keep(here, airy, **{**ROOM, "name": "back porch", **fields})
    assert found.status_code == 422
    text = text_of(found)
    assert says in text
    assert 'value="12\'"' not in found.content.decode()
    assert base(airy) == before
    assert f'value="{fields.get("name", "back porch")}"' in found.content.decode()


def test_two_people_do_not_overwrite_each_other(here: Client, airy: str) -> None:
    old = base(airy)
    keep(here, airy, **{**ROOM, "left": "15'", "width": "13'"}, room="kitchen")
    found = here.post(
        reverse("room-save", args=[airy]),
        {**ROOM, "left": "15'", "width": "14'", "room": "kitchen", "base": old},
    )
    assert found.status_code == 409
    assert "Somebody else changed this meanwhile" in text_of(found)
    assert store.load_house(airy).rooms["kitchen"].width == pytest.approx(13 * 0.3048)


def test_a_door_is_added_changed_and_taken_away(here: Client, airy: str) -> None:
    door = {"act": "save", "one": "kitchen", "other": "chamber", "kind": "stair", "width": "30",
            "height": "96", "usual": "open", "may_shut": "no"}  # fmt: skip
    keep(here, airy, "door-save", **door)
    assert store.load_house(airy).doors[2].between == ("kitchen", "chamber")
    keep(here, airy, "door-save", **{**door, "width": "36"}, door="2")
    assert store.load_house(airy).doors[2].width == pytest.approx(0.9144)
    keep(here, airy, "door-save", act="remove", door="2")
    assert len(store.load_house(airy).doors) == 2


def test_a_door_wants_two_rooms(here: Client, airy: str) -> None:
    for one, other in (("kitchen", ""), ("kitchen", "kitchen")):
        found = keep(
            here, airy, "door-save", act="save", one=one, other=other, kind="door", width="30",
            height="80", usual="open", may_shut="yes",
        )  # fmt: skip
        assert found.status_code == 422
        assert "two rooms" in text_of(found)


def test_what_is_not_there_is_not_found(here: Client, airy: str) -> None:
    assert keep(here, airy, act="remove", room="ballroom").status_code == 404
    assert keep(here, airy, "door-save", act="remove", door="7").status_code == 404


def test_windows_in_no_room_of_the_plan_are_named(here: Client, airy: str) -> None:
    keep(here, airy, act="remove", room="chamber")
    text = text_of(here.get(reverse("rooms", args=[airy])))
    assert "Windows 201, 202 stand in “chamber”, which is no room of the plan" in text
