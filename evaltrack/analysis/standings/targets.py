"""Whom another target would put below it. Importing this loads nothing heavy."""

from collections.abc import Iterable
from typing import NamedTuple

from evaltrack.analysis.standings.standing import Standing


class Below(NamedTuple):
    """How many players have a share below a target ``now`` and ``then``, ``of`` how many with a try."""

    now: int
    then: int
    of: int


def below_both(standings: Iterable[Standing], skill: str, now: float, then: float) -> Below:
    """Count the players below the target of a skill now, and below another one."""
    shares = [one.share for one in standings if one.skill == skill]
    return Below(sum(share < now for share in shares), sum(share < then for share in shares), len(shares))
