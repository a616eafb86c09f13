"""The record, as everything above it sees it: the only way in.

Documents go in and out as plain values; a bare number means the house's own units, and what comes out
carries its units. Each write is one change, all of it or nothing, by one person, and can be undone.

>>> slug = create_house({"name": "12 Elm Street"}, who)            # doctest: +SKIP
>>> was = add_window(slug, {"number": "101", ...}, who)             # doctest: +SKIP
>>> save(slug, "window", "101", document, was.version, who)         # doctest: +SKIP
"""

from sashwright.record.errors import Conflict, FieldConflict, NotThere, Refused, Stored
from sashwright.record.facts import knowledge
from sashwright.record.families import (
    add_family,
    family_keys,
    remove_family,
    rename_family,
    rename_wall,
)
from sashwright.record.history import ChangeRow, RevisionRow, change, changes, compare
from sashwright.record.houses import (
    HouseRow,
    create_house,
    export_document,
    import_house,
    list_houses,
    list_removed,
    load_house,
    removal_of,
    remove_house,
)
from sashwright.record.merge import FieldChange
from sashwright.record.people import local_owner, name_of
from sashwright.record.readings import ReadingRow, add_reading, readings
from sashwright.record.rows import changed_at, stored
from sashwright.record.saving import save, save_fields
from sashwright.record.state import Document, Kind
from sashwright.record.undo import undo
from sashwright.record.windows import (
    add_window,
    add_windows,
    keep_marks,
    load_for_window,
    next_number,
    remove_window,
    renumber_window,
    window_numbers,
)

__all__ = [
    "ChangeRow",
    "Conflict",
    "Document",
    "FieldChange",
    "FieldConflict",
    "HouseRow",
    "Kind",
    "NotThere",
    "ReadingRow",
    "Refused",
    "RevisionRow",
    "Stored",
    "add_family",
    "add_reading",
    "add_window",
    "add_windows",
    "change",
    "changed_at",
    "changes",
    "compare",
    "create_house",
    "export_document",
    "family_keys",
    "import_house",
    "keep_marks",
    "knowledge",
    "list_houses",
    "list_removed",
    "load_for_window",
    "load_house",
    "local_owner",
    "name_of",
    "next_number",
    "readings",
    "removal_of",
    "remove_family",
    "remove_house",
    "remove_window",
    "rename_family",
    "rename_wall",
    "renumber_window",
    "save",
    "save_fields",
    "stored",
    "undo",
    "window_numbers",
]
