"""Which skills may stand under going well and which may be a next step: the list that a coach picks from."""

from collections.abc import Sequence
from dataclasses import dataclass

from evaltrack.analysis.standings.standing import Standing
from evaltrack.rink.player import Player
from evaltrack.words.family.choice import choose, next_step, strength
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.skill_words import next_words, strength_words


@dataclass(frozen=True, slots=True)
class Offered:
    """One skill that may be picked: what the page would say of it, and whether it says so as drafted."""

    skill: str
    name: str
    text: str
    drafted: bool


@dataclass(frozen=True, slots=True)
class Choices:
    """What may be picked, in the order of the catalogue: never what the call contradicts."""

    strengths: tuple[Offered, ...]
    next_skills: tuple[Offered, ...]


def choices(ground: Ground, player: Player, standings: Sequence[Standing]) -> Choices:
    """Return which skills may stand under going well and which may be a next step, each with its sentences.

    They are in the language in force.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue, as of the ground's day.
    """
    ground, drafted = ground.in_words(), choose(standings)
    return Choices(
        tuple(_offered(ground, s, strength_words, drafted.strengths) for s in standings if strength(s)),
        tuple(_offered(ground, s, next_words, drafted.next_skills) for s in standings if next_step(s)),
    )


def _offered(ground: Ground, standing: Standing, words, drafted: Sequence[Standing]) -> Offered:
    skill = ground.skills[standing.skill]
    return Offered(skill.key, skill.name, words(skill, standing, ground.axis.last), standing in drafted)
