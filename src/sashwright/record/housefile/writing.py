"""From a house to a house file that reads well, and reads back to the very same house.

Families are written in full, so that a file keeps its meaning when a default of the program
changes. Windows are written short: what is not said is as in the family, or the plain case.
"""

from __future__ import annotations

import os
import re
from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import IO, Any

import tomli_w

from sashwright.record.housefile.errors import file_error
from sashwright.window.quantities import COMPASS
from sashwright.window.spec import House, Window

_BARE = re.compile(r"[A-Za-z0-9_-]+")
# Below this a float is a whole number in every digit.
_EXACT = 2**53
# Said of every window, also where it is the plain case.
_ALWAYS = ("number", "family", "room", "wall", "storey", "width", "height")


def house_document(house: House) -> dict[str, Any]:
    """A house as plain values, lengths as text with units: what ``write_house`` writes."""
    context = {"system": house.units}
    document = house.model_dump(mode="json", context=context, exclude_none=True)
    for wall in document["walls"].values():
        wall["faces"] = _compass_point(wall["faces"])
    for key, family in document["families"].items():
        document["families"][key] = _without_nothing(family, ("name", "upper", "lower"))
    document["windows"] = [_window_document(window, house.units) for window in house.windows]
    return _without_nothing(document, ("place", "climate", "owner", "notes"))


def _window_document(window: Window, system: str) -> dict[str, Any]:
    context = {"system": system}
    every = window.model_dump(mode="json", context=context, exclude_none=True)
    short = window.model_dump(
        mode="json", context=context, exclude_none=True, exclude_defaults=True
    )
    said = {name: short.get(name, every[name]) for name in every if name in {*short, *_ALWAYS}}
    return _without_nothing(said, ("room", "changes"))


def _without_nothing(table: dict[str, Any], optional: Sequence[str]) -> dict[str, Any]:
    return {key: value for key, value in table.items() if value or key not in optional}


def _compass_point(bearing: float) -> str | float:
    point, rest = divmod(bearing, 360 / len(COMPASS))
    return bearing if rest or point >= len(COMPASS) else COMPASS[int(point)]


def house_text(house: House | Mapping[str, Any]) -> str:
    """The text of a house file, for a house or for a document such as ``read_document`` gives."""
    document = house_document(house) if isinstance(house, House) else house
    return "\n".join(_lines(document)) + "\n"


def write_house(house: House | Mapping[str, Any], target: str | Path | IO[bytes]) -> None:
    """Write a house file, to a path or into an open binary file.

    A path is replaced in one step: a power cut leaves the old file or the new one, never half of
    one. Raises ``HouseFileError`` where the folder does not allow it.
    """
    data = house_text(house).encode("utf-8")
    if isinstance(target, (str, Path)):
        write_file(Path(target), data)
    else:
        target.write(data)


def write_file(path: Path, data: bytes) -> None:
    """Write a whole file in one step. Raises ``HouseFileError`` where that is not possible."""
    goal = path.resolve()
    draft = goal.with_name(f".{goal.name}.{os.getpid()}.part")
    try:
        with draft.open("xb") as stream:
            stream.write(data)
            stream.flush()
            os.fsync(stream.fileno())
        if goal.exists():
            draft.chmod(goal.stat().st_mode)
        draft.replace(goal)
    except OSError as error:
        raise file_error(
            str(path), f"no way to write it ({error.strerror})", "a folder that allows writing"
        ) from None
    finally:
        draft.unlink(missing_ok=True)


def rows_text(document: Mapping[str, Any], rows: Collection[str]) -> str:
    """The text of another document of ours: tables below headers, those named ``rows`` a line for each."""
    return "\n".join(_row_lines(document, rows, ())) + "\n"


def _row_lines(
    table: Mapping[str, Any], rows: Collection[str], above: tuple[str, ...]
) -> Iterator[str]:
    inner = {key: value for key, value in table.items() if isinstance(value, Mapping) and value}
    for key, value in table.items():
        if key not in inner and value is not None:
            yield f"{_key(key)} = {_value(value)}"
    for key, value in inner.items():
        path = (*above, key)
        if any(not isinstance(each, Mapping) for each in value.values()) or ".".join(path) in rows:
            yield from ("", f"[{'.'.join(map(_key, path))}]")
        if ".".join(path) in rows:
            yield from (f"{_key(name)} = {_value(row)}" for name, row in value.items())
        else:
            yield from _row_lines(value, rows, path)


def _lines(document: Mapping[str, Any]) -> Iterator[str]:
    # What has another shape is written too, if less nicely; and an empty section stands in its
    # plain place, for below a header it would belong there.
    sections = {key: write for key, (write, fits) in _SECTIONS.items() if fits(document.get(key))}
    yield from _pairs({key: document[key] for key in document if key not in sections})
    for key, write in sections.items():
        yield from write(document[key])


def _is_tables(value: Any) -> bool:
    return bool(value) and isinstance(value, Mapping) and _all_tables(value.values())


def _is_rows(value: Any) -> bool:
    return bool(value) and isinstance(value, Sequence) and _all_tables(value)


def _all_tables(values: Iterable[Any]) -> bool:
    return all(isinstance(value, Mapping) for value in values)


def _walls(walls: Mapping[str, Any]) -> Iterator[str]:
    yield from ("", "[walls]")
    yield from _pairs(walls)


def _families(families: Mapping[str, Any]) -> Iterator[str]:
    for key, family in families.items():
        name = f"families.{_key(key)}"
        parts = {part: value for part, value in family.items() if isinstance(value, Mapping)}
        yield from ("", f"[{name}]")
        yield from _pairs({field: family[field] for field in family if field not in parts})
        for part, value in parts.items():
            yield from ("", f"[{name}.{_key(part)}]")
            yield from _pairs(value)


def _windows(windows: Sequence[Mapping[str, Any]]) -> Iterator[str]:
    for window in windows:
        yield from ("", "[[windows]]")
        yield from _pairs(window)


_SECTIONS: Mapping[str, tuple[Callable[[Any], Iterator[str]], Callable[[Any], bool]]] = {
    "walls": (_walls, _is_tables),
    "families": (_families, _is_tables),
    "windows": (_windows, _is_rows),
}


def _pairs(table: Mapping[str, Any], above: str = "") -> Iterator[str]:
    """A line for each value; tables in the table as dotted keys, which stand with their window."""
    for key, value in table.items():
        name = f"{above}{_key(key)}"
        if isinstance(value, Mapping) and value:
            yield from _pairs(value, f"{name}.")
        elif value is not None:
            yield f"{name} = {_value(value)}"


def _value(value: Any) -> str:
    if isinstance(value, Mapping):
        inner = ", ".join(f"{_key(k)} = {_value(v)}" for k, v in value.items() if v is not None)
        return f"{{ {inner} }}" if inner else "{}"
    if isinstance(value, Sequence) and not isinstance(value, str):
        return _list(value)
    if isinstance(value, float) and value.is_integer() and abs(value) < _EXACT:
        return str(int(value))
    # Several lines stay several lines, except where TOML would change their ends.
    lines = isinstance(value, str) and "\n" in value and "\r" not in value
    return tomli_w.dumps({"k": value}, multiline_strings=lines).removeprefix("k = ").rstrip("\n")


def _list(values: Sequence[Any]) -> str:
    shown = [_value(value) for value in values]
    if any(isinstance(value, Mapping) for value in values):
        return "\n".join(("[", *(f"    {value}," for value in shown), "]"))
    return f"[{', '.join(shown)}]"


def _key(key: str) -> str:
    return key if _BARE.fullmatch(key) else tomli_w.dumps({key: 0}).removesuffix(" = 0\n")
