"""How many tallies there are: where not all of them are tries that count, that is said beside the number."""

from collections.abc import Iterable

from evaltrack.language import tr, tr_many
from evaltrack.rink.tally import Outcome, Tally
from evaltrack.rink.tally_sum import TallySum
from evaltrack.words.wording import counted, listed


def sum_words(one: TallySum) -> str:
    """Return ``5,506 tallies: 5,318 tries and 188 unseen``, or the tallies alone where all are tries."""
    tallies, kinds = tallies_words(one), kinds_words(one)
    return tr("{tallies}: {kinds}", tallies=tallies, kinds=kinds) if kinds else tallies


def tallies_words(one: TallySum) -> str:
    """Return ``5,506 tallies``."""
    return counted(one.tallies, "tally", "tallies")


def kinds_words(one: TallySum) -> str:
    """Return ``5,318 tries and 188 unseen``; empty where all of the tallies are tries."""
    if one.tries == one.tallies:
        return ""
    parts = [
        (one.tries, counted(one.tries, "try", "tries")),
        (one.unseen, tr_many("{number} unseen", "{number} unseen", one.unseen)),
        (one.earlier, tr("{number} in words or skills no longer in use", number=one.earlier)),
        (one.left, tr("{number} of players who have left", number=one.left)),
    ]
    return listed([words for count, words in parts if count])


def sum_of(tallies: Iterable[Tally]) -> TallySum:
    """Return the sum of tallies that are not in a season yet: tries and what was unseen."""
    unseen = [tally.outcome is Outcome.UNSEEN for tally in tallies]
    return TallySum(tries=len(unseen) - sum(unseen), unseen=sum(unseen))
