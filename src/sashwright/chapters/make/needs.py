"""What a job needs from suppliers: every thing once, from the chapter that knows it best.

The tasks of the windows name materials, as the price has them. Where another chapter knows the very thing,
its line stands in the material's place: boards and panes of the cutting list, cords and weights of the
hang chapter, weatherstrip along the joints of the seal chapter.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace

from sashwright.chapters.hang import hang
from sashwright.chapters.make.cut import CutPart, GlassPart
from sashwright.chapters.make.cutlist import CutList, cut_list
from sashwright.chapters.make.mending import GLASS, LET_IN, WHOLE
from sashwright.chapters.make.strips import strip_lengths
from sashwright.chapters.make.tally import Made
from sashwright.chapters.make.wanted import STRIPS, TASKS, Wanted
from sashwright.chapters.treat.work import Work
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge
from sashwright.knowledge.work_tables import Material, Supplier
from sashwright.window.spec import House

BOARDS = frozenset({"board", "durable-board", "sill-board", "bead", "stop"})
PANES = frozenset({"glass", "low-e-glass"})
OUTSIDE = frozenset({"hanger", "cloth"})
"""Materials that the parts of the cutting list stand for."""
CUT: frozenset[str] = frozenset(WHOLE | LET_IN | {GLASS} | TASKS.keys())
"""Tasks whose wood, glass and cloth the cutting list has."""
ROW_OF_BOARDS = "board"
ROW_OF_CLOTH = "cloth"
ROW_OF_CORD = "cord"
ROW_OF_STRIP = "strip"
"""Rows of the material table whose waste holds for what other chapters measure."""
PULLEY, WEIGHT, CORD, PUTTY = "pulley", "weight", "cord", "putty"
HANGING = "hang chapter"
LISTED = "cutting list"
PRICED = "materials of the tasks"


@dataclass(frozen=True, slots=True)
class Need:
    """One thing that a job needs, waste included."""

    item: str
    """Names it among all lists: ``lumber/white-oak/8``, ``cord/cotton-8``, ``material/primer``."""
    supplier: Supplier
    says: str
    quantity: float
    unit: str
    windows: tuple[str, ...]
    source: str


@dataclass
class _Gathered:
    """Adds up what is the same thing."""

    knowledge: Knowledge
    found: dict[str, Need] = field(default_factory=dict)

    def add(self, need: Need) -> None:
        known = self.found.get(need.item)
        if known is None:
            self.found[need.item] = need
            return
        windows = tuple(dict.fromkeys((*known.windows, *need.windows)))
        self.found[need.item] = replace(
            known, quantity=known.quantity + need.quantity, windows=windows
        )

    def waste(self, key: str) -> float:
        row: Material = self.knowledge.find("material", key)
        return 1 + row.waste

    def material(self, key: str, amount: float, number: str) -> None:
        row: Material = self.knowledge.find("material", key)
        quantity = amount * (1 + row.waste)
        self.add(
            Need(
                f"material/{row.key}", row.supplier, row.name, quantity, row.unit, (number,), PRICED
            )
        )


def needs_of(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    words: Words | None = None,
) -> list[Need]:
    """All that the job needs, by the alternative taken at each window.

    Quantities are in the unit of each line; waste of the material table is in them. Raises ``KeyError``
    for a window that the house has not.
    """
    words = words or Words(house.units)
    listed = cut_list(house, knowledge, numbers, system=words.system)
    gathered = _Gathered(knowledge)
    hung = _hung(house, knowledge, listed.wanted)
    for wanted in listed.wanted:
        _window(wanted, listed, hung.get(wanted.number, {}), gathered, words)
    return list(gathered.found.values())


def _hung(
    house: House, knowledge: Knowledge, windows: Iterable[Wanted]
) -> dict[str, Mapping[str, Mapping[str, object]]]:
    """What the hang chapter says of the windows that get a cord or a weight."""
    asked = [each.number for each in windows if _keys(each) & {CORD, WEIGHT}]
    if not asked:
        return {}
    return {each.number: each.values for each in hang(house, knowledge, asked).windows}


def _keys(wanted: Wanted) -> set[str]:
    return {work.task.key for work in _work(wanted)}


def _work(wanted: Wanted) -> Sequence[Work]:
    return () if wanted.alternative is None else wanted.alternative.work


def _window(
    wanted: Wanted,
    listed: CutList,
    hung: Mapping[str, Mapping[str, object]],
    gathered: _Gathered,
    words: Words,
) -> None:
    parts, panes = listed.parts_of(wanted.number), listed.glass_of(wanted.number)
    made = [each for each in listed.made if each.window == wanted.number]
    strips = strip_lengths([wanted], gathered.knowledge) if wanted.strips else {}
    for work in _work(wanted):
        taken = _stood_for(work, parts, panes, made, strips)
        taken |= _hanging(wanted, work, hung, gathered, words)
        for amount in work.task.amounts:
            if amount.material not in taken:
                _material(wanted, work, amount.material, amount.amount, gathered)
    _lumber(parts, gathered)
    _panes(panes, gathered, words)
    _outside(made, gathered)
    for key, length in strips.items():
        row = gathered.knowledge.find("weatherstrip", key)
        bought = length * gathered.waste(ROW_OF_STRIP)
        gathered.add(
            Need(
                f"strip/{row.key}", "weatherstrip", row.name, bought, "m", (wanted.number,), LISTED
            )
        )


def _stood_for(
    work: Work,
    parts: Sequence[CutPart],
    panes: Sequence[GlassPart],
    made: Sequence[Made],
    strips: Mapping[str, float],
) -> set[str]:
    """Materials of a task in whose place lines of the cutting list stand."""
    key = work.task.key
    taken: set[str] = set()
    if key in CUT:
        taken |= BOARDS if parts else set()
        taken |= PANES if panes else set()
        units = {each.unit for each in made}
        taken |= OUTSIDE if TASKS.get(key) in units else set()
    if key == STRIPS and strips:
        taken.add(ROW_OF_STRIP)
    return taken


# --- by the hang chapter ----------------------------------------------------------


def _hanging(
    wanted: Wanted,
    work: Work,
    hung: Mapping[str, Mapping[str, object]],
    gathered: _Gathered,
    words: Words,
) -> set[str]:
    """Cords, weights and pulleys of the very kind; what stands in whose place."""
    key, number, knowledge = work.task.key, wanted.number, gathered.knowledge
    hanging = wanted.placed.family.hanging
    if key == "pulley-new":
        row = knowledge.find("pulley", hanging.pulley)
        gathered.add(
            Need(
                f"pulley/{row.key}", "hardware", row.name, work.charged, "piece", (number,), PRICED
            )
        )
        return {PULLEY}
    values = hung.get(work.of or "") or {}
    if key == CORD and values:
        row = knowledge.find("suspension", hanging.suspension)
        each = float(str(values["cord_each_mm"])) / 1000
        length = work.charged * each * gathered.waste(ROW_OF_CORD)
        gathered.add(Need(f"cord/{row.key}", "hardware", row.name, length, "m", (number,), HANGING))
        return {CORD}
    if key == WEIGHT and values:
        _weights(work, values, number, gathered, words)
        return {WEIGHT}
    return set()


def _weights(
    work: Work,
    values: Mapping[str, object],
    number: str,
    gathered: _Gathered,
    words: Words,
) -> None:
    """Weights by their mass, to the step in which the shop says it: like ones are one line."""
    mass = float(str(values["weight_each_kg"]))
    material = str(values["weight_material"] or "cast-iron")
    row = gathered.knowledge.find("weight_material", material)
    size = values["weight_size_mm"]
    wide = "" if size is None else words.length(float(str(size)) / 1000)
    shape = f", {values['weight_shape']} {wide}" if wide else ""
    says = f"{row.name} weight of {words.mass(mass)}{shape}"
    gathered.add(
        Need(
            f"weight/{row.key}/{mass:.2f}", "weights", says, work.charged, "piece", (number,),
            HANGING,
        )
    )  # fmt: skip


# --- by the cutting list ----------------------------------------------------------


def _lumber(parts: Sequence[CutPart], gathered: _Gathered) -> None:
    for part in parts:
        wood = gathered.knowledge.find("wood", part.species)
        gathered.add(
            Need(
                f"lumber/{wood.key}/{part.quarters}", "lumber", f"{wood.name}, {part.quarters}/4",
                part.board_feet * gathered.waste(ROW_OF_BOARDS), "board foot", (part.window,), LISTED,
            )
        )  # fmt: skip


def _panes(panes: Sequence[GlassPart], gathered: _Gathered, words: Words) -> None:
    for pane in panes:
        names = [gathered.knowledge.find("glass", key).name for key in pane.panes or (pane.glass,)]
        coated = [
            gathered.knowledge.find("glass_coating", key).name
            for key in dict.fromkeys(pane.coatings)
            if key != "none"
        ]
        size = f"{words.length(pane.cut_width)} × {words.length(pane.cut_height)}"
        shape = ", arched: by template" if pane.arched else ""
        unit = "sealed unit of " if pane.sealed else ""
        says = (
            f"{unit}{' and '.join(names)}{''.join(f', {name}' for name in coated)}, {size}{shape}"
        )
        mm = f"{1000 * pane.cut_width:.0f}x{1000 * pane.cut_height:.0f}"
        kinds = "+".join(
            (*(pane.panes or (pane.glass,)), *(c for c in pane.coatings if c != "none"))
        )
        arched = "/arched" if pane.arched else ""
        gathered.add(
            Need(
                f"glass/{kinds}/{mm}{arched}", "glass", says[:1].upper() + says[1:], pane.count,
                "pane", (pane.window,), LISTED,
            )
        )  # fmt: skip


def _outside(made: Sequence[Made], gathered: _Gathered) -> None:
    """Hangers, hooks and cloth of storms and screens that are made."""
    for each in made:
        if each.unit not in ("storm", "screen"):
            continue
        for key, count in each.hardware:
            row = gathered.knowledge.find("hardware", key)
            gathered.add(
                Need(
                    f"hardware/{row.key}", "storm hardware", row.name, count, "piece",
                    (each.window,), LISTED,
                )
            )  # fmt: skip
        if each.mesh:
            _cloth(each.mesh, each.cloth_m2, each.window, LISTED, gathered)


def _cloth(mesh: str, area: float, number: str, source: str, gathered: _Gathered) -> None:
    row = gathered.knowledge.find("mesh", mesh)
    bought = area * gathered.waste(ROW_OF_CLOTH)
    gathered.add(
        Need(f"cloth/{row.key}", "storm hardware", row.name, bought, "m2", (number,), source)
    )


# --- by the tasks -----------------------------------------------------------------

SQUARE_FOOT = 0.09290304


def _material(wanted: Wanted, work: Work, key: str, amount: float, gathered: _Gathered) -> None:
    quantity, number = amount * work.charged, wanted.number
    if key == PUTTY:
        _putty(wanted, quantity, gathered)
    elif key == ROW_OF_CLOTH and wanted.placed.family.screen.kind != "none":
        mesh = wanted.placed.family.screen.mesh
        _cloth(mesh, quantity * SQUARE_FOOT, number, PRICED, gathered)
    else:
        gathered.material(key, quantity, number)


def _putty(wanted: Wanted, mass: float, gathered: _Gathered) -> None:
    """Putty of the kind that the family's glass stands in."""
    row = gathered.knowledge.find("putty", wanted.placed.family.sash.glazing.putty)
    bought = mass * gathered.waste(PUTTY)
    gathered.add(
        Need(f"putty/{row.key}", "paint", row.name, bought, "kg", (wanted.number,), PRICED)
    )
