"""The weeks ahead: for each skill the hours that are wanted against those there are."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.drawing.axes import LETTERING, Field, wrapped
from sashwright.drawing.model import Drawing, Group, Item, Line, Text, drawing, rectangle

WIDTH = 0.088
ROW = 0.0150
BAR = 0.0088
"""Height of a full week [m]."""
GAP = 0.0006
SMALL = 2.4
WEEKS = 12
"""Shown at the most."""


def capacity_plot(answer: Answer, names: Mapping[str, str] | None = None) -> Drawing:
    """A row of weeks for each skill: the box is what there is, the fill what is wanted.

    Parameters
    ----------
    answer
        The answer of the capacity chapter.
    names
        Of skills by key.
    """
    title = f"{answer.house}: hours by week"
    weeks = answer.values["weeks"][:WEEKS]
    skills = [skill for skill, hours in answer.values["need_hours"].items() if hours]
    if not weeks or not skills:
        note = Text((0.0, 0.0), "No work is waiting.")
        return drawing(title, "No work is waiting.", (note,), 1.0)
    names = names or {}
    foot = -ROW * len(skills)
    field = Field(0.0, foot, WIDTH, -foot, (0.0, float(max(len(weeks), 4))), (0.0, 1.0))
    items: list[Item] = [Group(tuple(_axis(field, weeks)), classes="axes", hidden=True)]
    said = []
    for place, skill in enumerate(skills):
        name = names.get(skill, skill)
        need, week = answer.values["need_hours"][skill], answer.values["hours_a_week"][skill]
        words = f"{name}: {need:.0f} h left, {week:g} h a week"
        said.append(words)
        governs = skill == answer.values["governs"]
        drawn = _row(field, -ROW * (place + 1), words, [w["skills"][skill] for w in weeks], governs)
        items.append(Group(tuple(drawn), words))
    items += _notes(field, more=len(answer.values["weeks"]) > WEEKS)
    return drawing(title, f"{'; '.join(said)}.", items, 1.0)


def _axis(field: Field, weeks: Sequence[Mapping[str, Any]]) -> Iterator[Item]:
    yield Line((field.left, field.bottom), (field.right, field.bottom), "axis")
    every = 1 if len(weeks) <= 6 else 2
    for place, week in enumerate(weeks):
        if place % every == 0:
            month, day = int(week["from"][5:7]), int(week["from"][8:])
            at = (field.x(place + 0.5), field.bottom)
            yield Text(at, f"{day} {_MONTHS[month - 1]}", "figure", LETTERING, shift=(0.0, -3.9))


_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def _row(
    field: Field, bottom: float, words: str, weeks: Sequence[Mapping[str, float]], governs: bool
) -> Iterator[Item]:
    full = max((week["of"] for week in weeks), default=0.0)
    for place, week in enumerate(weeks):
        left, right = field.x(place) + GAP, field.x(place + 1) - GAP
        if full <= 0:
            continue
        top = bottom + BAR * week["of"] / full
        yield rectangle(left, bottom, right, top, "edge paper")
        if week["hours"] > 0:
            fill = bottom + BAR * min(week["hours"] / full, 1.0)
            yield rectangle(left, bottom, right, fill, "edge wood", "slight" if governs else None)
    bold = "pencil-note halo" if governs else "note halo"
    yield Text((field.left, bottom + BAR), words, bold, LETTERING, "start", shift=(0.9, 1.4))


def _notes(field: Field, *, more: bool) -> Iterator[Item]:
    y = -8.2
    note = "Weeks from their Mondays. Box: hours there are. Filled: hours given out, by the likely figures."
    note += " In red and hatched: the skill that has the least to spare."
    if more:
        note += f" The first {WEEKS} weeks."
    for line in wrapped(note, SMALL, WIDTH * 1000):
        yield Text((field.left, field.bottom), line, "note", SMALL, "start", shift=(0.0, y))
        y -= 3.2
