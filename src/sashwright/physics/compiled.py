"""Functions compiled to machine code at their first call and kept for the next start.

For loops over hours that wait for one another; imported by the modules that have such loops only, as numba
takes half a second to load. Where numba does not exist (Macs with Intel processors) the functions run
as they are written: the same answers, a hundred times later.
"""

from __future__ import annotations

import contextlib
import hashlib
import importlib
from collections.abc import Callable
from types import CodeType
from typing import Any, TypeVar

Function = TypeVar("Function", bound=Callable[..., Any])

OPTIONS: dict[str, Any] = {"error_model": "numpy", "nogil": True}

_numba: Any = None
_Cache: Any = object
with contextlib.suppress(ImportError):
    _numba = importlib.import_module("numba")
    _Cache = importlib.import_module("numba.core.caching").FunctionCache


def compiled(function: Function) -> Function:
    """Compile a function of numbers, arrays and named tuples of arrays, without the interpreter.

    The code is kept beside the source or, where that cannot be written, in the user's cache; where neither
    can, it is compiled anew at each start. What it divides by zero is infinite, as in numpy. While it
    runs, other threads go on.
    """
    if _numba is None:
        return function
    made: Any = _numba.njit(**OPTIONS)(function)
    # Which it raises where no folder can be written.
    with contextlib.suppress(RuntimeError):
        made._cache = _Kept(function)
    compiled_: Function = made
    return compiled_


class _Kept(_Cache):  # type: ignore[misc]
    """numba takes what it kept while the function's own file is unchanged; it does not look at
    the functions and constants of other files that went into it. This one does."""

    def _index_key(self, sig: object, codegen: object) -> object:
        return super()._index_key(sig, codegen), substance(self._py_func), tuple(OPTIONS.items())


def substance(function: Callable[..., Any]) -> str:
    """A digest of a function's code and of all compiled functions and constants that it names."""
    digest = hashlib.sha256()
    _take_in(function, digest.update, set())
    return digest.hexdigest()


def _take_in(
    function: Callable[..., Any], update: Callable[[bytes], None], seen: set[object]
) -> None:
    if function in seen:
        return
    seen.add(function)
    names: list[str] = []
    _take_in_code(function.__code__, update, names)
    for name in names:
        value = function.__globals__.get(name)
        inner = getattr(value, "py_func", None)
        if inner is not None:
            _take_in(inner, update, seen)
        elif isinstance(value, int | float | str | tuple):
            update(f"{name}={value!r}".encode())


def _take_in_code(code: CodeType, update: Callable[[bytes], None], names: list[str]) -> None:
    update(code.co_code + repr(code.co_names).encode())
    names.extend(code.co_names)
    for constant in code.co_consts:
        if isinstance(constant, CodeType):
            _take_in_code(constant, update, names)
        else:
            update(repr(constant).encode())
