"""The two sections of a window."""

from sashwright.drawing.horizontal import horizontal_section
from sashwright.drawing.vertical import vertical_section

__all__ = ["horizontal_section", "vertical_section"]
