"""Values read off instruments: kept one by one, the last one also in the window's document."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import datetime
from typing import Literal

from django.contrib.auth.models import User
from django.utils import timezone

from sashwright import units
from sashwright.record.documents import canonical
from sashwright.record.edit import editing
from sashwright.record.errors import Stored
from sashwright.record.merge import with_fields
from sashwright.record.models import Reading
from sashwright.record.people import name_of
from sashwright.record.rows import find_house, find_row, shown
from sashwright.record.state import Document

Which = Literal["upper", "lower"]


@dataclass(frozen=True, slots=True)
class ReadingRow:
    """A reading in a list; ``value_kg`` [kg]."""

    id: int
    number: str
    which: str
    kind: str
    value_kg: float
    state: str
    who: str
    when: datetime
    note: str


def add_reading(
    slug: str,
    number: str,
    which: Which,
    mass_kg: float,
    state: str,
    who: User,
    note: str = "",
    when: datetime | None = None,
) -> Stored:
    """Keep what the scale said of a sash [kg] and in which state the sash was; answer its window.

    ``when`` it was weighed; now where not given. One that comes in late is kept, but the window goes on by
    the later one. Raises ``NotThere``, and ``Refused`` for a mass no sash has or a state that is not one.
    """
    with editing(slug, who) as edit:
        row, system = edit.window(number), edit.system
        now, told = timezone.now(), units.format_mass(mass_kg, system)
        now = min(when or now, now)
        measured = {
            "mass": units.exact_mass(mass_kg, system),
            "state": state,
            "when": timezone.localtime(now).isoformat(timespec="seconds"),
            "who": name_of(who),
        }
        at = f"measured.{which}"
        fields = {f"{at}.{name}": value for name, value in measured.items()}
        document = canonical("window", with_fields(row.document, fields), system)
        if not _is_later(row.document, which, now):
            edit.rewrite(row, document)
        change = edit.finish_something(f"window {number}: {which} sash weighed {told}, {state}")
        Reading.objects.create(
            window=row, change=change, which=which, value_kg=mass_kg, state=state,
            who=who, at=now, note=note,
        )  # fmt: skip
        return shown(row, system)


def _is_later(document: Document, which: Which, when: datetime) -> bool:
    """Whether the window goes by a reading of after that time already."""
    told = document.get("measured", {}).get(which, {})
    try:
        kept = datetime.fromisoformat(told.get("when", ""))
    except ValueError:
        return False
    # To the second, as it is written down.
    return "mass" in told and kept.tzinfo is not None and kept > when


def readings(slug: str, number: str | None = None) -> list[ReadingRow]:
    """Readings at one window or in the whole house, the oldest first; undone ones left out.

    Raises ``NotThere``.
    """
    house = find_house(slug)
    found = Reading.objects.filter(window__house=house, change__undone=False)
    found = found.filter(window__gone=False).select_related("window", "who")
    if number is not None:
        found = found.filter(window=find_row(house, "window", number).pk)
    return [
        ReadingRow(
            reading.pk, reading.window.number, reading.which, reading.kind, reading.value_kg,
            reading.state, name_of(reading.who), reading.at, reading.note,
        )
        for reading in found
    ]  # fmt: skip
