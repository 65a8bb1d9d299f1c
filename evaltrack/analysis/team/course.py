"""What can be said of the whole team in one skill, as plain values. Importing this loads nothing heavy."""

from dataclasses import dataclass
from itertools import chain

from evaltrack.analysis.standings.standing import Cause, PathPoint, Seen, Trend
from evaltrack.analysis.standings.targets import Below


@dataclass(frozen=True, slots=True)
class Cost:
    """What a kind of try costs the team in a skill: a step of a drill, or pressure.

    Attributes
    ----------
    cause : ``step`` or ``pressure``.
    named : the step's drill and key as ``drill/step``; for pressure ``yes``.
    tries, done : what was counted in tries of that kind.
    others : how many tries were of another one; those in which pressure was not noted are of neither.
    cost : by how many points of share the team does worse in tries of that kind than in the others, in the
        mix in which all of them come, with its 90 % interval from ``low`` to ``high``; below zero where it is
        easier. All three are zero where there are no others.
    """

    cause: Cause
    named: str
    tries: int
    done: int
    others: int
    cost: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Reached:
    """How many players are at or above a target: all who can be judged but those who are below it.

    Attributes
    ----------
    target : the share that is asked for.
    of : how many players can be judged.
    then, now : the expected number at the start and at the end of each player's own time, with its 90 %
        interval in whole players from ``then_low`` to ``then_high``, and from ``now_low`` to ``now_high``.
    """

    target: float
    of: int
    then: float
    then_low: int
    then_high: int
    now: float
    now_low: int
    now_high: int

    @property
    def about(self) -> tuple[int, int]:
        """The expected numbers then and now, in whole players."""
        # from those below, or half a player could count on both sides or on none
        return self.of - round(self.of - self.then), self.of - round(self.of - self.now)


def reached_of(then: Below, now: Below) -> Reached:
    """Return how many are at a target, from how many were and are below it."""
    figures = ((one.of - one.expected, one.of - one.high, one.of - one.low) for one in (then, now))
    return Reached(then.target, then.of, *chain(*figures))


@dataclass(frozen=True, slots=True)
class TeamCourse:
    """What can be said of the team in one skill.

    The team are those ``players`` who are in it now and have a try in the skill, each counted alike. Its
    share on a day is the mean of theirs, as their standings have them. Who came later counts before that as
    when they came, and who was away as when they were last there: so it tells how the players changed and
    not who was there.

    ``path`` is the share on each day on which the skill was watched, with its intervals; empty where
    ``doubt`` says why the estimate must not be shown. ``seen`` is what was counted on each of these days.
    ``change`` is the share on the last day minus that on the first, with its 90 % interval. ``costs`` are
    those of the steps in order of their names, then that of pressure where some tries were under it and some
    were not. ``reached`` are in the order in which the targets were asked for.
    """

    skill: str
    players: int
    tries: int
    done: int
    practices: int
    seen: tuple[Seen, ...] = ()
    path: tuple[PathPoint, ...] = ()
    change: float = 0.0
    change_low: float = -1.0
    change_high: float = 1.0
    trend: Trend = Trend.NO_CLEAR_CHANGE
    costs: tuple[Cost, ...] = ()
    reached: tuple[Reached, ...] = ()
    doubt: str | None = None

    @property
    def compared(self) -> list[Cost]:
        """The costs of kinds beside which there were others: of a lone step there is nothing to draw."""
        return [cost for cost in self.costs if cost.others]
