"""What does each window need?"""

from sashwright.chapters.treat.chapter import treat, treat_window

__all__ = ["treat", "treat_window"]
