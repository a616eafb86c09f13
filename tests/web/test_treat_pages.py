"""What each window needs, on pages: the house wall by wall, alternatives beside each other, the decision."""

from __future__ import annotations

import re
from typing import Any

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.treat import treat
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import yearly
from sashwright.web.answers.treat import needs_shown
from tests.factories import family_document, house_document, window_document
from tests.web.test_chapters import text_of

ROTTEN = {"found": [{"on": "sill", "fault": "decay", "severity": "severe", "length": "20 in"}]}
SHUT = {"found": [{"on": "lower.sash", "fault": "painted-shut"}]}


@pytest.fixture
def oak(owner: User) -> str:
    """A rotten sill, a sash painted shut where someone sleeps, and a window nobody has looked at."""
    windows = [
        window_document("101", condition=ROTTEN),
        window_document("102", condition=SHUT, use={"bedroom": True}, wall="south"),
        window_document("103"),
    ]
    families = {"A": family_document(storm="winter"), "B": family_document()}
    return store.create_house(house_document(name="Oak", families=families, windows=windows), owner)


def part_of(client: Client, slug: str, number: str) -> Any:
    return client.get(reverse("window-treat", args=[slug, number]))


def decide(client: Client, slug: str, number: str, **fields: Any) -> Any:
    base = fields.pop("base", str(store.stored(slug, "window", number).version))
    address = reverse("window-decide", args=[slug, number])
    return client.post(address, {"base": base, **fields})


def decision(slug: str, number: str) -> Any:
    return store.stored(slug, "window", number).document.get("decision")


# --- the house ------------------------------------------------------------------------


def test_the_house_says_what_the_chapter_says(here: Client, oak: str) -> None:
    answer = treat(store.load_house(oak), knowledge())
    text = text_of(here.get(reverse("treat", args=[oak])))
    assert "Replace part 1 window" in text
    assert "Routine maintenance 1 window" in text
    values = answer.values
    assert (
        f"{values['hours']:.0f} hours, {values['hours_low']:.0f} to {values['hours_high']:.0f}"
        in text
    )
    for finding in answer.findings:
        assert finding.says in text
    # The most urgent first.
    assert re.findall(r"\b10[123]\b", text.partition("Window by window")[2])[:1] == ["101"]


def test_walls_carry_letters_hatches_and_links(here: Client, oak: str) -> None:
    found = here.get(reverse("treat", args=[oak])).content.decode()
    links = re.findall(r'<a href="([^"]+#part-treat)"><g', found)
    assert len(links) == 3
    assert "window 101: replace part" in found
    assert "window 103: nothing found" in found
    letters = re.findall(r'<text class="title halo"[^>]*>(\w)<', found)
    assert sorted(letters) == ["M", "M", "R", "R", "S"]
    assert "East wall" in found
    assert "South wall" in found


def test_windows_that_contradict_themselves_are_named(here: Client, oak: str) -> None:
    from sashwright.record.models import Window

    kept = Window.objects.get(number="103")
    kept.document = {**kept.document, "meeting_height": "4 in"}
    kept.save()
    assert "Left out, as their sizes contradict each other: 103" in text_of(
        here.get(reverse("treat", args=[oak]))
    )


def test_a_house_without_windows(here: Client, owner: User) -> None:
    slug = store.create_house(house_document(name="Empty", windows=[]), owner)
    assert "No window yet" in text_of(here.get(reverse("treat", args=[slug])))


def test_the_house_leads_to_it(here: Client, oak: str) -> None:
    for name in ("house", "price"):
        found = here.get(reverse(name, args=[oak])).content.decode()
        assert f'href="{reverse("treat", args=[oak])}"' in found


# --- one window -----------------------------------------------------------------------


def test_alternatives_stand_in_the_same_lines(here: Client, oak: str) -> None:
    answer = yearly.whole_of(oak, "us").treat_window("101")
    found = part_of(here, oak, "101").content.decode()
    cards = re.findall(r'<div class="waycard.*?</dl>', found, re.DOTALL)
    assert len(cards) == len(answer.values["alternatives"])
    for card in cards:
        assert re.findall(r"<dt>(\w+)</dt>", card) == ["Heat", "Air", "Grade", "Money", "Work"]
        assert "U-factor of" in card
        assert re.search(r"\d cfm", card)
        assert "at 75 Pa" in card
        assert "USD" in card
        assert "worth through the years: not worked out" in card
    assert f'href="{reverse("price", args=[oak])}#window-101"' in found
    # A storm hangs already, so that none is offered.
    assert "storm sash added" not in found


def test_metric_readers_have_their_own_units(oak: str) -> None:
    quoted = {
        "u_en_w_m2k": 2.148, "heat_state": "storm", "flow_75_m3_s": 0.0184, "flow_75_low_m3_s": 0.01,
        "flow_75_high_m3_s": 0.03, "performance_grade": 15, "grade_governs": "wind",
        "grade_lacks": [], "wind_used": 0.36,
    }  # fmt: skip
    answer = treat(store.load_house(oak), knowledge(), ["101"], beside={"101": {"leave": quoted}})
    needs = needs_shown(answer.windows[0], {}, "metric")
    assert needs is not None
    lines = {name: (figure, beside) for name, figure, beside in needs.ways[0].lines}
    assert lines["Heat"] == ("U of 2.15 W/(m² K)", "storm before it")
    assert lines["Air"] == ("66 m³/h", "36 m³/h to 108 m³/h, at 75 Pa")
    assert lines["Grade"] == ("PG 15", "wind uses 36 % of it; wind decides")
    # Nothing was quoted of the others.
    assert {name: figure for name, figure, _ in needs.ways[1].lines}["Heat"] == "not worked out"


def test_reasons_tasks_and_sources_are_there(here: Client, oak: str) -> None:
    answer = yearly.whole_of(oak, "us").treat_window("101")
    text = text_of(part_of(here, oak, "101"))
    (found,) = answer.values["condition"]
    assert found["reason"].casefold() in text.casefold()
    assert found["source"] in text
    chosen = next(w for w in answer.values["alternatives"] if w["key"] == answer.values["chosen"])
    assert chosen["tasks"]
    for task in chosen["tasks"]:
        assert task["name"] in text
        assert f"{task['hours']:.1f} h" in text


def test_cautions_stand_first(here: Client, oak: str) -> None:
    text = text_of(part_of(here, oak, "101")).partition("alternatives beside")[0]
    assert "Lead: paint not tested, house of 1894: taken for lead paint." in text
    bedroom = text_of(part_of(here, oak, "102")).partition("alternatives beside")[0]
    assert "it may be the room's way out in a fire" in bedroom


def test_worth_is_quoted_once_it_is_known(here: Client, oak: str) -> None:
    whole = yearly.whole_of(oak, "us")
    row = {"key": "repair", "net_savings": 4321.0, "energy_payback_years": 9.0}

    class Known:
        values = {"alternatives": [row], "years": 30, "currency": "USD"}

    whole._worths[False] = Known()  # type: ignore[assignment]
    text = text_of(part_of(here, oak, "101"))
    assert "done at all windows saves USD 4,321 through 30 years" in text


# --- the decision ---------------------------------------------------------------------


def test_a_decision_keeps_who_when_and_why(here: Client, oak: str) -> None:
    given = {"alternative": "shop", "by": "the owner", "on": "2026-04-20", "note": "Street front."}
    assert decide(here, oak, "101", **given).status_code == 302
    assert decision(oak, "101") == given
    text = text_of(part_of(here, oak, "101"))
    assert "Decided by the owner on 2026-04-20: restored in the shop. Street front." in text
    assert "the owner 2026-04-20" in text_of(here.get(reverse("treat", args=[oak])))
    history = text_of(here.get(reverse("history", args=[oak]), {"kind": "window", "key": "101"}))
    assert "decision" in history


def test_who_and_when_are_filled_in(here: Client, oak: str, owner: User) -> None:
    decide(here, oak, "101", alternative="in-place")
    kept = decision(oak, "101")
    assert kept["by"] == store.name_of(owner)
    assert re.fullmatch(r"\d{4}-\d\d-\d\d", kept["on"])


def test_a_decision_can_be_taken_back(here: Client, oak: str) -> None:
    decide(here, oak, "101", alternative="shop")
    decide(here, oak, "101", act="undecide")
    assert decision(oak, "101") is None
    assert "Not decided" not in text_of(part_of(here, oak, "101"))


def test_what_is_no_decision_is_refused(here: Client, oak: str) -> None:
    assert decide(here, oak, "101").status_code == 422
    assert decide(here, oak, "101", alternative="burn").status_code == 404
    bad = decide(here, oak, "101", alternative="shop", on="some day")
    assert bad.status_code == 422
    assert decision(oak, "101") is None


def test_two_people_decide_at_once(here: Client, oak: str) -> None:
    base = str(store.stored(oak, "window", "101").version)
    decide(here, oak, "101", alternative="shop", base=base)
    late = decide(here, oak, "101", alternative="new-sash", base=base)
    assert late.status_code == 409
    assert "Somebody else decided meanwhile" in text_of(late)
    assert decision(oak, "101")["alternative"] == "shop"


def test_the_part_brings_the_rest_of_the_page_along(part: Client, oak: str) -> None:
    home = "http://localhost" + reverse("window", args=[oak, "101"])
    base = str(store.stored(oak, "window", "101").version)
    answer = part.post(
        reverse("window-decide", args=[oak, "101"]),
        {"alternative": "shop", "base": base},
        headers={"HX-Current-URL": home},
    )
    text = answer.content.decode()
    version = store.stored(oak, "window", "101").version
    assert f'id="base" value="{version}" hx-swap-oob="true"' in text
    assert "part-treat" in answer.headers["HX-Trigger-After-Settle"]
    assert "<html" not in text


# --- beside the page ------------------------------------------------------------------


def test_the_answer_as_json(here: Client, oak: str) -> None:
    address = reverse("answer", args=[oak, "treat"])
    whole = here.get(address).json()
    assert whole == treat(store.load_house(oak), knowledge()).to_dict()
    one = here.get(address, {"window": "101"}).json()
    assert [window["number"] for window in one["windows"]] == ["101"]
    for way in one["windows"][0]["values"]["alternatives"]:
        assert {"u_na_w_m2k", "flow_75_m3_s", "performance_grade", "price", "worth"} <= set(
            way["beside"]
        )
