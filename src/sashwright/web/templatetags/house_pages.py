"""The pages of a house, in the order of the job: survey, prove, decide, make, keep."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django import template
from django.urls import reverse

from sashwright.web import allowed

register = template.Library()

# For each step of the job, what a page is called in its template, its address, and its title.
_STEPS: tuple[tuple[str, tuple[tuple[str, str, str], ...]], ...] = (
    (
        "Survey",
        (
            ("windows", "house", "Windows"),
            ("photographs", "photographs", "Photographs"),
            ("climate", "climate", "Climate"),
        ),
    ),
    (
        "Prove",
        (
            ("air", "air", "Air"),
            ("warmth", "warmth", "Warmth"),
            ("wind", "wind", "Wind"),
            ("breathe", "breathe", "Breathe"),
            ("worth", "worth", "Worth"),
        ),
    ),
    (
        "Decide",
        (
            ("treat", "treat", "Treat"),
            ("price", "price", "Price"),
            ("papers", "paper-choice", "Papers"),
        ),
    ),
    (
        "Make",
        (
            ("make", "make", "List"),
            ("cut", "cut", "Cut"),
            ("bin", "bin", "Bin"),
            ("orders", "orders", "Orders"),
            ("board", "board", "Board"),
        ),
    ),
    ("Keep", (("seasons", "seasons", "Seasons"), ("keep", "keep", "Calendar"))),
)


@dataclass(frozen=True, slots=True)
class Page:
    """A page in the row; ``current`` is the one that is open."""

    title: str
    address: str
    current: bool


@dataclass(frozen=True, slots=True)
class Step:
    """A step of the job with its pages; ``current`` is the one whose page is open."""

    title: str
    pages: tuple[Page, ...]

    @property
    def current(self) -> bool:
        return any(page.current for page in self.pages)

    @property
    def address(self) -> str:
        return self.pages[0].address


@register.simple_tag(takes_context=True)
def steps_of_job(context: Any, slug: str, here: str = "") -> list[Step]:
    """The steps with the pages that whoever looks may open."""
    client = context.get("page", {}).get("role") == "client"
    steps = (
        Step(
            title,
            tuple(
                Page(name, reverse(address, args=[slug]), key == here)
                for key, address, name in pages
                if not client or address in allowed.CLIENT
            ),
        )
        for title, pages in _STEPS
    )
    return [step for step in steps if step.pages]
