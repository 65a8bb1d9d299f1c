"""What can be said of one player in one skill, as plain values. Importing this loads nothing heavy."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum


class Call(StrEnum):
    """The call against the coach's target for the skill, never against team-mates."""

    TOO_FEW = "too few"
    WORK_ON = "work on"
    IN_BETWEEN = "in between"
    SOLID = "solid"


class Trend(StrEnum):
    """The direction since the window's start; ``no clear change`` is the usual answer, and right."""

    UP = "up"
    DOWN = "down"
    NO_CLEAR_CHANGE = "no clear change"


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


COLUMNS = (
    "player", "name", "position", "skill", "tries", "done", "practices", "share", "low", "high",
    "low50", "high50", "start_share", "change", "change_low", "change_high", "p_up", "target",
    "p_below", "call", "trend",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Standing:
    """What can be said of one player in one skill.

    The fields up to ``trend`` are the columns of ``standings --format csv``, in that order.
    ``player`` is the jersey number, ``skill`` the skill's key. ``share`` is the share done now under the
    season's own mix of steps and pressure, with an average observer on an ordinary day; ``low`` and
    ``high`` bound its 90 % interval, ``low50`` and ``high50`` its 50 % interval. ``change`` is ``share``
    minus ``start_share``, the same at the window's start. ``p_up`` is the probability that the change is
    above nought, ``p_below`` that the share is below ``target``.

    ``path`` is the share day by day over the practices of the window, ``seen`` what was observed at each
    practice. ``doubt`` is a plain sentence when the estimate must not be shown as an ordinary one.
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
    path: tuple[PathPoint, ...] = ()
    seen: tuple[Seen, ...] = ()
    doubt: str | None = None
