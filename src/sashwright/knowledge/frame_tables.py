"""The frame's parts as the trade makes them, where a specification gives no size."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from sashwright.knowledge.rows import Row, si


@dataclass(frozen=True, slots=True, kw_only=True)
class FramePart(Row):
    """A part of the frame, or of a joint in it: what the specification does not say.

    ``thickness`` and ``width`` are finished sizes, ``extra`` what its length has at each end beyond where it
    shows: a horn, or what goes into a housing. ``wood`` is a row of the wood table in place of the frame's.
    """

    thickness: float | None = si("m", default=None)
    width: float | None = si("m", default=None)
    extra: float | None = si("m", default=None)
    grain: Literal["vertical", "any"]
    clear: Literal["must", "wish", "no"]
    wood: str = ""
