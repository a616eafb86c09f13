"""How long a search may take, by a clock that the caller hands in."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field


@dataclass(frozen=True)
class Budget:
    """So many seconds from when it was made, as ``clock`` counts them (such as ``time.monotonic``)."""

    seconds: float
    clock: Callable[[], float]
    start: float = field(init=False)

    def __post_init__(self) -> None:
        object.__setattr__(self, "start", self.clock())

    @property
    def left(self) -> float:
        """Seconds left, never less than none."""
        return max(self.seconds - (self.clock() - self.start), 0.0)

    @property
    def over(self) -> bool:
        return self.left <= 0

    def share(self, part: float) -> Budget:
        """A part of what is left, 0 to 1."""
        return Budget(self.left * part, self.clock)
