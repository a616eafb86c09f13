"""The words and figures of a cutting list, for the screen, the terminal and the bench's paper."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from sashwright.chapters.answer import Answer
from sashwright.papers.words import Words, capital, count

Row = Mapping[str, Any]
LITRES_A_QUART = 0.946352946
SQUARE_METRES_A_FOOT = 0.3048**2
CLEAR = {"must": "clear", "wish": "clear, if it can be had", "no": ""}


@dataclass(frozen=True, slots=True)
class Stack:
    """Parts of one species and thickness: what comes out of one stack of boards."""

    species: str
    quarters: int
    rows: tuple[Row, ...]

    @property
    def title(self) -> str:
        return f"{self.species}, {self.quarters}/4"

    @property
    def board_feet(self) -> float:
        return float(sum(row["board_feet"] for row in self.rows))

    @property
    def rough_m3(self) -> float:
        return float(sum(row["rough_m3"] for row in self.rows))


def parts_of(answer: Answer) -> Iterator[Row]:
    """Every line of wood, window by window."""
    for window in answer.windows:
        yield from window.values.get("parts", ())


def panes_of(answer: Answer) -> Iterator[Row]:
    """Every line of glass, window by window."""
    for window in answer.windows:
        yield from window.values.get("glass", ())


def stacks(rows: Iterable[Row]) -> list[Stack]:
    """Lines by species and thickness, the longest parts first, as they are sawn."""
    groups: dict[tuple[str, int], list[Row]] = {}
    for row in rows:
        groups.setdefault((row["species_name"], row["quarters"]), []).append(row)
    return [
        Stack(species, quarters, tuple(sorted(group, key=_longest_first)))
        for (species, quarters), group in sorted(groups.items())
    ]


def _longest_first(row: Row) -> tuple[float, float, str]:
    return -row["rough_width_mm"], -row["rough_length_mm"], row["mark"]


def rough(words: Words, row: Row) -> str:
    """``38 1/16 × 2 1/4``: to saw."""
    return f"{words.size(row['rough_length_mm'])} × {words.size(row['rough_width_mm'])}"


def finished(words: Words, row: Row) -> str:
    """``36 1/32 × 2 × 1 3/4``: length, width, thickness when done."""
    return " × ".join(words.size(row[f"{name}_mm"]) for name in ("length", "width", "thickness"))


def ends(words: Words, row: Row) -> str:
    """The joints of a part, end by end."""
    first, second = (_end(words, end) for end in row["ends"])
    if first == second:
        return "" if first == "cut to fit" else f"both ends {first}"
    return f"{first}; other end {second}"


def _end(words: Words, end: Row) -> str:
    told = [end["joint"]]
    if end["tenon_mm"]:
        told.append(f"{words.size(end['tenon_mm'])} long")
        if end["tenon_thickness_mm"]:
            told.append(f"{words.size(end['tenon_thickness_mm'])} thick")
    if end["haunch_mm"]:
        told.append(f"haunch {words.size(end['haunch_mm'])}")
    if end["horn_mm"]:
        told.append(f"horn {words.size(end['horn_mm'])}")
    return ", ".join(told)


def moulding(words: Words, row: Row) -> str:
    """The profile stuck on a part, with its size."""
    found = row["moulding"]
    # A stop or bead is a profile by itself.
    if found is None or row["name"].startswith(found["profile"]):
        return ""
    edges = ", both edges" if found["edges"] == 2 else ""
    return f"{found['profile_name'].lower()} {_profile(words, found)}{edges}"


def _profile(words: Words, row: Row) -> str:
    return f"{words.size(row['width_mm'])} × {words.size(row['depth_mm'])}"


def grain(row: Row) -> str:
    """Which way the rings should lie, where it matters."""
    asked: str = row["grain"]
    if asked.startswith("as the old wood"):
        return "grain as the old wood"
    return "" if asked.startswith("straight") else asked.partition(" preferred")[0]


def remarks(words: Words, row: Row) -> str:
    """Joints, moulding, wood and the note of a part in one line."""
    told = (ends(words, row), moulding(words, row), grain(row), CLEAR[row["clear"]], row["note"])
    return "; ".join(text for text in told if text)


def lumber(words: Words, board_feet: float, rough_m3: float) -> str:
    """Rough lumber: board feet, or cubic metres."""
    return f"{board_feet:.1f} board ft" if words.system == "us" else f"{rough_m3:.4f} m³"


def area(words: Words, square_metres: float) -> str:
    """A few square feet or metres."""
    if words.system == "us":
        return f"{square_metres / SQUARE_METRES_A_FOOT:.1f} ft²"
    return f"{square_metres:.2f} m²"


def liquid(words: Words, litres: float) -> str:
    """Paint: quarts or litres; of less than one, fluid ounces or millilitres."""
    if words.system == "us" and litres < LITRES_A_QUART:
        return f"{32 * litres / LITRES_A_QUART:.0f} fl oz"
    if litres < 1:
        return f"{litres * 1000:.0f} mL"
    return f"{litres / LITRES_A_QUART:.1f} qt" if words.system == "us" else f"{litres:.1f} L"


def cut_size(words: Words, row: Row) -> str:
    """Width by height of a pane to cut."""
    return f"{words.glass(row['width_mm'])} × {words.glass(row['height_mm'])}"


def shape(words: Words, row: Row) -> str:
    """How an arched pane is marked out; empty for a square one."""
    template = row["template"]
    if template is None:
        return ""
    left, right = (words.glass(mm) for mm in template["edge_heights_mm"])
    return f"arched, edges {left} and {right}, radius {words.glass(template['radius_mm'])}"


def glass_kind(row: Row) -> str:
    """Glass with its coatings; a sealed unit says that it is ordered."""
    told = [row["glass_name"], *(name.lower() for name in row["coating_names"])]
    if row["sealed_unit"]:
        told.append("sealed unit, to order")
    return ", ".join(told)


def units_made(values: Row) -> str:
    """``2 sash, 1 storm``."""
    made = values["units"]
    sash = made.get("upper sash", 0) + made.get("lower sash", 0)
    told = [f"{sash} sash"] if sash else []
    for unit in ("storm", "screen", "frame"):
        if made.get(unit):
            told.append(count(made[unit], unit))
    if made.get("splice"):
        told.append(count(made["splice"], "piece let in", "pieces let in"))
    return ", ".join(told) or "no whole unit"


@dataclass(frozen=True, slots=True)
class Sum:
    """One line of the totals."""

    what: str
    amount: str
    note: str = ""


def wood_sums(words: Words, values: Row) -> list[Sum]:
    """Rough lumber by species and thickness."""
    return [
        Sum(
            f"{row['species_name']}, {row['quarters']}/4",
            lumber(words, row["board_feet"], row["rough_m3"]),
            count(row["pieces"], "piece"),
        )
        for row in values["lumber"]
    ]


def moulding_sums(words: Words, values: Row) -> list[Sum]:
    """Runs of each profile, as they are stuck on the rough parts."""
    return [
        Sum(
            f"{capital(row['profile_name'])}, {_profile(words, row)}",
            words.run(row["rough_length_m"] * 1000),
            count(row["pieces"], "piece"),
        )
        for row in values["mouldings"]
    ]


def glass_sums(words: Words, values: Row) -> list[Sum]:
    """Glass by kind, putty and points."""
    found = [
        Sum(
            glass_kind(row),
            area(words, row["area_m2"]),
            f"{count(row['count'], 'pane')}, {row['united_in']:.0f} united inches",
        )
        for row in values["glass"]
    ]
    edge = f"for {words.run(values['putty_edge_m'] * 1000)} of edge"
    found += [Sum(row["name"], words.mass(row["mass_kg"]), edge) for row in values["putty"]]
    if values["points"]:
        found.append(Sum("Glazing points", str(values["points"])))
    return found


def other_sums(words: Words, values: Row) -> list[Sum]:
    """Paint, cloth, hardware, weatherstrip, weights and cords."""
    return [*_paint(words, values), *_hardware(words, values), *_hanging(words, values)]


def _paint(words: Words, values: Row) -> Iterator[Sum]:
    for row in values["paint"]:
        coats = count(row["coats"], "coat")
        yield Sum(
            f"{row['name']}, each of {coats}",
            liquid(words, row["litres_a_coat"]),
            f"on {area(words, row['area_m2'])}",
        )
    for row in values["cloth"]:
        yield Sum(row["name"], area(words, row["area_m2"]), "within the sight lines")


def _hardware(words: Words, values: Row) -> Iterator[Sum]:
    for row in values["hardware"]:
        yield Sum(row["name"], str(row["count"]))
    for row in values["strips"]:
        yield Sum(row["name"], words.run(row["length_m"] * 1000), "weatherstrip, as its joints")


def _hanging(words: Words, values: Row) -> Iterator[Sum]:
    for row in values["cords"]:
        yield Sum(row["name"], words.run(row["total_mm"]), count(row["pieces"], "piece"))
    alike: dict[tuple[str, str, str], int] = {}
    for row in values["weights"]:
        section = words.section(row["shape"], row["size_mm"])
        what = f"Weight, {row['material'].replace('-', ' ')}, {section}"
        key = (what, words.mass(row["mass_kg"]), words.weight_length(row["length_mm"]))
        alike[key] = alike.get(key, 0) + row["count"]
    for (what, mass, length), pieces in alike.items():
        yield Sum(what, mass, f"{pieces}, {length} long")
    if values["weights_unfitted"]:
        yield Sum("Weights that do not fit", str(values["weights_unfitted"]), "see Hang")
