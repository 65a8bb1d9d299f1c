"""Everything that one family's page says, as plain data. The template decides nothing."""

import unicodedata
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date
from uuid import UUID

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen, Standing, Trend
from evaltrack.paper.note.choice import Choice, choose
from evaltrack.paper.note.presence import Presence, presences, read_attended
from evaltrack.rink.player import Player
from evaltrack.rink.skill import Skill
from evaltrack.words import wording
from evaltrack.words.curve import curve
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.legends import how_to_read


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a list: the skill's name, what is said of it, and what it looks like when that helps."""

    lead: str
    text: str
    detail: str = ""


@dataclass(frozen=True, slots=True)
class SkillRow:
    """One skill with its count, words and chart.

    ``path`` runs only over the days for which the player was seen in this skill, and is empty when the
    estimate does not stand: then there is no chart. ``chart_words`` is the chart in words.
    """

    name: str
    looks_like: str
    count: str
    share: str
    direction: str
    level: str
    chart_words: str
    path: tuple[PathPoint, ...]
    seen: tuple[Seen, ...]

    @property
    def drawn(self) -> bool:
        """Whether the row has a chart."""
        return bool(self.path)


@dataclass(frozen=True, slots=True)
class Page:
    """One family's page.

    ``how_to_read`` explains what is on this page and nothing else. ``thin`` names the skills with too few
    tries, with their counts. ``doubts`` are for the coach and not printed: why an estimate does not stand.
    """

    team: str
    number: str
    name: str
    position: str
    axis: DateAxis
    summary: str
    strengths: tuple[Item, ...]
    rows: tuple[SkillRow, ...]
    how_to_read: str
    thin: str
    next_skills: tuple[Item, ...]
    at_home: tuple[str, ...]
    coach_words: tuple[str, ...]
    doubts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Ground:
    """What the pages of one season share."""

    team: str
    axis: DateAxis
    skills: dict[str, Skill]
    presence: dict[UUID, Presence]


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


def make_page(ground: Ground, player: Player, standings: Sequence[Standing], coach_words: str = "") -> Page:
    """Return the page of one player.

    Parameters
    ----------
    standings : this player's, in the order of the catalogue.
    coach_words : the coach's own words, as typed; a blank line or a line end starts a paragraph.
    """
    choice = choose(standings)
    away = player.is_away()
    enough = [s for s in standings if s.call is not Call.TOO_FEW]
    presence = ground.presence.get(player.id)
    rows = tuple(_row(ground, s, away) for s in enough)
    return Page(
        team=ground.team,
        number=player.number,
        name=player.name,
        position=player.position_words,
        axis=ground.axis,
        summary=" ".join(_summary(presence, standings, away)),
        strengths=tuple(_strengths(choice, ground, away)),
        rows=rows,
        how_to_read=how_to_read(any(row.drawn for row in rows), bool(choice.solid)),
        thin=_thin(standings, ground.skills),
        next_skills=tuple(_next_skills(choice, ground, away)),
        at_home=tuple(line for s in choice.next_skills for line in ground.skills[s.skill].at_home),
        coach_words=tuple(_paragraphs(coach_words)),
        doubts=tuple(f"{ground.skills[s.skill].name}: {s.doubt}" for s in enough if s.doubt),
    )


def _summary(presence: Presence | None, standings: Sequence[Standing], away: bool) -> Iterable[str]:
    watched = len({seen.on for standing in standings for seen in standing.seen})
    if presence and presence.joined_late:
        first = wording.long_date(presence.first)
        yield f"First here on {first}; watched at {watched} of {presence.since} practices since."
    elif presence:
        yield f"Watched at {watched} of {wording.counted(presence.held, 'practice')}."
    if presence and away:
        yield f"Away at present, last here on {wording.long_date(presence.last)}."
    tries = wording.counted(sum(s.tries for s in standings), "try", "tries")
    yield f"Coaches noted {tries} in {wording.counted(len(standings), 'skill')}."


def _strengths(choice: Choice, ground: Ground, away: bool) -> Iterable[Item]:
    for s in choice.solid:
        level = "" if _at_target(s) else _level(ground, s, away)
        yield Item(ground.skills[s.skill].name, f"solid{_rising(s)}, {_sentence(s, level)}")
    for s in choice.rising:
        yield Item(
            ground.skills[s.skill].name,
            f"{wording.DIRECTIONS[Trend.UP]}, {_sentence(s, _level(ground, s, away))}",
        )
    for s in choice.relative:
        yield Item(ground.skills[s.skill].name, f"{_relative_words(choice)}, {_sentence(s)}")


def _rising(standing: Standing) -> str:
    return f", and {wording.DIRECTIONS[Trend.UP]}" if standing.trend is Trend.UP else ""


def _at_target(standing: Standing) -> bool:
    """Say whether the plain count is at the target or above; 14 of 25 is at .56, and binary puts it below."""
    return standing.done >= round(standing.target * standing.tries, 9)


def _relative_words(choice: Choice) -> str:
    if not choice.next_skills:
        return "coming along well so far"
    # said of the player's own skills, so that nobody takes it for a place among the others
    among = "" if len(choice.relative) == 1 else "among "
    return f"{among}this player's strongest so far"


def _next_skills(choice: Choice, ground: Ground, away: bool) -> Iterable[Item]:
    for s in choice.next_skills:
        skill = ground.skills[s.skill]
        lead_in = "a next step, " if s in choice.lowest else ""
        # a count at the target beside a call below it needs the level, or the two seem to quarrel
        level = _level(ground, s, away) if s in choice.called and _at_target(s) else ""
        yield Item(skill.name, f"{lead_in}{_sentence(s, level)[:-1]}{_rising(s)}.", skill.looks_like)


def _sentence(standing: Standing, level: str = "") -> str:
    count = wording.count_words(standing.done, standing.tries)
    now = f"; {level}" if level else ""
    return f"done in {count} tries, {wording.share_words(standing.done, standing.tries)}{now}."


def _level(ground: Ground, standing: Standing, away: bool) -> str:
    """Return ``now 5 to 8 in 10``, or with the day in place of "now" when it was last watched long ago."""
    level = wording.level_words(standing)
    if not level or away:
        return ""
    return f"{wording.now_words(standing, ground.axis.last)} {level}"


def _row(ground: Ground, standing: Standing, away: bool) -> SkillRow:
    skill, level = ground.skills[standing.skill], _level(ground, standing, away)
    return SkillRow(
        name=skill.name,
        looks_like=skill.looks_like,
        count=wording.count_words(standing.done, standing.tries),
        share=wording.share_words(standing.done, standing.tries),
        direction=wording.direction_words(standing),
        level=level,
        chart_words=wording.chart_words(skill.name, standing, level),
        path=curve(standing, until_now=not away),
        seen=standing.seen,
    )


def _thin(standings: Iterable[Standing], skills: dict[str, Skill]) -> str:
    thin = [s for s in standings if s.call is Call.TOO_FEW and s.tries]
    return "; ".join(f"{skills[s.skill].name} {wording.count_words(s.done, s.tries)}" for s in thin)


def _paragraphs(text: str) -> Iterable[str]:
    for line in text.splitlines():
        # control characters have no shape on paper; everything else is the coach's to write
        clean = "".join(" " if c == "\t" else c for c in line if c == "\t" or unicodedata.category(c) != "Cc")
        if clean.strip():
            yield clean.strip()
