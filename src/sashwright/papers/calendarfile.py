"""The plan of upkeep as a calendar file, which telephones and calendars read (iCalendar, RFC 5545)."""

from __future__ import annotations

import datetime
import hashlib
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from icalendar import Alarm, Calendar, Event

from sashwright.chapters.answer import Answer
from sashwright.chapters.days import date_of, day_number, said
from sashwright.papers.words import count

AHEAD = 6
"""Years that a calendar shows."""
REMIND = datetime.timedelta(days=-7)
LISTED = 12
"""Windows that a title names; of more it says how many."""
PRODUCT = "-//Sashwright//Upkeep of windows//EN"


def keep_calendar(answer: Answer, years: int = AHEAD) -> bytes:
    """Every thing of the plan as an event of a whole day, a reminder a week before.

    Parameters
    ----------
    answer
        The keep chapter's answer for a house.
    years
        How many years to show, this one included.

    The same plan gives the same bytes; an event keeps its identity from one export to the next, so that a
    calendar that follows the file moves it rather than showing it twice.
    """
    calendar = Calendar()
    calendar.add("prodid", PRODUCT)
    calendar.add("version", "2.0")
    calendar.add("calscale", "GREGORIAN")
    calendar.add("x-wr-calname", f"{answer.house}: windows")
    calendar.add("method", "PUBLISH")
    first = int(answer.values["today"][:4])
    stamp = _stamp(answer.values["today"])
    for event in (*_upkeep(answer, first + years), *_changes(answer, first + years)):
        event.add("dtstamp", stamp)
        calendar.add_component(event)
    return bytes(calendar.to_ical())


def _stamp(today: str) -> datetime.datetime:
    return datetime.datetime.combine(_date(today), datetime.time(), tzinfo=datetime.UTC)


def _date(text: str) -> datetime.date:
    return datetime.date.fromisoformat(text)


def _upkeep(answer: Answer, before: int) -> Iterator[Event]:
    for year in answer.values["years"]:
        if year["year"] >= before:
            return
        for row in year["rows"]:
            numbers = row["windows"]
            at = ", ".join(numbers) if len(numbers) <= LISTED else count(len(numbers), "window")
            yield _event(
                answer.house,
                f"{row['key']} {year['year']}",
                f"{row['name']}: {at}",
                row["from"],
                f"{row['does']}\n\nWindows: {', '.join(numbers)}.\n{answer.house}",
            )


def _changes(answer: Answer, before: int) -> Iterator[Event]:
    for row in _until(answer.values["changes"], before):
        yield _event(
            answer.house,
            f"{row['name']} {row['from'][:4]}",
            f"{row['name'].capitalize()}, by {said(row['by'])[:-5]}",
            row["from"],
            f"The mean day asks for the change between {said(row['from'])} and {said(row['by'])}.\n"
            f"{answer.house}",
        )


def _until(rows: Iterable[Mapping[str, Any]], before: int) -> Iterator[Mapping[str, Any]]:
    return (row for row in rows if int(row["from"][:4]) < before)


def _event(house: str, identity: str, title: str, day: str, text: str) -> Event:
    event = Event()
    digest = hashlib.sha256(f"{house}\n{identity}".encode()).hexdigest()[:24]
    event.add("uid", f"{digest}@sashwright")
    event.add("summary", f"{title} ({house})")
    event.add("dtstart", _date(day))
    # The day after, as the standard has it for whole days.
    event.add("dtend", _date(date_of(day_number(day) + 1)))
    event.add("description", text)
    event.add("transp", "TRANSPARENT")
    alarm = Alarm()
    alarm.add("action", "DISPLAY")
    alarm.add("description", title)
    alarm.add("trigger", REMIND)
    event.add_component(alarm)
    return event
