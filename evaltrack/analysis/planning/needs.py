"""What to train: in which skills how many players are below the target, by how much, and how sure that is.

A skill is proposed when it is sure enough that at least a quarter of its players are below the target. Of
those the one in which they are farthest short comes first; what cannot be told from it goes by how little it
was trained lately.
"""

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

import numpy as np
from scipy.special import expit

from evaltrack.analysis.season.season_model import SkillFit
from evaltrack.analysis.season.together import together_of
from evaltrack.analysis.standings.below_target import AtOneMoment, Judged
from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.analysis.standings.targets import judged
from evaltrack.rink.plan import Likely, Need
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill

Array = np.ndarray
SURE = 0.9  # one proposal in ten may be wrong
PART = 0.25  # of a skill's players
MOST_PROPOSED = 3
ALIKE = 0.2  # a skill that is as likely as this to be the needier of two cannot be told from the other
LOW, HIGH = 0.05, 0.95


@dataclass(frozen=True)
class Lately:
    """How many tallies the last practices had, by skill and in all, and how many practices those are."""

    by_skill: Mapping[str, int]
    tallies: int
    practices: int


@dataclass(frozen=True)
class SkillNeed:
    """The need in one skill, and what it was counted from.

    ``short`` is by how much each player is expected to be short of the target, by number, in points;
    ``drawn`` how much all are together, in each draw.
    """

    need: Need
    short: Mapping[str, float]
    drawn: Array


def needs_of(
    players: Sequence[Player],
    skills: Sequence[Skill],
    fits: Mapping[str, SkillFit],
    standings: Sequence[Standing],
    lately: Lately,
) -> list[SkillNeed]:
    """Return the need in every skill of which enough is known, in the order of the skills.

    Parameters
    ----------
    players, skills : of whom and of what.
    fits, standings : of the season; a skill whose estimate is doubted is left out.
    """
    doubted = {one.skill for one in standings if one.doubt}
    return [
        _need(skill, players, fits[skill.key], standings, lately)
        for skill in skills
        if skill.key in fits and skill.key not in doubted and _seen(skill, players, fits)
    ]


def _seen(skill: Skill, players: Sequence[Player], fits: Mapping[str, SkillFit]) -> bool:
    known = set(fits[skill.key].players)
    return any(skill.suits(*player.positions) and player.id.bytes in known for player in players)


def _need(
    skill: Skill, here: Sequence[Player], fit: SkillFit, standings: Sequence[Standing], lately: Lately
) -> SkillNeed:
    place = {ident: row for row, ident in enumerate(fit.players)}
    suited = [player for player in here if skill.suits(*player.positions)]
    mine = [player for player in suited if player.id.bytes in place]
    now = {one.player: one.path[-1].on for one in standings if one.skill == skill.key and one.path}
    times = fit.axis.at([now[player.number] for player in mine])
    shares = expit(AtOneMoment(together_of(fit, [place[p.id.bytes] for p in mine]), times).drawn)
    missing, least = 100 * np.maximum(skill.target - shares, 0.0), ceil(PART * len(mine))
    below = _judged(here, fit, skill.key, standings).now(skill.target)
    need = Need(
        skill=skill.key,
        players=len(mine),
        judged=below.of,
        below=Likely(below.expected, below.low, below.high),
        short=_likely(missing.mean(1)),
        sure=float(((shares < skill.target).sum(1) >= least).mean()),
        least=least,
        tallies=lately.by_skill.get(skill.key, 0),
        of=lately.tallies,
        practices=lately.practices,
        named=_named(skill.key, {player.number for player in mine}, standings),
        unseen=len(suited) - len(mine),
    )
    each = dict(zip((player.number for player in mine), missing.mean(0).tolist(), strict=True))
    return SkillNeed(need, each, missing.sum(1))


def _judged(here: Sequence[Player], fit: SkillFit, skill: str, standings: Sequence[Standing]) -> Judged:
    """Return who is here and can be judged in a skill, whether it is of their position or not."""
    idents = {player.number: player.id.bytes for player in here}
    own = [one for one in judged(standings, skill) if one.player in idents]
    return Judged(fit, [(idents[one.player], (one.path[0].on, one.path[-1].on)) for one in own])


def _likely(drawn: Array) -> Likely:
    low, high = np.quantile(drawn, [LOW, HIGH]).tolist()
    return Likely(float(drawn.mean()), low, high)


def _named(skill: str, here: Collection[str], standings: Sequence[Standing]) -> tuple[str, ...]:
    """Return who may be named: those of whom the call is made, so nobody with too few tries."""
    return tuple(
        s.player for s in standings if s.skill == skill and s.call is Call.WORK_ON and s.player in here
    )


def proposed(needs: Sequence[SkillNeed]) -> list[SkillNeed]:
    """Return the skills that are proposed, at most three: none where nothing stands out."""
    left = [one for one in needs if one.need.sure >= SURE]
    found: list[SkillNeed] = []
    while left and len(found) < MOST_PROPOSED:
        most = max(left, key=lambda one: float(one.drawn.mean()))
        alike = [one for one in left if one is most or float((one.drawn > most.drawn).mean()) >= ALIKE]
        # of equal ones the needier first, and then by the order of the skills
        chosen = min(alike, key=lambda one: (one.need.tallies, -float(one.drawn.mean())))
        found.append(chosen)
        left = [one for one in left if one is not chosen]
    return found
