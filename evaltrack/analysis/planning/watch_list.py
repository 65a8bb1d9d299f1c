"""What the observer watches in each block, and whom first."""

from collections import Counter
from collections.abc import Collection, Sequence

from evaltrack.analysis.planning.known_season import KnownSeason
from evaltrack.analysis.planning.worth_watching import day_spread, looks_of
from evaltrack.analysis.standings.standing import Coverage
from evaltrack.rink.plan import Block, Look, Watch
from evaltrack.rink.player import Player

FIRST = 4  # players to look at first: more than that nobody keeps in mind
LEAST = 0.01  # calls: a look that brings fewer is not asked for


def watch_list(known: KnownSeason, here: Sequence[Player], blocks: Sequence[Block]) -> tuple[Watch, ...]:
    """Return for each block with a step the skill to watch, and the players to look at first.

    It is the skill in which the first few looks are worth most together, another one in each block as long as
    there are others. Nobody stands twice on the list with the same skill. Of looks that are worth the same,
    as all are before the first tally, those at players who are not on it yet come first.
    """
    looks = all_looks(known, {player.number for player in here})
    found: list[Watch] = []
    taken: set[tuple[str, str]] = set()
    for number, block in enumerate(blocks):
        if not block.drill:
            continue
        gets = {(one.player, one.skill) for one in block.tries}
        listed = Counter(player for player, _ in taken)
        left = [one for one in looks if (one.player, one.skill) in gets - taken]
        left.sort(key=lambda one: (-round(max(one.worth, 0.0), 6), listed[one.player]))
        watched = {watch.skill for watch in found}
        keys = [key for key in block.skills if key not in watched] or list(block.skills)
        best = _best(left, keys) or _best(left, list(block.skills))
        if best:
            found.append(Watch(number, best[0].skill, tuple(best)))
            taken |= {(one.player, one.skill) for one in best}
    return tuple(found)


def _best(looks: Sequence[Look], skills: Sequence[str]) -> list[Look]:
    each = [[one for one in looks if one.skill == skill and _tells(one)][:FIRST] for skill in skills]
    return max((e for e in each if e), key=lambda e: sum(max(one.worth, 0.0) for one in e), default=[])


def _tells(one: Look) -> bool:
    """Say whether a look can bring a call, as far as that is known."""
    return one.worth >= LEAST or not one.visits


def all_looks(known: KnownSeason, here: Collection[str]) -> list[Look]:
    """Return whom to watch in what: what is worth most first, then what nothing can be told of yet."""
    rows = [row for row in known.coverage if row.player in here]
    targets = {skill.key: skill.target for skill in known.skills}
    found = looks_of(rows, targets, day_spread(known.fits))
    told = {(one.player, one.skill) for one in found}
    return found + [_unknown(row) for row in sorted(rows, key=_seen) if (row.player, row.skill) not in told]


def _seen(row: Coverage) -> tuple[int, int]:
    return row.tries, row.practices


def _unknown(row: Coverage) -> Look:
    return Look(row.player, row.skill, row.tries, row.practices, row.days_since, 0.5, 0.0, 0)
