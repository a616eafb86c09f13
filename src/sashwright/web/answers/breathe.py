"""How a house breathes: plans beside each other, the household's card, and the hour that is looked at."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer
from sashwright.papers.words import Words
from sashwright.web.answers.say import NONE, Say, capital, percent

_LENGTH = re.compile(r"(\d) (in|mm|cm)\b")
EVENING = 21
"""The hour that is looked at first."""


@dataclass(frozen=True, slots=True)
class PlanRow:
    """One way to open the house, over the days that are looked at."""

    name: str
    best: bool
    comfortable: str
    warm: str
    cool: str
    european: str
    day: str
    night: str
    moves: str


@dataclass(frozen=True, slots=True)
class Part:
    """A part of the day, and what to do in it."""

    name: str
    hours: str
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Season:
    """A season of the card."""

    name: str
    months: str
    days: int
    always: tuple[str, ...]
    parts: tuple[Part, ...]


@dataclass(frozen=True, slots=True)
class Breathing:
    """All that the page shows but for pictures."""

    sentence: str
    plans: tuple[PlanRow, ...]
    card: tuple[Season, ...]
    weather: str
    tried: int


def breathing_shown(answer: Answer, season: str, system: units.System) -> Breathing | None:
    """For the page; None where nothing could be compared."""
    values = answer.values
    if "plans" not in values:
        return None
    return Breathing(
        next((f.says for f in answer.findings if f.says.startswith("By the plan")), ""),
        tuple(_plan_rows(values, season)),
        tuple(_season(each, system) for each in values["card"]),
        values["weather"],
        values["plans_followed"],
    )


def _plan_rows(values: Mapping[str, Any], season: str) -> Iterator[PlanRow]:
    for plan in values["plans"]:
        row = plan["seasons"][season] if season else plan
        changes = row["air_changes_by_part_h"]
        yield PlanRow(
            capital(plan["name"]),
            plan["name"] == values["best"],
            percent(row["comfortable_share"]),
            percent(row["overheated_share"]),
            percent(row["cold_share"]),
            percent(row["comfortable_share_en"]),
            f"{changes['day']:.1f}",
            f"{changes['night']:.1f}",
            NONE if row["moves_per_day"] < 0.05 else f"{row['moves_per_day']:.0f}",
        )


def _season(card: Mapping[str, Any], system: units.System) -> Season:
    return Season(
        card["season"],
        card["months"],
        card["days"],
        tuple(card["always"]),
        tuple(
            Part(
                capital(part["part"]),
                f"{Words(system).hour(part['from_hour'])} to {Words(system).hour(part['to_hour'])}",
                tuple(_LENGTH.sub("\\1\N{NO-BREAK SPACE}\\2", line) for line in part["lines"]),
            )
            for part in card["parts"]
        ),
    )


# --- the hour that is looked at -------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Choice:
    """Which hour of which season, by which plan."""

    season: str
    hour: int
    plan: str

    @classmethod
    def of(cls, asked: Mapping[str, str], values: Mapping[str, Any]) -> Choice:
        """What is asked for, as far as there is such a thing; else the last season's evening by the plan."""
        seasons = [each["name"] for each in values["seasons"]]
        plans = [each["name"] for each in values["plans"]]
        season, plan, hour = (asked.get(key, "") for key in ("season", "plan", "hour"))
        return cls(
            season if season in seasons else seasons[-1],
            int(hour) if hour.isdigit() and int(hour) < 24 else EVENING,
            plan if plan in plans else values["best"],
        )

    def seasons(self, values: Mapping[str, Any]) -> list[tuple[str, str]]:
        return [(each["name"], each["months"]) for each in values["seasons"]]

    def plans(self, values: Mapping[str, Any]) -> list[tuple[str, str]]:
        return [(each["name"], capital(each["name"])) for each in values["plans"]]

    def hours(self, system: units.System) -> list[tuple[int, str]]:
        return [(hour, Words(system).hour(hour)) for hour in range(24)]


@dataclass(frozen=True, slots=True)
class RoomRow:
    """A room in the hour that is looked at."""

    name: str
    warmth: str
    air: str
    changes: str


def hour_sentence(values: Mapping[str, Any], system: units.System) -> str:
    """Which day it is, and what it is like outdoors."""
    say = Say(system)
    date, _, _ = values["name"].partition(",")
    wind = "calm" if values["wind_m_s"] < 0.3 else f"wind {say.wind(values['wind_m_s'])}"
    return f"A warm day of the season, {date}: outdoors {say.warmth(values['outdoors_c'])}, {wind}."


def room_rows(rooms: Sequence[Mapping[str, Any]], system: units.System) -> list[RoomRow]:
    """Every room in words, for those who do not see the pictures."""
    say = Say(system)
    return [
        RoomRow(
            row["room"],
            say.warmth(row["operative_c"]),
            say.flow(row["fresh_kg_s"] / 1.2),
            f"{row['air_changes_h']:.1f}",
        )
        for row in rooms
    ]
