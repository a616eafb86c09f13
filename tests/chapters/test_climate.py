"""The climate of a place as an answer."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from sashwright.chapters.answer import Answer
from sashwright.chapters.climate import Site, describe
from sashwright.chapters.weather import normals_of, outdoor_moisture, year_of
from sashwright.knowledge.climate_load import gazetteer
from sashwright.physics.hourly_year import degree_days
from sashwright.physics.moisture import equilibrium_moisture_content

PLACES = gazetteer()
PORTLAND = PLACES.find("Portland, ME")
LONDON = PLACES.find("gb-london")


def said(answer: Answer, on: str) -> list[tuple[str, str]]:
    return [(finding.level, finding.says) for finding in answer.findings if finding.on == on]


def test_the_answer_has_the_one_shape() -> None:
    answer = describe(PORTLAND)
    written = json.loads(json.dumps(answer.to_dict()))
    assert written["chapter"] == "climate"
    assert written["house"] == "Portland International Jetport, ME"
    assert written["windows"] == []
    assert [month["month"] for month in written["values"]["months"]][::11] == [
        "January",
        "December",
    ]
    assert len(written["values"]["months"]) == 12
    assert all(step["source"] for step in written["working"])


def test_months_are_the_places() -> None:
    answer = describe(PORTLAND)
    for values, month in zip(answer.values["months"], PORTLAND.months, strict=True):
        assert month.temperature is not None
        assert month.humidity is not None
        assert values["temperature_c"] == month.temperature
        content = equilibrium_moisture_content(month.temperature, month.humidity)
        assert values["outdoor_moisture_content"] == pytest.approx(content)
    assert answer.values["months"][0]["wind_from"] == "N"
    assert answer.values["heating_degree_days_f"] == pytest.approx(
        PORTLAND.heating_degree_days * 1.8
    )
    assert answer.values["degree_days_from"] == "published for the place"


def test_the_year_is_weighted_by_days() -> None:
    answer = describe(PORTLAND)
    days = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]
    means = [month["temperature_c"] for month in answer.values["months"]]
    assert answer.values["year"]["temperature_c"] == pytest.approx(np.average(means, weights=days))
    contents = [month["outdoor_moisture_content"] for month in answer.values["months"]]
    assert answer.values["year"]["driest_moisture_content"] == min(contents)
    assert answer.values["year"]["dampest_moisture_content"] == max(contents)


def test_an_old_period_is_told() -> None:
    (finding,) = said(describe(PORTLAND), "period")
    assert finding[0] == "note"
    assert "1976 to 2005; today's normals are warmer" in finding[1]
    assert said(describe(LONDON), "period") == []


def test_weak_sources_are_told() -> None:
    levels = dict(said(describe(LONDON), "source"))
    assert levels["caution"] == "Part of the figures for London Heathrow want a second source."
    assert "temperature deviation" in levels["note"]
    medford = dict(said(describe(PLACES.find("Medford OR")), "source"))
    assert "595 m" in medford["caution"]
    assert said(describe(PORTLAND), "source") == []


def test_degree_days_are_counted_where_none_are_published() -> None:
    answer = describe(LONDON)
    heating, cooling = degree_days(year_of(LONDON).temperature)
    assert answer.values["heating_degree_days_k"] == heating
    assert answer.values["cooling_degree_days_k"] == cooling
    assert answer.values["degree_days_from"] == "counted in the typical year"


@pytest.mark.parametrize(
    ("site", "level", "words"),
    [
        (Site(43.66, -70.26), "ok", "is 2 miles from the house"),
        (Site(44.31, -69.78), "note", "is 52 miles from the house"),
        (Site(46.87, -68.01), "caution", "is 249 miles from the house"),
    ],
)
def test_distance(site: Site, level: str, words: str) -> None:
    answer = describe(PORTLAND, site=site)
    (found,) = said(answer, "distance")
    assert found[0] == level
    assert words in found[1]
    assert answer.values["rise_m"] is None
    assert said(answer, "elevation") == []


@pytest.mark.parametrize(
    ("height", "level", "words"),
    [
        (60.0, None, ""),
        (214.0, "note", "200 m above the station: expect it about 1.3 K colder"),
        (614.0, "caution", "600 m above the station: expect it about 3.9 K colder"),
        (-186.0, "note", "200 m below the station: expect it about 1.3 K warmer"),
    ],
)
def test_elevation(height: float, level: str | None, words: str) -> None:
    assert PORTLAND.elevation == 14.0
    answer = describe(PORTLAND, site=Site(43.66, -70.26, height), system="metric")
    found = said(answer, "elevation")
    assert [each[0] for each in found] == ([level] if level else [])
    assert all(words in each[1] for each in found)


def test_units_of_the_sentences() -> None:
    answer = describe(PORTLAND, site=Site(43.66, -70.26, 614.0))
    (found,) = said(answer, "elevation")
    assert "1,970 ft above the station: expect it about 7.0 °F colder" in found[1]


def test_others_nearby_are_listed() -> None:
    near = PLACES.near(43.66, -70.26, 30.0, count=3)
    listed = describe(PORTLAND, nearby=near).values["nearby"]
    assert [each["key"] for each in listed] == [each.spot.key for each in near]
    assert listed[0]["rise_m"] == 14.0 - 30.0


def test_years_and_normals_are_drawn_once() -> None:
    assert year_of(PORTLAND) is year_of(PORTLAND)
    assert normals_of(PORTLAND) is normals_of(PORTLAND)
    assert year_of(PORTLAND, 2) is not year_of(PORTLAND)
    with pytest.raises(ValueError, match="read-only"):
        normals_of(PORTLAND).temperature[0] = 0.0


def test_no_rose_no_direction() -> None:
    assert {month["wind_from"] for month in describe(LONDON).values["months"]} == {None}


def test_moisture_is_that_of_the_month() -> None:
    damp = replace(PORTLAND, months=tuple(replace(m, humidity=0.9) for m in PORTLAND.months))
    assert (outdoor_moisture(normals_of(damp)) > outdoor_moisture(normals_of(PORTLAND))).all()
