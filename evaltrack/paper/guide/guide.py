"""What stands in the guide, as plain data. No player is in it, so it may lie about.

The first page says how to tally, the second one what the team means by each skill. The template finds the
largest type in which all of them fit. Where none does, the skills that no drill watches are the first ones
that are only named.
"""

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evaltrack.founding.built_in import skill_in_words
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.language import language, mark, tr, tr_many
from evaltrack.paper import palette
from evaltrack.paper.guide.how_to import COLUMNS, COUNTS, DRAWN, NOT_COUNTED, PRIVACY, SAFETY, Part
from evaltrack.paper.render import Printed, print_pdf
from evaltrack.places import sample_roster
from evaltrack.rink.drill import Drill
from evaltrack.rink.player import Position
from evaltrack.rink.skill import Skill
from evaltrack.words.wording import long_date

PAPERS = {"letter": "us-letter", "a4": "a4"}
MOST_NAMED = 20  # skills that are only named; of more than these their number is told
LEAST_TYPE = 9.0  # points

_D, _F, _G = Position.DEFENCE, Position.FORWARD, Position.GOALIE
# whole, since not every language joins words by one that stands between them
_GROUPS = {
    frozenset({_D}): mark("defenders"),
    frozenset({_F}): mark("forwards"),
    frozenset({_G}): mark("goalies"),
    frozenset({_D, _F}): mark("defenders and forwards"),
    frozenset({_D, _G}): mark("defenders and goalies"),
    frozenset({_F, _G}): mark("forwards and goalies"),
    frozenset({_D, _F, _G}): mark("defenders and forwards and goalies"),
}

_TEMPLATE = Path(__file__).resolve().with_name("guide.typ")


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
    title = tr("Guide for observers")
    return {
        "title": tr("Guide for observers: {team}", team=guide.team) if guide.team else title,
        "heading": title,
        "team": guide.team,
        "paper": PAPERS[paper],
        "palette": palette.NAMES,
        "language": language().value,
        "drawn": {name: tr(words) for name, words in DRAWN.items()},
        "columns": [[_part_words(part) for part in column] for column in COLUMNS],
        "counts": tr(COUNTS),
        "not-counted": tr(NOT_COUNTED),
        "as-of": _as_of(guide, day),
        "safety": {"lead": tr("Safety first."), "text": tr(SAFETY)},
        "privacy": {"lead": tr("Keep it private."), "text": tr(PRIVACY)},
        "undo": tr("Undo"),
        "colon": tr(":"),
        "no-room": {
            "lead": tr("No room here for:"),
            "more": [_more(number) for number in range(max(len(guide.skills) - MOST_NAMED, 0) + 1)],
            "text": tr("Ask the coach for the words on these before you tally them."),
        },
        "skills": [_skill_words(skill_in_words(skill)) for skill in guide.skills],
        "most_named": MOST_NAMED,
        "least_type": LEAST_TYPE,
    }


def _as_of(guide: Guide, day: date) -> str:
    if guide.team:
        return tr("the team’s words, {day}", day=long_date(day))
    return tr("the words shipped, {day}", day=long_date(day))


def _more(number: int) -> str:
    """Return what follows the names where so many more have no room even for that."""
    return tr_many(", and {number} more", ", and {number} more", number) if number else ""


def _part_words(part: Part) -> dict:
    return {"heading": tr(part.heading), "sentences": [tr(sentence) for sentence in part.sentences]}


def _skill_words(skill: Skill) -> dict:
    said = skill.definition
    return {
        "name": skill.name,
        "who": _who(skill.positions),
        "definition": [
            {"lead": tr("Starts"), "text": said.starts},
            {"lead": tr("Done"), "text": said.done},
            {"lead": tr("Missed"), "text": said.missed},
            {"lead": tr("Not counted"), "text": said.not_counted},
        ],
    }


def _who(positions: Collection[Position]) -> str:
    wanted = frozenset(positions)
    return tr(next(words for group, words in _GROUPS.items() if group == wanted))
