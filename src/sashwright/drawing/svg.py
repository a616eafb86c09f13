"""Writes a drawing as SVG, for pages (coloured through CSS variables) and for papers (plain)."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from sashwright.drawing import hatch
from sashwright.drawing.model import (
    Arc,
    Bounds,
    Callouts,
    Chain,
    Dimension,
    Drawing,
    Group,
    Item,
    Line,
    Point,
    Polygon,
    Polyline,
    Text,
    Vertex,
    arc_of,
    flattened,
)
from sashwright.drawing.paper import (
    FRACTION,
    FRACTION_SIZE,
    Lettering,
    Marks,
    callout_marks,
    chain_marks,
    dimension_marks,
    extent,
    lettering_of,
    letters_box,
)
from sashwright.drawing.pens import FONT, stylesheet

_NOT_ID = re.compile(r"[^A-Za-z0-9_-]+")


def to_svg(
    drawing: Drawing,
    *,
    scale: float | None = None,
    width_px: float | None = None,
    standalone: bool = True,
    styles: bool = True,
    id_prefix: str = "drawing",
    font: str = FONT,
    boxed: bool = False,
) -> str:
    """The drawing as SVG text, one user unit to the paper millimetre.

    Parameters
    ----------
    scale
        Paper metres per metre; the drawing's own unless given. A smaller scale makes lettering
        larger against the window where the picture is fitted to a given width, as on a phone.
    width_px
        Width to show it at; its size in millimetres unless given.
    standalone
        Plain colours, for files and papers; otherwise colours are CSS variables of the page.
    styles
        Carry the style rules along. A page with many drawings says ``pens.stylesheet()`` once.
    id_prefix
        Put before every id, so that several drawings can stand in one page.
    boxed
        Words that push back the lines they cross do so with a box of paper instead of a halo, for
        writers that paint letter by letter and would have each halo eat into the letter before it.
    """
    k = 1000 * (drawing.scale if scale is None else scale)
    sheet = extent(drawing, k)
    writer = _Writer(k, sheet, _NOT_ID.sub("-", id_prefix), boxed=boxed)
    writer.items(drawing.items)
    return "".join((_head(drawing, writer, width_px, standalone, styles, font), *writer.out, _FOOT))


_FOOT = "</g></svg>\n"


def _head(
    drawing: Drawing,
    writer: _Writer,
    width_px: float | None,
    standalone: bool,
    styles: bool,
    font: str,
) -> str:
    sheet, prefix = writer.sheet, writer.prefix
    width, height = sheet.width, sheet.height
    if width_px is None:
        size = f'width="{_n(width)}mm" height="{_n(height)}mm"'
    else:
        size = f'width="{_n(width_px)}" height="{_n(width_px * height / width)}"'
    style = f"<style>{stylesheet(variables=not standalone)}</style>" if styles else ""
    # A picture to a reader of the page, unless parts of it are links or handles.
    role = "group" if writer.links or drawing.live else "img"
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {_n(width)} {_n(height)}" {size} '
        f'class="drawing" role="{role}" aria-labelledby="{prefix}-title {prefix}-desc" '
        f'data-mm-per-metre="{_n(writer.k)}" '
        f'data-origin-x="{_n(-sheet.left)}" data-origin-y="{_n(sheet.top)}">'
        f'<title id="{prefix}-title">{escape(drawing.title)}</title>'
        f'<desc id="{prefix}-desc">{escape(drawing.description)}</desc>{style}'
        f'<g fill="none" stroke-linecap="round" stroke-linejoin="round" '
        f"font-family={quoteattr(font)}>"
    )


def _n(value: float) -> str:
    """A number to a hundredth, without a tail of zeros or a minus zero."""
    return f"{round(value, 2) + 0.0:.10g}"


class _Writer:
    """Turns items into elements; x and y are in paper millimetres from the sheet's top left."""

    def __init__(self, k: float, sheet: Bounds, prefix: str, *, boxed: bool = False) -> None:
        self.k = k
        self.boxed = boxed
        self.sheet = sheet
        self.prefix = prefix
        self.out: list[str] = []
        self.links = False

    def x(self, metres: float) -> str:
        return _n(metres * self.k - self.sheet.left)

    def y(self, metres: float) -> str:
        return _n(self.sheet.top - metres * self.k)

    def paper(self, x: float, y: float) -> str:
        return f"{_n(x - self.sheet.left)} {_n(self.sheet.top - y)}"

    def at(self, point: Point) -> str:
        return f"{self.x(point[0])} {self.y(point[1])}"

    # --- items ---

    def items(self, items: Iterable[Item]) -> None:
        run: list[Line] = []
        for item in items:
            # Lines of one pen that follow each other make one path.
            if isinstance(item, Line) and not item.data:
                if run and run[0].pen != item.pen:
                    self._lines(run)
                    run = []
                run.append(item)
                continue
            if run:
                self._lines(run)
                run = []
            self._item(item)
        if run:
            self._lines(run)

    def _item(self, item: Item) -> None:
        match item:
            case Polygon():
                self._polygon(item)
            case Group():
                self._group(item)
            case Polyline():
                self.out.append(f'<path class="{item.pen}" d="{self._path(item.points)}"/>')
            case Line():
                self._line(item)
            case Arc():
                self._arc(item)
            case _:
                self._lettered(item)

    def _lettered(self, item: Text | Dimension | Chain | Callouts) -> None:
        """What carries words of a size on paper."""
        match item:
            case Text():
                letters = lettering_of(item, self.k)
                if letters is not None:
                    self._letters(letters)
            case Dimension():
                self._marks(dimension_marks(item, self.k), "dimension", item.title)
            case Chain():
                for link, marks in zip(item.links, chain_marks(item, self.k), strict=True):
                    self._marks(marks, "dimension", link.title)
            case Callouts():
                self._marks(callout_marks(item, self.k), "callouts", "")

    def _lines(self, lines: list[Line]) -> None:
        path = "".join(f"M{self.at(line.start)}L{self.at(line.end)}" for line in lines)
        self.out.append(f'<path class="{lines[0].pen}" d="{path}"/>')

    def _line(self, line: Line) -> None:
        (x1, y1), (x2, y2) = line.start, line.end
        self.out.append(
            f'<line class="{line.pen}" x1="{self.x(x1)}" y1="{self.y(y1)}" '
            f'x2="{self.x(x2)}" y2="{self.y(y2)}"{_data(line.data)}/>'
        )

    def _group(self, group: Group) -> None:
        attributes = f' id="{self.prefix}-{_NOT_ID.sub("-", group.id)}"' if group.id else ""
        if group.classes:
            attributes += f" class={quoteattr(group.classes)}"
        attributes += _data(group.data)
        dx, dy = group.shift
        if dx or dy:
            attributes += f' transform="translate({_n(dx * self.k)} {_n(-dy * self.k)})"'
        if group.hidden:
            attributes += ' aria-hidden="true"'
        if group.href:
            self.links = True
            name = f" aria-label={quoteattr(group.label)}" if group.label else ""
            self.out.append(f"<a href={quoteattr(group.href)}{name}>")
        self.out.append(f"<g{attributes}>")
        if group.title:
            self.out.append(f"<title>{escape(group.title)}</title>")
        self.items(group.items)
        self.out.append("</g></a>" if group.href else "</g>")

    def _polygon(self, item: Polygon) -> None:
        self.out.append(f'<path class="{item.pen}" d="{self._path(item.points)}Z"/>')
        if item.hatch:
            path = self._hatch(item)
            if path:
                pen = "fine-outline" if item.hatch in hatch.FAULT_SPACING else "grain"
                self.out.append(f'<path class="{pen}" d="{path}"/>')

    def _path(self, points: tuple[Vertex, ...]) -> str:
        first = points[0]
        pieces = [f"M{self.x(first.x)} {self.y(first.y)}"]
        for start, end in zip(points, [*points[1:], first], strict=True):
            if start.bulge and end is not start:
                pieces.append(self._bent(start, end))
            elif end is not first:
                pieces.append(f"L{self.x(end.x)} {self.y(end.y)}")
        return "".join(pieces)

    def _bent(self, start: Vertex, end: Vertex) -> str:
        _, radius, _, _ = arc_of(start, end)
        r = _n(radius * self.k)
        large = 1 if abs(start.bulge) > 1 else 0
        # The page's y runs down, so counter-clockwise here is the negative direction there.
        sweep = 0 if start.bulge > 0 else 1
        return f"A{r} {r} 0 {large} {sweep} {self.x(end.x)} {self.y(end.y)}"

    def _arc(self, item: Arc) -> None:
        turn = item.end - item.start
        if turn >= 360:
            x, y = item.centre
            self.out.append(
                f'<circle class="{item.pen}" cx="{self.x(x)}" cy="{self.y(y)}" '
                f'r="{_n(item.radius * self.k)}"/>'
            )
            return
        start, end = (_on_circle(item, angle) for angle in (item.start, item.end))
        r = _n(item.radius * self.k)
        self.out.append(
            f'<path class="{item.pen}" d="M{self.at(start)}A{r} {r} 0 {int(turn > 180)} 0 '
            f'{self.at(end)}"/>'
        )

    # --- hatching ---

    def _hatch(self, item: Polygon) -> str:
        k = self.k
        shape = [(x * k, y * k) for x, y in flattened(item.points)]
        if item.hatch == "end-grain":
            pith = item.pith or hatch.pith_of(shape, k)
            return self._rings(shape, (pith[0] * k, pith[1] * k))
        strokes = hatch.strokes(item.hatch or "", shape)
        return "".join(f"M{self.paper(*start)}L{self.paper(*end)}" for start, end in strokes)

    def _rings(self, shape: list[Point], pith: Point) -> str:
        return "".join(
            f"M{self.paper(*piece.start)}A{_n(piece.radius)} {_n(piece.radius)} 0 "
            f"{int(piece.large)} 0 {self.paper(*piece.end)}"
            for piece in hatch.rings(shape, pith)
        )

    # --- lettering ---

    def _marks(self, marks: Marks, classes: str, title: str) -> None:
        self.out.append(f'<g class="{classes}">')
        if title:
            self.out.append(f"<title>{escape(title)}</title>")
        for pen in dict.fromkeys(stroke.pen for stroke in marks.strokes):
            path = "".join(
                f"M{self.paper(s.x1, s.y1)}L{self.paper(s.x2, s.y2)}"
                for s in marks.strokes
                if s.pen == pen
            )
            self.out.append(f'<path class="{pen}" d="{path}"/>')
        for dot in marks.dots:
            x, y = self.paper(dot.x, dot.y).split()
            self.out.append(f'<circle class="solid" cx="{x}" cy="{y}" r="0.4"/>')
        for letters in marks.letters:
            self._letters(letters)
        self.out.append("</g>")

    def _letters(self, letters: Lettering) -> None:
        if self.boxed and "halo" in letters.pen.split():
            box = letters_box(letters)
            corner = self.paper(box.left, box.top).split()
            self.out.append(
                f'<rect class="paper" x="{corner[0]}" y="{corner[1]}" '
                f'width="{_n(box.width)}" height="{_n(box.height)}"/>'
            )
            pen = " ".join(name for name in letters.pen.split() if name != "halo")
            letters = letters._replace(pen=pen)
        x, y = self.paper(letters.x, letters.y).split()
        turn = f' transform="rotate({_n(-letters.angle)} {x} {y})"' if letters.angle else ""
        anchor = "" if letters.anchor == "start" else f' text-anchor="{letters.anchor}"'
        self.out.append(
            f'<text class="{letters.pen}" x="{x}" y="{y}" font-size="{_n(letters.size)}"'
            f"{anchor}{turn}>{_with_fractions(letters.text, letters.size)}</text>"
        )


def _data(data: tuple[tuple[str, str], ...]) -> str:
    return "".join(f" data-{name}={quoteattr(value)}" for name, value in data)


def _on_circle(item: Arc, angle: float) -> Point:
    turn = math.radians(angle)
    x, y = item.centre
    return x + item.radius * math.cos(turn), y + item.radius * math.sin(turn)


def _with_fractions(text: str, size: float) -> str:
    """Text with fractions set small, raised and lowered, as a draughtsman letters them.

    With a plain stroke: at the sign for a fraction's, some faces would shrink the figures once more.
    """
    pieces: list[str] = []
    at = 0
    lift = 0.30 * size
    small = f'font-size="{_n(size * FRACTION_SIZE)}"'
    for match in FRACTION.finditer(text):
        whole, top, bottom = match.groups()
        # The space is there for whoever copies or hears the text; drawn, it is nearly taken back.
        pieces.append(escape(text[at : match.start()]) + (f"{whole} " if whole else ""))
        back = f'dx="{_n(-0.16 * size)}" ' if whole else ""
        pieces.append(
            f'<tspan {small} {back}dy="{_n(-lift)}">{top}</tspan>'
            f'<tspan font-size="{_n(size * 0.92)}" dy="{_n(lift)}">/</tspan>'
            f"<tspan {small}>{bottom}</tspan>"
        )
        at = match.end()
    pieces.append(escape(text[at:]))
    return "".join(pieces)
