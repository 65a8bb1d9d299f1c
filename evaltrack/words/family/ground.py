"""What the pages of one season share."""

from dataclasses import dataclass, replace
from datetime import date
from uuid import UUID

from evaltrack.founding.built_in import skill_in_words
from evaltrack.rink.skill import Skill
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family.presence import Presence, presences, read_attended


@dataclass(frozen=True, slots=True)
class Ground:
    """What the pages of one season share: the team, its days, its skills by key, who was here when."""

    team: str
    axis: DateAxis
    skills: dict[str, Skill]
    presence: dict[UUID, Presence]

    def in_words(self) -> "Ground":
        """Return it with the shipped skills in the language in force, and the coach's own as they are."""
        return replace(self, skills={key: skill_in_words(one) for key, one in self.skills.items()})


def read_ground(season, as_of: date | None = None) -> Ground | None:
    """Read what the pages of a season share; None when no practice was held by then.

    Parameters
    ----------
    season : an open season file.
    as_of : the day up to which is counted; without one, the last practice.
    """
    attended = read_attended(season, as_of)
    if not attended:
        return None
    days = list(attended)
    axis = DateAxis(days[0], as_of or days[-1])
    skills = {skill.key: skill for skill in season.catalogue.skills()}
    return Ground(str(season.team), axis, skills, presences(attended))
