"""How fast a house is weighed up in a thousand draws, and how a table of houses goes with processes.

Run ``python -m benchmarks.worth`` from the project's folder, in its environment; ``--houses N`` and
``--long N`` set how many houses the tables have. Two processes are held against one, a Dask cluster of this
machine against both (the same results, bit for bit), the memory of a long table against that of a short one.
"""

from __future__ import annotations

import argparse
import csv
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from benchmarks.common import Figure, report
from sashwright.chapters.worth.columns import read
from sashwright.chapters.worth.model import Model
from sashwright.chapters.worth.stock import Stock
from sashwright.knowledge.load import load
from sashwright.record.outdoors import named
from sashwright.record.stock import run_stock

LIMIT = 5.0
"""For a thousand draws of a house of twenty windows, all beside its sections [s]."""
EFFICIENCY = 0.85
"""Of two processes against one."""
GROWTH = 1.15
"""Of the memory of the process that hands out, from a short table to one twenty times as long."""
ROWS = 10
"""To a part."""
CLIMATES = ("Boston", "Chicago", "Atlanta", "Portland, Oregon")


def town(path: Path, houses: int, *, broken: bool = False) -> Path:
    """A table of made-up houses; ``broken`` ones cost nothing to answer, so that only handing over counts."""
    with path.open("w", newline="") as file:
        writer = csv.writer(file)
        writer.writerow(
            ("id", "climate", "windows", "floor_area_m2", "storeys", "lites", "condition")
        )
        for at in range(houses):
            condition = "broken" if broken else ("average", "loose", "tight")[at % 3]
            row = (f"house {at}", CLIMATES[at % 4], 8 + at % 17, 90 + at % 120, 1 + at % 2)
            writer.writerow((*row, ("1x1", "2x2")[at % 2], condition))
    return path


def draws() -> Figure:
    knowledge = load()
    stock = Stock(knowledge, lambda climate: named(climate).year)
    row = read({"id": "a", "climate": "Boston", "windows": 20, "floor_area_m2": 160})
    home = stock._home(row)
    Model(home, knowledge, draws=0).likely  # noqa: B018 compiles, and works out the sections
    start = time.perf_counter()
    model = Model(home, knowledge, draws=1000)
    assert len(model.weights) > 10
    assert sum(model.wins.values()) > 0.999
    return Figure("a house weighed up in 1,000 draws", time.perf_counter() - start, LIMIT)


def timed(table: Path, out: Path, skip: int, **how: object) -> float:
    """Seconds a house, from when so many parts are done: the first of each worker loads and compiles."""
    marks: list[tuple[float, int]] = []
    run_stock(
        table,
        out,
        fresh=True,
        rows_a_part=ROWS,
        tell=lambda p: marks.append((time.perf_counter(), p.houses)),
        **how,  # type: ignore[arg-type]
    )
    (start, done), (end, all_) = marks[skip - 1], marks[-1]
    return (end - start) / (all_ - done)


def same(one: Path, other: Path) -> bool:
    from pyarrow.parquet import read_table

    return bool(read_table(one).equals(read_table(other)))


def peak(houses: int, folder: Path) -> float:
    """Greatest memory of a process that hands out a table of so many rows [MB]."""
    table = town(folder / f"{houses}.csv", houses, broken=True)
    code = (
        "import resource, sys; from pathlib import Path; from sashwright.record.stock import run_stock; "
        "run_stock(Path(sys.argv[1]), Path(sys.argv[2])); "
        "print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024)"
    )
    words = [sys.executable, "-c", code, str(table), str(folder / f"{houses}.parquet")]
    return float(subprocess.run(words, check=True, capture_output=True, text=True).stdout)


def through(stock: Stock, houses: int) -> float:
    """Greatest memory so far after so many real houses in this process [MB]."""
    rows = (
        {
            "id": str(at),
            "climate": CLIMATES[at % 4],
            "windows": 8 + at % 17,
            "floor_area_m2": 90 + at,
        }
        for at in range(houses)
    )
    for row in rows:
        stock.answer(row)
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


def cluster(table: Path, out: Path) -> float:
    from distributed import LocalCluster

    start: Any = LocalCluster
    with start(n_workers=2, threads_per_worker=1, dashboard_address=None, silence_logs=50) as made:
        return timed(table, out, 2, scheduler=made.scheduler_address)


def main(words: Sequence[str] | None = None) -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--houses", type=int, default=120)
    parser.add_argument("--long", type=int, default=20_000)
    asked = parser.parse_args(words)
    figures = [draws()]
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        table = town(folder / "town.csv", asked.houses)
        alone = timed(table, folder / "one", 1)
        print(f"one process: {1 / alone:.1f} houses a second")
        two = timed(table, folder / "two", 2, workers=2)
        print(f"two processes: {1 / two:.1f} houses a second, efficiency {alone / two / 2:.2f}")
        figures.append(
            Figure(
                "a house by two processes, against half of one at 0.85", two, alone / 2 / EFFICIENCY
            )
        )
        dask = cluster(table, folder / "dask")
        print(f"Dask, two workers: {1 / dask:.1f} houses a second")
        alike = same(folder / "one", folder / "two") and same(folder / "one", folder / "dask")
        print(f"results by all three ways: {'the same' if alike else 'NOT the same'}")
        short, long = peak(asked.long // 20, folder), peak(asked.long, folder)
        print(
            f"memory handing out {asked.long // 20:,} and {asked.long:,} rows: {short:.0f}, {long:.0f} MB"
        )
        stock = Stock(load(), lambda climate: named(climate).year)
        first, last = through(stock, 40), through(stock, 200)
        print(f"memory of a worker after 40 and 240 houses: {first:.0f}, {last:.0f} MB")
    ended = report(figures)
    return ended or int(not alike or long > GROWTH * short or last > GROWTH * first)


if __name__ == "__main__":
    sys.exit(main())
