"""Models with every field optional, and how they are laid over a whole one.

A family says what its windows share; the upper or lower sash, and any window, may differ in any field.
Those differences are kept as partial models, so that they are typed and checked like the whole.
"""

from __future__ import annotations

from functools import cache
from typing import Any, ClassVar, TypeVar

from pydantic import BaseModel, ConfigDict, create_model

Whole = TypeVar("Whole", bound="Model")


class Model(BaseModel):
    """Base of the specification: unknown fields are errors, values do not change in place."""

    model_config = ConfigDict(extra="forbid", frozen=True, use_attribute_docstrings=True)

    whole: ClassVar[bool] = False
    """Whether the model only makes sense as a whole, so that it is replaced and never laid over in part."""


class Changes(Model):
    """Base of all partial models: only the fields that were given count."""

    def __bool__(self) -> bool:
        return bool(self.model_fields_set)


@cache
def partial(model: type[Model]) -> type[Changes]:
    """The partial model of ``model``: the same fields, each optional, nested models partial as well."""
    if issubclass(model, Changes):
        return model
    fields: dict[str, Any] = {}
    for name, field in model.model_fields.items():
        inner = field.annotation
        nested = isinstance(inner, type) and issubclass(inner, Model) and not inner.whole
        annotation = partial(inner) if nested else field.rebuild_annotation()  # type: ignore[arg-type]
        fields[name] = (annotation | None, None)
    return create_model(
        f"{model.__name__}Changes", __base__=Changes, __doc__=model.__doc__, **fields
    )


def _given(changes: Changes) -> dict[str, Any]:
    given: dict[str, Any] = {}
    for name in changes.model_fields_set:
        value = getattr(changes, name)
        if value is not None:
            given[name] = value
    return given


def overlay(whole: Whole, changes: Changes | None) -> Whole:
    """``whole`` with the given fields of ``changes`` laid over it; nested models field by field.

    Both sides are validated already and field limits do not depend on each other, so nothing is
    validated twice.
    """
    if not changes:
        return whole
    update: dict[str, Any] = {}
    for name, value in _given(changes).items():
        current = getattr(whole, name)
        if not isinstance(value, Changes):
            update[name] = value
        elif isinstance(current, Changes):
            update[name] = _join(current, value)
        else:
            update[name] = overlay(current, value)
    return whole.model_copy(update=update)


def _join(first: Changes, second: Changes) -> Changes:
    """Two partial models of one kind as one; where both give a field, ``second`` wins."""
    fields = _given(first)
    for name, value in _given(second).items():
        mine = fields.get(name)
        both = isinstance(value, Changes) and isinstance(mine, Changes)
        fields[name] = _join(mine, value) if both else value  # type: ignore[arg-type]
    return type(second).model_construct(_fields_set=set(fields), **fields)
