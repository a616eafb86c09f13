"""How schedules of the trade write lites, walls, storeys and sizes."""

from __future__ import annotations

import re
from collections.abc import Mapping

from sashwright.window.quantities import COMPASS

GRIDS: Mapping[int, str] = {
    1: "1x1", 2: "2x1", 3: "3x1", 4: "2x2", 6: "3x2", 8: "4x2", 9: "3x3", 10: "5x2", 12: "4x3", 15: "5x3",
    16: "4x4", 20: "5x4",
}  # fmt: skip
"""How so many lites of one sash usually stand, wide by high (usual in old houses; from memory)."""

_GRID = re.compile(r"(\d{1,2}) ?[x×*] ?(\d{1,2})")
_PAIR = re.compile(r"(?P<upper>[^/:]+?)\s*(?:/|:|-?\s*\bover\b\s*-?)\s*(?P<lower>[^/:]+)")
_SIZE = re.compile(r"(?P<width>.+?)\s*(?:[x×*]|\bby\b)\s*(?P<height>.+)")
_ORDINALS = ("first", "second", "third", "fourth", "fifth", "sixth")
_FLOORS = r"\b(?:floor|storey|story|level|fl|flr)\b\.?"
_SIDES = r"\b(?:wall|side|elevation|elev|facade|façade|front|facing|faces)\b\.?"


def lites(text: str) -> str:
    """Lites of one sash, wide by high: ``3x2`` of ``3 x 2`` or of ``6``. Raises ``ValueError``."""
    plain = re.sub(r"\b(?:lites?|lights?|panes?)\b", "", text.strip().casefold()).strip(" -")
    grid = _GRID.fullmatch(plain)
    if grid:
        return f"{int(grid[1])}x{int(grid[2])}"
    if plain.isdecimal() and len(plain) < 3 and int(plain) in GRIDS:
        return GRIDS[int(plain)]
    raise ValueError("lites wide by high such as 3x2, or a usual number of them such as 6")


def lites_of_both(text: str) -> tuple[str, str]:
    """Lites of the upper and the lower sash: ``6/6``, ``6 over 1``, ``3x2 / 1x1``. Raises ``ValueError``."""
    pair = _PAIR.fullmatch(text.strip().casefold())
    if pair is None:
        raise ValueError("lites of the upper over the lower sash, such as 6/6 or 3x2/1x1")
    return lites(pair["upper"]), lites(pair["lower"])


def width_and_height(text: str) -> tuple[str, str]:
    """Both sizes of ``32 x 62 1/2``. Raises ``ValueError``."""
    size = _SIZE.fullmatch(text.strip().casefold())
    if size is None:
        raise ValueError("width x height, such as 32 x 62 1/2")
    return size["width"], size["height"]


def storey(text: str, *, ground_is_named: bool) -> str:
    """The storey as a number, the ground floor being 1; else the text as it is.

    ``ground_is_named`` tells that the same column speaks of a ground floor, so that a first floor may be the
    one above it. Raises ``ValueError`` for what can be read two ways then.
    """
    plain = re.sub(_FLOORS, "", text.strip().casefold()).strip(" .")
    if plain in ("ground", "g", "gf"):
        return "1"
    if plain in ("basement", "cellar"):
        return "0"
    ordinal = re.fullmatch(r"(\d{1,2})(?:st|nd|rd|th)", plain)
    number = ordinal[1] if ordinal else ""
    if plain in _ORDINALS:
        number = str(_ORDINALS.index(plain) + 1)
    if number and ground_is_named:
        raise ValueError(
            "a number, the ground floor being 1: beside a ground floor this can be read two ways"
        )
    return number or (plain if re.fullmatch(r"-?\d{1,2}", plain) else text)


def names_ground(text: str) -> bool:
    """Whether a storey is called the ground floor."""
    return re.sub(_FLOORS, "", text.strip().casefold()).strip(" .") in ("ground", "g", "gf")


def wall(text: str, walls: Mapping[str, float]) -> str:
    """The wall of the house that is meant: by name, or by where it looks; else the text as it is.

    ``walls`` are the bearings of the house's walls [degrees] by name.
    """
    given = text.strip()
    by_name = {name.casefold(): name for name in walls}
    plain = " ".join(re.sub(_SIDES, " ", given.casefold()).split())
    for said in (given.casefold(), plain):
        if given in walls or said in by_name:
            return given if given in walls else by_name[said]
    bearing = _bearing(plain)
    found = [name for name, faces in walls.items() if bearing is not None and faces == bearing]
    return found[0] if len(found) == 1 else given


_WORDS = {"north": "n", "south": "s", "east": "e", "west": "w"}


def _bearing(text: str) -> float | None:
    point = text.replace("-", " ")
    for word, letter in _WORDS.items():
        point = point.replace(word, letter)
    point = point.replace(" ", "").upper()
    return COMPASS.index(point) * 22.5 if point in COMPASS else None
