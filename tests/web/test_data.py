"""Answers as JSON: the same as the chapters give, with one sentence for what was wrong."""

from __future__ import annotations

import json

import pytest
from django.contrib.auth.models import User
from django.test import Client
from django.urls import reverse

from sashwright.chapters.hang import hang
from sashwright.knowledge.load import load
from sashwright.record import store
from tests.factories import house_document

CHAPTERS = ["parts", "hang", "fit", "seal", "season", "heat"]


@pytest.fixture
def maine(owner: User) -> str:
    return store.create_house(house_document(climate="Portland, Maine"), owner)


@pytest.mark.parametrize("chapter", CHAPTERS)
def test_every_chapter_answers_for_the_windows_asked_for(
    here: Client, maine: str, chapter: str
) -> None:
    found = here.get(reverse("answer", args=[maine, chapter]), {"window": "101"})
    assert found.status_code == 200
    answer = found.json()
    assert answer["chapter"] == chapter
    assert [window["number"] for window in answer["windows"]] == ["101"]
    assert set(answer["windows"][0]) == {"number", "values", "findings", "working"}


def test_it_is_the_chapters_own_answer(here: Client, elm: str) -> None:
    found = here.get(reverse("answer", args=[elm, "hang"])).json()
    assert found == json.loads(json.dumps(hang(store.load_house(elm), load()).to_dict()))


@pytest.mark.parametrize("chapter", ["parts", "hang", "seal", "season"])
def test_most_chapters_do_without_weather(here: Client, elm: str, chapter: str) -> None:
    assert here.get(reverse("answer", args=[elm, chapter])).status_code == 200


def test_fit_without_weather_says_what_is_missing(here: Client, elm: str) -> None:
    found = here.get(reverse("answer", args=[elm, "fit"]))
    assert found.status_code == 400
    assert "expected the name of a place" in found.json()["error"]


def test_a_date_that_is_none_is_told(here: Client, maine: str) -> None:
    found = here.get(reverse("answer", args=[maine, "fit"]), {"on": "yesterday"})
    assert found.status_code == 400
    assert "yesterday" in found.json()["error"]


def test_what_is_not_there(here: Client, elm: str) -> None:
    assert here.get(reverse("answer", args=[elm, "cooking"])).status_code == 404
    assert here.get(reverse("answer", args=[elm, "hang"]), {"window": "999"}).status_code == 404
    assert here.get(reverse("answer", args=["nowhere", "hang"])).status_code == 404
    assert here.post(reverse("answer", args=[elm, "hang"])).status_code == 405
