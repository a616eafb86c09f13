"""Timing, and one line of report for each figure."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """Something measured against a limit of our own or a peer timed in the same run."""

    what: str
    seconds: float
    against: float
    """The limit, or the peer's time [s]."""
    peer: str = "limit"

    @property
    def ratio(self) -> float:
        return self.seconds / self.against

    def line(self) -> str:
        verdict = "within" if self.ratio <= 1 else "OVER"
        return (
            f"{self.what:58} {self.seconds * 1000:9.1f} ms   {self.peer} "
            f"{self.against * 1000:9.1f} ms   ratio {self.ratio:5.2f}   {verdict}"
        )


def times(
    action: Callable[[], object], repeats: int, clock: Callable[[], float] = time.perf_counter
) -> list[float]:
    """Times of repeated calls [s], after one call to warm up.

    By the wall clock; ``clock=time.process_time`` counts this process's own work on one core, whatever
    else the machine is doing.
    """
    action()
    found = []
    for _ in range(repeats):
        start = clock()
        action()
        found.append(clock() - start)
    return found


def typical(seconds: Sequence[float]) -> float:
    """The median."""
    return statistics.median(seconds)


def percentile_95(seconds: Sequence[float]) -> float:
    """The 95th percentile."""
    return statistics.quantiles(seconds, n=20)[-1]


def report(figures: Sequence[Figure]) -> int:
    """Print all figures; 1 if any is over, else 0."""
    for figure in figures:
        print(figure.line())
    return int(any(figure.ratio > 1 for figure in figures))
