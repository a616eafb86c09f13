"""Picture files taken apart into their pieces, so that what is not the picture can be left out.

No pixel is decoded or written again here.
"""

from sashwright.record.imagefiles.jpeg import jpeg_parts
from sashwright.record.imagefiles.parts import Broken, Parts
from sashwright.record.imagefiles.png import png_parts
from sashwright.record.imagefiles.webp import webp_parts

__all__ = ["Broken", "Parts", "jpeg_parts", "png_parts", "webp_parts"]
