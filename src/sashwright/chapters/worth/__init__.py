"""Keep or replace: energy, money and carbon of everything that can be done with the windows of a house.

Loads numba; so it is imported by what needs it, when it needs it.
"""

from sashwright.chapters.worth.chapter import DRAWS, answer_for, worth
from sashwright.chapters.worth.model import Model

__all__ = ["DRAWS", "Model", "answer_for", "worth"]
