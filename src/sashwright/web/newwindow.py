"""What somebody asks of a new window, read from a form, and the proposals that follow."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, cast

from pydantic import Field, TypeAdapter, ValidationError

from sashwright import units
from sashwright.chapters.make.tradition import Given, Opening, Place, Proposal, propose
from sashwright.chapters.make.tradition.opening import KINDS
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.knowledge.tradition_tables import BoxPlace, SizeName
from sashwright.units import UnitsError, parse_length
from sashwright.web.fields import sentence
from sashwright.window import names
from sashwright.window.check import problems_of
from sashwright.window.spec import Lites

ADJUSTED: Mapping[SizeName, str] = {
    "muntin": "Muntin",
    "thickness": "Thickness",
    "stile": "Stile",
    "top-rail": "Top rail",
    "meeting-rail": "Meeting rail",
    "bottom-rail": "Bottom rail",
    "horn": "Horn",
    "pocket": "Weight pocket",
}
"""Sizes that may be had otherwise, and what they are called."""
PLACED = ("number", "family", "wall", "storey", "room")
LENGTHS = ("width", "height", "rise")
ASKED = ("kind", "box", "tradition", "wood", "pattern", "more", *LENGTHS, *PLACED, *ADJUSTED)
"""Everything that a form may say."""
LONGEST = 200
_KINDS: Mapping[str, TypeAdapter[Any]] = {
    "number": TypeAdapter(names.Number),
    "family": TypeAdapter(names.Key),
    "wall": TypeAdapter(names.Key),
    "storey": TypeAdapter(Annotated[int, Field(ge=-2, le=60)]),
    "room": TypeAdapter(names.Text),
}


@dataclass(frozen=True)
class Wish:
    """A form as it was typed, and what it means; what is wrong stands by field."""

    typed: Mapping[str, str]
    opening: Opening | None
    given: Given
    place: Place
    said: Mapping[str, str] = field(default_factory=dict)

    @property
    def tradition(self) -> str:
        return self.typed["tradition"]

    @property
    def wood(self) -> str | None:
        return self.typed["wood"] or None


def read_wish(asked: Mapping[str, str], suggested: Mapping[str, str], system: units.System) -> Wish:
    """Read a form; fields it does not have are as suggested, sizes empty."""
    typed = {name: asked.get(name, suggested.get(name, "")).strip()[:LONGEST] for name in ASKED}
    said: dict[str, str] = {}

    def length(name: str) -> float | None:
        if not typed[name]:
            return None
        try:
            return parse_length(typed[name], system)
        except UnitsError as error:
            said[name] = sentence(str(error))
            return None

    lengths = {name: length(name) for name in LENGTHS}
    sizes = {name: size for name in ADJUSTED if (size := length(name)) is not None}
    return Wish(
        typed,
        _opening(typed, lengths, said),
        _given(typed, sizes, said),
        _place(typed, said),
        said,
    )


def _opening(
    typed: Mapping[str, str], lengths: Mapping[str, float | None], said: dict[str, str]
) -> Opening | None:
    width, height = lengths["width"], lengths["height"]
    if width is None or height is None:
        return None
    kind = typed["kind"] if typed["kind"] in KINDS else KINDS[0]
    box = typed["box"] if typed["box"] in ("behind", "within") else None
    try:
        return Opening(
            kind,
            width,
            height,
            lengths["rise"] or 0.0,
            box=cast("BoxPlace | None", box),
        )
    except ValueError as error:
        said.setdefault("rise" if "arch" in str(error) else "height", str(error))
        return None


def _given(
    typed: Mapping[str, str], sizes: Mapping[SizeName, float], said: dict[str, str]
) -> Given:
    """Sizes, and lites written ``3x2 3x2``: the upper sash's first."""
    if not typed["pattern"]:
        return Given(sizes)
    try:
        upper, lower = (Lites.model_validate(grid) for grid in typed["pattern"].split())
    except ValueError:
        said["pattern"] = "Expected lites of both sash, wide by high, such as 3x2 3x2."
        return Given(sizes)
    return Given(sizes, upper, lower)


def _place(typed: Mapping[str, str], said: dict[str, str]) -> Place:
    """Where it goes; what cannot be is said, and something plain taken, so that the rest is drawn."""
    plain = {"number": "1", "family": "A", "wall": "north", "storey": 1, "room": ""}
    found: dict[str, Any] = {}
    for name, usual in plain.items():
        try:
            found[name] = _KINDS[name].validate_python(typed[name])
        except ValidationError as error:
            (problem, *_) = problems_of(error)
            said[name] = f"Found {problem.found}, expected {problem.expected}."
            found[name] = usual
    return Place(**found)


@dataclass(frozen=True, slots=True)
class Beside:
    """One tradition's window for the opening; None where it has no room."""

    key: str
    name: str
    proposal: Proposal | None
    says: str = ""


def all_beside(wish: Wish, knowledge: Knowledge, system: units.System) -> list[Beside]:
    """What each tradition would have; what was asked otherwise holds for the chosen one only."""
    return [_beside(wish, key, knowledge, system) for key in knowledge.tradition]


def _beside(wish: Wish, key: str, knowledge: Knowledge, system: units.System) -> Beside:
    name = knowledge.tradition[key].name
    assert wish.opening is not None
    chosen = key == wish.tradition
    options: dict[str, Any] = {"given": wish.given, "wood": wish.wood} if chosen else {}
    try:
        proposal = propose(wish.opening, key, knowledge, place=wish.place, system=system, **options)
    except (KnowledgeError, ValueError) as error:
        return Beside(key, name, None, str(error))
    return Beside(key, name, proposal)
