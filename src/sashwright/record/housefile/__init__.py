"""A house as one readable text file (TOML) that people can keep in any folder."""

from sashwright.record.housefile.errors import FileProblem, HouseFileError
from sashwright.record.housefile.reading import (
    LARGEST,
    bytes_of,
    parse_checked,
    parse_document,
    parse_house,
    read_document,
    read_house,
)
from sashwright.record.housefile.writing import (
    house_document,
    house_text,
    rows_text,
    write_file,
    write_house,
)

__all__ = [
    "LARGEST",
    "FileProblem",
    "HouseFileError",
    "bytes_of",
    "house_document",
    "house_text",
    "parse_checked",
    "parse_document",
    "parse_house",
    "read_document",
    "read_house",
    "rows_text",
    "write_file",
    "write_house",
]
