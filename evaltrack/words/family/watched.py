"""What the coaches watched, and from when on: nothing in it is held against the child.

At how many practices a child was watched, and of how many, is left out: a goalie is watched at few, and who
was ill is not to answer for it. The charts have a ring for each.
"""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.rink.first_name import first_name
from evaltrack.rink.player import Player
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.sheet import SEEN, Sentence
from evaltrack.words.wording import ENOUGH_PRACTICES, ENOUGH_TRIES, counted, long_date

NOT_EVERY_TRY = "Nobody can write down every try."
WHY_WAIT = (
    f"We wait for {ENOUGH_TRIES} tries at {ENOUGH_PRACTICES} practices, so that one good or bad day does not "
    "decide."
)


def watched_sentences(ground: Ground, player: Player, standings: Sequence[Standing]) -> Iterable[Sentence]:
    """Return from when a child was here who came late, till when one who is away, and how much was noted."""
    name, presence = first_name(player.name), ground.presence.get(player.id)
    if presence and presence.joined_late:
        text = f"{name} first practised with us on {long_date(presence.first)}."
        yield Sentence(f"{SEEN}.first_day", text)
    if presence and player.is_away(ground.axis.last):
        text = f"{name} is away for now, so these counts end on {long_date(presence.last)}."
        yield Sentence(f"{SEEN}.away", text)
    yield Sentence(f"{SEEN}.counts", _counts(name, standings))


def _counts(name: str, standings: Sequence[Standing]) -> str:
    tries = sum(one.tries for one in standings)
    if not tries:
        return f"The coaches have not written down any tries for {name} yet."
    written = counted(tries, "try", "tries")
    skills = counted(sum(bool(one.tries) for one in standings), "skill")
    return f"The coaches wrote down {written} for {name}, in {skills}. {NOT_EVERY_TRY}"


def thin_words(ground: Ground, standings: Iterable[Standing]) -> str:
    """Return of which skills there is too little yet, without what came off in so few, and what it takes.

    To stand after a label that says that these are too few; empty where there is no such skill.
    """
    thin = [one for one in standings if one.call is Call.TOO_FEW and one.tries]
    named = [_seen_of(ground.skills[one.skill].name, one) for one in thin]
    return " ".join([*named, WHY_WAIT]) if named else ""


def _seen_of(name: str, standing: Standing) -> str:
    tries, practices = counted(standing.tries, "try", "tries"), counted(standing.practices, "practice")
    return f"{name}, {tries} at {practices}."
