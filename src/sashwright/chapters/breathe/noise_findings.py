"""What noise takes from the plan, and what that costs the household in comfort."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.answer import Finding
from sashwright.chapters.breathe.best import Compared
from sashwright.chapters.breathe.card import about, listed
from sashwright.chapters.breathe.noise import ASLEEP, OUTDOORS, SOURCE, THROUGH_SHUT, WHY, Noise
from sashwright.chapters.breathe.plans import Household
from sashwright.chapters.words import Words

HARDLY = 0.001
"""Share of the occupied hours below which a difference is called none [-]."""


def noise_findings(household: Household, compared: Compared, words: Words) -> Iterator[Finding]:
    """Of the whole house; nothing where all walls are quiet."""
    walls = household.building.house.walls.values()
    if all(wall.noise == "quiet" for wall in walls):
        return
    if not household.limits.noise:
        yield Finding(
            "ok",
            "house",
            "Noise holds no window: none of a bedroom stands in a loud wall.",
            "noise is heeded at night, in rooms where somebody sleeps",
            SOURCE,
        )
        return
    yield _gaps(household, words)
    yield _cost(compared)
    yield from _loud_when_shut(household)


def _gaps(household: Household, words: Words) -> Finding:
    """How far each window of a bedroom may stand open."""
    far: dict[str, list[str]] = {}
    for number, gap in sorted(household.limits.noise.items()):
        far.setdefault(about(gap, words) if gap > 0 else "shut", []).append(number)
    shut = far.pop("shut", [])
    says = []
    if far:
        opened = listed([f"{listed(numbers)} {gap}" for gap, numbers in far.items()])
        says.append(f"opens {opened} at most, upper and lower sash together")
    if shut:
        says.append(f"keeps {listed(shut)} shut")
    kinds = sorted({_word(household, number) for number in household.limits.noise})
    outdoors = " and ".join(f"{OUTDOORS[kind]:.0f} dB(A) ({kind})" for kind in kinds)
    return Finding(
        "note",
        "house",
        f"At night the plan {', and '.join(says)}: {', and '.join(WHY[kind] for kind in kinds)}.",
        f"{outdoors} outdoors at night, {ASLEEP:.0f} dB(A) wanted in the room; the windows of a bedroom in "
        "loud walls share it",
        SOURCE,
    )


def _word(household: Household, number: str) -> str:
    building = household.building
    return Noise(building).word(building.by_number[number])


def _cost(compared: Compared) -> Finding:
    """Beside the plan found for quiet outside."""
    best, quiet = compared.best, compared.quiet
    assert quiet is not None
    hours = quiet.score.comfortable - best.score.comfortable
    share = hours / max(quiet.score.hours, 1e-9)
    if share > HARDLY:
        says = (
            f"The noise costs some {hours:.0f} comfortable hours in the year, added up over the rooms that "
            "people are in."
        )
    elif share < -HARDLY:
        says = "The noise costs no comfort here: the plan that heeds it does better than that for quiet."
    else:
        says = (
            "The noise costs hardly any comfort here: the plan does as well with the narrower gaps."
        )
    return Finding(
        "note",
        "house",
        says,
        f"{100 * best.score.share:.1f} % of the hours comfortable, {100 * quiet.score.share:.1f} % in quiet",
        "the search made once more without the limit",
    )


def _loud_when_shut(household: Household) -> Iterator[Finding]:
    """Bedrooms that are too loud whatever stands open."""
    left = {kind: OUTDOORS[kind] - THROUGH_SHUT for kind in WHY}
    loud = sorted(n for n in household.limits.noise if left[_word(household, n)] > ASLEEP)
    if not loud:
        return
    level = max(left[_word(household, number)] for number in loud)
    yield Finding(
        "caution",
        "house",
        f"Even shut, more noise comes in at {listed(loud)} than people sleep well with: tight joints, a "
        "storm sash or an inside panel help against that too.",
        f"{level:.0f} dB(A) through shut windows as measured, {ASLEEP:.0f} wanted; old ones let in more",
        "Locher and others, Int. J. Environ. Res. Public Health 15 (2018) 149; WHO (1999)",
    )
