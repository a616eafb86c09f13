"""Houses to measure on, made from the demo house."""

from __future__ import annotations

from importlib import resources

from sashwright.knowledge.load import load
from sashwright.record.housefile import parse_house
from sashwright.window.spec import House


def demo_house() -> House:
    """The demo house."""
    data = (resources.files("sashwright.record.demo") / "house.toml").read_bytes()
    return parse_house(data, "the demo house", load())


def house_of(count: int, name: str = "Measured") -> House:
    """A house of ``count`` windows: the demo house's again and again, each standing alone."""
    demo = demo_house()
    windows = [
        demo.windows[index % len(demo.windows)].model_copy(
            update={"number": f"{index + 1:04}", "beside": None}
        )
        for index in range(count)
    ]
    return demo.model_copy(update={"windows": tuple(windows), "name": name})
