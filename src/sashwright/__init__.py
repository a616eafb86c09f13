"""Sashwright: for shops that restore weight-hung double-hung wood windows."""

__version__ = "0.1.0"
