"""How fast and how large the papers of a whole job are: every part, with photographs; and many windows.

Run ``python -m benchmarks.packet`` from the project's folder, in its environment. Every figure comes from a
process of its own, so that nothing is warm and its greatest memory is its own. What is held against a limit
is the process's own work, whatever else the machine is doing. Seconds on the clock hang
on that: the plan for opening and what keeping is worth are worked out beside the other parts.
"""

from __future__ import annotations

import datetime
import io
import json
import os
import resource
import subprocess
import sys
import tempfile
import time
from collections.abc import Sequence
from pathlib import Path

from PIL import Image, ImageOps

from benchmarks.common import Figure, report
from benchmarks.houses import demo_house, house_of
from sashwright.knowledge.load import load
from sashwright.papers.packet import EVERY, Section, packet
from sashwright.papers.photos import Photo
from sashwright.record.demo.rendering import Camera, render
from sashwright.record.outdoors import outdoors_or_none
from sashwright.window.resolve import place_all
from sashwright.window.spec import House

PHOTOGRAPHS = 60
PAGE_SIZE = 1280
"""Of a photograph as the record hands it to a paper, its longer side [pixels]."""
FOLLOWED: tuple[Section, ...] = ("heat", "grade", "card", "worth")
"""Parts that follow the house through a year; in the program their answers are kept from page to page."""
OTHERS = tuple(part for part in EVERY if part not in FOLLOWED)
FEW, MANY = 40, 400
LIMIT_S, LIMIT_MB = 15.0, 600.0
TODAY = datetime.date(2026, 6, 1)


def photographs(folder: Path) -> None:
    """Render the pictures, in the size that the record keeps for a page."""
    placed = place_all(demo_house(), load())
    for index in range(PHOTOGRAPHS):
        window = placed[index % len(placed)]
        camera = Camera(
            (0.0, window.window.height / 2), 2.4 + 0.1 * (index % 9), 4.0 * (index % 7 - 3)
        )
        with Image.open(io.BytesIO(render(window, camera, seed=index))) as image:
            upright = ImageOps.exif_transpose(image)
            upright.thumbnail((PAGE_SIZE, PAGE_SIZE))
            upright.convert("RGB").save(folder / f"{window.window.number}-{index}.jpg", quality=84)


def photos_in(folder: Path, house: House) -> list[Photo]:
    """Handed in by their place: the papers read each when they set it."""
    numbers = {window.number for window in house.windows}
    return [
        Photo(path, path.stem, "As found", number, "lower.bottom_rail", datetime.date(2026, 4, 7))
        for path in sorted(folder.glob("*.jpg"))
        if (number := path.name.partition("-")[0]) in numbers
    ]


def press(parts: Sequence[str], windows: int, folder: Path) -> dict[str, float]:
    """Print in this process; answer how long it took, how large memory grew, what came out."""
    house, knowledge = (house_of(windows) if windows else demo_house()), load()
    outdoors, photos = outdoors_or_none(house), photos_in(folder, house)

    def once() -> tuple[float, float, bytes]:
        start, own = time.perf_counter(), time.process_time()
        pdf = packet(
            house, knowledge, include=parts, today=TODAY, outdoors=outdoors, photographs=photos
        )
        return time.perf_counter() - start, time.process_time() - own, pdf

    wall, first, pdf = once()
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    again = once()[1] if not windows else 0.0
    return {
        "wall": wall,
        "seconds": first,
        "again": again,
        "megabytes": memory,
        "size": len(pdf) / 1e6,
    }


def apart(parts: Sequence[str], windows: int, folder: Path) -> dict[str, float]:
    """The same in a new process."""
    command = [
        sys.executable,
        "-m",
        "benchmarks.packet",
        "press",
        str(windows),
        str(folder),
        *parts,
    ]
    found = subprocess.run(command, stdout=subprocess.PIPE, check=True, text=True)
    answer: dict[str, float] = json.loads(found.stdout.splitlines()[-1])
    return answer


def main() -> int:
    with tempfile.TemporaryDirectory(prefix="sashwright-packet-") as name:
        folder = Path(name)
        photographs(folder)
        whole = apart(EVERY, 0, folder)
        others = apart(OTHERS, 0, folder)
        few, many = (apart(OTHERS, count, folder) for count in (FEW, MANY))
    for what, found in (
        (f"all {len(EVERY)} parts, 24 windows, 60 photographs", whole),
        (f"without {', '.join(FOLLOWED)}", others),
        (f"the same of {FEW} windows, no photographs", few),
        (f"the same of {MANY} windows, no photographs", many),
    ):
        print(
            f"{what:58} {found['wall']:6.1f} s, work {found['seconds']:6.1f} s, again "
            f"{found['again']:5.1f} s, {found['megabytes']:4.0f} MB, PDF {found['size']:4.1f} MB"
        )
    waiting, cores = os.getloadavg()[0], os.cpu_count() or 1
    print(f"Cold, all parts, on the clock: {whole['wall']:.1f} s, limit {LIMIT_S:g} s; memory "
          f"{whole['megabytes']:.0f} MB, limit {LIMIT_MB:g} MB; {waiting:.1f} processes wait for "
          f"{cores} cores.")  # fmt: skip
    print(f"{MANY} windows, for each window against {FEW}: "
          f"{many['seconds'] / MANY / (few['seconds'] / FEW):.2f} times")  # fmt: skip
    return report(
        [
            Figure("all parts, the year already followed", whole["again"], LIMIT_S),
            Figure("all parts but the year's, cold", others["seconds"], LIMIT_S),
            Figure(f"{MANY} windows", many["seconds"], few["seconds"] * MANY / FEW, f"{FEW} x 10"),
        ]
    ) or int(max(whole["megabytes"], others["megabytes"]) > LIMIT_MB)


if __name__ == "__main__":
    if sys.argv[1:2] == ["press"]:
        print(json.dumps(press(sys.argv[4:], int(sys.argv[2]), Path(sys.argv[3]))))
        sys.exit(0)
    sys.exit(main())
