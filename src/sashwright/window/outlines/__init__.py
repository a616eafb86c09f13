"""The pieces of a window where a section cuts them: outlines in [m], and what they are made of.

Upright sections lie in (z, y), level ones in (x, z), in the coordinates of :mod:`sashwright.window.spec`.
Drawings are made from these outlines, and so is the model of heat through the sections.
"""
