"""What stands in the guide, as plain data. No player is in it, so it may lie about.

The first page says how to tally, the second one what the team means by each skill. The template finds the
largest type in which all of them fit. Where none does, the skills that no drill watches are the first ones
that are only named.
"""

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from datetime import date
from pathlib import Path

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.paper import palette
from evaltrack.paper.guide.how_to import COLUMNS, COUNTS, DRAWN, NOT_COUNTED, PRIVACY, SAFETY
from evaltrack.paper.render import Printed, print_pdf
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Drill
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Skill
from evaltrack.words.wording import long_date

PAPERS = {"letter": "us-letter", "a4": "a4"}
MOST_NAMED = 20  # skills that are only named; of more than these their number is told
LEAST_TYPE = 9.0  # points

_TEMPLATE = Path(__file__).resolve().with_name("guide.typ")
_GROUPS = {Position.DEFENCE: "defenders", Position.FORWARD: "forwards", Position.GOALIE: "goalies"}


@dataclass(frozen=True, slots=True)
class Guide:
    """The guide of one team; ``team`` is empty where it is made before there is a season.

    ``skills`` stand in the order in which they are to be printed.
    """

    team: str
    skills: tuple[Skill, ...]


def make_guide(team: str, skills: Sequence[Skill], drills: Iterable[Drill]) -> Guide:
    """Return the guide of a team: first the skills that its drills watch, each in the catalogue's order."""
    watched = {key for drill in drills for step in drill.steps for key in step.skills}
    return Guide(team, tuple(sorted(skills, key=lambda skill: skill.key not in watched)))


def read_guide(season=None) -> Guide:
    """Return the guide of a season that is open; without one, that of the catalogue that is shipped."""
    if season is not None:
        return make_guide(str(season.team), season.catalogue.skills(), season.catalogue.drills())
    skills = read_skills(sample_roster() / "skills.toml")
    return make_guide("", skills, read_drills(sample_roster() / "drills.toml", skills))


def print_guide(guide: Guide, paper: str, day: date) -> Printed:
    """Return the guide as a PDF of two pages.

    Parameters
    ----------
    paper : a key of ``PAPERS``.
    day : the day on which it is made.
    """
    return print_pdf(_TEMPLATE, _words(guide, paper, day), day)


def _words(guide: Guide, paper: str, day: date) -> dict:
    title = "Guide for observers"
    return {
        "title": f"{title}: {guide.team}" if guide.team else title,
        "heading": title,
        "team": guide.team,
        "paper": PAPERS[paper],
        "palette": palette.NAMES,
        "drawn": DRAWN,
        "columns": [[asdict(part) for part in column] for column in COLUMNS],
        "counts": COUNTS,
        "not-counted": NOT_COUNTED,
        "as-of": f"{'the team’s words' if guide.team else 'the words shipped'}, {long_date(day)}",
        "safety": SAFETY,
        "privacy": PRIVACY,
        "skills": [_skill_words(skill) for skill in guide.skills],
        "most_named": MOST_NAMED,
        "least_type": LEAST_TYPE,
    }


def _skill_words(skill: Skill) -> dict:
    said = skill.definition
    return {
        "name": skill.name,
        "who": " and ".join(_GROUPS[position] for position in skill.positions),
        "definition": [
            {"lead": "Starts", "text": said.starts},
            {"lead": "Done", "text": said.done},
            {"lead": "Missed", "text": said.missed},
            {"lead": "Not counted", "text": said.not_counted},
        ],
    }
