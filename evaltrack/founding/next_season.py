"""The season after: who stays, what is watched and trained, and who observes; nothing of what was tallied."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from pathlib import Path
from uuid import UUID

from evaltrack.founding.catalogue_files import DRILLS_FILE, SKILLS_FILE, catalogue_files
from evaltrack.founding.placing import made_beside
from evaltrack.rink.drill import Drill
from evaltrack.rink.ident import new_id
from evaltrack.rink.player import Player, Status


@dataclass(frozen=True)
class NextSeason:
    """What the season after is to be.

    Parameters
    ----------
    team, age_class : whose it is.
    leaving : who does not come along.
    comments : what is to be known of players from the beginning, by their ids of now.
    """

    team: str
    age_class: str
    leaving: Collection[UUID] = ()
    comments: Mapping[UUID, str] = field(default_factory=dict)


def begin_next_season(season, target: Path, wanted: NextSeason, tablet: str = "") -> int:
    """Make the file of the season after an open one; return how many players come along.

    The file has an id of its own, and so have its players. Who may have no contact begins so again; who was
    away is expected. Skills and drills that are not in use any more stay behind. It is there whole or not at
    all.

    Raises
    ------
    EvaltrackError : it cannot be made there, or something of its name is there already.
    """
    from evaltrack.store.creating import create_season

    skills = season.catalogue.skills()
    staying = [one for one in season.people.players() if one.id not in wanted.leaving]
    new = {one.id: _anew(one) for one in staying}
    texts = {name: content.decode() for name, content in catalogue_files(season).items()}
    with (
        made_beside(target) as draft,
        create_season(
            draft,
            team=wanted.team,
            age_class=wanted.age_class,
            players=new.values(),
            skills=[replace(one, version=1) for one in skills],
            drills=[_watched(one, {skill.key for skill in skills}) for one in season.catalogue.drills()],
        ) as made,
    ):
        made.catalogue_changes.keep_texts({"skills": texts[SKILLS_FILE], "drills": texts[DRILLS_FILE]})
        for name in season.people.observers():
            made.people.add_observer(name)
        for player, words in wanted.comments.items():
            if player in new:
                made.player_comments.write(new[player].id, words, tablet)
    return len(new)


def _watched(drill: Drill, skills: Collection[str]) -> Drill:
    """Return a drill in whose slots only these skills are watched: one may have gone out of use since."""
    steps = [
        replace(
            step,
            slots=tuple(replace(s, skills=tuple(k for k in s.skills if k in skills)) for s in step.slots),
        )
        for step in drill.steps
    ]
    return replace(drill, steps=tuple(steps))


def _anew(player: Player) -> Player:
    status = Status.LIMITED if player.status is Status.LIMITED else Status.FULL
    return replace(player, id=new_id(), status=status, away_until=None)
