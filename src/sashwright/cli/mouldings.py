"""The command ``moulding``: mouldings by name as templates, and new ones from a photograph."""

from __future__ import annotations

import json
import re
from pathlib import Path
from typing import TYPE_CHECKING

import click

from sashwright.cli import say
from sashwright.cli.drawings import as_file
from sashwright.cli.exits import Failure, usage
from sashwright.cli.options import (
    house_argument,
    house_from,
    knowledge_from,
    knowledge_option,
    require_file,
    system_of,
    units_option,
)
from sashwright.cli.writing import deliver

if TYPE_CHECKING:
    from sashwright.knowledge.moulding_tables import Moulding
    from sashwright.knowledge.tables import Knowledge
    from sashwright.record.tracing import Measure, Pixel, Traced
    from sashwright.units import System
    from sashwright.window.spec import House

_BARE = re.compile("[A-Za-z0-9_-]+")
PHOTOGRAPHS = (".jpg", ".jpeg", ".png", ".webp", ".tif", ".tiff")


class Place(click.ParamType["Pixel"]):
    """Reads ``120,340``: pixels to the right and down from the picture's upper left corner."""

    name = "place"

    def convert(
        self, value: object, param: click.Parameter | None, ctx: click.Context | None
    ) -> Pixel:
        if isinstance(value, tuple):
            return value
        match = re.fullmatch(r"\s*(\d+(?:\.\d+)?)\s*,\s*(\d+(?:\.\d+)?)\s*", str(value))
        if match is None:
            self.fail(
                f"found {str(value)!r}, expected a place in the picture such as 120,340", param, ctx
            )
        return float(match[1]), float(match[2])


@click.command()
@house_argument
@click.option("--name", metavar="KEY", help="The moulding; without it, all are listed.")
@click.option("--width", metavar="LENGTH", help="Of one that has no size of its own: its set-back.")
@click.option("--depth", metavar="LENGTH", help="Likewise: how far it runs through the thickness.")
@click.option(
    "--svg", metavar="FILE", type=click.Path(path_type=Path), help="Template on paper, full size."
)
@click.option(
    "--dxf", metavar="FILE", type=click.Path(path_type=Path), help="Template for CAD, true size."
)
@click.option("--circle", metavar="LENGTH", help="Radius that the tip of the knife cuts.")
@click.option(
    "--hook",
    type=float,
    metavar="DEGREES",
    help="Of its face to the radius; with --circle.",
)
@click.option(
    "--trace", metavar="PHOTO", type=click.Path(path_type=Path), help="Trace it from a photograph."
)
@click.option(
    "--scale",
    nargs=3,
    metavar="X,Y X,Y LENGTH",
    help="Two places on the measure in the photograph, and how far they are apart.",
)
@click.option(
    "--nose", type=Place(), metavar="X,Y", help="A place on the square nose beside the glass."
)
@click.option("--face", type=Place(), metavar="X,Y", help="A place on the room face. Without nose and face "
              "the whole outline is taken, as the section of a strip.")  # fmt: skip
@click.option(
    "--at", type=Place(), metavar="X,Y", help="A place on the wood, if there are several pieces."
)
@click.option("--light", is_flag=True, help="The wood is lighter than what lies behind it.")
@click.option("--within", metavar="LENGTH", default="0.1 mm", show_default=True,
              help="How far lines and arcs may be from the edge.")  # fmt: skip
@units_option
@knowledge_option
def moulding(  # noqa: PLR0913
    *,
    house_file: Path,
    name: str | None,
    width: str | None,
    depth: str | None,
    svg: Path | None,
    dxf: Path | None,
    circle: str | None,
    hook: float | None,
    trace: Path | None,
    scale: tuple[str, str, str] | None,
    nose: Pixel | None,
    face: Pixel | None,
    at: Pixel | None,
    light: bool,
    within: str,
    units_asked: str | None,
    shop_files: tuple[Path, ...],
) -> None:
    """Mouldings of a house: what there is, templates for the knife, and tracing of an old piece.

    A traced moulding is printed as a piece of the house file; paste it there and use it by its name.

    \b
    Examples:
      sashwright moulding larkspur.toml
      sashwright moulding larkspur.toml --name ovolo --width 1/4 --svg ovolo.svg
      sashwright moulding larkspur.toml --name parlor --trace end.jpg \\
          --scale 210,1180 1410,1180 "2 in" --nose 640,520 --face 1105,980
    """
    knowledge = knowledge_from(shop_files)
    house = house_from(house_file, knowledge)
    system = system_of(house, units_asked)
    if trace is not None:
        measure = _measure(scale, system)
        pictured = _traced(
            trace, measure, (nose, face), at, light, _length("--within", within, system), name
        )
        row = _shown(pictured, name, system)
    elif name is None:
        _list(house, knowledge, system)
        return
    else:
        row = _row(house, knowledge, name)
    if svg is not None or dxf is not None:
        sizes = tuple(None if each is None else _length(flag, each, system)
                      for flag, each in (("--width", width), ("--depth", depth)))  # fmt: skip
        head = None if circle is None else (_length("--circle", circle, system), hook or 0.0)
        _template(row, (sizes[0], sizes[1]), head, system, svg, dxf)
    elif trace is None:
        _describe(row, system)


def _length(flag: str, text: str, system: System) -> float:
    from sashwright.units import UnitsError, parse_length

    try:
        return parse_length(text, system)
    except UnitsError as error:
        raise usage(f"{flag}: {error}") from None


def _row(house: House, knowledge: Knowledge, name: str) -> Moulding:
    from sashwright.knowledge.rows import KnowledgeError
    from sashwright.window.mouldings import with_own

    try:
        found: Moulding = with_own(house, knowledge).find("moulding", name)
    except KnowledgeError as error:
        raise usage(str(error)) from None
    return found


# --- what there is ------------------------------------------------------------------------


def _list(house: House, knowledge: Knowledge, system: System) -> None:
    from sashwright.window.mouldings import with_own

    rows = with_own(house, knowledge).moulding
    say.show(
        say.table(
            ("Moulding", "Name", "Kind", "Size", "Source"),
            (
                (key, row.name, row.kind, _size(row, system), row.source)
                for key, row in sorted(
                    rows.items(), key=lambda each: each[0] not in house.mouldings
                )
            ),
        )
    )


def _size(row: Moulding, system: System) -> str:
    from sashwright.drawing.knife import size_of

    if row.size is None:
        return "as the family says"
    first, second = (size_of(length, system) for length in row.size)
    return f"{second} × {first}"


def _describe(row: Moulding, system: System) -> None:
    from sashwright.drawing.knife import size_of
    from sashwright.knowledge import curves

    say.show(f"{row.key}: {row.name}, {row.kind}", f"Source: {row.source}")
    if row.size is None:
        say.show("It takes the width and depth that a family gives it.")
        return
    closed = row.kind == "running"
    across, along = (size_of(length, system) for length in row.size)
    if closed:
        area = curves.enclosed(row.outline)
        say.show(f"{along} along its back, {across} out from it; section {area * 1e6:.0f} mm2, "
                 f"{curves.run(row.outline, closed=True) * 1000:.0f} mm round")  # fmt: skip
    else:
        say.show(f"{along} deep, {across} wide")


# --- templates ----------------------------------------------------------------------------


def _template(
    row: Moulding,
    sizes: tuple[float | None, float | None],
    head: tuple[float, float] | None,
    system: System,
    svg: Path | None,
    dxf: Path | None,
) -> None:
    from sashwright.drawing.knife import Head, knife_drawing
    from sashwright.window.mouldings import true_outline

    width, depth = sizes
    if row.size is not None and (width is not None or depth is not None):
        raise usage(
            f"{row.key} has a size of its own, {_size(row, system)}; leave out --width and --depth."
        )
    if row.size is None and (width is None or depth is None):
        raise usage(f"{row.key} has no size of its own; give --width and --depth.")
    outline = true_outline(row, width or 0.0, depth or 0.0)
    try:
        drawing = knife_drawing(
            row.name or row.key, outline, system, running=row.kind == "running",
            head=None if head is None else Head(*head),
        )  # fmt: skip
    except ValueError as error:
        raise Failure(str(error)) from None
    for path in (svg, dxf):
        if path is not None:
            deliver(as_file(drawing, system, "dxf" if path is dxf else "svg", path), path)


# --- tracing ------------------------------------------------------------------------------


def _measure(scale: tuple[str, str, str] | None, system: System) -> Measure:
    from sashwright.record.tracing import Measure

    if not scale:
        raise usage("--trace needs --scale: two places on the measure, and how far they are apart.")
    first, second = (Place().convert(text, None, None) for text in scale[:2])
    return Measure(first, second, _length("--scale", scale[2], system))


def _traced(
    photo: Path,
    measure: Measure,
    marks: tuple[Pixel | None, Pixel | None],
    at: Pixel | None,
    light: bool,
    within: float,
    name: str | None,
) -> Traced:
    from sashwright.record.tracing import Edge, TracingError, trace

    nose, face = marks
    if (nose is None) != (face is None):
        raise usage("--nose and --face go together: a place on each.")
    require_file(photo, PHOTOGRAPHS)
    try:
        return trace(
            photo.read_bytes(),
            measure,
            edge=None if nose is None or face is None else Edge(nose, face),
            at=at,
            wood="light" if light else "dark",
            tolerance=within,
            name=name or "",
        )
    except TracingError as error:
        raise Failure(f"{photo}: {error}.") from None


def _shown(pictured: Traced, name: str | None, system: System) -> Moulding:
    """The traced moulding as a piece of a house file, and what it is worth."""
    from sashwright.window.mouldings import row_of

    key, moulding = name or "traced", pictured.moulding
    corners = moulding.model_dump(mode="json", context={"system": system})["outline"]
    lines = [
        f"[mouldings.{key if _BARE.fullmatch(key) else json.dumps(key)}]",
        f'kind = "{moulding.kind}"',
        "outline = [",
        *(f'  "{corner}",' for corner in corners),
        "]",
        f'source = "{moulding.source}"',
    ]
    click.echo("\n".join(lines))
    click.echo(
        f"{len(corners)} points; greatest distance from the edge in the picture "
        f"{pictured.error * 1000:.2f} mm, {pictured.per_pixel * 1000:.3f} mm to the pixel. Hold the print to "
        "the old piece before a knife is ground.",
        err=True,
    )
    return row_of(key, moulding)
