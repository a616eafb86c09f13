"""Runs a table of houses part by part: here, in processes, or on a cluster, and takes up what was begun."""

from __future__ import annotations

import json
import shutil
import time
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ProcessPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass
from itertools import islice
from multiprocessing import get_context
from pathlib import Path
from typing import Any, Protocol, cast

from sashwright import __version__
from sashwright.record.stock.tables import (
    StockError,
    check_columns,
    checksum,
    join_skipped,
    rows_of,
    write_results,
    write_skipped,
)
from sashwright.record.stock.work import Answered, Part, answer_part

__all__ = ["Progress", "StockError", "run_stock"]

ROWS_A_PART = 50
"""Enough that handing over takes no time, few enough that little is lost."""
AHEAD = 3
"""Parts in the works for each worker: memory holds no more of a long table than these."""
RUN = "_run.json"


@dataclass(frozen=True, slots=True)
class Progress:
    """How far a run is."""

    houses: int
    """Answered or skipped, those of an earlier run too."""
    skipped: int
    kept: int
    """Of them from an earlier run."""
    seconds: float

    @property
    def a_second(self) -> float:
        return (self.houses - self.kept) / self.seconds if self.seconds > 0 else 0.0


class Waiting(Protocol):
    """An answer that may not be there yet."""

    def result(self) -> Answered: ...


class Workers(Protocol):
    """Whoever answers parts, and how many at once."""

    @property
    def count(self) -> int: ...

    def submit(self, part: Part, first: int) -> Waiting: ...


def run_stock(
    table: Path,
    out: Path,
    *,
    workers: int = 1,
    scheduler: str | None = None,
    shop_files: Sequence[Path] = (),
    rows_a_part: int = ROWS_A_PART,
    fresh: bool = False,
    tell: Callable[[Progress], None] = lambda progress: None,
) -> Progress:
    """Answer every row of a table and write the results beside each other.

    Parameters
    ----------
    table : Path
        CSV or Parquet with the columns of :mod:`sashwright.chapters.worth.columns`.
    out : Path
        Becomes a folder of Parquet files, read as one table; skipped rows go to ``OUT-skipped.csv``.
    workers : int
        Processes; 1 for this one alone.
    scheduler : str, optional
        Address of a Dask cluster, instead of processes of this machine.
    shop_files : sequence of Path
        The shop's own figures over the tables; on a cluster every worker must see them there.
    rows_a_part : int
        Rows that are handed over at a time and make up one file.
    fresh : bool
        Throw away what an earlier run left, rather than going on from it.
    tell : callable
        Is told how far the run is, part by part.

    Raises
    ------
    StockError
        For a table that cannot be read, or an ``out`` that holds something else.
    """
    check_columns(table)
    shop = tuple(str(path) for path in shop_files)
    files = _prepared(table, out, shop, rows_a_part, fresh)
    began, kept, houses, skipped = time.monotonic(), 0, 0, 0
    parts: list[Path] = []
    with _workers(workers, scheduler, shop) as crew:
        for number, count, bad, old in _answered(table, files, rows_a_part, crew):
            houses, skipped = houses + count, skipped + bad
            kept += count if old else 0
            parts.append(files.skipped(number))
            tell(Progress(houses, skipped, kept, time.monotonic() - began))
    join_skipped(parts, files.all_skipped)
    return Progress(houses, skipped, kept, time.monotonic() - began)


@dataclass(frozen=True)
class _Files:
    """Where everything goes."""

    out: Path

    def part(self, number: int) -> Path:
        return self.out / f"part-{number:06}.parquet"

    def skipped(self, number: int) -> Path:
        """Names with a line before them are no part of the table for those who read it."""
        return self.out / f"_skipped-{number:06}.csv"

    @property
    def all_skipped(self) -> Path:
        return self.out.with_name(f"{self.out.stem}-skipped.csv")


def _prepared(table: Path, out: Path, shop: Sequence[str], rows_a_part: int, fresh: bool) -> _Files:
    """The folder for the results, new or left by the same run."""
    asked = {
        "table": checksum(table),
        "shop": [checksum(Path(name)) for name in shop],
        "rows_a_part": rows_a_part,
        "version": __version__,
    }
    note = out / RUN
    if out.exists() and not (out.is_dir() and (note.exists() or not any(out.iterdir()))):
        raise StockError(
            f"{out}: found something that is no result of a table of houses; name another"
        )
    if fresh and note.exists():
        shutil.rmtree(out)
    out.mkdir(parents=True, exist_ok=True)
    if note.exists():
        if json.loads(note.read_text(encoding="utf-8")) != asked:
            raise StockError(
                f"{out}: found results of another table, of other figures or of another version; name "
                "another place, or begin afresh"
            )
    else:
        note.write_text(json.dumps(asked, indent=1), encoding="utf-8")
    return _Files(out)


def _answered(
    table: Path, files: _Files, rows_a_part: int, crew: Workers
) -> Iterator[tuple[int, int, int, bool]]:
    """Number of each part in order, its rows, how many were skipped, and whether it was there before."""
    waiting: deque[tuple[int, int, Waiting | None]] = deque()
    rows = rows_of(table)
    for number, part in enumerate(iter(lambda: list(islice(rows, rows_a_part)), [])):
        done = files.part(number).exists() and files.skipped(number).exists()
        answer = None if done else crew.submit(part, number * rows_a_part + 1)
        waiting.append((number, len(part), answer))
        while len(waiting) >= AHEAD * crew.count:
            yield _taken(files, *waiting.popleft())
    while waiting:
        yield _taken(files, *waiting.popleft())


def _taken(
    files: _Files, number: int, count: int, answer: Waiting | None
) -> tuple[int, int, int, bool]:
    if answer is None:
        with files.skipped(number).open(encoding="utf-8", newline="") as file:
            return number, count, sum(1 for _ in file) - 1, True
    results, skipped = answer.result()
    write_skipped(files.skipped(number), skipped)
    # The part comes last: where it is, all of it is.
    write_results(files.part(number), results)
    return number, count, len(skipped), False


# --- workers --------------------------------------------------------------------------


@contextmanager
def _workers(count: int, scheduler: str | None, shop: tuple[str, ...]) -> Iterator[Workers]:
    if scheduler is not None:
        with _cluster(scheduler, shop) as crew:
            yield crew
    elif count > 1:
        with ProcessPoolExecutor(count, mp_context=get_context("spawn")) as pool:
            try:
                yield _Processes(pool, count, shop)
            except BaseException:
                pool.shutdown(wait=False, cancel_futures=True)
                raise
    else:
        yield _Here(shop)


@dataclass(frozen=True)
class _Here:
    shop: tuple[str, ...]
    count: int = 1

    def submit(self, part: Part, first: int) -> Waiting:
        return _Later(part, first, self.shop)


@dataclass(frozen=True)
class _Later:
    """Worked out when it is asked for."""

    part: Part
    first: int
    shop: tuple[str, ...]

    def result(self) -> Answered:
        return answer_part(self.part, self.first, self.shop)


@dataclass(frozen=True)
class _Processes:
    pool: ProcessPoolExecutor
    count: int
    shop: tuple[str, ...]

    def submit(self, part: Part, first: int) -> Waiting:
        return self.pool.submit(answer_part, part, first, self.shop)


@dataclass(frozen=True)
class _Cluster:
    client: Any
    count: int
    shop: tuple[str, ...]

    def submit(self, part: Part, first: int) -> Waiting:
        # Not pure: the same rows asked twice are answered twice, and no result is kept longer than wanted.
        later = self.client.submit(answer_part, part, first, self.shop, pure=False)
        return cast("Waiting", later)


@contextmanager
def _cluster(scheduler: str, shop: tuple[str, ...]) -> Iterator[Workers]:
    try:
        from distributed import Client  # noqa: PLC0415
    except ImportError:
        raise StockError(
            "found no dask on this machine, expected it for a cluster: install sashwright[stock]"
        ) from None
    try:
        connect: Any = Client
        client = connect(scheduler, timeout=10)
    except (OSError, ValueError, TimeoutError) as error:
        raise StockError(f"{scheduler}: found no scheduler there ({error})") from None
    with client:
        threads = sum(client.nthreads().values())
        if threads == 0:
            raise StockError(f"{scheduler}: found no workers there, expected one at least")
        yield _Cluster(client, threads, shop)
