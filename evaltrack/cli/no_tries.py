"""Why there is nothing to say of what was asked for."""

from datetime import date

from evaltrack.language import mark, tr
from evaltrack.words.wording import counted

_NO_TRY = {
    # of one player, in one skill, up to a day
    (False, False, False): mark("no try was tallied"),
    (False, False, True): mark("no try was tallied up to {as_of}"),
    (False, True, False): mark("no try in {skill} was tallied"),
    (False, True, True): mark("no try in {skill} was tallied up to {as_of}"),
    (True, False, False): mark("no try of player {number} was tallied"),
    (True, False, True): mark("no try of player {number} was tallied up to {as_of}"),
    (True, True, False): mark("no try of player {number} in {skill} was tallied"),
    (True, True, True): mark("no try of player {number} in {skill} was tallied up to {as_of}"),
}


def why_none(season, number: str | None, skill: str | None, as_of: date | None) -> str:
    """Say why there is no try of what was asked for: nothing at all, nothing by then, nothing of theirs."""
    count = season.log.count()
    if not count:
        return tr("nothing has been tallied yet")
    if not season.log.cells(as_of):
        tallies = counted(count, "tally", "tallies")
        if as_of:
            return tr(
                "none of the season's {tallies} is a try that counts up to {as_of}",
                tallies=tallies,
                as_of=as_of,
            )
        return tr("none of the season's {tallies} is a try that counts", tallies=tallies)
    sentence = _NO_TRY[bool(number), bool(skill), bool(as_of)]
    return tr(sentence, number=number, skill=skill, as_of=as_of)
