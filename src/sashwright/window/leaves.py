"""What the annotation of a field of the specification says: a model, a quantity, may it be left out."""

from __future__ import annotations

import types
from typing import Annotated, Any, Union, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from sashwright.window.quantities import Quantity


def without_none(annotation: Any) -> tuple[Any, bool]:
    """An annotation without its ``None``, and whether it had one."""
    if get_origin(annotation) in (Union, types.UnionType):
        options = [option for option in get_args(annotation) if option is not type(None)]
        return options[0], True
    return annotation, False


def model_in(annotation: Any) -> type[BaseModel] | None:
    """The model that an annotation is, or holds."""
    for option in (annotation, *get_args(annotation)):
        if isinstance(option, type) and issubclass(option, BaseModel):
            return option
    return None


def quantity_in(annotation: Any, info: FieldInfo) -> Quantity | None:
    """The quantity that a field is read as."""
    metadata = [*info.metadata]
    if get_origin(annotation) is Annotated:
        metadata += annotation.__metadata__
    return next((item for item in metadata if isinstance(item, Quantity)), None)
