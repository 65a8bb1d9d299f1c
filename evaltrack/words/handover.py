"""How a hand-over between two tablets reads, on the screen and on the command line."""

from evaltrack.device.handover.course import Course, Stage
from evaltrack.language import mark, tr, tr_many
from evaltrack.words.packs import apart_words
from evaltrack.words.wording import sentence

_STAGES = {
    Stage.WAITING: mark("Waiting for the other tablet ..."),
    Stage.GREETING: mark("Greeting the other tablet ..."),
    Stage.GIVING: mark("Giving what is noted here ..."),
    Stage.TAKING: mark("Taking what is noted there ..."),
    Stage.COMPARING: mark("Comparing both seasons ..."),
    Stage.TOGETHER: mark("Both tablets are together."),
    Stage.ENDED: mark("The hand-over has ended."),
}
_APART = 2 * 60_000  # ms between two clocks that are worth a word


def stage_words(course: Course) -> str:
    """Return what goes on just now."""
    return tr(_STAGES[course.stage])


def missed_words(course: Course) -> str:
    """Return how often the code was typed wrongly on the other tablet, empty for never."""
    if not course.missed:
        return ""
    return tr_many(
        "A wrong code was typed there once. After three the code is dead.",
        "A wrong code was typed there {number} times. After three the code is dead.",
        course.missed,
    )


def exchanged_words(course: Course) -> str:
    """Return how many tallies came in and went out."""
    came = tr_many("{number} tally came in.", "{number} tallies came in.", course.taken)
    went = tr_many("{number} tally went out.", "{number} tallies went out.", course.given)
    return f"{came} {went}"


def together_words(since: str, silent: float) -> str:
    """Return since when both are together, and how many seconds ago the other one was last heard."""
    return tr_many(
        "Together since {since}, last heard {number} s ago.",
        "Together since {since}, last heard {number} s ago.",
        round(silent),
        since=since,
    )


def told_lines(course: Course) -> list[str]:
    """Return in sentences what came in that is worth a look."""
    return [sentence(line) for line in course.told]


def clocks_words(course: Course) -> str:
    """Return by how much the clocks of both differ, empty where that does not matter."""
    if abs(course.behind) < _APART:
        return ""
    apart = apart_words(abs(course.behind))
    if course.behind > 0:
        return tr(
            "The clock of the other tablet is {apart} behind this one. Set the one that is wrong.",
            apart=apart,
        )
    return tr(
        "The clock of the other tablet is {apart} ahead of this one. Set the one that is wrong.", apart=apart
    )


def outcome_lines(course: Course, trouble: str = "") -> list[str]:
    """Return what came of a hand-over, and what is to be looked at; ``trouble`` is why it ended early."""
    lines = [sentence(trouble)] if trouble else []
    if course.given or course.taken or not trouble:
        lines.append(exchanged_words(course))
    if course.equal and not trouble:
        lines.append(tr("Both tablets have the same season now."))
    if course.equal is False and not trouble:
        lines.append(
            tr(
                "Both are not the same yet: hand over once more. Who was erased on one of them is to be"
                " erased on both."
            )
        )
    return [*lines, *filter(None, [clocks_words(course)]), *told_lines(course)]
