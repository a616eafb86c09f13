"""A house for the papers, and the press."""

from __future__ import annotations

from typing import Any

import pytest

from sashwright.chapters.breathe import chapter
from sashwright.knowledge.load import load
from sashwright.knowledge.tables import Knowledge
from sashwright.papers.packet import packet
from sashwright.window.check import house_from
from sashwright.window.spec import House
from tests.papers.printing import DAY, Print, Printed, document


@pytest.fixture(autouse=True)
def _short_search(monkeypatch: pytest.MonkeyPatch) -> None:
    """The ventilation card needs a plan of opening, whichever."""
    monkeypatch.setattr(chapter, "SECONDS", 1.0)


@pytest.fixture(scope="session")
def knowledge() -> Knowledge:
    return load()


@pytest.fixture(scope="session")
def house(knowledge: Knowledge) -> House:
    return house_from(document(), knowledge)


@pytest.fixture(scope="session")
def printed(knowledge: Knowledge) -> Print:
    def print_it(house: House, **options: Any) -> Printed:
        return Printed(packet(house, knowledge, today=DAY, **options))

    return print_it
