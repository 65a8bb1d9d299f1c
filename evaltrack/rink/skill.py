"""A skill and the words that define it."""

from dataclasses import dataclass

from evaltrack.rink.player import Position

DEFAULT_TARGET = 0.6


@dataclass(frozen=True, slots=True)
class Definition:
    """What an observer must know to tally alike: when a try starts, what is done, missed, not counted."""

    starts: str
    done: str
    missed: str
    not_counted: str


@dataclass(frozen=True, slots=True)
class Skill:
    """A named skill.

    ``caption`` is the definition in a few words for the head of a board. ``looks_like`` and ``at_home``
    are for the family's page. ``target`` is the share done that the coach asks for, between 0 and 1.
    ``version`` counts the definitions: a changed definition starts a new series.
    """

    key: str
    name: str
    positions: tuple[Position, ...]
    caption: str
    definition: Definition
    looks_like: str
    at_home: tuple[str, ...] = ()
    target: float = DEFAULT_TARGET
    version: int = 1

    def suits(self, *positions: Position) -> bool:
        """Say whether the skill is watched in players of this position group, or of one of these."""
        return any(position in self.positions for position in positions)
