"""What an airflow network is made of: rooms, faces of the house, cracks and openings between them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

import numpy as np

from sashwright.physics.network.balance import ACROSS, CRACK, DOWN, UP, Array, Links
from sashwright.physics.openings import USUAL_DISCHARGE

Grows = Literal["across", "up", "down"]


@dataclass(frozen=True, slots=True, kw_only=True)
class Zone:
    """Well-mixed air, such as a room. ``level`` is the height that its pressure is stated at [m], over the
    same ground as the links' heights."""

    name: str
    level: float = 0.0


@dataclass(frozen=True, slots=True, kw_only=True)
class Crack:
    r"""A path of volume flow :math:`C\,\Delta p^n`, at one height, in terms of the air that enters it.

    ``start`` and ``end`` name zones or faces; ``coefficient`` is C [m3/(s Pa^n)], ``exponent`` n from 0.5
    to 1, ``height`` over the ground [m].
    """

    start: str
    end: str
    coefficient: float
    exponent: float = 0.65
    height: float = 0.0
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """An upright opening in which air may pass both ways at once: a raised sash, a doorway.

    Wide open it has ``width`` and reaches from ``bottom`` to ``top`` [m]. Opened in part, ``grows`` says how:
    ``across`` its width (a door), ``up`` from its bottom (a raised lower sash) or ``down`` from its top
    (a lowered upper sash).
    """

    start: str
    end: str
    width: float
    bottom: float
    top: float
    discharge_coefficient: float = USUAL_DISCHARGE
    grows: Grows = "across"
    name: str = ""


@dataclass(frozen=True, slots=True, kw_only=True)
class Hole:
    """A level opening, such as a stairwell, or a small one: ``area`` [m2] at one ``height`` [m], with air
    passing one way only."""

    start: str
    end: str
    area: float
    height: float
    discharge_coefficient: float = USUAL_DISCHARGE
    name: str = ""


Link = Crack | Opening | Hole

_KINDS = {"across": ACROSS, "up": UP, "down": DOWN}


@dataclass(frozen=True, slots=True)
class Network:
    """Zones, the outdoor faces by name, and the links between them; the order is that of all arrays.

    Raises
    ------
    ValueError
        For a name that is used twice or not known, and for sizes and heights that cannot be.
    """

    zones: Sequence[Zone]
    faces: Sequence[str]
    links: Sequence[Link]

    def __post_init__(self) -> None:
        names = self.nodes
        for name in names:
            if names.count(name) > 1:
                raise ValueError(f"found the name {name!r} twice among zones and faces")
        for at, link in enumerate(self.links):
            where = f"link {at}" + (f", {link.name}" if link.name else "")
            for node in (link.start, link.end):
                if node not in names:
                    known = ", ".join(names)
                    raise ValueError(f"{where}: found {node!r}, expected one of {known}")
            if link.start == link.end:
                raise ValueError(f"{where}: found it from {link.start!r} to itself")
            wrong = _wrong(link)
            if wrong:
                raise ValueError(f"{where}: {wrong}")

    @property
    def nodes(self) -> list[str]:
        """Names of the zones, then of the faces."""
        return [*(zone.name for zone in self.zones), *self.faces]

    def levels(self) -> Array:
        """Height that each zone's pressure is stated at [m]; (zones,)."""
        return np.array([zone.level for zone in self.zones], dtype=np.float64)

    def arrays(self) -> Links:
        """The links as :func:`~sashwright.physics.network.hour.solve_hour` takes them."""
        place = {name: at for at, name in enumerate(self.nodes)}
        rows = [_row(link) for link in self.links]
        kind, size, exponent, bottom, top = zip(*rows, strict=True) if rows else ([],) * 5
        return Links(
            start=np.array([place[link.start] for link in self.links], dtype=np.int64),
            end=np.array([place[link.end] for link in self.links], dtype=np.int64),
            kind=np.array(kind, dtype=np.int64),
            size=np.array(size, dtype=np.float64),
            exponent=np.array(exponent, dtype=np.float64),
            bottom=np.array(bottom, dtype=np.float64),
            top=np.array(top, dtype=np.float64),
        )


def _row(link: Link) -> tuple[int, float, float, float, float]:
    match link:
        case Crack():
            return CRACK, link.coefficient, link.exponent, link.height, link.height
        case Opening():
            area = link.width * (link.top - link.bottom)
            size = link.discharge_coefficient * area
            return _KINDS[link.grows], size, 0.5, link.bottom, link.top
        case Hole():
            size = link.discharge_coefficient * link.area
            return ACROSS, size, 0.5, link.height, link.height


def _wrong(link: Link) -> str:
    """What cannot be about a link, or nothing."""
    match link:
        case Crack():
            sizes = {"a coefficient": link.coefficient}
            if not 0.5 <= link.exponent <= 1:
                return f"found an exponent of {link.exponent:g}, expected 0.5 to 1"
        case Opening():
            sizes = {
                "a width": link.width,
                "a top over the bottom": link.top - link.bottom,
                "a discharge coefficient": link.discharge_coefficient,
            }
            if link.grows not in _KINDS:
                return f"found {link.grows!r}, expected one of {', '.join(_KINDS)}"
        case Hole():
            sizes = {
                "an area": link.area,
                "a discharge coefficient": link.discharge_coefficient,
            }
    for what, size in sizes.items():
        if not (np.isfinite(size) and size >= 0):
            return f"found {what} of {size:g}, expected zero or more"
    return ""
