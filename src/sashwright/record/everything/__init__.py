"""All that a shop has in its record, as files of open formats that need no Sashwright to be read."""

from sashwright.record.everything.export import Exported, export_all, export_into
from sashwright.record.everything.sinks import ExportError, FolderSink, Sink, ZipSink

__all__ = [
    "ExportError",
    "Exported",
    "FolderSink",
    "Sink",
    "ZipSink",
    "export_all",
    "export_into",
]
