"""Things within skills: which players, steps, observers or opponents occur in which skill."""

from dataclasses import dataclass

import numpy as np

Array = np.ndarray


@dataclass(frozen=True)
class Pairs:
    """Things within skills, numbered as they occur: ``codes`` (n,), and for each its skill and thing."""

    codes: Array
    skill: Array
    thing: Array

    @property
    def size(self) -> int:
        """The number of pairs."""
        return len(self.skill)

    def of_skill(self, skill: int) -> Array:
        """Return the numbers (k,) of a skill's pairs."""
        return np.flatnonzero(self.skill == skill)

    def number_of(self, skill: int, things: Array) -> Array:
        """Return the numbers of things (k,) of a skill, in the order given; -1 for one it does not have."""
        mine = self.of_skill(skill)
        same = np.asarray(things)[:, None] == self.thing[mine]
        return np.where(same.any(1), mine[same.argmax(1)], -1)


def pairs(skill: Array, thing: Array) -> Pairs:
    """Return the pairs of skill and thing that occur in cells (n,), each number 0 or more."""
    width = int(thing.max(initial=0)) + 1
    found, codes = np.unique(skill * width + thing, return_inverse=True)
    return Pairs(codes, found // width, found % width)


def pairs_where(known: Array, skill: Array, thing: Array) -> Pairs:
    """Return the pairs of those cells (n,) in which the thing is known; the others have the number 0."""
    found, codes = pairs(skill, thing), np.zeros(len(known), int)
    codes[known] = found.codes
    return Pairs(codes, found.skill, found.thing)
