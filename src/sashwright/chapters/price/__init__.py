"""What to charge?"""

from sashwright.chapters.price.chapter import finished, price

__all__ = ["finished", "price"]
