"""The marks for done, missed and unseen, drawn alike everywhere: a check, a hollow ring, a dash; pressure."""

from kivy.graphics import InstructionGroup, Line, Triangle
from kivy.metrics import dp

from evaltrack.language import mark, tr
from evaltrack.rink.tally import Outcome
from evaltrack.touch.widgets.outlines import ring

_WORDS = {Outcome.DONE: mark("done"), Outcome.MISSED: mark("missed"), Outcome.UNSEEN: mark("unseen")}


def outcome_word(outcome: Outcome) -> str:
    """Return what an outcome is called on a board."""
    return tr(_WORDS[outcome])


def add_ring(group: InstructionGroup, x: float, y: float, radius: float) -> None:
    """Add the mark of a missed try, in the colour in force."""
    group.add(ring(x, y, radius, max(dp(1.4), radius * 0.17)))


def add_check(group: InstructionGroup, x: float, y: float, radius: float) -> None:
    """Add the mark of a try that came off, in the colour in force."""
    points = (x - radius, y, x - radius * 0.3, y - radius * 0.8, x + radius * 1.1, y + radius * 0.9)
    group.add(Line(points=points, width=max(dp(1.5), radius * 0.19), cap="round", joint="round"))


def add_dash(group: InstructionGroup, x: float, y: float, radius: float) -> None:
    """Add the mark of what nobody saw, in the colour in force."""
    group.add(Line(points=(x - radius, y, x + radius, y), width=max(dp(1.5), radius * 0.19)))


def add_pressure(group: InstructionGroup, x: float, y: float, radius: float) -> None:
    """Add to a mark that the try was made under pressure: two wedges that press on it from the sides."""
    for side in (-1, 1):
        tip, back = x + side * radius * 1.5, x + side * radius * 2.2
        group.add(Triangle(points=(tip, y, back, y + radius * 0.6, back, y - radius * 0.6)))


MARKS = {Outcome.DONE: add_check, Outcome.MISSED: add_ring, Outcome.UNSEEN: add_dash}
