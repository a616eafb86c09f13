"""The survey on pages: findings put down part by part, copied, taken for typical, tested."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.record import store
from tests.factories import family_document, house_document, window_document
from tests.web.test_chapters import text_of

DECAY = {"on": "lower.bottom_rail", "fault": "decay", "severity": "severe", "length": "8 in"}
TYPICAL = {"found": [{"on": "upper.putty", "fault": "putty-cracked", "severity": "slight"}]}


@pytest.fixture
def oak(owner: User) -> str:
    """A surveyed window, one like it, one nobody has looked at; old putty is typical of the family."""
    windows = [
        window_document("101", condition={"found": [DECAY], "on": "2026-04-07", "by": "Ann"}),
        window_document("102", condition={"like": "101"}),
        window_document("103"),
    ]
    families = {"A": family_document(typical=TYPICAL, upper={"lites": "3x2"})}
    return store.create_house(house_document(name="Oak", families=families, windows=windows), owner)


def said(answer: Any) -> str:
    """What a page says, with its commas where they belong."""
    return text_of(answer).replace(" ,", ",")


def condition(slug: str, number: str) -> dict[str, Any]:
    kept = store.stored(slug, "window", number).document["condition"]
    assert isinstance(kept, dict)
    return kept


def page(client: Client, slug: str, number: str, **query: Any) -> Any:
    return client.get(reverse("window-condition", args=[slug, number]), query)


def keep(client: Client, slug: str, number: str, act: str, **fields: Any) -> Any:
    address = reverse("window-condition-save", args=[slug, number])
    return client.post(address, {"act": act, **fields})


def token(found: Any) -> str:
    (one,) = re.findall(r"\?finding=([0-9a-f]{12})", found.content.decode())
    return str(one)


# --- looking --------------------------------------------------------------------------


def test_what_holds_is_listed_with_where_it_comes_from(here: Client, oak: str) -> None:
    text = said(page(here, oak, "101"))
    assert 'Lower bottom rail decay, severe, 8"' in text
    assert "Upper putty putty cracked or loose, slight typical of the family" in text
    assert "as the other window" in text_of(page(here, oak, "102"))
    assert "2026-04-07, Ann" in text


def test_every_part_of_the_drawing_leads_to_its_form(here: Client, oak: str) -> None:
    found = page(here, oak, "103").content.decode()
    links = re.findall(r'<a href="[^"]+\?on=([\w.]+)#finding-form" aria-label="([^"]+)"', found)
    assert ("lower.left_stile", "Lower left stile") in links
    assert ("upper.putty", "Upper putty: putty cracked or loose, slight") in links
    assert len(links) == len(set(links)) > 40
    # The same as a plain list.
    options = re.findall(r'<option value="([\w.]+)"', found.partition('name="on"')[2])
    assert {name for name, _ in links} <= set(options)
    assert "lower.cord" in options


def test_only_faults_that_fit_the_part_are_offered(here: Client, oak: str) -> None:
    found = page(here, oak, "103", on="lower.cord.left").content.decode()
    (select,) = re.findall(r'<select id="found-fault".*?</select>', found, re.DOTALL)
    assert re.findall(r'value="([\w-]+)"', select) == ["cord-frayed", "cord-broken"]


@pytest.mark.parametrize(
    ("on", "fault", "fields"),
    [
        ("lower.bottom_rail", "decay", ["length", "moisture", "probe", "note"]),
        ("upper.lite.1.1", "glass-cracked", ["count", "note"]),
        ("sill", "paint-peeling", ["area", "moisture", "probe", "note"]),
        ("lower.sash", "sticks", ["note"]),
    ],
)
def test_the_form_asks_what_that_fault_is_measured_by(
    part: Client, oak: str, on: str, fault: str, fields: list[str]
) -> None:
    answer = part.get(
        reverse("window-condition", args=[oak, "103"]),
        {"on": on, "fault": fault},
        headers={"HX-Target": "finding-form"},
    ).content.decode()
    assert "<svg" not in answer
    found = re.findall(r'<input id="found-\w+" name="(\w+)"', answer)
    assert found == fields


def test_what_was_typed_stays_when_another_fault_is_chosen(part: Client, oak: str) -> None:
    query = {
        "on": "sill",
        "fault": "split",
        "length": "12 1/2",
        "note": "left end",
        "severity": "severe",
    }
    answer = part.get(
        reverse("window-condition", args=[oak, "103"]), query, headers={"HX-Target": "finding-form"}
    ).content.decode()
    assert 'value="12 1/2"' in answer
    assert 'value="left end"' in answer
    assert re.search(r'value="severe" checked', answer)


def test_a_part_has_one_name_whether_the_frame_is_named_or_not(here: Client, oak: str) -> None:
    keep(here, oak, "103", "finding", on="sill", fault="split")
    found = page(here, oak, "103", on="frame.sill")
    assert "Split along the grain, moderate Change" in said(found)
    assert '<option value="frame.sill" selected>' in found.content.decode()
    keep(here, oak, "103", "sound", on="frame.sill")
    assert condition(oak, "103")["found"] == []
    keep(here, oak, "103", "finding", on="sill", fault="split")
    assert condition(oak, "103")["sound"] == []


def test_unknown_parts_are_not_there(here: Client, oak: str) -> None:
    assert page(here, oak, "103", on="lower.wing").status_code == 404
    assert here.get(reverse("window-condition", args=[oak, "999"])).status_code == 404
    assert keep(here, oak, "103", "burn").status_code == 404


# --- putting down ---------------------------------------------------------------------


def test_a_finding_is_kept_with_units_and_signed(here: Client, oak: str, owner: User) -> None:
    answer = keep(
        here, oak, "103", "finding",
        on="frame.sill", fault="decay", severity="moderate", length="9", probe="3/8", moisture="19",
        note="left end",
    )  # fmt: skip
    assert answer.status_code == 302
    kept = condition(oak, "103")
    assert kept["found"] == [
        {
            "on": "frame.sill", "fault": "decay", "severity": "moderate", "length": "9 in",
            "moisture": 19.0, "probe": "3/8 in", "note": "left end", "photos": [],
        }
    ]  # fmt: skip
    assert kept["by"] == store.name_of(owner)
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", kept["on"])
    # Whoever surveyed it first stays its surveyor.
    keep(here, oak, "101", "finding", on="sill", fault="split")
    assert condition(oak, "101")["by"] == "Ann"


@pytest.mark.parametrize(
    ("fields", "says"),
    [
        ({"on": "sill", "fault": ""}, "Found no fault"),
        ({"on": "sill", "fault": "cord-broken"}, "expected one that Sill can have"),
        ({"on": "sill", "fault": "decay", "length": "a bit"}, "How far it goes: found"),
        ({"on": "sill", "fault": "decay", "length": "40"}, "at most 32 in"),
        ({"on": "sill", "fault": "decay", "severity": "awful"}, "awful"),
        ({"on": "upper.lite", "fault": "glass-cracked", "count": "9"}, "at most 6"),
        ({"on": "sill", "fault": "decay", "moisture": "900"}, "Meter reads: found 900"),
    ],
)
def test_what_makes_no_sense_is_refused_with_a_sentence(
    here: Client, oak: str, fields: dict[str, str], says: str
) -> None:
    before = condition(oak, "103")
    answer = keep(here, oak, "103", "finding", **fields)
    assert answer.status_code == 422
    assert says in text_of(answer)
    assert condition(oak, "103") == before


def test_a_finding_is_changed_in_its_place(here: Client, oak: str) -> None:
    keep(here, oak, "101", "finding", on="sill", fault="split")
    shown = page(here, oak, "101", on="lower.bottom_rail")
    mine = next(
        each for each in re.findall(r"\?finding=([0-9a-f]{12})", shown.content.decode())
        if "Decay" in text_of(page(here, oak, "101", finding=each))
    )  # fmt: skip
    form = page(here, oak, "101", finding=mine).content.decode()
    assert 'name="length" value="8"' in form
    keep(here, oak, "101", "finding", on="lower.bottom_rail", fault="decay", severity="slight",
         finding=mine)  # fmt: skip
    kept = condition(oak, "101")["found"]
    assert [(each["fault"], each.get("severity")) for each in kept] == [
        ("decay", "slight"), ("split", None),
    ]  # fmt: skip
    assert "length" not in kept[0]


def test_a_finding_is_taken_away_and_put_back_by_undo(here: Client, oak: str) -> None:
    mine = token(page(here, oak, "101"))
    answer = here.post(
        reverse("window-condition-save", args=[oak, "101"]),
        {"act": "remove", "finding": mine}, follow=True,
    )  # fmt: skip
    assert condition(oak, "101")["found"] == []
    (undo,) = re.findall(r'action="(/undo/\d+)"', answer.content.decode())
    here.post(undo)
    assert condition(oak, "101")["found"][0]["fault"] == "decay"


def test_two_people_at_one_finding(here: Client, oak: str) -> None:
    mine = token(page(here, oak, "101"))
    keep(here, oak, "101", "finding", **{**DECAY, "length": "9"}, finding=mine)
    late = keep(here, oak, "101", "finding", **{**DECAY, "length": "10"}, finding=mine)
    assert late.status_code == 409
    assert "Somebody else changed this meanwhile" in text_of(late)
    assert condition(oak, "101")["found"][0]["length"] == "9 in"


# --- fast entry -----------------------------------------------------------------------


def test_sound_is_one_tap_and_takes_back_what_was_found_there(here: Client, oak: str) -> None:
    keep(here, oak, "101", "sound", on="lower.bottom_rail")
    assert condition(oak, "101")["found"] == []
    assert condition(oak, "101")["sound"] == ["lower.bottom_rail"]
    # What is typical does not hold there either.
    keep(here, oak, "103", "sound", on="upper.putty")
    assert "typical of the family" not in text_of(page(here, oak, "103"))
    keep(here, oak, "103", "sound", on="upper.putty", **{"not": "1"})
    assert "typical of the family" in text_of(page(here, oak, "103"))
    # A finding ends it.
    keep(here, oak, "101", "finding", **DECAY)
    assert condition(oak, "101")["sound"] == []


def test_rest_as_typical_and_all_sound(here: Client, oak: str, owner: User) -> None:
    keep(here, oak, "103", "typical")
    kept = condition(oak, "103")
    assert (kept["as_typical"], kept["by"]) == (True, store.name_of(owner))
    keep(here, oak, "101", "all-sound")
    kept = condition(oak, "101")
    assert (kept["found"], kept["as_typical"]) == ([], False)
    assert "Nothing is wrong with it." in text_of(page(here, oak, "101"))


def test_findings_as_on_another_window(here: Client, oak: str) -> None:
    found = page(here, oak, "103").content.decode()
    (select,) = re.findall(r'<select id="survey-like".*?</select>', found, re.DOTALL)
    # 102 is like another itself.
    assert re.findall(r"<option>(\w+)</option>", select) == ["101"]
    base = str(store.stored(oak, "window", "103").version)
    keep(here, oak, "103", "survey", like="101", on="2026-05-02", by="Ben", base=base)
    kept = condition(oak, "103")
    assert (kept["like"], kept["on"], kept["by"], kept["as_typical"]) == (
        "101", "2026-05-02", "Ben", False,
    )  # fmt: skip
    assert "as the other window" in text_of(page(here, oak, "103"))
    late = keep(here, oak, "103", "survey", like="", on="2026-05-03", base=base)
    assert late.status_code == 409


def test_tests_for_lead_and_asbestos(here: Client, oak: str) -> None:
    base = str(store.stored(oak, "window", "101").version)
    given = {"which": "lead", "result": "present", "by": "a tester, by X-ray", "on": "2026-04-02"}
    assert keep(here, oak, "101", "test", base=base, **given).status_code == 302
    kept = condition(oak, "101")["lead"]
    assert (kept["result"], kept["by"], kept["on"]) == tuple(list(given.values())[1:])
    assert "lead: present" in text_of(page(here, oak, "101"))
    bad = keep(here, oak, "101", "test", which="radon", result="present")
    assert bad.status_code == 422


# --- typical --------------------------------------------------------------------------


def test_what_is_typical_of_a_family(here: Client, oak: str) -> None:
    address = reverse("family-typical", args=[oak, "A"])
    assert "Upper putty putty cracked or loose" in text_of(here.get(address))
    save = reverse("family-typical-save", args=[oak, "A"])
    here.post(save, {"act": "finding", "on": "sill", "fault": "weather-checks", "length": "12"})
    kept = store.stored(oak, "family", "A").document["typical"]["found"]
    assert [each["fault"] for each in kept] == ["putty-cracked", "weather-checks"]
    assert 'Sill weather checks, moderate, 12" typical of the family' in said(
        page(here, oak, "103")
    )
    # Sound is for windows only.
    assert here.post(save, {"act": "sound", "on": "sill"}).status_code == 422
    assert f'href="{address}"' in here.get(reverse("family", args=[oak, "A"])).content.decode()


def test_what_is_typical_of_a_house(here: Client, oak: str) -> None:
    address, save = (reverse(f"house-typical{more}", args=[oak]) for more in ("", "-save"))
    assert "Lower cord" in text_of(here.get(address, {"on": "lower.cord"}))
    here.post(save, {"act": "finding", "on": "lower.cord", "fault": "cord-frayed"})
    assert "typical of the house" in text_of(page(here, oak, "103"))
    refused = here.post(save, {"act": "finding", "on": "lower.cord", "fault": "decay"})
    assert refused.status_code == 422
    assert f'href="{address}"' in here.get(reverse("house-details", args=[oak])).content.decode()


# --- as a part of the window's page ---------------------------------------------------


def test_the_windows_page_asks_for_it(here: Client, oak: str) -> None:
    found = here.get(reverse("window", args=[oak, "101"])).content.decode()
    assert f'hx-get="{reverse("window-condition", args=[oak, "101"])}"' in found
    assert 'href="#part-condition"' in found


def test_what_is_kept_brings_the_rest_of_the_page_along(part: Client, oak: str) -> None:
    home = "http://localhost" + reverse("window", args=[oak, "103"])
    answer = part.post(
        reverse("window-condition-save", args=[oak, "103"]),
        {"act": "finding", "on": "sill", "fault": "split"},
        headers={"HX-Current-URL": home},
    )
    text = answer.content.decode()
    version = store.stored(oak, "window", "103").version
    assert f'id="base" value="{version}" hx-swap-oob="true"' in text
    assert 'id="steps"' in text
    assert "Sill: kept." in text
    assert 'value="/oak/windows/103/"' in text
    assert "sashwright:changed" in answer.headers["HX-Trigger-After-Settle"]
    # On its own page there is nothing else to change.
    alone = part.post(
        reverse("window-condition-save", args=[oak, "103"]),
        {"act": "finding", "on": "stool", "fault": "split"},
        headers={
            "HX-Current-URL": "http://localhost" + reverse("window-condition", args=[oak, "103"])
        },
    ).content.decode()
    assert 'id="base"' not in alone


def test_a_window_that_cannot_be_drawn_says_so(here: Client, oak: str) -> None:
    from sashwright.record.models import Window

    kept = Window.objects.get(number="103")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    assert "It cannot be drawn" in text_of(page(here, oak, "103"))


def test_a_copy_of_a_window_has_not_been_surveyed(here: Client, oak: str) -> None:
    here.post(reverse("copy-window", args=[oak, "101"]))
    numbers = set(store.window_numbers(oak)) - {"101", "102", "103"}
    assert condition(oak, numbers.pop())["found"] == []
