"""A house as one readable text file (TOML) that people can keep in any folder."""

from sashwright.record.housefile.errors import FileProblem, HouseFileError
from sashwright.record.housefile.reading import (
    LARGEST,
    parse_document,
    parse_house,
    read_document,
    read_house,
)
from sashwright.record.housefile.writing import (
    house_document,
    house_text,
    write_file,
    write_house,
)

__all__ = [
    "LARGEST",
    "FileProblem",
    "HouseFileError",
    "house_document",
    "house_text",
    "parse_document",
    "parse_house",
    "read_document",
    "read_house",
    "write_file",
    "write_house",
]
