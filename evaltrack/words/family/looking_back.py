"""What the counts did since something was agreed: two plain counts side by side, and no verdict on them.

Nothing is worked out of the two: neither was the drill the same nor do a few tries tell a change from luck.
"""

from evaltrack.analysis.standings.standing import Standing, Trend
from evaltrack.language import mark, tr
from evaltrack.rink.family_note import Agreed
from evaltrack.words.family.counts import day_words, first_day
from evaltrack.words.wording import ENOUGH_TRIES, counted, is_firm

_NOT_WATCHED = mark("It has not been watched since.")
_ANEW = mark("The counts were put right or begun anew, so we cannot tell what came since.")
_FEW = mark("That is too few to say whether it changed.")
_NO_CHANGE = mark("Over the whole time there is no clear change yet.")


def looked_back(before: Standing | None, now: Standing | None, agreed: Agreed, name: str = "") -> str:
    """Return what was agreed and what was counted in that skill since, in whole sentences.

    Parameters
    ----------
    before, now, name : of the skill that it was about, as for `since_then`.
    """
    what = tr("Agreed: {what}.", what=agreed.what.strip().rstrip("."))
    return f"{what} {since_then(before, now, name)}"


def since_then(before: Standing | None, now: Standing | None, name: str = "") -> str:
    """Return what was counted in a skill since a day, in whole sentences.

    Parameters
    ----------
    before, now : of the skill, as of that day and as of today; None where there was no try yet. Both of the
        same player.
    name : of the skill, where it does not stand beside the words anyway.
    """
    said = [f"{name}."] if name else []
    if now is None:
        return " ".join([*said, tr(_ANEW if before else _NOT_WATCHED)])
    earlier = (before.done, before.tries) if before else (0, 0)
    done, tries = now.done - earlier[0], now.tries - earlier[1]
    if not 0 <= done <= tries:
        return " ".join([*said, tr(_ANEW)])
    if not tries:
        return " ".join([*said, tr(_NOT_WATCHED)])
    return " ".join([*said, *_since(done, tries, *earlier), *_meaning(tries, now)])


def _since(done: int, tries: int, earlier_done: int, earlier_tries: int) -> list[str]:
    noted = counted(tries, "try", "tries")
    if done:
        since = tr("Since then it worked in {done} of {tries}.", done=done, tries=noted)
    else:
        since = tr("Since then it has not worked yet in {tries}.", tries=noted)
    if not earlier_tries:
        return [since, tr("Before that it was not watched.")]
    noted = counted(earlier_tries, "try", "tries")
    return [since, tr("Up to then it had worked in {done} of {tries}.", done=earlier_done, tries=noted)]


def _meaning(tries: int, now: Standing) -> list[str]:
    if tries < ENOUGH_TRIES or not is_firm(now):
        return [tr(_FEW)] if tries < ENOUGH_TRIES else []
    if now.trend is Trend.NO_CLEAR_CHANGE:
        return [tr(_NO_CHANGE)]
    first = day_words(first_day(now))
    if now.trend is Trend.UP:
        return [tr("Over the whole time, from {day} on, it is going up.", day=first)]
    return [tr("Over the whole time, from {day} on, it is going down.", day=first)]
