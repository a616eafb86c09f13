"""A proposal as it goes into a house file or a record: only what differs from the usual is said."""

from __future__ import annotations

from typing import Any

from sashwright.chapters.make.tradition.check import house_of
from sashwright.chapters.make.tradition.propose import Proposal
from sashwright.units import System

ALWAYS = ("number", "family", "wall", "storey", "width", "height")


def family_document(proposal: Proposal, system: System) -> dict[str, Any]:
    """The family; lengths are text with units."""
    context = {"system": system}
    return proposal.family.model_dump(
        mode="json", context=context, exclude_none=True, exclude_defaults=True
    )


def window_document(proposal: Proposal, system: System) -> dict[str, Any]:
    """The window, likewise."""
    context = {"system": system}
    whole = proposal.window.model_dump(mode="json", context=context, exclude_none=True)
    short = proposal.window.model_dump(
        mode="json", context=context, exclude_none=True, exclude_defaults=True
    )
    return {name: value for name, value in whole.items() if name in ALWAYS or name in short}


def house_document(proposal: Proposal, name: str, system: System) -> dict[str, Any]:
    """A house file of nothing but this window and its family."""
    house = house_of(proposal, name, system)
    fabric = house.fabric.model_dump(mode="json", exclude_defaults=True)
    return {
        "name": house.name,
        "units": system,
        **({"fabric": fabric} if fabric else {}),
        "families": {proposal.window.family: family_document(proposal, system)},
        "windows": [window_document(proposal, system)],
    }
