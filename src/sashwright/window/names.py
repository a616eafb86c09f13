"""How things are named in the specification."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

Key = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9 ._/-]{0,63}$")]
"""A row of a table, a family, a wall."""
Number = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9.-]{0,15}$")]
"""A window's number, or the mark cut into its frame, storm sash and screen."""
Text = Annotated[str, StringConstraints(max_length=4000)]
Date = Annotated[str, StringConstraints(pattern=r"^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$")]
"""A day as ``2026-08-15``."""
PartName = Annotated[
    str, StringConstraints(pattern=r"^[a-z0-9_]+(\.[a-z0-9_]+){0,3}$", max_length=64)
]
"""A part of a window as the drawing names it, such as ``lower.bottom_rail`` or ``upper.lite.1.1``."""
