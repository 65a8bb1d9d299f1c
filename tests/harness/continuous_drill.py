"""A continuous drill as it happens on the ice: who tries what in which rep, and at which moment."""

import random
from collections.abc import Iterator
from dataclasses import dataclass

from evaltrack.rink.drill import Step
from evaltrack.rink.player import Player
from evaltrack.rink.rotation.rotation import Rotation
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome

_OUTCOMES = (Outcome.DONE,) * 12 + (Outcome.MISSED,) * 7 + (Outcome.UNSEEN,)
_SEEN = 0.6  # of what else there is to see in a rep


@dataclass(frozen=True)
class Try:
    """One try. By rep it has its rep and its slot, and ``begins`` says that it is the first of its rep."""

    number: str
    skill: str
    outcome: Outcome
    rep: int = 0
    slot: str = ""
    begins: bool = False


class Ice:
    """Tries at random. ``wrong_line`` is the share of reps in which somebody goes whose turn it is not."""

    def __init__(self, here: list[Player], skills: list[Skill], chance: random.Random, wrong_line: float = 0):
        self._here, self._skills, self._chance, self._wrong_line = here, skills, chance, wrong_line
        self._number = {player.id: player.number for player in here}

    def moments(self, per_minute: float, minutes: float) -> Iterator[float]:
        """Yield moments in seconds, so many a minute on average, one independent of the other."""
        now = self._chance.expovariate(per_minute / 60)
        while now < minutes * 60:
            yield now
            now += self._chance.expovariate(per_minute / 60)

    def group(self, skill: str) -> Iterator[Try]:
        """Yield tries of anybody in one skill."""
        while True:
            yield Try(self._chance.choice(self._here).number, skill, self._outcome())

    def player(self, player: Player) -> Iterator[Try]:
        """Yield tries of one player in any skill of his position."""
        skills = [skill.key for skill in self._skills if skill.suits(player.position)]
        while True:
            yield Try(player.number, self._chance.choice(skills), self._outcome())

    def reps(self, step: Step) -> Iterator[Try]:
        """Yield tries rep by rep: the first skill of the first slot begins each, some others are seen."""
        rotation = Rotation.first(step, self._here)
        while True:
            if self._chance.random() < self._wrong_line:
                rotation = self._somebody_else(rotation)
            first, *rest = [(slot, skill) for slot in step.slots for skill in slot.skills]
            others = [pair for pair in rest if self._chance.random() < _SEEN]
            for slot, skill in [first, *self._chance.sample(others, len(others))]:
                number = self._number[rotation.slots[slot.key]]
                begins = (slot, skill) == first
                yield Try(number, skill, self._outcome(), rotation.rep, slot.name, begins)
            rotation = rotation.next_rep()

    def _somebody_else(self, rotation: Rotation) -> Rotation:
        slot = self._chance.choice([s for s in rotation.step.slots if rotation.queues[s.position]])
        return rotation.swap(slot.key, rotation.queues[slot.position][-1])

    def _outcome(self) -> Outcome:
        return self._chance.choice(_OUTCOMES)
