"""Storm sash and screens: their sizes, marks and weights, and when to change them."""

from sashwright.chapters.season.chapter import season, season_window
from sashwright.chapters.season.marks import marks_of, with_marks

__all__ = ["marks_of", "season", "season_window", "with_marks"]
