"""How does the house ventilate, and how should it be opened?

Loads numba; so it is imported by what needs it, when it needs it.
"""

from sashwright.chapters.breathe.chapter import breathe
from sashwright.chapters.breathe.hours import breathe_hour

__all__ = ["breathe", "breathe_hour"]
