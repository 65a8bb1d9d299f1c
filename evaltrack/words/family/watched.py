"""What the coaches watched, and from when on: nothing in it is held against the child.

How many practices there were beside those at which a child was watched is left out: a goalie is watched at
few, and those who were ill are not to answer for it.
"""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.first_name import first_name
from evaltrack.rink.player import Player
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.sheet import SEEN, Sentence
from evaltrack.words.wording import ENOUGH_PRACTICES, ENOUGH_TRIES, counted, long_date

NOT_EVERY_TRY = "That is what there was time for, not every try."
SEE_MORE = "The coaches want to see more of these first."
WHY_WAIT = (
    f"We wait for {ENOUGH_TRIES} tries at {ENOUGH_PRACTICES} practices, so that one good or bad day does not "
    "decide."
)


def watched_sentences(ground: Ground, player: Player, standings: Sequence[Standing]) -> Iterable[Sentence]:
    """Return from when to when is counted, and how much was written down."""
    name, presence = first_name(player.name), ground.presence.get(player.id)
    first, last = long_date(ground.axis.first), long_date(ground.axis.last)
    if presence and presence.joined_late:
        joined = long_date(presence.first)
        yield Sentence(
            f"{SEEN}.days", f"{name} first practised with us on {joined}. The counts run to {last}."
        )
    else:
        yield Sentence(f"{SEEN}.days", f"The counts on this page run from {first} to {last}.")
    if presence and player.is_away(ground.axis.last):
        text = f"{name} is away for now, so these counts end on {long_date(presence.last)}."
        yield Sentence(f"{SEEN}.away", text)
    yield Sentence(f"{SEEN}.counts", _counts(name, standings))


def _counts(name: str, standings: Sequence[Standing]) -> str:
    tries = sum(one.tries for one in standings)
    if not tries:
        return f"The coaches have not written down any tries for {name} yet."
    days = len({seen.on for one in standings for seen in one.seen if seen.tries})
    written = counted(tries, "try", "tries")
    skills = counted(sum(bool(one.tries) for one in standings), "skill")
    watched = f"The coaches watched {name} on {counted(days, 'day')} and wrote down {written} in {skills}."
    return f"{watched} {NOT_EVERY_TRY}"


def thin_words(ground: Ground, standings: Iterable[Standing]) -> str:
    """Return of which skills more must be seen first, without what came off in so few; empty without any."""
    thin = [one for one in standings if one.call is Call.TOO_FEW and one.tries]
    if not thin:
        return ""
    named = (_seen_of(ground.skills[one.skill].name, one) for one in thin)
    return " ".join([SEE_MORE, *named, WHY_WAIT])


def _seen_of(name: str, standing: Standing) -> str:
    tries, practices = counted(standing.tries, "try", "tries"), counted(standing.practices, "practice")
    return f"{name}: {tries} at {practices}."
