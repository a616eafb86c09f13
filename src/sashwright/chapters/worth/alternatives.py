"""What can be done with the windows of a house, the work it asks for, how each window then stands."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import Literal

from sashwright.chapters.building import Glazed
from sashwright.chapters.heat.builds import Key

Glass = Literal[
    "as found", "storm", "storm-low-e", "storm-stays", "inside", "inside-low-e", "unit", "new",
]  # fmt: skip
Group = Literal["keep", "replace"]

ORDINARY_AREA = 1.39
"""Opening of the window that costs are of [m2]: 36 by 60 in."""


@dataclass(frozen=True, slots=True)
class Way:
    """One alternative for the whole house: how the joints and the glass end, and the work that asks for."""

    key: str
    name: str
    joints: str
    """A state of the seal chapter."""
    glass: Glass
    work: tuple[str, ...]
    """Rows of the measure table for every window; what storms and panels ask for is added."""
    group: Group = "keep"

    @property
    def replaces(self) -> bool:
        """Whether the old sash go."""
        return self.group == "replace"


KEPT = ("paint", "putty", "cord")
"""Upkeep of old sash."""

_STRIPS = (
    ("spring strip", "strip-spring", "spring strip"),
    ("interlocking rib", "strip-rib", "interlocking rib"),
    ("bulb", "strip-bulb", "bulb"),
    ("pile", "strip-pile", "pile"),
    ("felt", "strip-felt", "felt"),
)
WAYS: tuple[Way, ...] = (
    Way("keep", "Left as found", "as found", "as found", KEPT),
    Way("repair", "Put in order", "repaired", "as found", ("repair", *KEPT)),
    *(
        Way(f"repair-{strip}", f"Put in order, {words}", state, "as found", ("repair", strip, *KEPT))
        for state, strip, words in _STRIPS
    ),
    Way("storm", "Clear storms", "as found", "storm", KEPT),
    Way("storm-low-e", "Low-e storms", "as found", "storm-low-e", KEPT),
    Way("storm-stays", "Low-e storms in tracks, all year", "as found", "storm-stays", KEPT),
    Way("inside", "Inside storms", "as found", "inside", KEPT),
    Way("repair-storm", "Put in order, clear storms", "repaired", "storm", ("repair", *KEPT)),
    Way(
        "repair-storm-low-e",
        "Put in order, spring strip, low-e storms",
        "spring strip",
        "storm-low-e",
        ("repair", "strip-spring", *KEPT),
    ),
    Way(
        "repair-inside-low-e",
        "Put in order, spring strip, low-e inside storms",
        "spring strip",
        "inside-low-e",
        ("repair", "strip-spring", *KEPT),
    ),
    Way(
        "unit",
        "Put in order, spring strip, insulated glass in the old sash",
        "spring strip",
        "unit",
        ("repair", "strip-spring", "unit-in-sash", "unit-seal", "paint", "cord"),
    ),
    Way(
        "new-sash",
        "New sash to match, bulb",
        "bulb",
        "as found",
        ("new-sash", "strip-bulb", *KEPT),
        "replace",
    ),
    Way(
        "replace-pvc",
        "Replacement windows of PVC",
        "as found",
        "new",
        ("replace-pvc", "replaced-upkeep", "unit-seal"),
        "replace",
    ),
    Way(
        "replace-wood",
        "Replacement windows of clad wood",
        "as found",
        "new",
        ("replace-wood", "replaced-upkeep", "unit-seal"),
        "replace",
    ),
)  # fmt: skip
BY_KEY: Mapping[str, Way] = {way.key: way for way in WAYS}


@dataclass(frozen=True, slots=True)
class Stands:
    """How one window stands in an alternative: its glass in winter and in summer, its joints, its work."""

    glazed: Glazed
    winter: Key
    summer: Key
    joints: str
    work: tuple[str, ...]
    changed: bool


@dataclass(frozen=True, slots=True)
class Alternative:
    """A way of doing, worked out for the windows of a house."""

    way: Way
    windows: tuple[Stands, ...]
    amounts: Mapping[str, float] = field(default_factory=dict)
    """Of each measure, in windows of the ordinary size, with the rest of its cost by the piece."""
    areas: Mapping[str, float] = field(default_factory=dict)
    """Openings that each measure is done at [m2]."""

    @property
    def key(self) -> str:
        return self.way.key

    @property
    def touched(self) -> int:
        """Windows at which anything is done."""
        return sum(each.changed for each in self.windows)


def alternatives(
    windows: Sequence[Glazed], shares: Mapping[str, float], *, repair_due: bool = False
) -> list[Alternative]:
    """All ways that change something, the one to compare with first.

    ``shares`` has the part of each measure's cost that goes with area. Where ``repair_due`` the windows
    cannot stay as they are: ways that leave their joints as found fall away, and putting them in order is
    what all else is compared with.
    """
    found = []
    for way in WAYS:
        if repair_due and not way.replaces and way.joints == "as found":
            continue
        stands = tuple(_stands(way, glazed) for glazed in windows)
        if way.glass not in ("as found", "new") and not any(_new_glass(each) for each in stands):
            continue
        found.append(Alternative(way, stands, *_amounts(stands, shares)))
    return found


def _new_glass(each: Stands) -> bool:
    return each.winter != each.glazed.winter


def _amounts(
    stands: Sequence[Stands], shares: Mapping[str, float]
) -> tuple[dict[str, float], dict[str, float]]:
    amounts: dict[str, float] = {}
    areas: dict[str, float] = {}
    for each in stands:
        area = each.glazed.whole.geometry.opening
        for key in each.work:
            share = shares[key]
            piece = 1 - share + share * area / ORDINARY_AREA
            amounts[key] = amounts.get(key, 0.0) + piece
            areas[key] = areas.get(key, 0.0) + area
    return amounts, areas


def _stands(way: Way, glazed: Glazed) -> Stands:
    winter, summer, more = _glass(way.glass, glazed)
    work = [*way.work, *more]
    stormed = winter in ("storm", "storm-clear", "storm-low-e", "storm-and-inside")
    wood = glazed.placed.family.storm_sash.kind == "wood sash" and "storm-tracked" not in more
    if stormed and wood:
        work.append("storm-paint")
    if way.glass == "unit" and winter != "unit":
        # Where the thin unit does not fit, or a storm hangs, the old glass and its putty stay.
        work = [key for key in work if not key.startswith("unit-")] + ["putty"]
    changed = way.joints != "as found" or winter != glazed.winter
    return Stands(glazed, winter, summer, way.joints, tuple(work), changed)


def _glass(glass: Glass, glazed: Glazed) -> tuple[Key, Key, tuple[str, ...]]:
    """Builds for winter and summer, and the work they ask for."""
    found = glazed.winter, glazed.summer, ()
    if glass == "new":
        return "new", "new", ()
    if glass in ("storm", "storm-low-e", "storm-stays"):
        return _storm(glass, glazed) or found
    if glass in ("inside", "inside-low-e") and glazed.winter == "prime":
        work = ("panel",) if glass == "inside" else ("panel-glass", "low-e-glass")
        return glass, glass, work
    if glass == "unit" and glazed.winter == "prime" and "unit" in glazed.builds:
        return ("unit", "unit", ()) if glazed.whole.choices.unit_fits() else found
    return found


def _storm(glass: Glass, glazed: Glazed) -> tuple[Key, Key, tuple[str, ...]] | None:
    """A storm where none hangs, low-e glass in a clear one; None where there is nothing to do."""
    builds = glazed.builds
    if "storm" not in builds or glazed.whole.choices.has_panel:
        return None
    coated = "storm-clear" in builds
    low_e: Key = "storm" if coated else "storm-low-e"
    clear: Key = "storm-clear" if coated else "storm"
    wanted = clear if glass == "storm" else low_e
    tracked = glazed.placed.family.storm_sash.kind == "combination" or glass == "storm-stays"
    if glazed.winter == "storm":
        if glass in ("storm", "storm-stays") or coated:
            return None
        stays = glazed.summer == "storm"
        return wanted, wanted if stays else glazed.summer, ("low-e-glass",)
    coat = ("low-e-glass",) if wanted == low_e else ()
    kind = "storm-tracked" if tracked else "storm-wood"
    return wanted, wanted if tracked else glazed.summer, (kind, *coat)
