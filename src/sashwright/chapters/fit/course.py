"""Moisture content of every member of every window, day by day.

Members that are alike, and stand alike, are followed once, whichever windows they belong to.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from sashwright.chapters.fit.air import Case, Storm, air_of
from sashwright.knowledge.tables import Coating, Knowledge, Wood
from sashwright.physics.daily import DailyClimate
from sashwright.physics.diffusion import fit_diffusion
from sashwright.physics.moisture import equilibrium_moisture_content
from sashwright.physics.psychrometrics import saturation_pressure
from sashwright.physics.slab import Slabs, Surroundings, transfer_coefficient, year_round
from sashwright.physics.wood import conductivity, specific_gravity
from sashwright.window.boards import Board, Coat
from sashwright.window.spec import Wall

Array = NDArray[np.float64]

STILL_AIR = 5.4e7
"""Resistance of still air at a face, to vapour [Pa s m2/kg]: 3 W/(m2 K) by Lewis's relation,
rho c R T / h. Twenty times and more in paint hide what it is out of doors, 1e7."""
PAINT_SPREAD = 2.0
"""How far a sound film's resistance may be from the table's, either way, as a factor [-]; judgement: one
coat more or less, and the better or the poorer of two paints of a kind, are this far apart in Wood
Handbook table 16-3."""
FAILED_BARE = (0.1, 0.3, 0.7)
"""Share of a face that lies bare where its paint has failed: low, usual, high [-]; judgement."""
SERVICE_HUMIDITIES = (0.30, 0.90)
"""Between these the rise of moisture with humidity is taken for how much paint lets through: the ends of
the test that its resistance comes from, whose gains over 1, 7 and 14 days follow one resistance so."""
_AT_MOISTURE = 0.12

PARTS_OF_DAY = 2
"""Steps in a day: members of a sash, painted or bare, come within 1e-4 of finer steps."""

USUAL = 1
"""Place of the usual value among the levels."""
LEVELS = ("low", "usual", "high")
"""Ease of the coating: of sound paint half, all and twice what the table lets through."""


@dataclass(frozen=True, slots=True)
class Standing:
    """Where a window's boards stand."""

    wall: Wall
    storm: Storm


@dataclass(frozen=True, slots=True)
class Followed:
    """A board of a window, followed through the year."""

    board: Board
    case: Case
    wood: Wood

    @property
    def section(self) -> tuple[str, float]:
        """Its wood and its thickness."""
        return self.wood.key, self.board.thickness

    @property
    def alike(self) -> Alike:
        """What matters of a board for its moisture: not its name, nor what it was measured at."""
        board = self.board
        return (*self.section, board.depth, board.outer, board.inner, board.edge, self.case)


Alike = tuple[str, float, float, Coat | None, Coat | None, Coat | None, Case]
Course = Array
"""Moisture content by level of the coating and day, shape (3, 365) [-]."""


def followed(board: Board, standing: Standing, knowledge: Knowledge) -> Followed:
    """A board with its wood and its place."""
    wood: Wood = knowledge.find("wood", board.wood)
    insulation = board.thickness / conductivity(_gravity(wood, _AT_MOISTURE), _AT_MOISTURE)
    wall = standing.wall
    if board.stands == "in the opening":
        case = Case(board.stands, wall.faces, wall.weather, standing.storm, float(insulation))
    else:
        # Frame and beads are taken alike all round the house, out of sun and rain.
        case = Case(board.stands, 0.0, "sheltered", standing.storm, 0.0)
    return Followed(board, case, wood)


@dataclass(frozen=True, slots=True)
class Run:
    """A board behind coats of one ease: of its outer face, its inner face and its edge [kg/(Pa s m2)]."""

    board: Followed
    eases: tuple[float, float, float]

    @property
    def key(self) -> tuple[Any, ...]:
        """What sets it apart from other runs: bare wood, for one, is the same at every level."""
        board = self.board.board
        return (
            *self.board.section,
            self.board.case,
            board.depth if self.eases[2] else 0.0,
            self.eases,
        )


def follow(
    boards: Iterable[Followed],
    compared: Iterable[Followed],
    climate: DailyClimate,
    knowledge: Knowledge,
) -> Mapping[Alike, Course]:
    """Moisture content of each board through a year that repeats itself, by what makes boards alike.

    Those that are only ``compared`` are followed behind the usual coating alone.
    """
    wanted = {each.alike: (each, (USUAL,) * len(LEVELS)) for each in compared}
    wanted |= {each.alike: (each, tuple(range(len(LEVELS)))) for each in boards}
    runs: dict[tuple[Any, ...], Run] = {}
    keys: dict[Alike, list[tuple[Any, ...]]] = {}
    for alike, (each, levels) in wanted.items():
        some = runs_of(each, knowledge)
        keys[alike] = [some[level].key for level in levels]
        runs |= {some[level].key: some[level] for level in levels}
    if not runs:
        return {}
    year = year_round(*assembled(list(runs.values()), climate), parts=PARTS_OF_DAY)
    column = {key: at for at, key in enumerate(runs)}
    return {alike: year[:, [column[key] for key in some]].T for alike, some in keys.items()}


def runs_of(each: Followed, knowledge: Knowledge) -> Sequence[Run]:
    """The runs of a board, one for each level of its coating."""
    board = each.board
    outer, inner, edge = (
        permeances(coat, knowledge) for coat in (board.outer, board.inner, board.edge)
    )
    return [Run(each, eases) for eases in zip(outer, inner, edge, strict=True)]


def assembled(runs: Sequence[Run], climate: DailyClimate) -> tuple[Slabs, Surroundings]:
    """The boards as slabs in their surroundings, day by day."""
    boards = [run.board for run in runs]
    cases = list(dict.fromkeys(each.case for each in boards))
    place = {case: at for at, case in enumerate(cases)}
    at = [place[each.case] for each in boards]
    air = air_of(cases, climate)
    dry = np.array([dry_density(each.wood) for each in boards])
    ratio = np.array([each.wood.moisture_ratio for each in boards])
    eases = np.array([run.eases for run in runs]).T[:, None, :]
    transfer = transfer_coefficient(
        eases,
        saturation_pressure(air.temperature)[:, :, at],
        sorption_chord() * ratio,
        dry,
    )
    slabs = Slabs(
        np.array([each.board.thickness for each in boards]),
        np.stack([fit_diffusion(dry_gravity(each.wood)) for each in boards], axis=-1),
        np.array([each.board.depth for each in boards]),
    )
    surroundings = Surroundings(
        air.temperature[:2, :, at], air.settled[:, :, at] * ratio, np.asarray(transfer)
    )
    return slabs, surroundings


def sorption_chord() -> float:
    """Rise of moisture content over that of humidity in service, at 20 °C [-]."""
    low, high = SERVICE_HUMIDITIES
    rise = equilibrium_moisture_content(20.0, high) - equilibrium_moisture_content(20.0, low)
    return rise / (high - low)


def _gravity(wood: Wood, moisture: float) -> float:
    return specific_gravity(
        wood.specific_gravity_green, moisture, wood.shrinkage_volumetric, wood.fibre_saturation
    )


def dry_gravity(wood: Wood) -> float:
    """Specific gravity of the oven-dry wood on its own volume [-]."""
    return _gravity(wood, 0.0)


def dry_density(wood: Wood) -> float:
    """Oven-dry mass in a volume of the wood as it stands in a window, at 12 % [kg/m3]."""
    return 1000 * _gravity(wood, _AT_MOISTURE)


def permeances(coat: Coat | None, knowledge: Knowledge) -> tuple[float, float, float]:
    """How easily air and coat together let vapour through: low, usual, high [kg/(Pa s m2)]."""
    if coat is None:
        return 0.0, 0.0, 0.0
    film = coat_resistance(coat, knowledge)
    bare = 1 / STILL_AIR
    if coat.state == "failed":
        sound = 1 / (STILL_AIR + film)
        low, usual, high = (share * bare + (1 - share) * sound for share in FAILED_BARE)
        return low, usual, high
    low, usual, high = (
        1 / (STILL_AIR + film * factor) for factor in (PAINT_SPREAD, 1.0, 1 / PAINT_SPREAD)
    )
    return low, usual, high


def coat_resistance(coat: Coat, knowledge: Knowledge) -> float:
    """Resistance of the paint itself to vapour, sound [Pa s m2/kg]."""
    if coat.state == "bare":
        return 0.0
    row: Coating = knowledge.find("coating", coat.coating)
    return row.vapour_resistance * (min(coat.coats, 1) if coat.state == "primed" else coat.coats)
