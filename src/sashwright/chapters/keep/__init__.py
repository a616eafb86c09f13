"""What comes next, and when? Paint, putty, cords, inspections, the change of storms and screens."""

from sashwright.chapters.keep.chapter import Recorded, keep
from sashwright.chapters.keep.clocks import Visited

__all__ = ["Recorded", "Visited", "keep"]
