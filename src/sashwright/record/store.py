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
from sashwright.record.history import ChangeRow, RevisionRow, change, change_count, changes, compare
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
from sashwright.record.measures import (
    FromPhotograph,
    from_photographs,
    keep_measure,
    measure_photograph,
    read_measure,
    remove_measure,
)
from sashwright.record.merge import FieldChange
from sashwright.record.people import local_owner, name_of
from sashwright.record.photographs import (
    PhotographRow,
    add_photograph,
    describe_photograph,
    findings_of,
    mark_photograph,
    name_in_finding,
    photograph,
    photograph_file,
    photographs,
    remove_photograph,
)
from sashwright.record.readings import ReadingRow, add_reading, readings
from sashwright.record.rooms import rename_room
from sashwright.record.rows import changed_at, stored, stored_windows
from sashwright.record.saving import save, save_fields
from sashwright.record.shop import (
    ShopRow,
    import_shop,
    load_shop,
    put_back_shop,
    save_shop,
    save_shop_fields,
    shop_at,
    shop_edition,
    shop_history,
    stored_shop,
    undo_shop,
)
from sashwright.record.stages import NotAllowed, StageRow, moves_of, set_stage, stages
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
    "FromPhotograph",
    "HouseRow",
    "Kind",
    "NotAllowed",
    "NotThere",
    "PhotographRow",
    "ReadingRow",
    "Refused",
    "RevisionRow",
    "ShopRow",
    "StageRow",
    "Stored",
    "add_family",
    "add_photograph",
    "add_reading",
    "add_window",
    "add_windows",
    "change",
    "change_count",
    "changed_at",
    "changes",
    "compare",
    "create_house",
    "describe_photograph",
    "export_document",
    "family_keys",
    "findings_of",
    "from_photographs",
    "import_house",
    "import_shop",
    "keep_marks",
    "keep_measure",
    "knowledge",
    "list_houses",
    "list_removed",
    "load_for_window",
    "load_house",
    "load_shop",
    "local_owner",
    "mark_photograph",
    "measure_photograph",
    "moves_of",
    "name_in_finding",
    "name_of",
    "next_number",
    "photograph",
    "photograph_file",
    "photographs",
    "put_back_shop",
    "read_measure",
    "readings",
    "removal_of",
    "remove_family",
    "remove_house",
    "remove_measure",
    "remove_photograph",
    "remove_window",
    "rename_family",
    "rename_room",
    "rename_wall",
    "renumber_window",
    "save",
    "save_fields",
    "save_shop",
    "save_shop_fields",
    "set_stage",
    "shop_at",
    "shop_edition",
    "shop_history",
    "stages",
    "stored",
    "stored_shop",
    "stored_windows",
    "undo",
    "undo_shop",
    "window_numbers",
]
