"""How much air gets by? One answer for each window of a house, and the house's own air exchange."""

from sashwright.chapters.seal.chapter import seal, seal_window

__all__ = ["seal", "seal_window"]
