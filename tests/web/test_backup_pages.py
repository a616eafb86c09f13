"""Backups by a button, and taken along."""

from __future__ import annotations

import io
import zipfile

from django.test import Client
from django.urls import reverse


def test_made_by_a_button_and_taken_along(here: Client, elm: str) -> None:
    assert "None yet" in here.get("/backups").content.decode()
    assert here.post("/backups").status_code == 302
    page = here.get("/backups").content.decode()
    name = page.split("/backups/")[1].split('"')[0]
    answer = here.get(reverse("backup-file", args=[name]))
    data = b"".join(answer.streaming_content)  # type: ignore[attr-defined]
    with zipfile.ZipFile(io.BytesIO(data)) as archive:
        assert b"12 Elm Street" in archive.read("rows/record.house.jsonl")


def test_no_other_file_is_handed_out(here: Client, elm: str) -> None:
    for name in ("..", "sashwright.db", "%2e%2e%2fsecret-key", "sashwright-2026-01-01-000000.zip"):
        assert here.get(f"/backups/{name}").status_code == 404
