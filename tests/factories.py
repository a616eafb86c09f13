"""A small house to test with, as a document (like a file's) or as the specification.

It has two families, a row of plain windows and a pair that shares a mullion pocket, so that all kinds
of references occur.
"""

from __future__ import annotations

from typing import Any

from sashwright.window import spec

FAMILIES: dict[str, dict[str, Any]] = {
    "A": {
        "name": "parlor floor, six over one",
        "sash": {"thickness": "1 3/4", "wood": "eastern-white-pine", "lites": "1x1"},
        "upper": {"lites": {"columns": 3, "rows": 2}},
        "strips": {"sides": "none"},
    },
    "B": {"name": "attic, one over one"},
}


def family_document(**fields: Any) -> dict[str, Any]:
    """A family that is all as usual, but for ``fields``."""
    return {"name": "one over one", **fields}


def window_document(number: str = "101", **fields: Any) -> dict[str, Any]:
    """A window of family A, 32 by 62 1/2 inches, but for ``fields``."""
    return {
        "number": number,
        "family": "A",
        "room": "parlor",
        "wall": "east",
        "width": "32",
        "height": "62 1/2",
        **fields,
    }


def window_documents() -> list[dict[str, Any]]:
    """101 and 102 in the parlor, the pair 103L and 103R in the dining room, 301 in the attic."""
    return [
        window_document("101"),
        window_document("102", note="sticks in August"),
        window_document("103L", room="dining room", wall="south", width="28"),
        window_document("103R", room="dining room", wall="south", width="28", beside="103L"),
        window_document("301", family="B", room="attic", storey=3, width="26 1/4", height="44"),
    ]


def house_document(**fields: Any) -> dict[str, Any]:
    """The house as a file would say it; ``fields`` replace what it says. Bare numbers are inches."""
    house: dict[str, Any] = {
        "name": "12 Elm Street",
        "place": "Portland, Maine",
        "built": 1894,
        "families": {key: dict(family) for key, family in FAMILIES.items()},
        "windows": window_documents(),
    }
    return {**house, **fields}


def make_house(**fields: Any) -> spec.House:
    """The house as the specification; ``fields`` as for ``house_document``."""
    document = house_document(**fields)
    return spec.House.model_validate(document, context={"system": document.get("units", "us")})
