"""The plan of a practice as a coach has it in hand: what is kept, shown, changed and printed of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from evaltrack.rink.plan import BAND, Grouping, Part, WishKind
from evaltrack.rink.practice import Surface

STEPS = (Part.STATION, Part.TOGETHER)  # the parts that have a step of their own


@dataclass(frozen=True, slots=True)
class CardBlock:
    """A stretch of the ice time, in whole minutes.

    Attributes
    ----------
    drill, step, skills : keys; empty where there is none.
    watch : the key of the skill for the observer.
    why : the reason in words.
    pace : how fast it goes, in words, and so how many tries each player can expect: ``fewest`` to ``most``.
    locked : whether it stays when the rest is worked out anew.
    """

    part: Part
    minutes: int
    drill: str = ""
    step: str = ""
    skills: tuple[str, ...] = ()
    watch: str = ""
    why: str = ""
    pace: str = ""
    fewest: float = 0.0
    most: float = 0.0
    locked: bool = False


@dataclass(frozen=True, slots=True)
class CardPlace:
    """At which station a player begins, from 0, and whether they stay there when groups are made anew."""

    station: int
    locked: bool = False


@dataclass(frozen=True, slots=True)
class CardLook:
    """A player to look at first in a block, counted from 0, and why."""

    block: int
    player: UUID
    why: str = ""


@dataclass(frozen=True, slots=True)
class CardWish:
    """What is wished of two players; ``why`` it could not be met when groups were made, empty if it was.

    It ``binds`` where it asks for something: both are expected, and were together before if it is not to be
    so again.
    """

    kind: WishKind
    player: UUID
    other: UUID
    binds: bool = True
    why: str = ""

    @property
    def pair(self) -> frozenset[UUID]:
        """Return the two players."""
        return frozenset((self.player, self.other))


@dataclass(frozen=True, slots=True)
class PlanCard:
    """A plan as it is kept.

    Attributes
    ----------
    day : for which it is meant.
    blocks : they add up to ``minutes``.
    starts : drill and step of each station, by their keys.
    places : everybody who is expected, in order of number.
    train : the keys of the skills to be trained, each with the reason.
    remarks : what must be said of the whole, in sentences.
    ice_time : the uid of the ice time that it is for; empty for none.
    practice : the key of the practice that was started from it; empty before that.
    stations, coaches, surface, grouping, band, wishes : what was asked for.
    """

    day: date
    blocks: tuple[CardBlock, ...]
    starts: tuple[tuple[str, str], ...]
    places: Mapping[UUID, CardPlace]
    looks: tuple[CardLook, ...] = ()
    train: tuple[tuple[str, str], ...] = ()
    remarks: tuple[str, ...] = ()
    ice_time: str = ""
    practice: str = ""
    stations: int = 3
    coaches: int = 3
    surface: Surface = Surface.FULL
    grouping: Grouping = Grouping.NEED
    band: tuple[float, float] = BAND
    wishes: tuple[CardWish, ...] = ()

    @property
    def minutes(self) -> int:
        """Return the ice time."""
        return sum(block.minutes for block in self.blocks)

    @property
    def goes_round(self) -> bool:
        """Say whether every group comes by every station."""
        return any(block.part is Part.STATION for block in self.blocks)

    @property
    def rounds(self) -> tuple[int, ...]:
        """Return the places of the blocks that are stations, in order; the n-th is round n of them all."""
        return tuple(at for at, block in enumerate(self.blocks) if block.part is Part.STATION)

    @property
    def groups(self) -> list[list[UUID]]:
        """Return who begins at each station."""
        return [
            [player for player, place in self.places.items() if place.station == at]
            for at in range(len(self.starts))
        ]

    def not_kept(self) -> list[CardWish]:
        """Return the wishes that ask for something which the groups, as they are now, do not give."""
        found = [wish for wish in self.wishes if wish.binds and wish.pair <= self.places.keys()]
        return [wish for wish in found if self._are_together(wish) != (wish.kind is WishKind.TOGETHER)]

    def _are_together(self, wish: CardWish) -> bool:
        return self.places[wish.player].station == self.places[wish.other].station

    def starts_at(self, at: int) -> int:
        """Return after how many minutes a block begins."""
        return sum(block.minutes for block in self.blocks[:at])

    def times_of(self, player: UUID, at: int) -> tuple[int, ...]:
        """Return the blocks in whose time a player is in the step of a block.

        All stations run at once, and the groups go on from round to round: so whoever begins at the second
        station is there in the first round, and at the first station in the last one.
        """
        if at not in self.rounds or player not in self.places:
            return (at,)
        count, station = len(self.rounds), self.rounds.index(at)
        begins = self.places[player].station
        own = (n for n, block in enumerate(self.blocks) if block.part is Part.OWN and begins == station)
        return (self.rounds[(station - begins) % count], *own)

    def looks_at(self, drill: str, step: str, skill: str) -> frozenset[UUID]:
        """Return whom to look at first while a skill is watched in a step."""
        meant = {at for at, b in enumerate(self.blocks) if (b.drill, b.step, b.watch) == (drill, step, skill)}
        return frozenset(look.player for look in self.looks if look.block in meant)
