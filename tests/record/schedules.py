"""Schedules to test with: tables as files, and houses that say something in every kind of field."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence
from typing import Any

from hypothesis import strategies as st
from openpyxl import Workbook

from sashwright.record.housefile import house_document
from sashwright.window.spec import House
from tests.window.strategies import house_documents


def csv_file(rows: Sequence[Sequence[Any]], delimiter: str = ",") -> bytes:
    out = io.StringIO(newline="")
    csv.writer(out, delimiter=delimiter).writerows(rows)
    return out.getvalue().encode()


def xlsx_file(*sheets: Sequence[Sequence[Any]]) -> bytes:
    book = Workbook()
    book.remove(book.worksheets[0])
    for number, rows in enumerate(sheets, 1):
        sheet = book.create_sheet(f"Sheet {number}")
        for row in rows:
            sheet.append(list(row))
    out = io.BytesIO()
    book.save(out)
    return out.getvalue()


# Whatever a note may hold: formulas, quotation marks, ends of lines, signs of no shape, odd scripts.
ODD_TEXT = st.one_of(
    st.sampled_from(
        [
            "",
            "=1+2",
            "+1",
            "-1",
            "@SUM(A1)",
            "'",
            "''",
            "'=x",
            '"',
            '"quoted"',
            '""',
            " ",
            " x ",
            "a;b",
            "[1]",
            "{}",
            "3/8",
            "1-2",
            "101",
            "1e5",
            "TRUE",
            "yes",
            "#N/A",
            "#REF!",
            "_x000a_",
            "a\tb",
            "a\rb",
            "a\r\nb",
            "a\nb",
            "\n",
            "\x0b",
            "\x85",
            "\u2028",
            "\ufeff",
            "\ufffe",
            'naïve – ½"',
            "窓",
            "🪟",
            "a,b",
            "null",
        ]
    ),
    st.text(st.characters(exclude_characters="\0", exclude_categories=("Cs",)), max_size=40),
)
_MOISTURE = st.floats(4, 30)
_DAY = st.dates().filter(lambda day: day.year > 999).map(lambda day: day.isoformat())
_FOUND = st.fixed_dictionaries(
    {"on": st.sampled_from(["lower.bottom_rail", "sill"]), "fault": st.just("decay")},
    optional={"note": ODD_TEXT, "moisture": _MOISTURE, "photos": st.lists(ODD_TEXT, max_size=2)},
)


def windows() -> st.SearchStrategy[dict[str, Any]]:
    """What a window may say besides its sizes."""
    text = ODD_TEXT
    optional = {
        "room": st.sampled_from(["parlor", "hall - back", "3/4 room"]), "storey": st.integers(-2, 5),
        "note": text, "along": st.floats(0.1, 90), "mark": st.sampled_from(["7", "1-2", "A.b"]),
        "sill_above_floor": st.floats(0.2, 1.5), "sill_above_ground": st.floats(0, 100),
        "use": st.fixed_dictionaries(
            {}, optional={"bedroom": st.booleans(), "stair": st.floats(0, 15), "bar": st.booleans()}
        ),
        "decision": st.fixed_dictionaries(
            {"alternative": st.just("in-place")}, optional={"note": text, "by": text, "on": _DAY}
        ),
        "measured": st.fixed_dictionaries({}, optional={
            "upper": st.fixed_dictionaries(
                {}, optional={"mass": st.floats(1, 50), "when": text, "who": text}
            ),
            "lower": st.fixed_dictionaries({}, optional={"moisture": _MOISTURE, "moisture_on": _DAY}),
            "air": st.fixed_dictionaries({"flow": st.floats(0.001, 0.9)}),
        }),
        "condition": st.fixed_dictionaries({}, optional={
            "found": st.lists(_FOUND, max_size=3), "as_typical": st.booleans(), "by": text, "on": _DAY,
            "sound": st.lists(st.just("sill"), max_size=1), "photos": st.lists(text, max_size=3),
            "lead": st.fixed_dictionaries({"result": st.sampled_from(["present", "absent"])}),
        }),
        "changes": st.fixed_dictionaries({}, optional={
            "name": text,
            "sash": st.fixed_dictionaries({}, optional={
                "wood": st.just("sugar-pine"), "moisture": _MOISTURE, "coats": st.integers(0, 9),
            }),
            "hanging": st.fixed_dictionaries(
                {}, optional={"weight_shapes": st.lists(st.sampled_from(["round", "square"]), min_size=1)}
            ),
            "storm": st.sampled_from(["none", "winter"]),
            "hardware": st.lists(st.fixed_dictionaries({"item": st.just("sash-lift")}), max_size=2),
        }),
    }  # fmt: skip
    return st.fixed_dictionaries({}, optional=optional)


@st.composite
def houses(draw: st.DrawFn) -> dict[str, Any]:
    """A house file's document of a few windows of one family, in either units."""
    document = draw(house_documents())
    first = document["windows"][0]
    others = draw(st.lists(windows(), min_size=1, max_size=3))
    numbers = draw(
        st.lists(
            st.from_regex(r"[A-Za-z0-9][A-Za-z0-9.-]{0,5}", fullmatch=True),
            min_size=len(others), max_size=len(others), unique_by=str.casefold,
        )
    )  # fmt: skip
    document["windows"] = [
        {**first, **other, "number": number} for number, other in zip(numbers, others, strict=True)
    ]
    if len(others) > 1 and draw(st.booleans()):
        document["windows"][0].setdefault("condition", {})["like"] = numbers[1]
        document["windows"][1].get("condition", {}).pop("like", None)
    document["units"] = draw(st.sampled_from(["us", "metric"]))
    house = House.model_validate({**document, "units": "us"})
    return house_document(house.model_copy(update={"units": document["units"]}))
