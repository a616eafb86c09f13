"""What the shop hands over: answers of the chapters and drawings, set on paper as PDF.

Nothing here computes a window. ``rows`` and ``sheet`` turn answers into words and figures, ``figures``
turns drawings into pictures with their description, ``press`` sets both through Typst.
"""
