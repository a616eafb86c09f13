"""Backups of the whole record: how old the last one is, one more by a button, and to take along."""

from __future__ import annotations

import tempfile
import zipfile
from pathlib import Path

from django.conf import settings
from django.http import FileResponse, HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils import timezone
from django.views.decorators.http import require_GET, require_http_methods

from sashwright.record.backup.archive import BackupError
from sashwright.record.backup.rotation import backup_now, own_backups
from sashwright.record.errors import NotThere
from sashwright.record.everything import ZipSink, export_into
from sashwright.record.folders import make_folder
from sashwright.web.views.common import tell


@require_http_methods(["GET", "HEAD", "POST"])
def page(request: HttpRequest) -> HttpResponse:
    says = ""
    if request.method == "POST":
        try:
            made, _ = backup_now()
        except BackupError as error:
            says = str(error)
        else:
            tell(request, f"The backup {made.name} was made and checked.")
            return redirect("backups")
    found = [(at, path.name, path.stat().st_size) for at, path in own_backups()]
    context = {"backups": found, "says": says}
    return render(request, "web/backups.html", context, status=500 if says else 200)


@require_GET
def file(request: HttpRequest, name: str) -> HttpResponseBase:
    """One of them, to keep elsewhere. Only what is in the list can be asked for."""
    found = next((path for _, path in own_backups() if path.name == name), None)
    if found is None:
        raise NotThere(f"There is no backup {name}.")
    return FileResponse(found.open("rb"), as_attachment=True, filename=found.name)


@require_GET
def everything(request: HttpRequest) -> HttpResponseBase:
    """All of the record in open formats, in one ZIP file made on the disk as it is sent for."""
    # On the disk of the shop's data, where there is room for it; gone once it was sent.
    folder = make_folder(Path(settings.DATA_FOLDER) / "cache")
    file = tempfile.TemporaryFile(dir=folder)  # noqa: SIM115 - the answer closes it
    with zipfile.ZipFile(file, "w") as archive:
        export_into(ZipSink(archive))
    file.seek(0)
    name = f"sashwright-everything-{timezone.localdate():%Y-%m-%d}.zip"
    return FileResponse(file, as_attachment=True, filename=name)
