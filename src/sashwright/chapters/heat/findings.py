"""Judgements of the heat chapter: what each measure brings, how it compares with what was measured."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright import units
from sashwright.chapters.answer import Finding
from sashwright.chapters.heat.builds import Build
from sashwright.chapters.heat.comfort import ASYMMETRY_LIMIT, DRAUGHT_LIMIT, DRAUGHT_MOST
from sashwright.chapters.heat.curve import FOUR_INCHES, QUARTER_INCH
from sashwright.chapters.heat.flows import Convention
from sashwright.chapters.heat.geometry import SIDES
from sashwright.chapters.heat.glass import BARE
from sashwright.chapters.heat.say import (
    CONVENTIONS,
    degrees,
    kelvins,
    loss_words,
    share,
    speed,
    u_change,
    u_number,
    u_words,
)
from sashwright.chapters.heat.subject import Subject
from sashwright.chapters.heat.whole import NEW_CODE
from sashwright.chapters.words import Words

LEAK_WORTH = 0.30
"""Share of the heat that goes with the air from which it is worth a caution; judgement."""
WORSE = 0.02
"""Of the best space's U from which a wider one is worth a word; judgement."""
DRY = 0.30
"""Relative humidity that a heated house may well have in deep cold [-]; common practice."""
MEASURED_STORM = (0.25, 0.50)
"""Share of a window's heat that storms save, by the US Department of Energy's statement (HUD
ResearchWorks 6(5), 2009)."""
MEASURED_STORM_SOURCE = (
    "US Department of Energy in HUD ResearchWorks 6(5), 2009: 25 to 50 %; J. H. Klems, ASHRAE Transactions "
    "109(2), 2003: a prime with a low-e storm does about as well as a low-e replacement window"
)
BALANCE = "U of both, ISO 10077-1 or NFRC 100; air by the seal chapter"


class Told:
    """A subject in one reader's units and convention."""

    def __init__(self, subject: Subject, system: units.System) -> None:
        self.subject = subject
        self.system: units.System = system
        self.convention: Convention = CONVENTIONS[system]
        self.words = Words(system)

    def u(self, build: Build) -> float:
        return self.subject.part(build.key, self.convention).u

    def total(self, build: Build) -> float:
        return self.subject.total(build.key, self.convention)

    def loss(self, watts: float) -> str:
        return loss_words(watts, self.system)


def findings_of(
    subject: Subject, system: units.System, *, followed: bool = False
) -> Iterator[Finding]:
    """What is worth telling of one window; ``followed`` where water on it is told of by itself."""
    told = Told(subject, system)
    yield _as_found(told)
    yield _leak(told)
    yield from _storm(told)
    yield from _other_storm(told)
    yield from _coating(told)
    yield from _inside(told)
    yield from _instead(told)
    yield from _space(told)
    yield from _covering(told)
    yield _faces(told, followed)
    yield from _felt(told)


def _as_found(told: Told) -> Finding:
    found = told.subject.as_found
    part = told.subject.part(found.key, told.convention)
    hangs = "as it hangs in winter" if found.key != "prime" else "with nothing before it"
    other: Convention = "en" if told.convention == "na" else "na"
    elsewhere = told.subject.part(found.key, other).u
    by = {"na": "by NFRC 100", "en": "by ISO 10077-1"}
    second: units.System = "metric" if told.system == "us" else "us"
    return Finding(
        "note",
        "window",
        f"The whole window, {hangs}, has a {u_words(part.u, told.system)}: {told.loss(part.loss)}, of "
        f"which {share(part.frame / part.loss)} go through the wood.",
        f"{by[told.convention]}; {by[other]} it is {u_words(elsewhere, second)}; films, weather and the "
        "edge of the glass are reckoned differently",
        "ISO 15099, ISO 10077-1 and -2, EN 673",
    )


def _leak(told: Told) -> Finding:
    subject, found = told.subject, told.subject.as_found
    air = subject.airs[found.key]
    part = air.heat / told.total(found)
    grave = part >= LEAK_WORTH
    pressure = subject.pressure
    return Finding(
        "caution" if grave else "note",
        "window.air",
        f"{'Besides, ' if not grave else ''}{told.loss(air.heat)} go with the air through its joints, "
        f"{share(part)} of all its heat{': weatherstrip comes first' if grave else ''}.",
        f"{told.words.flow(air.flow)} by the tables' ranges {told.words.flow(air.low)} to "
        f"{told.words.flow(air.high)}, at {pressure.pascals:.2g} Pa, {pressure.says}",
        "seal chapter; Q rho c, 1.2 kg/m3 and 1006 J/(kg K)",
    )


def _storm(told: Told) -> Iterator[Finding]:
    builds = told.subject.builds
    if "storm" not in builds:
        return
    prime, storm = builds["prime"], builds["storm"]
    by_heat = 1 - told.u(storm) / told.u(prime)
    whole = 1 - told.total(storm) / told.total(prime)
    low, high = MEASURED_STORM
    there = "The" if told.subject.whole.choices.has_storm else "A"
    agrees = low <= round(by_heat, 2) <= high
    yield Finding(
        "ok" if storm.there else "note",
        "storm",
        f"{there} storm sash brings the {u_change(told.u(prime), told.u(storm), told.system)}, "
        f"{share(by_heat)} less; with the air that it keeps "
        f"out {told.loss(told.total(prime) - told.total(storm))} less, {share(whole)}.",
        f"{storm.what}; by calculation {share(by_heat)}, "
        + (
            f"within the {share(low)} to {share(high)} that storms are said to save"
            if agrees
            else f"{'more' if by_heat > high else 'less'} than the {share(low)} to {share(high)} that "
            "storms are said to save: those figures mix windows that were single and double, loose and "
            "tight"
        ),
        MEASURED_STORM_SOURCE,
    )


def _other_storm(told: Told) -> Iterator[Finding]:
    builds = told.subject.builds
    better = builds.get("storm-low-e")
    if better is None:
        return
    base = builds["storm"]
    less = 1 - told.u(better) / told.u(base)
    yield Finding(
        "note",
        "storm.glass",
        f"Low-e glass in the storm would bring the {u_change(told.u(base), told.u(better), told.system)}, "
        f"{share(less)} less again.",
        "hard coat of emissivity 0.15 on the storm's face towards the space: it takes most of the "
        "radiation between the panes, whatever the air there does",
        MEASURED_STORM_SOURCE,
    )


def _coating(told: Told) -> Iterator[Finding]:
    """Coatings where they do nothing, or will not last."""
    subject = told.subject
    knowledge = subject.placed.knowledge
    storm = subject.whole.choices.storm_glass
    panel = subject.whole.choices.panel_glass
    if subject.placed.family.storm != "none":
        if len(storm.layers) == 1 and storm.layers[0].coatings[0] != BARE:
            yield Finding(
                "caution",
                "storm.glass",
                "The storm's coating faces outdoors, where it saves next to nothing: turn the pane, coating "
                "towards the window.",
                "outdoors the wind carries the heat off, not radiation",
                "EN 673, ISO 15099",
            )
        coatings = [c for layer in storm.layers for c in layer.coatings]
        if len(storm.layers) == 1:
            yield from _perishes(told, "storm.glass", coatings)
    if subject.whole.choices.has_panel:
        yield from _perishes(told, "inside storm", list(panel.layers[0].coatings))
    for which, stack in subject.whole.choices.prime.items():
        if len(stack.layers) == 1 and any(
            knowledge.glass_coating[c].place == "sealed space" for c in stack.layers[0].coatings
        ):
            yield from _perishes(told, f"{which}.glass", list(stack.layers[0].coatings))


def _perishes(told: Told, on: str, coatings: list[str]) -> Iterator[Finding]:
    rows = [told.subject.placed.knowledge.glass_coating[key] for key in coatings]
    for row in rows:
        if row.place == "sealed space":
            yield Finding(
                "caution",
                on,
                f"{row.name} does not last in open air: use a hard coat there.",
                row.note or "silver coatings corrode outside sealed units",
                f"{row.source} ({row.status})",
            )


def _inside(told: Told) -> Iterator[Finding]:
    builds = told.subject.builds
    inside, prime = builds["inside"], builds["prime"]
    coated = builds["inside-low-e"]
    yield Finding(
        "ok" if inside.there else "note",
        "inside storm",
        f"{'The inside storm by itself brings' if inside.there else 'An inside storm would bring'} the "
        f"{u_change(told.u(prime), told.u(inside), told.system)}, with low-e glass to "
        f"{u_number(told.u(coated), told.system)}; air and all it saves "
        f"{share(1 - told.total(inside) / told.total(prime))}.",
        f"{inside.what}; measured on a sash window: secondary glazing cut the heat through the panes by "
        "63 %, from 5.5 to 1.7 W/(m2 K), with low-e glass",
        "Historic Scotland Technical Paper 1 (Baker, 2008), from memory; English Heritage (2009): 1.7",
    )


def _instead(told: Told) -> Iterator[Finding]:
    """What new glass or a new window would do."""
    subject, builds = told.subject, told.subject.builds
    new, found = builds["new"], subject.as_found
    best = builds.get("storm-low-e") or builds.get("storm") or found
    prime = builds["prime"]
    saves_best = told.total(prime) - told.total(best)
    saves_new = told.total(prime) - told.total(new)
    part = saves_best / saves_new if saves_new > 0 else 1.0
    yield Finding(
        "note",
        "window",
        f"A new window that meets the code would bring the opening to a {u_words(told.u(new), told.system)} "
        f"with the frame that stays; this one, {best.name[0].lower()}{best.name[1:]}, has "
        f"{u_number(told.u(best), told.system)} and saves {share(part)} of what the new one would save, "
        "joints as they are.",
        f"the window alone loses {told.loss(told.total(prime))}, {best.name.lower()} "
        f"{told.loss(told.total(best))}, the new one {told.loss(told.total(new))}, air counted; better "
        "new windows than the code's are sold",
        f"{BALANCE}; {NEW_CODE[told.convention]}; its air at the limit of its standard",
    )
    unit = builds.get("unit")
    if unit is None:
        return
    fits = subject.whole.choices.unit_fits()
    edge = sum(subject.whole.geometry.edge_length(which) for which in SIDES)
    yield Finding(
        "note",
        "glass",
        f"Thin insulated glass in the old sash would give a {u_words(told.u(unit), told.system)}"
        + (
            "; the rabbets are deep enough, but sash and weights grow heavier."
            if fits
            else ", but the rabbets are too shallow for it."
        ),
        f"{unit.what}; it has {edge:.1f} m of edge, each metre of which leaks heat past the spacer",
        "ISO 10077-1, edge of a unit with an aluminium spacer, from memory",
    )


def _space(told: Told) -> Iterator[Finding]:
    curve, spaces = told.subject.curve, told.subject.whole.choices.spaces
    if curve is None or spaces is None:
        return
    at = 1 if told.convention == "na" else 0
    own = min(spaces.values())
    least = (curve.least_en, curve.least_na)[at]
    lost = curve.marked(own)[at] / least - 1
    thin, wide = curve.marked(QUARTER_INCH)[at], curve.marked(FOUR_INCHES)[at]
    best = curve.best_na if at else curve.best_en
    words = told.words
    yield Finding(
        "note",
        "storm.space",
        f"{words.length(own)} of air stand before the glass. From {words.length(best)} on a wider space "
        "gains nothing"
        + (f"; this one lets {share(lost)} more through than the best" if lost >= WORSE else "")
        + f". A quarter of an inch would let {share(thin / wide - 1)} more through than four inches.",
        f"centre of the glass: {u_number(thin, told.system)} at {words.length(QUARTER_INCH)}, "
        f"{u_number(curve.marked(own)[at], told.system)} at {words.length(own)}, "
        f"{u_number(wide, told.system)} at {words.length(FOUR_INCHES)}; wider, the air turns over and "
        "carries what the width keeps back",
        "ISO 15099 (Wright's correlation)" if at else "EN 673, above 50 mm carried beyond its range",
    )  # fmt: skip


def _covering(told: Told) -> Iterator[Finding]:
    row = told.subject.covering
    if row.kind == "none":
        return
    found = told.subject.as_found
    likely, worst, best = told.subject.covered(found.key, told.convention, row)
    u = told.u(found)
    yield Finding(
        "ok",
        "covering",
        f"{row.name}, at night: the {u_change(u, likely, told.system)}, "
        f"{share(1 - likely / u)} less.",
        f"measured resistances give {share(1 - worst / u)} to {share(1 - best / u)}; over a bare window "
        "they save more than over one with a storm",
        f"{row.source} ({row.status})",
    )


def _faces(told: Told, followed: bool) -> Finding:
    """How warm the glass is; and from what humidity it sweats, unless that is followed by itself."""
    subject, found = told.subject, told.subject.as_found
    weather = subject.weathers[0]
    limit = subject.humidity_limit(found, weather)
    comfort = subject.comfort(found, weather)
    wet = f": it sweats when the room has more than {share(limit)} relative humidity"
    return Finding(
        "caution" if limit < DRY and not followed else "ok" if limit >= DRY else "note",
        "glass",
        f"At {degrees(weather.outdoor, told.system)} the room's face of the glass is at "
        f"{degrees(comfort.glass, told.system)}, its coldest edge at "
        f"{degrees(comfort.coldest, told.system)}{'' if followed else wet}.",
        f"room at {degrees(weather.room, told.system)}, outdoors {weather.name}; edges sweat sooner",
        "ISO 15099; saturation pressure by ASHRAE Fundamentals 2017, chapter 1",
    )


def _felt(told: Told) -> Iterator[Finding]:
    subject, found = told.subject, told.subject.as_found
    weather = subject.weathers[0]
    comfort = subject.comfort(found, weather)
    alone = subject.comfort(subject.builds["prime"], weather)
    chilly = comfort.asymmetry > ASYMMETRY_LIMIT or comfort.draught > DRAUGHT_MOST
    fine = comfort.draught <= DRAUGHT_LIMIT
    worse = "" if found.key == "prime" else (
        f" The window alone would make {kelvins(alone.asymmetry, told.system)} and "
        f"{speed(alone.speed, told.system)}."
    )  # fmt: skip
    away = "A yard" if told.system == "us" else "A metre"
    yield Finding(
        "caution" if chilly else "ok" if fine else "note",
        "comfort",
        f"{away} from it one feels {kelvins(comfort.asymmetry, told.system)} of one-sided chill, and air "
        f"falling off the glass at {speed(comfort.speed, told.system)}.{worse}",
        f"outdoors {degrees(weather.outdoor, told.system)}; limits {kelvins(ASYMMETRY_LIMIT, told.system)} "
        f"and {DRAUGHT_LIMIT:g} % bothered by draught, here {comfort.draught:.0f} %; for one window in a "
        "room at its own temperature, without a radiator under it",
        "ISO 7730:2005; P. Heiselberg, Building and Environment 29 (1994), from memory",
    )
