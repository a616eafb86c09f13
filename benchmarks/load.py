"""A busy day: editors who save and readers who look, all at once, against a server as a shop runs it.

python -m benchmarks.load [--seconds 180] [--editors 20] [--readers 50] [--postgres]
python -m benchmarks.load --large [--postgres]      500 houses with 20,000 windows

People pause: an editor saves a field every 2 s on average, a reader opens a page every 5 s. Times are
those of whole answers as the browser gets them, the waiting for a free core included.
"""

from __future__ import annotations

import argparse
import http.client
import os
import random
import re
import statistics
import subprocess
import sys
import tempfile
import threading
import time
from collections import Counter, defaultdict
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from urllib.parse import urlencode

EDITOR_PAUSE, READER_PAUSE = 2.0, 5.0
LARGE_HOUSES, LARGE_WINDOWS = 500, 40


class Browser:
    """Keeps its cookies, as a browser does."""

    def __init__(self, port: int) -> None:
        self.port, self.cookies = port, ""

    def ask(self, method: str, path: str, form: dict[str, str] | None = None) -> tuple[int, str]:
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=60)
        headers = {"Cookie": self.cookies} if self.cookies else {}
        body = None
        if form is not None:
            token = re.search(r"sashwright_csrf=([^;]+)", self.cookies)
            headers |= {
                "Content-Type": "application/x-www-form-urlencoded",
                "X-CSRFToken": token[1] if token else "",
                "HX-Request": "true",
            }
            body = urlencode(form)
        try:
            connection.request(method, path, body, headers)
            answer = connection.getresponse()
            text = answer.read().decode(errors="replace")
            for cookie in answer.headers.get_all("Set-Cookie") or ():
                self.cookies = "; ".join(filter(None, [self.cookies, cookie.partition(";")[0]]))
            return answer.status, text
        finally:
            connection.close()


class Watch:
    """How long each kind of request took, and how it ended."""

    def __init__(self) -> None:
        self.times: dict[str, list[float]] = defaultdict(list)
        self.ends: Counter[tuple[str, int]] = Counter()
        self.lock = threading.Lock()

    def timed(self, kind: str, browser: Browser, *asked: object) -> tuple[int, str]:
        start = time.perf_counter()
        try:
            status, text = browser.ask(*asked)  # type: ignore[arg-type]
        except OSError as error:
            status, text = 0, str(error)
        with self.lock:
            self.times[kind].append(time.perf_counter() - start)
            self.ends[kind, status] += 1
        return status, text

    def lines(self) -> Iterator[str]:
        for kind, times in sorted(self.times.items()):
            cut = statistics.quantiles(times, n=20) if len(times) > 1 else [times[0]] * 19
            ends = {status: n for (k, status), n in self.ends.items() if k == kind}
            yield (
                f"  {kind:<12} {len(times):>6} asked  median {1000 * cut[9]:6.0f} ms"
                f"  p95 {1000 * cut[18]:6.0f} ms  longest {1000 * max(times):6.0f} ms  ended {ends}"
            )


def editor(
    port: int, slug: str, number: str, watch: Watch, stop: threading.Event, seed: int
) -> None:
    """Saves the note of one window again and again; takes over what others did to it."""
    chance, browser = random.Random(seed), Browser(port)
    page = f"/{slug}/windows/{number}/"
    _, text = browser.ask("GET", page)
    base = _base(text)
    count = 0
    while not stop.wait(chance.expovariate(1 / EDITOR_PAUSE)):
        count += 1
        form = {"field": "note", "note": f"{seed}: {count}", "base": str(base)}
        status, text = watch.timed("save", browser, "POST", f"{page}field", form)
        base = _base(text, base + (status == 200))


def _base(text: str, otherwise: int = 1) -> int:
    found = re.search(r'name="base"[^>]*value="(\d+)"', text)
    return int(found[1]) if found else otherwise


def reader(
    port: int, places: list[tuple[str, str]], watch: Watch, stop: threading.Event, seed: int
) -> None:
    """Opens the schedule, a window, the bench, the history."""
    chance, browser = random.Random(seed), Browser(port)
    while not stop.wait(chance.expovariate(1 / READER_PAUSE)):
        slug, number = chance.choice(places)
        kind, path = chance.choice(
            [
                ("schedule", f"/{slug}/"),
                ("window", f"/{slug}/windows/{number}/"),
                ("bench", f"/{slug}/bench"),
                ("history", f"/{slug}/history"),
            ]
        )
        watch.timed(kind, browser, "GET", path)


@contextmanager
def served() -> Iterator[int]:
    """The server as a shop starts it; its port."""
    command = [sys.executable, "-m", "sashwright.cli.main", "serve", "--no-browser"]
    process = subprocess.Popen(command, stdout=subprocess.PIPE, text=True)
    assert process.stdout is not None
    told = process.stdout.readline()
    found = re.search(r":(\d+)/", told)
    assert found, told
    try:
        yield int(found[1])
    finally:
        process.terminate()
        process.wait()


def busy(seconds: float, editors: int, readers: int) -> int:
    """Everybody at once, in four houses."""
    from sashwright.record import store
    from tests.factories import house_document

    owner = store.local_owner()
    slugs = [store.create_house(house_document(name=f"House {at}"), owner) for at in range(4)]
    places = [(slug, number) for slug in slugs for number in store.window_numbers(slug)]
    watch, stop = Watch(), threading.Event()
    with served() as port:
        for slug, number in places:
            Browser(port).ask("GET", f"/{slug}/windows/{number}/")
        people = [
            threading.Thread(target=editor, args=(port, *places[at % len(places)], watch, stop, at))
            for at in range(editors)
        ] + [
            threading.Thread(target=reader, args=(port, places, watch, stop, 1000 + at))
            for at in range(readers)
        ]
        for person in people:
            person.start()
        time.sleep(seconds)
        stop.set()
        for person in people:
            person.join()
    say(f"{editors} editors, {readers} readers, {seconds:g} s:")
    for line in watch.lines():
        say(line)
    # Two at one window: the second is told of the first (409), which is no error.
    bad = {end: n for end, n in watch.ends.items() if end[1] not in (200, 409)}
    say(f"  errors: {bad or 'none'}")
    return 1 if bad else 0


def large() -> int:
    """The schedule page of one house among 500, with 20,000 windows in the record."""
    from sashwright.record import store
    from tests.factories import family_document, window_document

    owner = store.local_owner()
    start = time.perf_counter()
    slug = ""
    for at in range(LARGE_HOUSES):
        windows = [window_document(number=str(101 + n)) for n in range(LARGE_WINDOWS)]
        walls = {"east": {"faces": 90}}
        families = {"A": family_document()}
        document = {"name": f"House {at}", "walls": walls, "families": families, "windows": windows}
        slug = store.import_house(document, owner)
    took = time.perf_counter() - start
    say(f"{LARGE_HOUSES} houses with {LARGE_HOUSES * LARGE_WINDOWS} windows in {took:.0f} s")
    watch = Watch()
    with served() as port:
        browser = Browser(port)
        for kind, path in (
            ("schedule", f"/{slug}/"),
            ("houses", "/"),
            ("window", f"/{slug}/windows/120/"),
        ):
            watch.timed(f"{kind}, first", browser, "GET", path)
            for _ in range(40):
                watch.timed(kind, browser, "GET", path)
    for line in watch.lines():
        say(line)
    return 0


def say(text: str) -> None:
    sys.stdout.write(f"{text}\n")
    sys.stdout.flush()


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--seconds", type=float, default=180)
    words.add_argument("--editors", type=int, default=20)
    words.add_argument("--readers", type=int, default=50)
    words.add_argument("--large", action="store_true")
    words.add_argument("--postgres", action="store_true")
    asked = words.parse_args()
    with ExitStack() as stack:
        os.environ["SASHWRIGHT_HOME"] = stack.enter_context(
            tempfile.TemporaryDirectory(prefix="sashwright-load-")
        )
        if asked.postgres:
            from tests.postgres import server

            os.environ["SASHWRIGHT_DATABASE_URL"] = stack.enter_context(server(fast=False))
        from sashwright.record.start import setup

        setup()
        say("PostgreSQL" if asked.postgres else "SQLite")
        return large() if asked.large else busy(asked.seconds, asked.editors, asked.readers)


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
    sys.exit(main())
