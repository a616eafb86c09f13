"""Which weights, on what cord? One answer for each window of a house."""

from sashwright.chapters.hang.chapter import hang, hang_window

__all__ = ["hang", "hang_window"]
