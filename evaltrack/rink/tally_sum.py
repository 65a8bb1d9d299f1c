"""How many tallies there are, and how many of them are tries that count."""

from collections.abc import Iterable
from dataclasses import dataclass, fields


@dataclass(frozen=True, slots=True)
class TallySum:
    """Tallies by what becomes of them; together they are ``tallies``.

    Attributes
    ----------
    tries : tries of players on the team under the definitions in force: those that standings are made of.
    unseen : noted as not seen, and no tries.
    earlier : tries under words that are not in force any more, or in a skill that is retired.
    left : tries of players who have left.
    """

    tries: int = 0
    unseen: int = 0
    earlier: int = 0
    left: int = 0

    @property
    def tallies(self) -> int:
        """Return how many these are together."""
        return self.tries + self.unseen + self.earlier + self.left

    def __add__(self, other: "TallySum") -> "TallySum":
        return TallySum(*(getattr(self, f.name) + getattr(other, f.name) for f in fields(self)))


def total(sums: Iterable[TallySum]) -> TallySum:
    """Return several sums as one."""
    return sum(sums, TallySum())
