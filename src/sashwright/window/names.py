"""How things are named in the specification."""

from __future__ import annotations

from typing import Annotated

from pydantic import StringConstraints

Key = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9 ._/-]{0,63}$")]
"""A row of a table, a family, a wall."""
Number = Annotated[str, StringConstraints(pattern=r"^[A-Za-z0-9][A-Za-z0-9.-]{0,15}$")]
"""A window's number, or the mark cut into its frame, storm sash and screen."""
Text = Annotated[str, StringConstraints(max_length=4000)]
