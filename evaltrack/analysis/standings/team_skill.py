"""What the team does in one skill, as plain values. Importing this loads nothing heavy."""

from dataclasses import dataclass

from evaltrack.analysis.standings.standing import Cause, Trend


@dataclass(frozen=True, slots=True)
class KindCost:
    """What one kind of try costs the team, against all others of its cause.

    Attributes
    ----------
    cause : ``step`` or ``pressure``.
    named : the step's drill and key as ``drill/step``; for pressure ``yes``.
    tries, others : how many of the team's tries in the skill were of that kind, and how many were not.
    cost : by how many points of share the team is lower in tries of that kind than in the others, with its
        90 % interval from ``cost_low`` to ``cost_high``; below zero where it is easier.
    """

    cause: Cause
    named: str
    tries: int
    others: int
    cost: float
    cost_low: float
    cost_high: float


@dataclass(frozen=True, slots=True)
class TeamSkill:
    """What the team does in one skill: the players whose share is shown, each counting alike.

    ``share``, ``start_share`` and ``change`` are the means of those of the ``players``' standings;
    ``change_low`` and ``change_high`` bound the 90 % interval of the change, ``p_up`` is the probability that
    it is above zero. Without a player whose share is shown these are zero, and ``p_up`` a half.
    """

    skill: str
    players: int
    tries: int
    done: int
    share: float
    start_share: float
    change: float
    change_low: float
    change_high: float
    p_up: float
    trend: Trend
    costs: tuple[KindCost, ...] = ()
