"""What wind and rain will the window stand? The answer for a window and for a house."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from sashwright import units
from sashwright.chapters.answer import Answer, Finding, WindowAnswer
from sashwright.chapters.contradiction import contradicted
from sashwright.chapters.grade.findings import window_findings
from sashwright.chapters.grade.pressure import Ground, ground_of
from sashwright.chapters.grade.raising import remedies
from sashwright.chapters.grade.safety import house_safety, safety
from sashwright.chapters.grade.unknown import site_findings
from sashwright.chapters.grade.values import ground_values, window_values
from sashwright.chapters.grade.window import Graded
from sashwright.chapters.grade.working import window_steps
from sashwright.chapters.hang import hang_window
from sashwright.chapters.seal.house import calibrate, factor_for
from sashwright.chapters.seal.window import Factor, Sealed, factor_of
from sashwright.chapters.words import Words
from sashwright.knowledge.tables import Knowledge, KnowledgeError
from sashwright.window.resolve import Placed, place_each
from sashwright.window.spec import House


def grade(
    house: House,
    knowledge: Knowledge,
    numbers: Sequence[str] | None = None,
    system: units.System | None = None,
) -> Answer:
    """Wind, rain, air and force of the windows of a house (all, or those with ``numbers``).

    A window whose sizes contradict each other is answered with what is wrong; it never raises for one.
    Sentences are in ``system``, by default the house's own.
    """
    words, ground = Words(system or house.units), ground_of(house)
    wanted = [window.number for window in house.windows] if numbers is None else list(numbers)
    laid: dict[str, Placed] = {}
    answers: dict[str, WindowAnswer] = {}
    # The fan tests of a house count all of its windows; without them only those asked for are laid out.
    tested = house.air.before is not None and house.air.after is not None
    for window, placed in place_each(house, knowledge, None if tested else wanted):
        if isinstance(placed, Placed):
            laid[window.number] = placed
        else:
            answers[window.number] = contradicted(window.number, placed)
    factor = house_factor(house, laid)
    for number in wanted:
        if number in answers:
            continue
        try:
            answers[number] = _answer(laid[number], house, ground, words, factor)
        except KnowledgeError as error:
            answers[number] = contradicted(number, error)
    found = [answers[number] for number in wanted]
    flags = house_safety(house)
    return Answer(
        "grade",
        house.name,
        found,
        {"site": ground_values(ground), "safety": dict(flags.values), **_totals(found)},
        [*site_findings(ground, words), *flags.findings],
        list(flags.steps),
    )


def grade_window(
    placed: Placed,
    house: House,
    system: units.System = "us",
    *,
    factor: Factor | None = None,
    hung: WindowAnswer | None = None,
) -> WindowAnswer:
    """The same for one window, with what is not known of the site among its findings.

    Parameters
    ----------
    placed, house
        The window laid out, and the house that says where it stands.
    system : {"us", "metric"}
        Of the sentences.
    factor : Factor, optional
        What fan tests of the house say of its joints.
    hung : WindowAnswer, optional
        The hang chapter's answer, where it is at hand.

    Raises ``KnowledgeError`` for a row that the tables lack.
    """
    words, ground = Words(system), ground_of(house)
    answer = _answer(placed, house, ground, words, factor or Factor(), hung)
    values = {**answer.values, "site": ground_values(ground)}
    findings = [*answer.findings, *site_findings(ground, words)]
    return WindowAnswer(answer.number, values, findings, answer.working)


def house_factor(house: House, laid: Mapping[str, Placed]) -> Factor:
    """By how much fan tests of the house scale the tables of leakage."""
    plain = _sealed(laid.values())
    return factor_for(calibrate(house.air, plain))


def _sealed(laid: Any) -> list[Sealed]:
    found = []
    for placed in laid:
        sealed = Sealed(placed, factor_of(placed, Factor()))
        try:
            _ = sealed.states, sealed.storm
        except KnowledgeError:
            continue
        found.append(sealed)
    return found


def _answer(
    placed: Placed,
    house: House,
    ground: Ground,
    words: Words,
    factor: Factor,
    hung: WindowAnswer | None = None,
) -> WindowAnswer:
    hung = hung or hang_window(placed, words.system)
    sealed = Sealed(placed, factor_of(placed, factor))
    graded = Graded(placed, ground, sealed, hung)
    raises = list(remedies(graded, words))
    flags = safety(placed, house, words, hung)
    values = {**window_values(graded, raises), "safety": dict(flags.values)}
    findings: list[Finding] = [*window_findings(graded, raises, words), *flags.findings]
    steps = [*window_steps(graded), *flags.steps]
    return WindowAnswer(placed.window.number, values, findings, steps)


def _totals(answers: Sequence[WindowAnswer]) -> dict[str, Any]:
    """How many windows stand the wind, and the one that stands least."""
    rows = list(_used(answers))
    worst = max(rows, key=lambda row: row[1], default=None)
    least = min(
        ((a.number, a.values["wind"]["capacity_pa"]) for a in answers if a.values),
        key=lambda row: row[1],
        default=None,
    )
    return {
        "windows": len(answers),
        "overloaded": [number for number, used in rows if used > 1.0],
        "most_used": None if worst is None else worst[0],
        "weakest": None if least is None else least[0],
    }


def _used(answers: Sequence[WindowAnswer]) -> Iterator[tuple[str, float]]:
    for answer in answers:
        used = answer.values["wind"]["utilisation"] if answer.values else None
        if used is not None:
            yield answer.number, used
