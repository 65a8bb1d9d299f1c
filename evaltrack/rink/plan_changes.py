"""What a coach changes in a plan by hand: every change gives another plan that fills the same ice time."""

from collections.abc import Iterable
from dataclasses import replace
from uuid import UUID

from evaltrack.rink.plan import Part
from evaltrack.rink.plan_card import STEPS, CardBlock, CardPlace, PlanCard


def moved(card: PlanCard, player: UUID, station: int) -> PlanCard:
    """Let a player begin at another station, and stay there when groups are made anew."""
    return replace(card, places={**card.places, player: CardPlace(station, locked=True)})


def held(card: PlanCard, player: UUID) -> PlanCard:
    """Lock a player at their station, or let them go again."""
    place = card.places[player]
    return replace(card, places={**card.places, player: replace(place, locked=not place.locked)})


def locked(card: PlanCard, at: int) -> PlanCard:
    """Lock a block, or let it go again."""
    return _with(card, {at: replace(card.blocks[at], locked=not card.blocks[at].locked)})


def lengthened(card: PlanCard, at: int, by: int) -> PlanCard:
    """Give a block a minute more (``by`` 1) or less (-1); another one makes up for it.

    The stations run at once, so one of them changes with all the others: each round is a minute longer or
    shorter. Where nothing can make up for that, nothing changes.
    """
    changed = card
    for place in card.rounds if at in card.rounds else (at,):
        other = _makes_up(changed, at, by)
        if other is None or changed.blocks[place].minutes + by < 1:
            return card
        first, second = (changed.blocks[n] for n in (place, other))
        changed = _with(changed, {place: _longer(first, by), other: _longer(second, -by)})
    return changed


def _makes_up(card: PlanCard, at: int, by: int) -> int | None:
    """Return the block that gives the minute, or gets it: None where there is none.

    It is the longest of those that may give, or the shortest of those that may get, of equal ones the last:
    one for all together or at the own station, else a round, else any. No changeover and no talk gets longer.
    """
    apart = card.rounds if at in card.rounds else (at,)
    never = (Part.CHANGEOVER,) if by > 0 else (Part.CHANGEOVER, Part.BOARD)
    blocks = [(n, b) for n, b in enumerate(card.blocks) if n not in apart and b.part not in never]
    left = [n for n, b in blocks if not b.locked and b.minutes - by >= 1]
    whole = [n for n in left if card.blocks[n].part in (Part.TOGETHER, Part.OWN)]
    found = whole or [n for n in left if n in card.rounds] or left
    return max(found, key=lambda n: (by * card.blocks[n].minutes, n), default=None)


def _longer(block: CardBlock, by: int) -> CardBlock:
    minutes = block.minutes + by
    scale = minutes / block.minutes
    return replace(block, minutes=minutes, fewest=block.fewest * scale, most=block.most * scale)


def swapped(card: PlanCard, at: int, other: int) -> PlanCard:
    """Change what is done in two blocks with a step for one another, each in the other's minutes.

    Whoever begins at one of two stations still begins with the same step. Both are locked.
    """
    first, second = card.blocks[at], card.blocks[other]
    blocks = {at: _in_place_of(first, second), other: _in_place_of(second, first)}
    turned = {at: other, other: at}
    looks = tuple(
        sorted(
            (replace(look, block=turned.get(look.block, look.block)) for look in card.looks),
            key=lambda look: look.block,
        )
    )
    rounds = card.rounds
    changed = _with(replace(card, looks=looks), blocks)
    if at in rounds and other in rounds:
        changed = _groups_along(changed, rounds.index(at), rounds.index(other))
    starts = list(changed.starts)
    for station, place in enumerate(rounds or [n for n, b in enumerate(card.blocks) if b.part in STEPS][:1]):
        block = changed.blocks[place]
        starts[station] = (block.drill, block.step)
    return replace(changed, starts=tuple(starts))


def _in_place_of(place: CardBlock, content: CardBlock) -> CardBlock:
    scale = place.minutes / content.minutes
    return replace(
        content,
        part=place.part,
        minutes=place.minutes,
        fewest=content.fewest * scale,
        most=content.most * scale,
        locked=True,
    )


def _groups_along(card: PlanCard, one: int, other: int) -> PlanCard:
    turned = {one: other, other: one}
    places = {
        player: replace(place, station=turned.get(place.station, place.station))
        for player, place in card.places.items()
    }
    return replace(card, places=places)


def can_swap(card: PlanCard, at: int) -> bool:
    """Say whether a block has a step that another one could have."""
    return card.blocks[at].part in STEPS


def held_steps(card: PlanCard) -> tuple[tuple[int, str, str], ...]:
    """Return the locked steps as a plan is asked for them: the place among the steps, drill and step."""
    steps = [block for block in card.blocks if block.part in STEPS]
    return tuple((at, b.drill, b.step) for at, b in enumerate(steps) if b.locked)


def held_players(card: PlanCard) -> dict[UUID, int]:
    """Return the station of each player who is locked there."""
    return {player: place.station for player, place in card.places.items() if place.locked}


def kept_from(before: PlanCard, card: PlanCard) -> PlanCard:
    """Return a plan worked out anew in which what was locked before is locked, with its minutes.

    Minutes are kept as far as the other blocks have enough.
    """
    same = _alike(before.blocks, card.blocks)
    changed = _with(card, {at: replace(card.blocks[at], locked=True) for at in same})
    rounds = [at for at in same if at in card.rounds]
    for at, old in same.items():
        if at in rounds[1:]:
            continue  # the first one has brought all rounds along
        for _ in range(abs(old.minutes - card.blocks[at].minutes)):
            by = 1 if old.minutes > changed.blocks[at].minutes else -1
            changed = lengthened(changed, at, by)
    stays = {p: place for p, place in before.places.items() if place.locked and p in card.places}
    places = {p: replace(place, locked=p in stays) for p, place in changed.places.items()}
    return replace(changed, places=places)


def _alike(before: Iterable[CardBlock], after: Iterable[CardBlock]) -> dict[int, CardBlock]:
    """Return the locked blocks of before by their places after: the same part for as many times."""

    def numbered(blocks: Iterable[CardBlock]) -> list[tuple[Part, int]]:
        parts = [block.part for block in blocks]
        return [(part, parts[:at].count(part)) for at, part in enumerate(parts)]

    before, after = tuple(before), tuple(after)
    places = {name: at for at, name in enumerate(numbered(after))}
    return {
        places[name]: block
        for name, block in zip(numbered(before), before, strict=True)
        if block.locked and name in places
    }


def _with(card: PlanCard, blocks: dict[int, CardBlock]) -> PlanCard:
    return replace(card, blocks=tuple(blocks.get(at, block) for at, block in enumerate(card.blocks)))
