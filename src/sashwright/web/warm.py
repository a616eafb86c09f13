"""Which section of a window is looked at for its warmth, and in what air."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from sashwright import units
from sashwright.chapters.answer import WindowAnswer
from sashwright.chapters.heat.pictured import pictured
from sashwright.drawing.isotherms import state_of
from sashwright.web import pictures
from sashwright.window.resolve import Placed

PART = "isotherms"
"""What of the page is asked for again when another section is chosen."""
DRIEST, DAMPEST = 5.0, 95.0
"""Humidities that can be asked for [%]."""


def section_shown(
    asked: Mapping[str, str], placed: Placed, answer: WindowAnswer, system: units.System
) -> dict[str, Any]:
    """The section that is asked for, or the coldest, and all that can be, for a template."""
    sections = pictured(placed)
    coldest = min(sections, key=lambda name: sections[name].coldest)
    name = asked.get("section", coldest)
    if name not in sections:
        name = coldest
    humidity, says = _humidity(asked.get("humidity", ""))
    state = state_of(answer, humidity)
    return {
        "sections": {key: each.flow.title for key, each in sections.items()},
        "section": name,
        "isotherms": pictures.warm_picture(sections[name], state, system),
        "left_out": sections[name].flow.left_out,
        "humidity": "" if humidity is None else f"{100 * humidity:g}",
        "humidity_usual": f"{100 * state.humidity:.0f}",
        "humidity_says": says,
        # What is chosen stays chosen when the whole part is asked for again.
        "include": "#warm-section, #warm-humidity",
    }


def _humidity(given: str) -> tuple[float | None, str]:
    """Of the room's air, as asked for [-], with what was wrong with it."""
    given = given.strip().removesuffix("%").strip()
    if not given:
        return None, ""
    try:
        value = float(given.replace(",", "."))
    except ValueError:
        value = 0.0
    if not DRIEST <= value <= DAMPEST:
        return None, f"Found {given[:20]!r}, expected a humidity of {DRIEST:g} to {DAMPEST:g} %."
    return value / 100, ""
