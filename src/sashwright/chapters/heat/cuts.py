"""The sections of one window, cut through the outlines that its drawings show."""

from __future__ import annotations

from collections.abc import Iterator

from sashwright.chapters.heat.cut import Cut
from sashwright.chapters.heat.cutter import SASHES, Cutter
from sashwright.chapters.heat.level_cuts import jamb, mullion
from sashwright.chapters.heat.upright_cuts import head, meeting, muntin, sill


class Cutting(Cutter):
    """Cuts a window as it stands with its storm."""

    def cuts(self) -> Iterator[Cut]:
        """All its sections."""
        yield head(self)
        for which in SASHES:
            yield jamb(self, which)
        yield meeting(self)
        yield sill(self)
        for which in SASHES:
            lites = self.layout.sash(which).spec.lites
            if lites.rows > 1 or lites.columns > 1:
                yield muntin(self, which)
        if self.placed.left is not None or self.placed.right is not None:
            for which in SASHES:
                yield mullion(self, which)
