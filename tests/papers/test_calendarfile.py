"""The calendar file, read back by the library that telephones' makers check theirs against."""

from __future__ import annotations

import datetime
from typing import Any

import pytest
from icalendar import Calendar

from sashwright.chapters.answer import Answer
from sashwright.chapters.keep import Recorded, Visited, keep
from sashwright.knowledge.climate_load import gazetteer
from sashwright.knowledge.load import load
from sashwright.papers.calendarfile import AHEAD, keep_calendar
from sashwright.window.check import house_from
from tests.factories import family_document, house_document, window_document

KNOWLEDGE = load()
TODAY = "2026-03-02"


def answer(today: str = TODAY, *visits: Visited) -> Answer:
    family = family_document(storm="winter", screen={"kind": "half"})
    windows = [window_document(f"1{n:02d}", condition={"on": "2025-04-07"}) for n in range(1, 16)]
    document = house_document(
        name="Nought & Søn; a house, or so", families={"A": family}, windows=windows
    )
    house = house_from(document, KNOWLEDGE)
    return keep(
        house,
        KNOWLEDGE,
        today=today,
        record=Recorded(visits),
        place=gazetteer().find("Portland, Maine"),
    )


def events(data: bytes) -> list[Any]:
    return list(Calendar.from_ical(data).walk("VEVENT"))


def test_every_thing_of_the_plan_is_an_event_on_its_day() -> None:
    found = answer()
    read = {str(e["summary"]): e.decoded("dtstart") for e in events(keep_calendar(found))}
    years = [y for y in found.values["years"] if y["year"] < 2026 + AHEAD]
    rows = [(row["name"], row["from"]) for year in years for row in year["rows"]]
    changes = [c for c in found.values["changes"] if int(c["from"][:4]) < 2026 + AHEAD]
    assert len(events(keep_calendar(found))) == len(rows) + len(changes)
    planned = {(name.partition(":")[0], day.isoformat()) for name, day in read.items()}
    for name, day in rows:
        if (name, day) not in planned:
            # The same title in another year stands for it in the mapping.
            assert any(title.startswith(name) for title in read), name


def test_whole_days_reminded_a_week_before() -> None:
    for event in events(keep_calendar(answer())):
        start, end = event.decoded("dtstart"), event.decoded("dtend")
        assert type(start) is datetime.date
        assert end - start == datetime.timedelta(days=1)
        (alarm,) = event.walk("VALARM")
        assert alarm.decoded("trigger") == datetime.timedelta(days=-7)
        assert str(event["uid"]).endswith("@sashwright")


def test_names_with_signs_come_back_as_they_were() -> None:
    calendar = Calendar.from_ical(keep_calendar(answer()))
    assert str(calendar["x-wr-calname"]) == "Nought & Søn; a house, or so: windows"
    assert all("Nought & Søn; a house, or so" in str(e["summary"]) for e in calendar.walk("VEVENT"))


def test_storms_and_screens_have_their_weeks() -> None:
    found = answer()
    changes = {c["from"]: c for c in found.values["changes"]}
    read = [e for e in events(keep_calendar(found)) if str(e["summary"]).startswith("Storms on")]
    assert len(read) == AHEAD
    for event in read:
        row = changes[event.decoded("dtstart").isoformat()]
        assert row["name"] == "storms on"
        # Portland's autumn: from mid-September to early November at the widest.
        assert "09-10" <= row["from"][5:] < row["by"][5:] <= "11-10"


def test_the_same_day_gives_the_same_bytes_and_the_next_the_same_events() -> None:
    assert keep_calendar(answer()) == keep_calendar(answer())
    today = {str(e["uid"]) for e in events(keep_calendar(answer()))}
    tomorrow = {str(e["uid"]) for e in events(keep_calendar(answer("2026-03-03")))}
    assert today == tomorrow
    assert len(today) == len(events(keep_calendar(answer())))


def test_what_is_done_moves_on() -> None:
    before = events(keep_calendar(answer()))
    after = events(keep_calendar(answer(TODAY, Visited("2026-03-01", "wash"))))

    def first(read: list[Any]) -> datetime.date:
        return min(e.decoded("dtstart") for e in read if str(e["summary"]).startswith("Wash"))

    assert first(before) == datetime.date(2026, 3, 2)
    assert first(after) > datetime.date(2026, 9, 1)


def test_lines_are_folded_as_the_standard_asks() -> None:
    data = keep_calendar(answer())
    assert data.endswith(b"END:VCALENDAR\r\n")
    assert max(len(line) for line in data.split(b"\r\n")) <= 75


@pytest.mark.parametrize("needed", [b"VERSION:2.0", b"PRODID:", b"DTSTAMP:20260302T000000Z"])
def test_what_every_reader_wants(needed: bytes) -> None:
    assert needed in keep_calendar(answer())
