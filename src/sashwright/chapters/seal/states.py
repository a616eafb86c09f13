"""States of a window's joints: as found, repaired, with each kind of weatherstrip, as planned."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from sashwright.chapters.seal.paths import BY_NAME, PLACES, PathName, Place, State
from sashwright.knowledge.tables import Knowledge, KnowledgeError, Leakage, WeatherstripKind
from sashwright.window.layout import WindowLayout

SEAL_FIELD: Mapping[PathName, str] = {
    "upper sides": "upper_sides",
    "lower sides": "lower_sides",
    "head": "head",
    "meeting rail": "meeting_rail",
    "sill": "sill",
    "pulleys": "pulleys",
    "glass": "glass",
    "frame": "frame",
}
FIXED = "joint-painted-shut"
"""What the joints of a fixed sash are taken for: it is bedded in its stops."""
COVERED = "pulley-covered"

SLIDING: frozenset[PathName] = frozenset({"upper sides", "lower sides"})
"""Joints that a sash slides along; the others only close."""

STRIP_PLACES: Mapping[str, tuple[PathName, ...]] = {
    "sides": ("upper sides", "lower sides"),
    "parting bead": ("upper sides", "lower sides"),
    "inside stop": ("upper sides", "lower sides"),
    "head": ("head",),
    "sill": ("sill",),
    "meeting rail": ("meeting rail",),
}
"""Which paths a weatherstrip closes, by the places that its table says it goes."""

KINDS: tuple[WeatherstripKind, ...] = ("spring strip", "interlocking rib", "bulb", "pile", "felt")


def found(layout: WindowLayout, knowledge: Knowledge) -> dict[PathName, Leakage]:
    """The state of each path as the window is found. Raises ``KnowledgeError`` for an unknown row."""
    state = _bare(layout, knowledge)
    if layout.family.strips.state == "in place":
        state |= dict(_strips(layout, knowledge))
    return state


def planned(layout: WindowLayout, knowledge: Knowledge) -> dict[PathName, Leakage]:
    """Put in order, with the weatherstrip that the family names: in place, or still to be fitted."""
    return repaired(found(layout, knowledge), knowledge) | dict(_strips(layout, knowledge))


def _bare(layout: WindowLayout, knowledge: Knowledge) -> dict[PathName, Leakage]:
    seals = layout.family.seals
    state: dict[PathName, Leakage] = {}
    for place in PLACES:
        key = getattr(seals, SEAL_FIELD[place.name])
        if not layout.upper.hung and place.name in ("upper sides", "head"):
            key = FIXED
        row: Leakage = knowledge.find("leakage", key)
        if place.path not in row.paths:
            raise KnowledgeError(
                f"seals.{SEAL_FIELD[place.name]}: found {key!r}, a row for "
                f"{' or '.join(row.paths)}, expected one for {place.path}"
            )
        state[place.name] = row
    return state


def _strips(layout: WindowLayout, knowledge: Knowledge) -> Iterator[tuple[PathName, Leakage]]:
    """Paths that the family's own weatherstrip closes."""
    for place in PLACES:
        if place.strip is None or (not layout.upper.hung and place.name in ("upper sides", "head")):
            continue
        strip = knowledge.find("weatherstrip", getattr(layout.family.strips, place.strip))
        row = strip_row(strip.kind, place, knowledge)
        if row is not None:
            yield place.name, row


def strip_row(kind: WeatherstripKind, place: Place, knowledge: Knowledge) -> Leakage | None:
    """The row of the leakage table for a kind of weatherstrip at a path; None where there is none."""
    if kind == "none":
        return None
    rows = (r for r in knowledge.leakage.values() if r.strip == kind and place.path in r.paths)
    return next(rows, None)


def repaired(state: State, knowledge: Knowledge) -> dict[PathName, Leakage]:
    """Each path put in order: joints refitted, putty renewed, the frame caulked. Never leakier."""
    done: dict[PathName, Leakage] = {}
    for name, row in state.items():
        better = knowledge.leakage.get(row.repaired)
        done[name] = tighter(row, better)
    return done


def tighter(row: Leakage, other: Leakage | None) -> Leakage:
    """The row that leaks less at the usual pressures; the first if they are alike."""
    if other is None or other.area >= row.area:
        return row
    return other


def kinds_at(knowledge: Knowledge, kind: WeatherstripKind) -> frozenset[PathName]:
    """The paths that a kind of weatherstrip can close: where any strip of that kind goes."""
    places = {
        place for strip in knowledge.weatherstrip.values() if strip.kind == kind
        for place in strip.places
    }  # fmt: skip
    return frozenset(name for place in places for name in STRIP_PLACES[place])


def stripped(
    state: State, knowledge: Knowledge, choose: Mapping[PathName, WeatherstripKind]
) -> dict[PathName, Leakage]:
    """A state with weatherstrip put in at some paths; one that leaks more is not put in."""
    done = dict(state)
    for name, kind in choose.items():
        done[name] = tighter(state[name], strip_row(kind, BY_NAME[name], knowledge))
    return done


def choices(knowledge: Knowledge) -> Iterator[tuple[str, dict[PathName, WeatherstripKind]]]:
    """Weatherstrip to choose from: each kind wherever it goes, and pile with bulb."""
    for kind in KINDS:
        at = kinds_at(knowledge, kind)
        if at:
            yield kind, dict.fromkeys(_ordered(at), kind)
    pile, bulb = kinds_at(knowledge, "pile"), kinds_at(knowledge, "bulb")
    if pile and bulb:
        both: dict[PathName, WeatherstripKind] = dict.fromkeys(_ordered(pile & SLIDING), "pile")
        both |= dict.fromkeys(_ordered(bulb - SLIDING), "bulb")
        yield "pile with bulb", both


def _ordered(names: frozenset[PathName]) -> Sequence[PathName]:
    return [place.name for place in PLACES if place.name in names]


def scenarios(layout: WindowLayout, knowledge: Knowledge) -> dict[str, dict[PathName, Leakage]]:
    """What can be done with the window, by name, the state as found first."""
    as_found = found(layout, knowledge)
    in_order = repaired(as_found, knowledge)
    all_: dict[str, dict[PathName, Leakage]] = {"as found": as_found, "repaired": in_order}
    for name, choose in choices(knowledge):
        state = stripped(in_order, knowledge, choose)
        if state != in_order:
            all_[name] = state
    if any(True for _ in _strips(layout, knowledge)):
        all_["as the family has it"] = planned(layout, knowledge)
    best = {place.name: remedy(place, in_order[place.name], knowledge)[1] for place in PLACES}
    all_["every step"] = best
    return all_


# --- one path at a time ---------------------------------------------------------------


def remedy(place: Place, row: Leakage, knowledge: Knowledge) -> tuple[str, Leakage]:
    """The best thing to do at one path, in words, and the state it is in then."""
    if place.strip is not None:
        kind: WeatherstripKind = "spring strip" if place.name in SLIDING else "bulb"
        where = "at" if place.name in SLIDING or place.name == "meeting rail" else "along"
        does = f"fit {kind if kind != 'bulb' else 'a bulb'} {where} {place.words}"
        return does, tighter(row, strip_row(kind, place, knowledge))
    if place.name == "pulleys":
        return "cover the pulley holes", tighter(row, knowledge.leakage.get(COVERED))
    better = tighter(row, knowledge.leakage.get(row.repaired))
    return ("renew the putty" if place.name == "glass" else "caulk the frame to the wall"), better
