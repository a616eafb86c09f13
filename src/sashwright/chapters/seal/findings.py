"""Judgements of the seal chapter: what leaks most, what each step gains, how it measures up."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from sashwright.chapters.answer import Finding
from sashwright.chapters.seal.limits import (
    CLASS_SOURCE,
    RATED_LIMIT,
    RATED_PRESSURE,
    RATED_SOURCE,
)
from sashwright.chapters.seal.paths import BY_NAME
from sashwright.chapters.seal.window import AT_75, Sealed
from sashwright.chapters.words import Words

DOMINATES = 0.30
"""Share of one path from which it is worth naming as the one to fix first; judgement."""
WORTH_A_STEP = 0.05
"""Share of the whole that a step must save to be named; judgement."""
SERIES = "mass balance: one flow through both, their pressures add up"


def window_findings(sealed: Sealed, words: Words) -> Iterator[Finding]:
    """What is worth telling of one window."""
    yield from _first(sealed, words)
    yield from _measured(sealed, words)
    yield from _storm(sealed, words)
    yield from _rated(sealed, words)
    yield from _bypass(sealed, words)


def _rated_words(words: Words) -> str:
    wind = "25 mph" if words.system == "us" else "40 km/h"
    return f"at {RATED_PRESSURE:g} Pa, the head of a wind of {wind}"


def _share(part: float, whole: float) -> str:
    return f"{100 * part / whole:.0f} %"


def _first(sealed: Sealed, words: Words) -> Iterator[Finding]:
    whole = float(sealed.alone.whole[0, AT_75])
    worst = sealed.worst_path
    flow = sealed.path_flows[worst]
    row = next(leak.row for leak in sealed.found if leak.place.name == worst)
    steps = [step for step in sealed.steps if step.saves >= WORTH_A_STEP * whole]
    if not steps:
        yield Finding(
            "ok",
            "seal",
            f"No single step would save a twentieth of the {words.flow(whole)} that get by.",
            f"whole window as found, {_rated_words(words)}",
            row.source,
        )
        return
    yield Finding(
        "caution" if flow >= DOMINATES * whole else "note",
        f"path.{worst}",
        f"Most air gets by at {BY_NAME[worst].words}: {words.flow(flow)} of {words.flow(whole)}, "
        f"{_share(flow, whole)}.",
        f"{row.name.lower()}; {_rated_words(words)}",
        f"{row.source} ({row.status})",
    )
    for place, step in enumerate(steps[:3], 1):
        order = ("First", "Then", "Then")[place - 1]
        yield Finding(
            "note",
            f"path.{step.path}",
            f"{order} {step.does}: it saves {words.flow(step.saves)}, "
            f"{_share(step.saves, whole)} of what gets by.",
            f"from {_row_of(sealed, step.path)} to {step.row}, each step by itself, {_rated_words(words)}",
            _row_source(sealed, step.row),
        )


def _row_of(sealed: Sealed, path: str) -> str:
    return next(leak.row.key for leak in sealed.found if leak.place.name == path)


def _row_source(sealed: Sealed, key: str) -> str:
    row = sealed.placed.knowledge.leakage[key]
    return f"{row.source} ({row.status})"


def _measured(sealed: Sealed, words: Words) -> Iterator[Finding]:
    test = sealed.placed.window.measured.air
    factor = sealed.factor
    if test is None or factor.source != "window test":
        return
    raw = Sealed(sealed.placed, type(factor)())
    low, high = (
        float(each[0, AT_75] / raw.alone.whole[0, AT_75])
        for each in (raw.alone.low, raw.alone.high)
    )
    outside = not low <= factor.value <= high
    yield Finding(
        "caution" if outside else "ok",
        "seal",
        f"The fan test found {words.flow(test.flow)} at {test.pressure:g} Pa, "
        f"{factor.value:.2g} times what the joints' states say; the test is used."
        + (" Check the states, and the test." if outside else ""),
        f"the tables allow {low:.2g} to {high:.2g} times; all paths are scaled alike",
        "a measured value beats a computed one",
    )


def _storm(sealed: Sealed, words: Words) -> Iterator[Finding]:
    bare = float(sealed.alone.whole[0, AT_75])
    behind = float(sealed.with_storm.whole[0, AT_75])
    saved = _share(bare - behind, bare)
    there = sealed.placed.family.storm != "none"
    name = sealed.storm.row.name.lower()
    yield Finding(
        "note",
        "storm",
        f"{'The' if there else 'A'} storm sash cuts the air to {words.flow(behind)}, by {saved}; a storm "
        "never makes good what goes round it, at pulley holes and beside the frame.",
        f"{name}, in series with the joints of the sash; {_rated_words(words)}",
        f"{SERIES}; {sealed.storm.row.source} ({sealed.storm.row.status})",
    )
    if not there:
        return
    prime = sum(flow for name_, flow in sealed.path_flows.items() if BY_NAME[name_].behind_storm)
    storm = sealed.storm.flow(RATED_PRESSURE)
    if storm < prime:
        yield Finding(
            "caution",
            "storm",
            "The storm is tighter than the sash behind it: moist room air that gets by the sash will "
            "sweat on the storm. Tighten the sash first, and keep the weep holes open.",
            f"alone the storm would pass {words.flow(storm)}, the sash {words.flow(prime)}; "
            f"{_rated_words(words)}",
            "common practice: inside tight, outside vented",
        )


def _rated(sealed: Sealed, words: Words) -> Iterator[Finding]:
    best = min(range(len(sealed.names)), key=lambda row: float(sealed.alone.unit[row, AT_75]))
    found = float(sealed.alone.unit[0, AT_75]) / sealed.cracks.area
    limit = RATED_LIMIT
    met = [
        name
        for row, name in enumerate(sealed.names)
        if float(sealed.alone.unit[row, AT_75]) / sealed.cracks.area <= limit
    ]
    least = float(sealed.alone.unit[best, AT_75]) / sealed.cracks.area
    if found <= limit:
        says = "As found the window leaks no more than a new one may."
    elif met:
        says = f"As found it leaks more than a new window may; {_done(met[0])} it would not."
    else:
        says = (
            f"It leaks {found / limit:.2g} times what a new window may; {_done(sealed.names[best])} "
            f"{least / limit:.2g} times."
        )
    yield Finding(
        "ok" if found <= limit else "note",
        "rating",
        says,
        f"{_per_area(found, words)} of opening at {RATED_PRESSURE:g} Pa, limit "
        f"{_per_area(limit, words)}; a small sash with much joint is judged harder by area; a "
        "restored window need not meet it",
        RATED_SOURCE,
    )


def _done(name: str) -> str:
    """A state in the words of a sentence."""
    if name in ("repaired", "as found", "as the family has it"):
        return name
    return "with every step taken" if name == "every step" else f"repaired and with {name}"


def _per_area(flow: float, words: Words) -> str:
    if words.system == "us":
        return f"{flow / 0.00508:.2f} cfm/ft2"
    return f"{flow * 3600:.1f} m3/h per m2"


def _bypass(sealed: Sealed, words: Words) -> Iterator[Finding]:
    whole = float(sealed.alone.whole[0, AT_75])
    frame = sealed.path_flows["frame"]
    if frame >= DOMINATES * whole:
        yield Finding(
            "note",
            "path.frame",
            f"{words.flow(frame)} pass beside the frame, not through the window: caulk it whether the "
            "window is kept or replaced.",
            f"{_share(frame, whole)} of what gets by; {_rated_words(words)}",
            _row_source(sealed, _row_of(sealed, "frame")),
        )


def class_finding(classes: dict[str, Any]) -> Finding:
    """What European class a window reaches as found."""
    overall = classes["overall"]
    return Finding(
        "note",
        "rating",
        f"As found it reaches class {overall} of EN 12207."
        if overall
        else "As found it reaches no class of EN 12207.",
        f"class by area {classes['by_area'] or 'none'}, by joint {classes['by_joint'] or 'none'}",
        CLASS_SOURCE,
    )
