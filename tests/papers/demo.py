"""The demo house with invented photographs, for the papers of a whole job."""

from __future__ import annotations

import datetime
import io
from functools import cache
from importlib import resources

from PIL import Image

from sashwright.knowledge.load import load
from sashwright.papers.photos import Photo
from sashwright.record.attached.photo import Mark
from sashwright.record.housefile import parse_house
from sashwright.window.spec import House

SPRING = datetime.date(2026, 4, 7)
AUTUMN = datetime.date(2026, 9, 1)


@cache
def demo_house() -> House:
    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    return parse_house(data, "the demo house", load())


def picture(wide: int = 320, high: int = 240, form: str = "JPEG", shade: int = 140) -> bytes:
    """A picture of a plain shade."""
    out = io.BytesIO()
    Image.new("RGB", (wide, high), (shade, 150, 120)).save(out, form)
    return out.getvalue()


def photographs() -> list[Photo]:
    """Of a finding, of a window before and after work, of the house; and one that is no picture."""
    ring = Mark(kind="ring", points=((0.4, 0.6), (0.5, 0.7)), text="soft here")
    return [
        Photo(
            picture(shade=90),
            "104-probe.jpg",
            "Awl in",
            "104",
            "lower.bottom_rail",
            SPRING,
            (ring,),
        ),
        Photo(picture(shade=100), "101-a", "Front", "101", "", SPRING),
        Photo(picture(shade=110), "101-b", "Done", "101", "", AUTUMN),
        Photo(picture(shade=120), "street", "The street front", None),
        Photo(b"no picture at all", "torn", "Torn", "203"),
    ]
