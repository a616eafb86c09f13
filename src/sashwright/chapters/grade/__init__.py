"""What wind and rain will the window stand? What the windows of a house bear, and what the site asks."""

from sashwright.chapters.grade.chapter import grade, grade_window

__all__ = ["grade", "grade_window"]
