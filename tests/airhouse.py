"""A house of three rooms on two storeys, for whatever looks at its air and its plan."""

from __future__ import annotations

from typing import Any

ROOMS: dict[str, dict[str, Any]] = {
    "parlor": {"storey": 1, "left": "0'", "front": "0'", "width": "15'", "depth": "14'", "people": 0.5},
    "kitchen": {"storey": 1, "left": "15'", "front": "0'", "width": "12'", "depth": "14'", "people": 1.5,
        "appliances": 600,
    },
    "chamber": {
        "storey": 2, "left": "0'", "front": "0'", "width": "27'", "depth": "14'",
        "use": "night", "people": 0.5,
    },
}  # fmt: skip
DOORS: list[dict[str, Any]] = [
    {"between": ["parlor", "kitchen"], "kind": "archway", "width": "48"},
    {"between": ["parlor", "chamber"], "kind": "stair", "width": "40", "height": "120"},
]
PLACES = (
    ("101", "parlor", "south", 1, "7'"),
    ("102", "kitchen", "east", 1, "7'"),
    ("103", "kitchen", "north", 1, "6'"),
    ("201", "chamber", "west", 2, "7'"),
    ("202", "chamber", "north", 2, "20'"),
)
"""Windows: number, room, wall, storey, place along the wall."""


def airy_document(**fields: Any) -> dict[str, Any]:
    """The house as a file would say it; ``fields`` replace what it says. Bare numbers are inches."""
    return {
        "name": "Airy House",
        "place": "Portland, Maine",
        "climate": "Portland, Maine",
        "walls": {name: {"faces": name[0].upper()} for name in ("south", "east", "north", "west")},
        "rooms": {key: dict(room) for key, room in ROOMS.items()},
        "doors": [dict(door) for door in DOORS],
        "families": {"A": {"name": "one over one"}},
        "windows": [
            {
                "number": number, "family": "A", "room": room, "wall": wall, "storey": storey,
                "along": along, "width": "34", "height": "62", "sill_above_floor": "24",
                "sill_above_ground": "50" if storey == 1 else "14'-4\"",
            }
            for number, room, wall, storey, along in PLACES
        ],
        **fields,
    }  # fmt: skip


LINKS = (
    ("", "facing 90", "kitchen", 0.01, 0.0),
    ("102 lower", "facing 90", "kitchen", 0.24, 0.0),
    ("201 upper", "facing 270", "chamber", 0.0, 0.24),
    ("parlor – kitchen", "parlor", "kitchen", 0.06, 0.30),
    ("parlor – chamber", "parlor", "chamber", 0.24, 0.0),
)
"""Air: name, from, to, that way and back [kg/s]."""
OPENED = [
    {"window": "102", "sash": "lower", "open_m": 0.2},
    {"window": "201", "sash": "upper", "open_m": 0.4},
]


def hour_values(**changes: Any) -> dict[str, Any]:
    """An hour as the breathe chapter gives it: in below, up the stair, out above."""
    rooms = (
        ("parlor", 1, 24.6, 0.8, 3.2),
        ("kitchen", 1, 26.4, 0.8, 3.2),
        ("chamber", 2, 28.6, 3.7, 6.3),
    )
    return {
        "name": "13 July, 21:00 to 22:00",
        "outdoors_c": 20.0,
        "wind_m_s": 2.0,
        "wind_from_deg": 225.0,
        "rooms": [
            {
                "room": room, "storey": storey, "air_c": warmth, "operative_c": warmth, "fresh_kg_s": 0.12,
                "air_changes_h": 2.0, "pressure_pa": 0.0, "neutral_level_m": 4.1,
                "floor_m": floor, "ceiling_m": ceiling,
            }
            for room, storey, warmth, floor, ceiling in rooms
        ],
        "links": [
            {"name": name, "from": start, "to": end, "forth_kg_s": forth, "back_kg_s": back}
            for name, start, end, forth, back in LINKS
        ],
        "opened": OPENED,
        "doors": [{"between": ["parlor", "kitchen"], "kind": "archway", "open": True}],
        **changes,
    }  # fmt: skip
