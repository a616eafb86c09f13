"""Glass of a window from outdoors to the room: its panes, the spaces between, and how both can be had.

A stack is what one sash has before and behind it: an exterior storm, the sash's own glazing, an inside
panel. It knows no wood; where heat goes beside the glass is for :mod:`sashwright.chapters.heat.whole`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import lru_cache
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from sashwright.knowledge.tables import Glass, GlassCoating, Knowledge
from sashwright.physics.glazing import (
    NFRC_SUMMER,
    NFRC_SUN,
    NFRC_WINTER,
    CoatedPane,
    Conditions,
    Gap,
    Pane,
    PlainPane,
    at_angle,
    detailed_balance,
    en673_gap_resistances,
    en673_u,
    plain_from_normal,
    solar_heat_gain,
)
from sashwright.physics.glazing.layers import BARE_EMISSIVITY, EN_BARE_EMISSIVITY
from sashwright.window.spec import Glazing

Array = NDArray[np.float64]
Band = Literal["solar", "visible"]
SpaceKind = Literal["sealed", "storm", "inside"]

BARE = "none"
"""Row of the glass coating table for a bare face."""
CLEAR_THICKNESS = 0.003
"""Of the glass that the rows of the glass coating table stand for [m]."""


@dataclass(frozen=True, slots=True)
class Layer:
    """One pane with its coatings: what heat, sun and light find."""

    pane: Pane
    solar: PlainPane | CoatedPane
    visible: PlainPane | CoatedPane
    glass: str
    coatings: tuple[str, str] = (BARE, BARE)
    """Towards outdoors and towards the room: rows of the glass coating table."""


@dataclass(frozen=True, slots=True)
class Space:
    """What lies between two panes: the closed space of a sealed unit, or that to a storm or panel."""

    gap: Gap
    kind: SpaceKind


@dataclass(frozen=True, slots=True)
class Stack:
    """Panes and spaces from outdoors to the room."""

    layers: tuple[Layer, ...]
    spaces: tuple[Space, ...] = ()

    @property
    def panes(self) -> list[Pane]:
        return [layer.pane for layer in self.layers]

    @property
    def gaps(self) -> list[Gap]:
        return [space.gap for space in self.spaces]

    def outside(self, other: Stack, width: float) -> Stack:
        """With another stack, a storm's, before it."""
        space = Space(Gap(width), "storm")
        return Stack(other.layers + self.layers, (*other.spaces, space, *self.spaces))

    def inside(self, other: Stack, width: float) -> Stack:
        """With another stack, a panel's, behind it."""
        space = Space(Gap(width), "inside")
        return Stack(self.layers + other.layers, (*self.spaces, space, *other.spaces))


# --- from the specification -----------------------------------------------------------


def stack_of(glazing: Glazing, knowledge: Knowledge) -> Stack:
    """The glazing of a sash or a storm sash. Raises ``KnowledgeError`` for an unknown row."""
    faces = [*glazing.coatings, *[BARE] * (2 * len(glazing.panes) - len(glazing.coatings))]
    layers = tuple(
        layer_of(key, (faces[2 * at], faces[2 * at + 1]), knowledge)
        for at, key in enumerate(glazing.panes)
    )
    share = 1.0 if glazing.gas == "air" else glazing.gas_share / 100
    spaces = tuple(Space(Gap(width, glazing.gas, share), "sealed") for width in glazing.gaps)
    return Stack(layers, spaces)


def layer_of(key: str, coatings: tuple[str, str], knowledge: Knowledge) -> Layer:
    """A pane of the glass table with what its two faces carry."""
    glass: Glass = knowledge.find("glass", key)
    rows: list[GlassCoating] = [knowledge.find("glass_coating", each) for each in coatings]
    outside, inside = (
        glass.emissivity if row.key == BARE else row.emissivity for row in rows
    )  # fmt: skip
    return Layer(
        Pane(glass.thickness, glass.conductivity, outside, inside),
        _optics("solar", glass, (rows[0], rows[1]), knowledge),
        _optics("visible", glass, (rows[0], rows[1]), knowledge),
        glass.key,
        (rows[0].key, rows[1].key),
    )


def _optics(
    band: Band, glass: Glass, faces: tuple[GlassCoating, GlassCoating], knowledge: Knowledge
) -> PlainPane | CoatedPane:
    """A pane in one band; a coating takes the same share off every glass that it lies on."""
    clear = knowledge.glass_coating[BARE]
    through, back = _plain_values(band, glass, clear)
    if all(row.key == BARE for row in faces):
        try:
            return plain_from_normal(through, back)
        except ValueError:
            return CoatedPane(through, back, back)
    front_row, back_row = faces
    base = float(getattr(clear, f"{band}_transmittance"))
    for row in faces:
        through *= float(getattr(row, f"{band}_transmittance")) / base
    front = _reflectance(band, front_row, back_row)
    return CoatedPane(through, front, _reflectance(band, back_row, front_row))


def _reflectance(band: Band, towards: GlassCoating, away: GlassCoating) -> float:
    """Of a face that may be coated itself, or lie before a coating on the other face."""
    if towards.key == BARE:
        return float(getattr(away, f"{band}_back"))
    return float(getattr(towards, f"{band}_front"))


def _plain_values(band: Band, glass: Glass, clear: GlassCoating) -> tuple[float, float]:
    """Transmittance and reflectance of the bare glass, those of clear glass where not given."""
    through = getattr(glass, f"{band}_transmittance")
    if through is not None:
        return float(through), float(getattr(glass, f"{band}_reflectance"))
    known = plain_from_normal(
        float(getattr(clear, f"{band}_transmittance")), float(getattr(clear, f"{band}_front"))
    )
    pane = PlainPane(known.index, known.depth * glass.thickness / CLEAR_THICKNESS)
    straight = at_angle([pane], 0.0)
    return float(straight.transmittance), float(straight.reflectance)


def panel(key: str, coatings: tuple[str, ...], knowledge: Knowledge) -> Stack:
    """A single pane as a stack of its own; faces not named are bare."""
    faces = (*coatings, BARE, BARE)
    return Stack((layer_of(key, (faces[0], faces[1]), knowledge),))


def recoated(stack: Stack, face: int, coating: str, knowledge: Knowledge) -> Stack:
    """The stack with another coating on one face, counted from 0 at the outermost."""
    layers = list(stack.layers)
    old = layers[face // 2]
    coatings = (coating, old.coatings[1]) if face % 2 == 0 else (old.coatings[0], coating)
    layers[face // 2] = layer_of(old.glass, coatings, knowledge)
    return replace(stack, layers=tuple(layers))


# --- heat at the centre of the glass --------------------------------------------------


@lru_cache(maxsize=4096)
def u_en(stack: Stack) -> float:
    """U at the centre by EN 673 [W/(m2 K)]; above some 50 mm carried beyond what it was made for."""
    return en673_u(_en_panes(stack), stack.gaps)


@lru_cache(maxsize=4096)
def gaps_en(stack: Stack) -> tuple[float, ...]:
    """Conductance of each space by EN 673 [W/(m2 K)]."""
    return tuple(1 / r for r in en673_gap_resistances(_en_panes(stack), stack.gaps))


def _en_panes(stack: Stack) -> list[Pane]:
    """EN 673 gives bare glass a third digit that other standards do not have."""

    def exact(emissivity: float) -> float:
        return EN_BARE_EMISSIVITY if emissivity == BARE_EMISSIVITY else emissivity

    return [
        replace(
            pane,
            emissivity_outside=exact(pane.emissivity_outside),
            emissivity_inside=exact(pane.emissivity_inside),
        )
        for pane in stack.panes
    ]


@dataclass(frozen=True, slots=True)
class Centre:
    """The glass at its centre in one weather: U, faces from outdoors to the room [°C], spaces."""

    u: float
    faces: tuple[float, ...]
    spaces: tuple[float, ...]
    """Conductance of each [W/(m2 K)]."""
    films: tuple[float, float]
    """Outdoors and in the room, radiation included [W/(m2 K)]."""

    @property
    def room_face(self) -> float:
        return self.faces[-1]


@lru_cache(maxsize=4096)
def centre(stack: Stack, height: float, conditions: Conditions = NFRC_WINTER) -> Centre:
    """By ISO 15099, for one state of the weather; the rating's winter where none is given."""
    found = detailed_balance(stack.panes, stack.gaps, conditions, height=height)
    return Centre(
        float(found.u),
        tuple(float(face) for face in found.faces),
        tuple(1 / float(r) for r in found.resistances[2:-1:2]),
        (1 / float(found.resistances[0]), 1 / float(found.resistances[-1])),
    )


# --- sun and light --------------------------------------------------------------------


@lru_cache(maxsize=4096)
def sun_and_light(stack: Stack, height: float) -> tuple[float, float]:
    """Solar heat gain coefficient and visible transmittance at the centre [-].

    Straight through, in the rating's summer (NFRC 200) by ISO 15099.
    """
    sun = at_angle([layer.solar for layer in stack.layers], 0.0)
    gain = solar_heat_gain(stack.panes, stack.gaps, NFRC_SUMMER, sun, NFRC_SUN, height=height)
    light = at_angle([layer.visible for layer in stack.layers], 0.0)
    return float(gain), float(light.transmittance)
