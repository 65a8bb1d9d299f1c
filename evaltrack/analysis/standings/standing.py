"""What can be said of one player in one skill, as plain values. Importing this loads nothing heavy."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from evaltrack.language import mark

ENOUGH_TRIES, ENOUGH_PRACTICES = 10, 3  # from which a call and a trend are made
LEAST_MOVE = 0.02  # of a share, to be told by itself as what moved it


class Call(StrEnum):
    """The call against the coach's target for the skill, never against team-mates."""

    TOO_FEW = mark("too few")
    WORK_ON = mark("work on")
    IN_BETWEEN = mark("in between")
    SOLID = mark("solid")


class Trend(StrEnum):
    """The direction since the window's start; ``no clear change`` is the usual answer, and right."""

    UP = mark("up")
    DOWN = mark("down")
    NO_CLEAR_CHANGE = mark("no clear change")


@dataclass(frozen=True, slots=True)
class PathPoint:
    """The model's share on one day, with its 90 % (low, high) and 50 % (low50, high50) intervals."""

    on: date
    share: float
    low: float
    high: float
    low50: float
    high50: float


@dataclass(frozen=True, slots=True)
class Seen:
    """What was seen of the player in this skill at one practice."""

    on: date
    tries: int
    done: int


@dataclass(frozen=True, slots=True)
class Met:
    """Against whom some of a player's tries were: the opponent's jersey number, and what was counted."""

    opponent: str
    tries: int
    done: int


class Cause(StrEnum):
    """What the estimate allowed for in a player's tries, so that it stands away from the plain count."""

    PRESSURE = "pressure"
    STEP = "step"
    OBSERVER = "observer"
    OPPONENT = "opponent"
    DAYS = "days"
    CHANGE = "change"
    LUCK = "luck"
    REST = "rest"


@dataclass(frozen=True, slots=True)
class Reason:
    """One part of the way from the plain count to the share now; the parts of a standing add up to it.

    Attributes
    ----------
    cause : what was allowed for. What is left after all else is ``luck``: how far the tries came off
        otherwise than the share that is expected in just these tries, by the team and by all the player did.
        ``rest`` is all that moved the share by less than ``LEAST_MOVE`` each, together.
    moved : by how much it moves the share, with its 90 % interval from ``low`` to ``high``.
    named : the kind of try that the player met oftener than usual and that moved most, in the direction of
        ``moved``: the step's drill and key as ``drill/step``, the observer, or for pressure ``yes`` or
        ``no``. Empty where no kind did, and for causes that have no kinds.
    tries : how many of the player's tries were of that kind, and ``usual`` in which share of tries it
        comes: those of the player's position group, for an observer those of all.
    month : the month (1 to 12) that holds more than half of those tries, 0 when none does.
    cost : by how many points the share of the player's position group is lower in tries of that kind than in
        the others, in the group's mix, with its 90 % interval from ``cost_low`` to ``cost_high``; below zero
        where it is easier. It has the sign of ``moved``. Zero where no kind is named.
    gathered : what the rest is made of.
    """

    cause: Cause
    moved: float
    low: float
    high: float
    named: str = ""
    tries: int = 0
    usual: float = 0.0
    month: int = 0
    cost: float = 0.0
    cost_low: float = 0.0
    cost_high: float = 0.0
    gathered: "tuple[Reason, ...]" = ()


COLUMNS = (
    "player", "name", "position", "skill", "tries", "done", "practices", "share", "low", "high",
    "low50", "high50", "start_share", "change", "change_low", "change_high", "p_up", "target",
    "p_below", "call", "trend",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Standing:
    """What can be said of one player in one skill.

    The fields up to ``trend`` are the columns of ``standings --format csv``, in that order.
    ``player`` is the jersey number, ``skill`` the skill's key. ``position`` is as a roster.csv has it:
    ``D/F`` of a defender who plays forward too, whose position group is the first one. ``share`` is the
    share done now, as the season's observers see it in their shares of the skill's tries, under the mix of
    steps and pressure of the player's position group, against those whom the group met, on an ordinary day;
    ``low`` and ``high`` bound its 90 % interval, ``low50`` and ``high50`` its 50 % interval. ``change`` is
    ``share`` minus ``start_share``, the same at the start of the player's own time. ``p_up`` is the
    probability that the change is above zero, ``p_below`` that the share is below ``target``.

    A player's own time runs from the later of the skill's first day and the player's first practice to the
    earlier of their last ones: ``path`` is the share day by day over it, so its first day is the start and
    its last day is now. ``seen`` is what was observed at each practice, ``met`` against whom, most tries
    first, as far as that is known. ``doubt`` is a plain sentence when the estimate must not be shown as an
    ordinary one. ``reasons`` say what moved the share away from the plain count. ``to_go`` is how many more
    tries bring the 90 % interval to 30 points across if the season goes on as so far; None where as many
    tries again would not, or where there are too few to foretell it.
    """

    player: str
    name: str
    position: str
    skill: str
    tries: int
    done: int
    practices: int
    share: float
    low: float
    high: float
    low50: float
    high50: float
    start_share: float
    change: float
    change_low: float
    change_high: float
    p_up: float
    target: float
    p_below: float
    call: Call
    trend: Trend
    met: tuple[Met, ...] = ()
    path: tuple[PathPoint, ...] = ()
    seen: tuple[Seen, ...] = ()
    doubt: str | None = None
    reasons: tuple[Reason, ...] = ()
    to_go: int | None = None

    @property
    def judged(self) -> bool:
        """Whether the player can be judged: tries enough for a call, and an estimate that may be shown."""
        return self.call is not Call.TOO_FEW and self.doubt is None

    @property
    def missing(self) -> tuple[int, int]:
        """How many tries, and tries at how many practices, are missing until a call can be made."""
        return missing(self.tries, self.practices)


@dataclass(frozen=True, slots=True)
class Coverage:
    """How much one player was watched in one skill, and how well that tells their share.

    Attributes
    ----------
    player, name, position, skill : as in a standing.
    tries, practices : how many there were; zero for a player who was not yet seen in the skill.
    days_since : days from the player's last try in the skill to the season's last practice; None without
        a try.
    low, high : the 90 % interval of their share now; 0 and 1 where nothing is known.
    to_go : as in a standing; None for whoever was not yet seen, too.
    """

    player: str
    name: str
    position: str
    skill: str
    tries: int
    practices: int
    days_since: int | None
    low: float
    high: float
    to_go: int | None

    @property
    def known(self) -> bool:
        """Whether anything is known of the share."""
        return (self.low, self.high) != (0, 1)

    @property
    def missing(self) -> tuple[int, int]:
        """How many tries, and tries at how many practices, are missing until a call can be made."""
        return missing(self.tries, self.practices)


def missing(tries: int, practices: int) -> tuple[int, int]:
    """Return how many tries, and tries at how many practices, are missing until a call can be made."""
    return max(ENOUGH_TRIES - tries, 0), max(ENOUGH_PRACTICES - practices, 0)
