"""Will it rattle in winter and stick in the wet season? One answer for each window of a house."""

from sashwright.chapters.fit.chapter import fit, fit_window, household_of

__all__ = ["fit", "fit_window", "household_of"]
