"""The cutting list of a house: what to saw and cut, stack by stack, and what it all comes to."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, QueryDict
from django.shortcuts import render
from django.views.decorators.http import require_GET

from sashwright.chapters.answer import Answer
from sashwright.chapters.make.chapter import make
from sashwright.chapters.make.cut import UNITS, Unit
from sashwright.chapters.make.wanted import ASKED, Asked
from sashwright.record import store
from sashwright.record.facts import knowledge
from sashwright.web import present
from sashwright.web.answers.make import listed
from sashwright.web.views.common import head_of, is_part

WHAT: tuple[tuple[str, str], ...] = (
    ("", "As decided"),
    ("sash", "All sash, new"),
    ("storm", "All storms"),
    ("screen", "All screens"),
    ("frame", "All frames"),
)


@require_GET
def page(request: HttpRequest, slug: str) -> HttpResponse:
    """The list; asked for as a part when the filters change."""
    head = head_of(request, slug)
    house = store.load_house(slug)
    numbers = [window.number for window in house.windows]
    choice = Choice(request.GET, numbers)
    answer = make(
        house,
        knowledge(),
        choice.numbers,
        head.system,
        scope=choice.scope,
        wood=choice.wood,
        only=choice.only,
    )
    context: dict[str, Any] = {
        "house": head,
        "list": listed(answer, head.system),
        "findings": present.sorted_findings(_findings(answer)),
        "wrong": [window.number for window in answer.windows if not window.values],
        "working": present.steps(answer.working, head.system),
        "choice": choice,
        "numbers": numbers,
        "units": UNITS,
        "what": WHAT,
        "woods": [(row.key, row.name) for row in knowledge().wood.values()],
    }
    return render(request, "web/make/list.html" if is_part(request) else "web/make.html", context)


def _findings(answer: Answer) -> list[Any]:
    """Of the list, and of its windows what is more than a note."""
    grave = [
        finding
        for window in answer.windows
        for finding in window.findings
        if finding.level in ("caution", "fail")
    ]
    return [*answer.findings, *grave]


class Choice:
    """What the filters ask for; what they do not know is passed over."""

    def __init__(self, asked: QueryDict, numbers: list[str]) -> None:
        self.window = asked.get("window", "") if asked.get("window") in numbers else ""
        self.unit = asked.get("unit", "") if asked.get("unit") in UNITS else ""
        self.what = asked.get("what", "") if asked.get("what") in ASKED else ""
        wood = asked.get("wood", "")
        self.wood = str(wood) if wood in knowledge().wood else None

    @property
    def numbers(self) -> list[str] | None:
        return [self.window] if self.window else None

    @property
    def scope(self) -> tuple[Asked, ...] | None:
        return tuple(each for each in ASKED if each == self.what) or None

    @property
    def only(self) -> tuple[Unit, ...] | None:
        return tuple(unit for unit in UNITS if unit == self.unit) or None

    @property
    def query(self) -> str:
        """Of the same list as data."""
        asked = (
            ("window", self.window),
            ("all", self.what),
            ("unit", self.unit),
            ("wood", self.wood),
        )
        text = urlencode([(name, value) for name, value in asked if value])
        return f"?{text}" if text else ""
