"""Turns the words of the checks into those of a house file."""

from __future__ import annotations

import difflib
import json
import re
from collections.abc import Callable
from datetime import date, datetime, time
from functools import cache
from typing import Any

from pydantic import BaseModel

from sashwright.record.housefile.lines import Path
from sashwright.window.spec import House

_LONGEST = 60

_SENTENCE = re.compile(r"[Ff]ound (?P<said>.*?), expected (?P<expected>.*)", re.DOTALL)
_PHRASES: tuple[tuple[re.Pattern[str], str | Callable[[re.Match[str]], str]], ...] = (
    (re.compile(r"input should be a valid string"), "text in quotation marks"),
    (re.compile(r"input should be a valid integer.*"), "a whole number"),
    (re.compile(r"input should be a valid number.*"), "a number"),
    (re.compile(r"input should be a valid (?:dictionary|mapping).*"), "a table"),
    (re.compile(r"input should be a valid (?:tuple|list)"), "a list in square brackets"),
    (re.compile(r"(?:string|input) should (?:be|have) "), ""),
    (re.compile(r"(?:tuple|list) should have "), ""),
    (re.compile(r"string should match pattern '\^\\d\{4\}-.*'"), "a day such as 2026-08-15"),
    (
        re.compile(r"string should match pattern '.*\{0,(\d+)\}\$'"),
        lambda match: (
            f"at most {int(match[1]) + 1} letters, digits and the usual signs between them, "
            "the first a letter or a digit"
        ),
    ),
)


def said_and_expected(found: str, expected: str) -> tuple[str, str]:
    """What was found and what was expected, where the one may hide in the other."""
    sentence = _SENTENCE.fullmatch(expected)
    if sentence is not None:
        found, expected = sentence["said"], sentence["expected"].removesuffix(".")
    for pattern, words in _PHRASES:
        expected = pattern.sub(words, expected, count=1)
    return found, expected


def show_value(value: Any, found: str) -> str:
    """``found`` with the value in it written as the file writes it."""
    shown = repr(value)
    # The checks shorten long values, each in its own way.
    for written in (shown, f"{shown[:57]}...", f"{shown[:63]}…"):
        if found.startswith(written):
            return toml_value(value) + found.removeprefix(written)
    return found


def toml_value(value: Any) -> str:
    """A value as a house file writes it, long ones shortened."""
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return "a list"
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, (datetime, date, time)):
        return value.isoformat()
    if not isinstance(value, str):
        return repr(value)
    text = value if len(value) <= _LONGEST else value[: _LONGEST - 1] + "…"
    quoted = json.dumps(text, ensure_ascii=False)
    return "".join(c if c.isprintable() else f"\\u{ord(c):04x}" for c in quoted)


def known_fields(path: Path, model: type[BaseModel] = House) -> str:
    """What may stand in place of an unknown field at the end of a path."""
    *above, unknown = path or ("",)
    fields = _fields_at(tuple(above), model)
    near = difflib.get_close_matches(str(unknown)[:_LONGEST], fields, n=1)
    if near:
        return f"a field that it knows, such as {near[0]}"
    return f"one of {', '.join(fields)}" if fields else "a field that it knows"


def _fields_at(path: Path, model: type[BaseModel]) -> list[str]:
    """Names of the fields that the specification has below a path."""
    schema = _schema(model)
    at: dict[str, Any] = schema
    for step in path:
        at = _step(_open(at, schema), step)
    return list(_open(at, schema).get("properties", {}))


def _step(at: dict[str, Any], step: str | int) -> dict[str, Any]:
    if isinstance(step, int):
        inner = at.get("items")
    else:
        # A table whose keys are free, such as that of the families, says how they must look.
        free = next(iter(at.get("patternProperties", {}).values()), at.get("additionalProperties"))
        inner = at.get("properties", {}).get(step, free)
    return inner if isinstance(inner, dict) else {}


def _open(at: dict[str, Any], schema: dict[str, Any]) -> dict[str, Any]:
    """What a schema refers to, or the part of it that is not nothing."""
    for inner in at.get("anyOf", ()):
        if inner.get("type") != "null":
            at = inner
    reference = at.get("$ref", "").rpartition("/")[2]
    return schema["$defs"][reference] if reference else at


@cache
def _schema(model: type[BaseModel]) -> dict[str, Any]:
    return model.model_json_schema()
