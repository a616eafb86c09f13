"""How well does it insulate?"""

from sashwright.chapters.heat.chapter import heat, heat_window

__all__ = ["heat", "heat_window"]
