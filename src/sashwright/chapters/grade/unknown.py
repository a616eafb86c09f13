"""What is not known about the site, and who knows it."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.answer import Finding
from sashwright.chapters.grade.pressure import PLACEHOLDER, Ground, unknowns_of
from sashwright.chapters.grade.working import EN_SOURCE, asce_source
from sashwright.chapters.words import Words
from sashwright.physics import wind


def site_findings(ground: Ground, words: Words) -> Iterator[Finding]:
    """A speed missing or not confirmed, a house too high, and what was taken for granted."""
    site = ground.site
    source = asce_source(ground) if ground.american else EN_SOURCE
    usual = words.speed(PLACEHOLDER[site.standard])
    if site.wind_speed is None:
        yield Finding(
            "caution",
            "site.wind_speed",
            "No design wind speed is given, so no wind can be set against what the windows bear: ask the "
            "building department, or read the map of the local code.",
            f"none is guessed; {usual} is a usual figure far from coasts and mountains, good only as a "
            "placeholder",
            source,
        )
        return
    if not site.confirmed_by:
        yield Finding(
            "caution",
            "site.wind_speed",
            f"The wind speed of {words.speed(site.wind_speed)} is a placeholder: the building department "
            "or the map of the local code must confirm it.",
            "nobody is named who did",
            source,
        )
    if ground.american and ground.roof_height > wind.LOW_RISE * (1 + 1e-9):
        yield Finding(
            "caution",
            "site.roof_height",
            f"The roof stands higher than {words.height(wind.LOW_RISE)}: this method ends there, an "
            "engineer's does not.",
            f"mean height {words.height(ground.roof_height)}",
            source,
        )
    unknown = list(unknowns_of(ground))
    if unknown:
        yield Finding(
            "note",
            "site",
            f"Taken where nothing is said: {' and '.join(unknown)}. Say what stands there.",
            f"the roof's mean height is reckoned at {words.height(ground.roof_height)}",
            source,
        )
