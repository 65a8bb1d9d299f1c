"""How many tallies there are: where not all of them are tries that count, that is said beside the number."""

from collections.abc import Iterable

from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_sum import TallySum


def sum_words(one: TallySum) -> str:
    """Return ``5,506 tallies: 5,318 tries and 188 unseen``, or the tallies alone where all are tries."""
    parts = [
        (one.tries, _counted(one.tries, "try", "tries")),
        (one.unseen, f"{one.unseen:,} unseen"),
        (one.earlier, f"{one.earlier:,} in words or skills no longer in use"),
        (one.left, f"{one.left:,} of players who have left"),
    ]
    said = [words for count, words in parts if count]
    tallies = _counted(one.tallies, "tally", "tallies")
    if one.tries == one.tallies:
        return tallies
    return f"{tallies}: {', '.join(said[:-1])} and {said[-1]}" if len(said) > 1 else f"{tallies}: {said[0]}"


def sum_of(tallies: Iterable[Tally]) -> TallySum:
    """Return the sum of tallies that are not in a season yet: tries and what was unseen."""
    unseen = [tally.outcome is Outcome.UNSEEN for tally in tallies]
    return TallySum(tries=len(unseen) - sum(unseen), unseen=sum(unseen))


def _counted(count: int, noun: str, plural: str) -> str:
    return f"{count:,} {noun if count == 1 else plural}"
