"""How fast the foundation is: chapters, pages, command line and papers, each beside its limit.

Run ``python -m benchmarks.foundation`` from the project's folder, in its environment.
"""

from __future__ import annotations

import datetime
import os
import subprocess
import sys
import tempfile
import time

# The record to measure on is a new one; the settings read this when they are imported.
os.environ["SASHWRIGHT_HOME"] = tempfile.mkdtemp(prefix="sashwright-benchmark-")

from benchmarks.common import Figure, percentile_95, report, times, typical
from benchmarks.houses import house_of
from sashwright.chapters.hang import hang_window
from sashwright.chapters.parts import parts_window
from sashwright.knowledge.load import load
from sashwright.papers.packet import packet
from sashwright.record.start import setup
from sashwright.window.resolve import Placed, place_each

HOUSES, WINDOWS_EACH = 50, 40
"""A record of 2,000 windows."""


def chapters() -> Figure:
    """All parts and weights of a house of 40 windows."""
    house, knowledge = house_of(40), load()

    def answer() -> None:
        for _, placed in place_each(house, knowledge):
            if isinstance(placed, Placed):
                hang_window(placed)
                parts_window(placed)

    seconds = times(answer, 20, clock=time.process_time)
    return Figure("40 windows: parts and weights, one core", typical(seconds), 0.050)


def redraw() -> list[Figure]:
    """Server time from a keystroke, and from a saved field, to the new drawing and figures."""
    setup()
    from django.test import Client

    from sashwright.record import store
    from sashwright.record.housefile import house_document

    slugs = [
        store.import_house(
            house_document(house_of(WINDOWS_EACH, f"House {n}")), store.local_owner()
        )
        for n in range(HOUSES)
    ]
    client = Client(HTTP_HOST="127.0.0.1")
    at = f"/{slugs[0]}/windows/0007"
    count = 0

    def typed(page: str) -> None:
        nonlocal count
        count += 1
        version = store.stored(slugs[0], "window", "0007").version
        answer = client.post(
            f"{at}/{page}",
            {"field": "width", "width": f"3{count % 5} 1/{2 ** (count % 4 + 1)}", "base": version},
            headers={"hx-request": "true"},
        )
        assert answer.status_code == 200, (page, answer.status_code, answer.content[:500])

    found = []
    for page, what in (("preview", "keystroke to redraw"), ("field", "saved field to redraw")):
        seconds = times(lambda page=page: typed(page), 60)  # type: ignore[misc]
        found.append(
            Figure(f"{what}, p95, 2,000 windows in the record", percentile_95(seconds), 0.100)
        )
    return found


def command_line() -> Figure:
    """``sashwright --help``, from a cold process, against starting Python alone."""
    command = [sys.executable, "-m", "sashwright.cli.main", "--help"]
    run = lambda: subprocess.run(command, capture_output=True, check=True)  # noqa: E731
    return Figure("sashwright --help, whole process", typical(times(run, 8)), 0.400)


def papers() -> Figure:
    """A packet of 40 window sheets."""
    house, knowledge = house_of(40), load()
    today = datetime.date(2026, 1, 2)

    def press() -> None:
        packet(house, knowledge, include=("sheets",), today=today)

    return Figure("packet of 40 window sheets", typical(times(press, 3)), 5.0)


def main() -> int:
    return report([chapters(), command_line(), papers(), *redraw()])


if __name__ == "__main__":
    sys.exit(main())
