"""Which tally of one observer and which of another are the same try, although their clocks differ.

Outcomes play no part in it: pairing by what was seen would make two observers agree better than they do.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import combinations

import numpy as np
from scipy.optimize import linear_sum_assignment
from scipy.special import pdtrc

from evaltrack.rink.plain_text import by_letters
from evaltrack.rink.tally import Outcome, Tally

WINDOW = 6_000  # ms: two people who see one try tap it within this, by one clock
MOST_OFFSET = 300_000  # ms: clocks further apart than two stations are would pair different stations
REACH = 3_600_000  # ms: looked at beyond that, to notice that the clocks are further apart
FEWEST = 8  # pairs: fewer say nothing about the clocks
CHANCE = 1e-3  # of finding as many coincidences somewhere if the two had watched different tries
MOST_AT_ONCE = 3  # tallies of one observer at one moment: more are a list without times, not taps

Pair = tuple[Tally, Tally]
_ROUNDS = 20


@dataclass(frozen=True, slots=True)
class Pairing:
    """What two observers both watched at one practice.

    ``offset`` is the second tablet's clock minus the first one's in milliseconds, None when no common time
    was found; then there are no pairs. ``first_tries`` and ``second_tries`` count each one's timed tries
    of the players and skills that both have.
    """

    practice: str
    first: str
    second: str
    offset: float | None
    pairs: tuple[Pair, ...]
    first_tries: int
    second_tries: int


def pair_practice(tallies: Iterable[Tally]) -> list[Pairing]:
    """Return a pairing for each two observers who both watched some player in some skill at a practice.

    ``tallies`` are those of one practice. ``unseen`` is no try and has no part in it, nor have tallies
    without a time. Tablets are told apart, since each has its own clock.
    """
    clocks = defaultdict(list)
    for tally in tallies:
        if tally.outcome is not Outcome.UNSEEN:
            clocks[tally.observer, tally.tablet].append(tally)
    timed = [(key, _timed(own)) for key, own in sorted(clocks.items(), key=_by_observer)]
    both = [(a, b) for (one, a), (two, b) in combinations(timed, 2) if one[0] != two[0]]
    return [found for a, b in both if (found := pair_two(a, b))]


def pair_two(first: Sequence[Tally], second: Sequence[Tally]) -> Pairing | None:
    """Return the pairing of two observers' tries at one practice, None when they have too little in common.

    Pairs are of the same player, skill and definition. Their clocks' offset is where most tries coincide,
    made finer to the median difference of the pairs. At that offset the pairs are the assignment with
    the greatest sum of ``WINDOW**2 - distance**2``: an exact optimum, which keeps the order of tries.
    """
    groups = _shared(first, second)
    counts = [sum(len(group[side]) for group in groups) for side in (0, 1)]
    if min(counts) < FEWEST:
        return None
    offset = _coincidence(np.concatenate([_differences(*group).ravel() for group in groups]))
    pairs: list[Pair] = []
    if offset is not None:
        offset, pairs = _settled(groups, offset)
    if len(pairs) < FEWEST:
        offset, pairs = None, []
    practice, names = first[0].practice, (first[0].observer, second[0].observer)
    return Pairing(practice, *names, offset, tuple(pairs), *counts)


def _by_observer(clock: tuple[tuple[str, str], list[Tally]]) -> tuple:
    (observer, tablet), _ = clock
    return by_letters(observer), tablet


def _timed(tallies: list[Tally]) -> list[Tally]:
    at_once = Counter(tally.at for tally in tallies)
    return [tally for tally in tallies if at_once[tally.at] <= MOST_AT_ONCE]


def _shared(first: Sequence[Tally], second: Sequence[Tally]) -> list[tuple[list[Tally], list[Tally]]]:
    """Return the tries of each player and skill that both have, each in order of time."""
    groups = defaultdict(lambda: ([], []))
    for side, tallies in enumerate((first, second)):
        for tally in sorted(tallies, key=lambda t: (t.at, t.id)):
            groups[tally.player, tally.skill, tally.skill_version][side].append(tally)
    return [group for group in groups.values() if all(group)]


def _differences(first: list[Tally], second: list[Tally]) -> np.ndarray:
    return np.array([t.at for t in second])[None, :] - np.array([t.at for t in first])[:, None]


def _coincidence(differences: np.ndarray) -> float | None:
    """Return the difference about which most others lie, or None when chance would do as much.

    Each difference within the window counts with one minus its squared relative distance. The sums are
    whole numbers, so that a shift of one clock and the order of the observers change nothing. Of equals,
    the one nearest to the middle of all is taken. One further off than ``MOST_OFFSET`` is none: players
    who take turns coincide again each round, so a lesser one within it would pair the wrong rounds.
    """
    d = np.sort(differences[np.abs(differences) <= REACH]).astype(np.int64)
    if not len(d):
        return None
    low, high = np.searchsorted(d, d - WINDOW, "left"), np.searchsorted(d, d + WINDOW, "right")
    sums = np.concatenate([[0], np.cumsum(d)])
    squares = np.concatenate([[0], np.cumsum(d * d)])
    n, s, q = high - low, sums[high] - sums[low], squares[high] - squares[low]
    weight = n * (WINDOW**2 - d * d) + 2 * d * s - q
    best = np.flatnonzero(weight == weight.max())
    best = best[np.argmin(np.abs(d[best] - np.median(d)))]
    if abs(d[best]) > MOST_OFFSET or not _beyond_chance(n[best], d):
        return None
    return float(d[best])


def _beyond_chance(found: int, differences: np.ndarray) -> bool:
    """Say whether so many differences in one window are too many for chance in any of all windows.

    Poisson's law, the differences within ``MOST_OFFSET`` taken to be spread evenly, and Bonferroni's
    bound over the windows.
    """
    windows = MOST_OFFSET / WINDOW
    near = np.count_nonzero(np.abs(differences) <= MOST_OFFSET)
    return pdtrc(found - 1, near / windows) * windows < CHANCE


def _settled(groups: list, offset: float) -> tuple[float, list[Pair]]:
    """Return the offset that is the median of its own pairs, and the pairs."""
    for _ in range(_ROUNDS):
        pairs = [pair for group in groups for pair in _assigned(*group, offset)]
        middle = float(np.median([b.at - a.at for a, b in pairs])) if pairs else offset
        if middle == offset:
            break
        offset = middle
    return offset, sorted(pairs, key=lambda pair: (pair[0].at, pair[0].id))


def _assigned(first: list[Tally], second: list[Tally], offset: float) -> list[Pair]:
    # squares, not distances: with distances two crossed pairs may cost no more than two in order
    gain = np.maximum(WINDOW**2 - (_differences(first, second) - offset) ** 2, 0.0)
    rows, columns = linear_sum_assignment(gain, maximize=True)
    return [(first[i], second[j]) for i, j in zip(rows, columns, strict=True) if gain[i, j] > 0]
