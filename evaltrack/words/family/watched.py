"""What the coaches watched, and from when on: nothing in it is held against the child.

At how many practices a child was watched, and of how many, is left out: a goalie is watched at few, and who
was ill is not to answer for it. The charts have a ring for each.
"""

from collections.abc import Iterable, Sequence

from evaltrack.analysis.standings.standing import Call, Standing
from evaltrack.language import mark, tr
from evaltrack.rink.first_name import first_name
from evaltrack.rink.player import Player
from evaltrack.words.family.ground import Ground
from evaltrack.words.family.sheet import SEEN, Sentence
from evaltrack.words.wording import ENOUGH_PRACTICES, ENOUGH_TRIES, counted, long_date

NOT_EVERY_TRY = mark("Nobody can write down every try.")
_WHY_WAIT = mark(
    "In each skill we wait for {tries} tries in all, over {practices} practices, so that one good or bad day "
    "does not decide."
)


def watched_sentences(ground: Ground, player: Player, standings: Sequence[Standing]) -> Iterable[Sentence]:
    """Return from when a child was here who came late, till when one who is away, and how much was noted."""
    name, presence = first_name(player.name), ground.presence.get(player.id)
    if presence and presence.joined_late:
        text = tr("{name} first practised with us on {day}.", name=name, day=long_date(presence.first))
        yield Sentence(f"{SEEN}.first_day", text)
    if presence and player.is_away(ground.axis.last):
        last = long_date(presence.last)
        text = tr("{name} is away for now, so these counts end on {day}.", name=name, day=last)
        yield Sentence(f"{SEEN}.away", text)
    yield Sentence(f"{SEEN}.counts", _counts(name, standings))


def _counts(name: str, standings: Sequence[Standing]) -> str:
    tries = sum(one.tries for one in standings)
    if not tries:
        return tr("The coaches have not written down any tries for {name} yet.", name=name)
    written = counted(tries, "try", "tries")
    skills = counted(sum(bool(one.tries) for one in standings), "skill")
    noted = tr(
        "The coaches wrote down {tries} for {name}, in {skills}.", tries=written, name=name, skills=skills
    )
    return f"{noted} {tr(NOT_EVERY_TRY)}"


def thin_words(ground: Ground, standings: Iterable[Standing]) -> str:
    """Return of which skills there is too little yet, without what came off in so few, and what it takes.

    To stand after a label that says that these are too few; empty where there is no such skill.
    """
    thin = [one for one in standings if one.call is Call.TOO_FEW and one.tries]
    named = [_seen_of(ground.skills[one.skill].name, one) for one in thin]
    return " ".join([*named, why_wait()]) if named else ""


def why_wait() -> str:
    """Return what is waited for before anything is said of a skill."""
    return tr(_WHY_WAIT, tries=ENOUGH_TRIES, practices=ENOUGH_PRACTICES)


def _seen_of(name: str, standing: Standing) -> str:
    tries, practices = counted(standing.tries, "try", "tries"), counted(standing.practices, "practice")
    return tr("{name}, {tries} seen at {practices}.", name=name, tries=tries, practices=practices)
