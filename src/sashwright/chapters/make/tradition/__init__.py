"""What would a new window of an old kind be, in this opening? And what do the chapters say of it?"""

from sashwright.chapters.make.tradition.build import Place
from sashwright.chapters.make.tradition.check import check_new, house_of, with_new
from sashwright.chapters.make.tradition.documents import (
    family_document,
    house_document,
    window_document,
)
from sashwright.chapters.make.tradition.opening import Opening
from sashwright.chapters.make.tradition.propose import Proposal, propose
from sashwright.chapters.make.tradition.sizes import Given

__all__ = [
    "Given",
    "Opening",
    "Place",
    "Proposal",
    "check_new",
    "family_document",
    "house_document",
    "house_of",
    "propose",
    "window_document",
    "with_new",
]
