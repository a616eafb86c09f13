"""What all the parts of a cutting list come to: lumber, mouldings, glass, putty, paint, cloth, hardware."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.make.cut import UNITS, CutPart, GlassPart, Unit
from sashwright.knowledge.tables import Knowledge

COVERAGE = 9.0
"""Area that a litre of paint covers in one coat [m2/L]: 350 to 400 square feet to the gallon, from memory."""


@dataclass(frozen=True, slots=True)
class Lumber:
    """Rough lumber of one species and thickness."""

    species: str
    quarters: int
    pieces: int
    board_feet: float
    rough_m3: float
    finished_m3: float
    """Of the parts that come out of it."""


@dataclass(frozen=True, slots=True)
class Run:
    """One profile; sizes and lengths [m]."""

    profile: str
    width: float
    depth: float
    pieces: int
    length: float
    """On the finished parts, tenons included."""
    rough_length: float
    """To be stuck: on the rough parts, cut afterwards."""


@dataclass(frozen=True, slots=True)
class Sheets:
    """Glass of one kind; a sealed unit by all of its panes."""

    panes: tuple[str, ...]
    coatings: tuple[str, ...]
    count: int
    area_m2: float
    united_inches: float
    edge_m: float


@dataclass(frozen=True, slots=True)
class Putty:
    putty: str
    volume_m3: float
    mass_kg: float


@dataclass(frozen=True, slots=True)
class Paint:
    """One coat, of several like it."""

    coating: str
    coats: int
    area_m2: float
    litres_a_coat: float


@dataclass(frozen=True, slots=True)
class Made:
    """One unit that is made whole, with what goes on it besides its parts."""

    window: str
    unit: Unit
    coating: str
    coats: int
    painted_m2: float
    hardware: tuple[tuple[str, int], ...] = ()
    """Rows of the hardware table, and how many."""
    pulleys: tuple[tuple[str, int], ...] = ()
    """Rows of the pulley table, and how many."""
    mesh: str = ""
    cloth_m2: float = 0.0
    mass_kg: float | None = None
    """Finished, as the solids have it."""


@dataclass(frozen=True, slots=True)
class Totals:
    """Sums of a cutting list."""

    units: Mapping[Unit, int]
    """Units made whole; of splices, pieces let in."""
    pieces: int
    board_feet: float
    rough_m3: float
    finished_m3: float
    lumber: tuple[Lumber, ...]
    mouldings: tuple[Run, ...]
    glass: tuple[Sheets, ...]
    putty: tuple[Putty, ...]
    putty_edge_m: float
    points: int
    paint: tuple[Paint, ...]
    cloth: Mapping[str, float]
    """Insect cloth by kind, within the sight lines [m2]."""
    hardware: Mapping[str, int]
    pulleys: Mapping[str, int]
    strips: Mapping[str, float]
    """Weatherstrip by kind, as long as its joints [m]."""
    hang: Mapping[str, Any]
    """Weights and cords of the new sash, as the hang chapter totals them."""


def tally(
    parts: Sequence[CutPart],
    glass: Sequence[GlassPart],
    made: Sequence[Made],
    strips: Mapping[str, float],
    hang: Mapping[str, Any],
    knowledge: Knowledge,
) -> Totals:
    """Everything added up."""
    whole = Counter(each.unit for each in made)
    whole["splice"] = sum(part.count for part in parts if part.unit == "splice")
    hardware: Counter[str] = Counter()
    pulleys: Counter[str] = Counter()
    cloth: dict[str, float] = {}
    for each in made:
        hardware.update(dict(each.hardware))
        pulleys.update(dict(each.pulleys))
        if each.mesh:
            cloth[each.mesh] = cloth.get(each.mesh, 0.0) + each.cloth_m2
    return Totals(
        {unit: whole[unit] for unit in UNITS if whole[unit]},
        sum(part.count for part in parts),
        sum(part.board_feet for part in parts),
        sum(part.rough_volume for part in parts),
        sum(part.finished_volume for part in parts),
        tuple(_lumber(parts)),
        tuple(_runs(parts)),
        tuple(_sheets(glass)),
        tuple(_putty(glass, knowledge)),
        sum(part.count * part.putty_m for part in glass),
        sum(part.count * part.points for part in glass),
        tuple(_paint(made)),
        cloth,
        dict(sorted(hardware.items())),
        dict(sorted(pulleys.items())),
        dict(strips),
        hang,
    )


def _lumber(parts: Iterable[CutPart]) -> Iterator[Lumber]:
    groups: dict[tuple[str, int], list[CutPart]] = {}
    for part in parts:
        groups.setdefault((part.species, part.quarters), []).append(part)
    for (species, quarters), group in sorted(groups.items()):
        yield Lumber(
            species,
            quarters,
            sum(part.boards for part in group),
            sum(part.board_feet for part in group),
            sum(part.rough_volume for part in group),
            sum(part.finished_volume for part in group),
        )


def _runs(parts: Iterable[CutPart]) -> Iterator[Run]:
    groups: dict[tuple[str, float, float], list[tuple[CutPart, int]]] = {}
    for part in parts:
        moulded = part.moulding
        if moulded is not None:
            key = (moulded.profile, round(moulded.width, 6), round(moulded.depth, 6))
            groups.setdefault(key, []).append((part, moulded.edges))
    for (profile, width, depth), group in sorted(groups.items()):
        yield Run(
            profile,
            width,
            depth,
            sum(part.count for part, _ in group),
            sum(part.count * edges * part.length for part, edges in group),
            sum(part.count * edges * part.rough_length for part, edges in group),
        )


def _sheets(glass: Iterable[GlassPart]) -> Iterator[Sheets]:
    groups: dict[tuple[tuple[str, ...], tuple[str, ...]], list[GlassPart]] = {}
    for part in glass:
        groups.setdefault((part.panes, part.coatings), []).append(part)
    for (panes, coatings), group in sorted(groups.items()):
        yield Sheets(
            panes,
            coatings,
            sum(part.count for part in group),
            sum(part.count * part.area for part in group),
            sum(part.count * part.united_inches for part in group),
            sum(part.count * part.putty_m for part in group),
        )


def _putty(glass: Iterable[GlassPart], knowledge: Knowledge) -> Iterator[Putty]:
    volumes: dict[str, float] = {}
    for part in glass:
        volumes[part.putty] = volumes.get(part.putty, 0.0) + part.count * part.putty_volume
    for key, volume in sorted(volumes.items()):
        yield Putty(key, volume, volume * knowledge.find("putty", key).density)


def _paint(made: Iterable[Made]) -> Iterator[Paint]:
    areas: dict[tuple[str, int], float] = {}
    for each in made:
        if each.coats and each.painted_m2:
            key = (each.coating, each.coats)
            areas[key] = areas.get(key, 0.0) + each.painted_m2
    for (coating, coats), area in sorted(areas.items()):
        yield Paint(coating, coats, area, area / COVERAGE)
