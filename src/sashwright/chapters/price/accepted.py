"""What the client agreed to, and what the same comes to now."""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from sashwright.chapters.answer import Answer, Finding
from sashwright.chapters.price.findings import money
from sashwright.chapters.price.job import Job, with_options
from sashwright.window.pricing import Accepted

DIGITS = 12


def edition_of(job: Job) -> str:
    """A short mark of every line of a price: where one differs, so does the mark."""
    lines = [(number, line) for number, key in job.taken.items() for line in job.lines(number, key)]
    lines += [("", line) for line in job.own]
    said = [
        f"{number}|{line.kind}|{line.key}|{line.of}|{line.name}|{line.quantity}|{line.each}|{line.cost}"
        for number, line in lines
    ]
    text = "\n".join([job.prices.pricing.currency, *said])
    return hashlib.sha256(text.encode()).hexdigest()[:DIGITS]


def agreed(
    answer: Answer, ticked: Sequence[str], *, on: str, by: str = "", note: str = ""
) -> dict[str, Any]:
    """What the record keeps of a price that is agreed to: its sum as expected, and its edition.

    ``answer`` is the price of the whole house with the options ``ticked``, as :func:`price` gives it.
    """
    return {
        "total": answer.values["price"]["likely"],
        "currency": answer.values["currency"],
        "ticked": list(ticked),
        "on": on,
        "by": by,
        "note": note,
        "edition": answer.values["edition"],
    }


@dataclass(frozen=True, slots=True)
class Standing:
    """An accepted price against the job as it stands, its options taken as agreed."""

    accepted: Accepted
    now: Decimal
    edition: str
    currency: str
    gone: tuple[str, ...]
    """Options taken that the job has no more."""

    @property
    def change(self) -> Decimal:
        """What the price has risen by since."""
        return self.now - self.accepted.total

    @property
    def same(self) -> bool:
        """Whether every line is still as it was agreed to."""
        return self.edition == self.accepted.edition and not self.gone

    def to_dict(self) -> dict[str, Any]:
        return {
            **self.accepted.model_dump(mode="json"),
            "now": f"{self.now:f}",
            "change": f"{self.change:f}",
            "same": self.same,
            "gone": list(self.gone),
        }


def standing_of(plain: Job, accepted: Accepted) -> Standing:
    """``plain`` is the job before any option."""
    known = {option.key for option in plain.prices.pricing.options}
    job, _ = with_options(plain, [key for key in accepted.ticked if key in known])
    gone = tuple(key for key in accepted.ticked if key not in known)
    return Standing(
        accepted, job.total.likely, edition_of(job), plain.prices.pricing.currency, gone
    )


def accepted_findings(standing: Standing | None) -> Iterator[Finding]:
    """Whether what was agreed to still holds."""
    if standing is None:
        return
    accepted = standing.accepted
    by = f" by {accepted.by}" if accepted.by else ""
    agreed = f"Accepted{by} on {accepted.on}: {money(accepted.total, accepted.currency)}"
    currency = standing.currency
    if standing.same:
        yield Finding(
            "ok", "house", f"{agreed}. Nothing in the price has changed since.",
            f"edition {accepted.edition}", "price list of the shop",
        )  # fmt: skip
        return
    gone = f" Options no longer offered: {', '.join(standing.gone)}." if standing.gone else ""
    if currency == accepted.currency and not standing.change:
        says = f"{agreed}. Lines have changed since, the sum has not.{gone}"
    else:
        more = "more" if standing.change > 0 else "less"
        differs = (
            f", {money(abs(standing.change), currency)} {more}"
            if currency == accepted.currency
            else ""
        )
        says = (
            f"{agreed}. By windows, decisions and rates as they are now it comes to "
            f"{money(standing.now, currency)}{differs}: agree on the change in writing.{gone}"
        )
    yield Finding(
        "caution", "house", says, f"edition {accepted.edition} then, {standing.edition} now",
        "price list of the shop",
    )  # fmt: skip
