"""The command ``draw``: one view of a window as SVG or DXF."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli.options import (
    house_argument,
    house_from,
    knowledge_from,
    knowledge_option,
    numbers_of,
    system_of,
    units_option,
)
from sashwright.cli.writing import deliver

if TYPE_CHECKING:
    from sashwright.drawing.model import Drawing
    from sashwright.units import System
    from sashwright.window.resolve import Placed

VIEWS = ("outside", "inside", "section", "plan", "opened", "corner", "meeting", "muntin")
FORMATS = ("svg", "dxf")


class Scale(click.ParamType[float]):
    """Reads ``1:8``."""

    name = "scale"
    _RATIO = re.compile(r"\s*1\s*[:/]\s*([0-9]+(?:\.[0-9]+)?)\s*")

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> float:
        if isinstance(value, float):
            return value
        match = self._RATIO.fullmatch(str(value))
        if match is None or not 0.1 <= float(match[1]) <= 1000:
            self.fail(f"found {str(value)!r}, expected a scale such as 1:8", param, ctx)
        return 1 / float(match[1])


@click.command()
@house_argument
@click.option("--window", "number", metavar="N", required=True, help="The window to draw.")
@click.option(
    "--view",
    type=click.Choice(VIEWS),
    default="outside",
    show_default=True,
    help="From outside or inside, cut upright or level, with the pocket opened; or a joint: the corner of "
    "bottom rail and stile, the meeting rail's, a muntin's.",
)
@click.option(
    "-o",
    "--output",
    metavar="FILE",
    type=click.Path(path_type=Path),
    help="Where to put the drawing; otherwise it is printed.",
)
@click.option(
    "--format",
    "form",
    type=click.Choice(FORMATS),
    help="Otherwise as the file's name ends: SVG for paper and screen, DXF for CAD, at true size.",
)
@click.option(
    "--whole",
    is_flag=True,
    help="Sections at their full height and width, the glass not shortened.",
)
@click.option("--scale", type=Scale(), metavar="1:N", help="As on paper, such as 1:8.")
@units_option
@knowledge_option
def draw(
    house_file: Path,
    number: str,
    view: str,
    output: Path | None,
    form: str | None,
    whole: bool,
    scale: float | None,
    units_asked: str | None,
    shop_files: tuple[Path, ...],
) -> None:
    """Draw a window to scale, with its dimensions, as SVG or DXF.

    DXF is at true size, in inches or millimetres, with layers named in plain words; lettering is as large
    as on a print at the scale.

    \b
    Examples:
      sashwright draw larkspur.toml --window 104 --view section -o 104.svg
      sashwright draw larkspur.toml --window 104 --view section --whole -o 104.dxf
    """
    from sashwright.window.resolve import place

    knowledge = knowledge_from(shop_files)
    house = house_from(house_file, knowledge)
    numbers_of(house, [number])
    system = system_of(house, units_asked)
    drawing = _view(view, place(house, number, knowledge), system, whole=whole)
    deliver(as_file(drawing, system, form, output, scale), output)


def as_file(
    drawing: Drawing,
    system: System,
    form: str | None,
    output: Path | None,
    scale: float | None = None,
) -> bytes:
    """A drawing in the form asked for, or that its file's name ends in."""
    if form is None:
        form = "dxf" if output is not None and output.suffix.lower() == ".dxf" else "svg"
    if form == "dxf":
        from sashwright.drawing.dxf import to_dxf

        return to_dxf(drawing if scale is None else replace(drawing, scale=scale), system)
    from sashwright.drawing.svg import to_svg

    return to_svg(drawing, scale=scale, standalone=True).encode("utf-8")


def _view(view: str, placed: Placed, system: System, *, whole: bool) -> Drawing:
    from sashwright.chapters.hang import hang_window
    from sashwright.drawing.elevation import elevation
    from sashwright.drawing.joints import JOINTS, joint_drawing
    from sashwright.drawing.opened import opened
    from sashwright.drawing.sections import horizontal_section, vertical_section

    if view in JOINTS:
        return joint_drawing(placed, view, system)
    if view == "section":
        return vertical_section(placed, system, broken=not whole)
    if view == "plan":
        return horizontal_section(placed, hang_window(placed, system), system, broken=not whole)
    if view == "opened":
        return opened(placed, hang_window(placed, system), system)
    return elevation(placed, "inside" if view == "inside" else "outside", system)
