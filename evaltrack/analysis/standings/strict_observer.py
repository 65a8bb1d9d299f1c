"""An observer who counts fewer dones than the others, as plain values. Importing this loads nothing heavy."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class TeamCount:
    """What the team did in one skill: all tries, and those that the observer did not note."""

    skill: str
    tries: int
    done: int
    tries_without: int
    done_without: int


@dataclass(frozen=True, slots=True)
class StrictObserver:
    """An observer in whose tries the same player does less well, over all skills that others watched too.

    Who is stricter and who writes down mostly failures cannot be told apart by the counts.

    Attributes
    ----------
    observer, others : the observer, and who else noted the same skills.
    tries : how many the observer noted in those skills.
    severity : by how many logits the share is lower than in the others' tries, with its 90 % interval from
        ``low`` to ``high``.
    p_strict : the probability that it is lower by more than ``MUCH``.
    counts : the team's counts in those skills, with the observer and without.
    """

    observer: str
    others: tuple[str, ...]
    tries: int
    severity: float
    low: float
    high: float
    p_strict: float
    counts: tuple[TeamCount, ...]
