"""What is lost when the server is killed while it writes: nothing that it acknowledged.

python -m benchmarks.faults [--kills 200] [--postgres]

A server answers on this computer; four programs save fields and readings without a pause, each noting
what was acknowledged. At random moments the server gets SIGKILL and another takes its place. At the end every
acknowledged save must be there, in the order of its versions, and nothing half-written.
"""

from __future__ import annotations

import argparse
import http.client
import json
import multiprocessing
import os
import random
import signal
import sys
import tempfile
import threading
import time
from collections import Counter
from contextlib import ExitStack
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

WRITERS = 4
ROOMS = ("101", "102", "103", "104")


@dataclass
class Notes:
    """What the programs were told."""

    saved: list[tuple[str, int, str]] = field(default_factory=list)
    """Window, version and value that the server acknowledged."""
    weighed: list[tuple[str, str]] = field(default_factory=list)
    """Window and note of readings that the server acknowledged."""
    broken: int = 0
    """Requests that got no answer."""
    refused: list[str] = field(default_factory=list)
    lock: threading.Lock = field(default_factory=threading.Lock)


def serve(port: int, ready: Any) -> None:
    """One server, in a process of its own, until it is killed."""
    from sashwright.cli.serving import open_server

    server = open_server(port, _application())
    ready.set()
    server.serve()


@cache
def _application() -> Any:
    """The pages and the API, loaded before any server is forked, so that each is there at once."""
    from django.core.wsgi import get_wsgi_application
    from django.urls import get_resolver

    get_resolver().url_patterns  # noqa: B018 - imports them
    return get_wsgi_application()


def ask(port: int, token: str, method: str, path: str, body: Any) -> tuple[int, Any]:
    connection = http.client.HTTPConnection("127.0.0.1", port, timeout=30)
    try:
        headers = {"Authorization": f"Bearer {token}", "Content-Type": "application/json"}
        connection.request(method, f"/api/v1{path}", json.dumps(body), headers)
        answer = connection.getresponse()
        return answer.status, json.loads(answer.read())
    finally:
        connection.close()


def write(
    port: int, token: str, slug: str, number: str, notes: Notes, stop: threading.Event
) -> None:
    """Save without a pause; after a request without an answer, ask what is kept and go on from there."""
    count, version = 0, 1
    path = f"/houses/{slug}/windows/{number}"
    while not stop.is_set():
        count += 1
        value = f"{number}-{count}"
        try:
            if count % 3:
                body = {"base_version": version, "fields": {"note": value}}
                status, told = ask(port, token, "PATCH", path, body)
            else:
                body = {"sash": "lower", "mass": f"{8 + count % 50 / 100:g} kg", "note": value}
                status, told = ask(port, token, "POST", f"{path}/readings", body)
            with notes.lock:
                if status in (200, 201):
                    version = told["version"]
                    if count % 3:
                        notes.saved.append((number, version, value))
                    else:
                        notes.weighed.append((number, value))
                elif status == 409:
                    version = told["kept"]["version"]
                elif status != 503:
                    notes.refused.append(f"{status} {told}")
        except (OSError, http.client.HTTPException, ValueError):
            notes.broken += 1
            version = _kept_version(port, token, path, version)


def _kept_version(port: int, token: str, path: str, version: int) -> int:
    for _ in range(200):
        try:
            status, told = ask(port, token, "GET", path, None)
        except (OSError, http.client.HTTPException, ValueError):
            time.sleep(0.02)
        else:
            return int(told["version"]) if status == 200 else version
    return version


def run(kills: int, seed: int = 1) -> dict[str, Any]:
    """Kill so often, and say what was found. The record must be set up, and empty."""
    from sashwright.record import keys, store
    from sashwright.web.api import door, routes
    from tests.factories import house_document
    from tests.postgres import free_port

    del door
    routes.api.throttle = []
    for _, operation in _operations(routes.api):
        operation.throttle_objects = []
    owner = store.local_owner()
    slug = store.create_house(house_document(), owner)
    token = keys.make_token(owner, "faults")
    notes, stop, chance = Notes(), threading.Event(), random.Random(seed)
    port = free_port()
    fork = multiprocessing.get_context("fork")
    numbers = store.window_numbers(slug)[:WRITERS]

    def start() -> Any:
        ready = fork.Event()
        process = fork.Process(target=serve, args=(port, ready), daemon=True)
        process.start()
        ready.wait(30)
        return process

    from django.db import connections

    _application()
    connections.close_all()
    server = start()
    writers = [
        threading.Thread(target=write, args=(port, token, slug, number, notes, stop))
        for number in numbers
    ]
    for writer in writers:
        writer.start()
    for _ in range(kills):
        before, since = len(notes.saved) + len(notes.weighed), time.monotonic()
        # Killed in the middle of work, not before it began.
        while len(notes.saved) + len(notes.weighed) == before and time.monotonic() < since + 20:
            time.sleep(0.005)
        time.sleep(chance.uniform(0, 0.3))
        os.kill(server.pid, signal.SIGKILL)
        server.join()
        server = start()
    time.sleep(0.5)
    stop.set()
    for writer in writers:
        writer.join()
    server.terminate()
    server.join()
    return {"kills": kills, **found(slug, notes)}


def _operations(api: Any) -> Any:
    for _, router in api._routers:
        for view in router.path_operations.values():
            for operation in view.operations:
                yield view, operation


def found(slug: str, notes: Notes) -> dict[str, Any]:
    """What of all that was acknowledged is missing, and what does not fit together."""
    from sashwright.record import store
    from sashwright.record.models import Change, House, Reading, Revision, Window

    house = House.objects.get(slug=slug)
    rows = {row.number: row for row in Window.objects.filter(house=house)}
    lost = []
    for number, version, value in notes.saved:
        kept = Revision.objects.filter(kind="window", row=rows[number].pk, version=version).first()
        if kept is None or kept.after["document"].get("note") != value:
            lost.append((number, version, value))
    readings = Counter(
        (row.window.number, row.note) for row in Reading.objects.select_related("window")
    )
    lost += [each for each in notes.weighed if readings[each] < 1]
    torn = []
    for row in rows.values():
        versions = list(
            Revision.objects.filter(kind="window", row=row.pk)
            .order_by("version")
            .values_list("version", flat=True)
        )
        if versions != list(range(1, row.version + 1)):
            torn.append(f"{row.number}: versions {versions[-3:]} of {row.version}")
        last = Revision.objects.get(kind="window", row=row.pk, version=row.version)
        if last.after["document"] != row.document:
            torn.append(f"{row.number}: says otherwise than its last revision")
    if house.edition != Change.objects.filter(house=house).count():
        torn.append("the house's edition is not the count of its changes")
    if Change.objects.filter(revisions__isnull=True, readings__isnull=True).exists():
        torn.append("a change that changed nothing")
    store.load_house(slug)
    return {
        "acknowledged": len(notes.saved) + len(notes.weighed),
        "unanswered": notes.broken,
        "refused": notes.refused[:3],
        "lost": lost,
        "torn": torn,
    }


def main() -> int:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--kills", type=int, default=200)
    words.add_argument("--postgres", action="store_true")
    asked = words.parse_args()
    with ExitStack() as stack:
        os.environ["SASHWRIGHT_HOME"] = stack.enter_context(
            tempfile.TemporaryDirectory(prefix="sashwright-faults-")
        )
        if asked.postgres:
            from tests.postgres import server

            # It must keep its promises here, so nothing is switched off for speed.
            os.environ["SASHWRIGHT_DATABASE_URL"] = stack.enter_context(server(fast=False))
        from sashwright.record.start import setup

        setup()
        began = time.monotonic()
        result = run(asked.kills)
        name = "PostgreSQL" if asked.postgres else "SQLite"
        sys.stdout.write(f"{name}: {json.dumps(result)} in {time.monotonic() - began:.0f} s\n")
        return 1 if result["lost"] or result["torn"] or result["refused"] else 0


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).resolve().parents[1]))
    sys.exit(main())
