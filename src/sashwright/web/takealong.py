"""A house as a device takes it along: what a survey needs of it, and nothing of money or people."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping
from typing import Any, get_args

from sashwright.drawing.conditionmap import PLATES
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Fault
from sashwright.record import store
from sashwright.record.inbox import window_ids
from sashwright.record.state import Document
from sashwright.web.outlined import outline_of
from sashwright.window.components import kind_named, part_words, pieces_of
from sashwright.window.condition import Typical
from sashwright.window.mouldings import with_own
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House, SashMeasured, Window

LEFT_OUT = ("spent", "decision")
"""Of a window: it is of no use on site."""


def bundle(slug: str, knowledge: Knowledge) -> dict[str, Any]:
    """All of a house that goes along. Raises ``NotThere``."""
    house, kept = store.load_house(slug), store.stored(slug, "house").document
    own = with_own(house, knowledge)
    photographs = Counter(row.window for row in store.photographs(slug))
    identities = window_ids(slug)
    return {
        "slug": slug,
        "name": house.name,
        "place": house.place,
        "system": house.units,
        "walls": list(kept.get("walls", {})),
        "rooms": sorted({*house.rooms, *(w.room for w in house.windows if w.room)}),
        "typical": _typical(house.typical, knowledge),
        "changed": store.changed_at(slug).isoformat(),
        "families": [_family(house, key, own) for key in store.family_keys(slug)],
        "windows": [
            {
                "id": identities[each.key],
                "number": each.key,
                "version": each.version,
                "document": lean(each.document),
                "photographs": photographs[each.key],
            }
            for each in store.stored_windows(slug)
            if each.key in identities
        ],
        "faults": [_fault(row) for row in knowledge.fault.values()],
        "states": list(get_args(SashMeasured.model_fields["state"].annotation)),
    }


def lean(document: Mapping[str, Any]) -> Document:
    """A window as it goes along."""
    return {name: value for name, value in document.items() if name not in LEFT_OUT}


def _family(house: House, key: str, knowledge: Knowledge) -> dict[str, Any]:
    family = house.families[key]
    return {
        "key": key,
        "name": family.name,
        "typical": _typical(family.typical, knowledge),
        "outline": outline_of(house, key, knowledge),
        "pieces": _pieces(house, key, knowledge),
    }


def _pieces(house: House, key: str, knowledge: Knowledge) -> list[list[str]]:
    """Parts of a window of this family: name, in words, kind; panes and bars are the device's to count."""
    sample = next((w for w in house.windows if w.family == key and not w.beside), None)
    sample = sample or Window(
        number="w0", family=key, wall=next(iter(house.walls)), width=0.8128, height=1.5875
    )
    alone = house.model_copy(update={"windows": (sample,)})
    ((_, placed),) = place_each(alone, knowledge)
    if not isinstance(placed, Placed):
        return [[name, part_words(name), str(kind_named(name))] for name in PLATES]
    return [
        [piece.name, part_words(piece.name), piece.kind]
        for piece in pieces_of(placed.layout).values()
        if piece.kind not in ("lite", "muntin")
    ]


def _typical(typical: Typical, knowledge: Knowledge) -> list[str]:
    """What is typical, as lines to read."""
    return [
        f"{part_words(found.on)}: {_named(knowledge.fault.values(), found.fault)}"
        for found in typical.found
    ]


def _named(rows: Iterable[Fault], key: str) -> str:
    return next((row.name.lower() for row in rows if row.key == key), key)


def _fault(row: Fault) -> dict[str, Any]:
    return {
        "key": row.key,
        "name": row.name,
        "on": list(row.on),
        "measured": row.measured,
        "severities": list(row.severities),
        "usual": row.usual,
    }
