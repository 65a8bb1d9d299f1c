"""A season as tidy tables: one row for each player, practice, tally, skill, step, standing and change."""

from collections.abc import Sequence

from evaltrack.analysis.standings.standing import COLUMNS, Call, Standing, Trend
from evaltrack.paper.export.tidy_table import Column, Refers, TidyTable, moment, needed
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.practice import Surface
from evaltrack.rink.roster_change import RosterField
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_choice import time_of

_PLAYER = needed("player", "string", "the id of the player, in players")
_PRACTICE = needed("practice", "string", "the key of the practice, in practices")
_SKILL = needed("skill", "string", "the key of the skill, in skills")
_OF_PLAYER = Refers(("player",), "players", ("id",))
_OF_PRACTICE = Refers(("practice",), "practices", ("key",))
_OF_SKILL = Refers(("skill",), "skills", ("key",))
_OF_STEP = Refers(("drill", "step"), "steps", ("drill", "step"))
_SHARE = {"minimum": 0, "maximum": 1}
_FIGURES = {  # of a standing, from the tries on
    "tries": ("integer", "tries in the season", {"minimum": 1}),
    "done": ("integer", "tries that came off", {"minimum": 0}),
    "practices": ("integer", "practices with a try", {"minimum": 1}),
    "share": ("number", "the share done now, as the model sees it", _SHARE),
    "low": ("number", "low end of its 90 % interval", _SHARE),
    "high": ("number", "high end of its 90 % interval", _SHARE),
    "low50": ("number", "low end of its 50 % interval", _SHARE),
    "high50": ("number", "high end of its 50 % interval", _SHARE),
    "start_share": ("number", "the share at the start of the player's own time", _SHARE),
    "change": ("number", "share less start_share", {"minimum": -1, "maximum": 1}),
    "change_low": ("number", "low end of its 90 % interval", {"minimum": -1, "maximum": 1}),
    "change_high": ("number", "high end of its 90 % interval", {"minimum": -1, "maximum": 1}),
    "p_up": ("number", "probability that the change is above zero", _SHARE),
    "target": ("number", "the coach's target for the skill", _SHARE),
    "p_below": ("number", "probability that the share is below the target", _SHARE),
    "call": ("string", "what can be said", {"enum": [one.value for one in Call]}),
    "trend": ("string", "the direction, where it is firm", {"enum": [one.value for one in Trend]}),
}


def team_tables(season, standings: Sequence[Standing]) -> list[TidyTable]:
    """Return all tables of an open season; standings as of the last practice, of who has left too."""
    players = season.people.everyone()
    return [
        _players(players),
        _practices(season),
        _attendance(season),
        _skills(season),
        _steps(season),
        _tallies(season),
        _standings(standings, players),
        _changes(season),
    ]


def _players(players: Sequence[Player]) -> TidyTable:
    columns = (
        needed("id", "string", "opaque, the same in all tables", unique=True, pattern="[0-9a-f]{32}"),
        needed("number", "string", "the jersey number; who has left may have another player's"),
        needed("name", "string", "the name"),
        needed("position", "string", "the position group that counts", enum=[p.value for p in Position]),
        Column("also", "string", "the second position group", {"enum": ["D", "F"]}),
        Column("birth_year", "integer", "the year of birth, where it was given"),
        needed("status", "string", "what the player may do", enum=[status.value for status in Status]),
        Column("away_until", "date", "until when the player is away, where that is known"),
    )
    rows = tuple(
        (p.id.hex, p.number, p.name, p.position, p.also, p.birth_year, p.status, p.away_until)
        for p in players
    )
    return TidyTable("players", "Players", columns, ("id",), rows)


def _practices(season) -> TidyTable:
    columns = (
        needed("key", "string", "the day, or the day and .2", unique=True),
        needed("held_on", "date", "the day"),
        needed("surface", "string", "how much of the ice", enum=[one.value for one in Surface]),
        Column("started_at", "datetime", "when it was started on a tablet"),
        Column("ended_at", "datetime", "when it was ended there"),
        needed("aside", "boolean", "whether it was set aside, so that nothing of it counts"),
        Column("comment", "string", "what the staff wrote"),
    )
    comments = season.comments.all()
    rows = tuple(
        (p.key, p.held_on, p.surface, moment(p.started_at), moment(p.ended_at), p.aside,
         comments.get(p.key))
        for p in season.practices.every()
    )  # fmt: skip
    return TidyTable("practices", "Practices", columns, ("key",), rows)


def _attendance(season) -> TidyTable:
    columns = (_PRACTICE, _PLAYER, needed("here", "boolean", "whether the player was there"))
    there, rows = season.turnout.there(), set()
    for practice in season.practices.every():
        seen = there.get(practice.key, set())
        noted = {one.player for one in season.practices.attendance(practice.key)}
        rows |= {(practice.key, player.hex, player in seen) for player in seen | noted}
    return TidyTable(
        "attendance", "Who was there", columns, ("practice", "player"), tuple(sorted(rows)),
        (_OF_PRACTICE, _OF_PLAYER),
    )  # fmt: skip


def _skills(season) -> TidyTable:
    columns = (
        needed("key", "string", "the key", unique=True),
        needed("name", "string", "what it is called"),
        needed("positions", "string", "for which position groups"),
        needed("target", "number", "the coach's target", minimum=0, maximum=1),
        needed("version", "integer", "of the definition in force", minimum=1),
        Column("starts", "string", "when a try begins"),
        Column("done", "string", "what is done"),
        Column("missed", "string", "what is missed"),
        Column("not_counted", "string", "what is not counted"),
    )
    rows = tuple(
        (s.key, s.name, "".join(s.positions), s.target, s.version, s.definition.starts, s.definition.done,
         s.definition.missed, s.definition.not_counted)
        for s in season.catalogue.skills(retired=True)
    )  # fmt: skip
    return TidyTable("skills", "Skills", columns, ("key",), rows)


def _steps(season) -> TidyTable:
    columns = (
        needed("drill", "string", "the key of the drill"),
        needed("step", "string", "the key of the step"),
        needed("place", "integer", "from easy to hard, from 1", minimum=1),
        needed("drill_name", "string", "what the drill is called"),
        needed("step_name", "string", "what the step is called"),
    )
    rows = tuple(
        (drill.key, step.key, place, drill.name, step.name)
        for drill in season.catalogue.drills(retired=True)
        for place, step in enumerate(drill.steps, 1)
    )
    return TidyTable("steps", "Drills and their steps", columns, ("drill", "step"), rows)


def _tallies(season) -> TidyTable:
    columns = (
        needed("id", "string", "opaque", unique=True, pattern="[0-9a-f]{32}"),
        _PRACTICE,
        _PLAYER,
        _SKILL,
        needed("skill_version", "integer", "of the definition that was gone by", minimum=1),
        needed("outcome", "string", "what was seen; unseen is no try", enum=[o.value for o in Outcome]),
        Column("pressure", "boolean", "under pressure or not, where it was noted"),
        needed("drill", "string", "the key of the drill"),
        needed("step", "string", "the key of the step"),
        needed("observer", "string", "who noted it"),
        Column("at", "datetime", "when, by the clock of the tablet; empty where no time was given"),
    )
    rows = tuple(
        (t.id.hex, t.practice, t.player.hex, t.skill, t.skill_version, t.outcome, t.pressure, t.drill, t.step,
         t.observer, moment(t.at) if time_of(t) else None)
        for t in season.log.tallies()
    )  # fmt: skip
    refers = (_OF_PRACTICE, _OF_PLAYER, _OF_SKILL, _OF_STEP)
    return TidyTable("tallies", "Tallies as they stand", columns, ("id",), rows, refers)


def _standings(standings: Sequence[Standing], players: Sequence[Player]) -> TidyTable:
    ids = {(one.number, one.name): one.id.hex for one in players}
    names = COLUMNS[COLUMNS.index("tries") :]
    columns = tuple(needed(name, kind, means, **rule) for name, (kind, means, rule) in _FIGURES.items())
    rows = tuple(
        (ids[one.player, one.name], one.skill, *(getattr(one, name) for name in names)) for one in standings
    )
    table = ("standings", "Standings as of the last practice")
    return TidyTable(*table, (_PLAYER, _SKILL, *columns), ("player", "skill"), rows, (_OF_PLAYER, _OF_SKILL))


def _changes(season) -> TidyTable:
    columns = (
        needed("nth", "integer", "in the order in which they were made", minimum=1),
        _PLAYER,
        needed("field", "string", "what changed", enum=[one.value for one in RosterField]),
        Column("was", "string", "what it was; empty for none"),
        Column("becomes", "string", "what it is from then on"),
        needed("day", "date", "from which on it holds"),
    )
    rows = tuple(
        (nth, c.player.hex, c.field, c.was or None, c.becomes or None, c.day)
        for nth, c in enumerate(season.people.changes(), 1)
    )
    return TidyTable("roster_changes", "Changes of the roster", columns, ("nth",), rows, (_OF_PLAYER,))
