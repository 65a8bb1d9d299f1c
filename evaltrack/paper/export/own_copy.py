"""All that is kept of one child, for the parents: a page to read, tables, and one file for other programs."""

from collections.abc import Sequence

from evaltrack.analysis.standings.standing import Standing
from evaltrack.language import Language, language, language_of, mark, speaking, tr
from evaltrack.paper.export.own_page import Page, page
from evaltrack.paper.export.team_tables import team_tables
from evaltrack.paper.export.tidy_table import Column, TidyTable, data_package, json_text, needed, only
from evaltrack.rink.note_life import NoteField
from evaltrack.rink.player import Player

_OWN = ("attendance", "tallies", "standings", "roster_changes")
_PLACES = {
    "practice_comment": mark("comment on a practice"),
    "player_comment": mark("comment on the player"),
    "plan_reason": mark("remark of a plan"),
    "plan_block": mark("reason in a plan"),
    "plan_look": mark("why to watch, in a plan"),
    "ice_time": mark("place of an ice time"),
    "note_fact": mark("family's page"),
    "meeting_evening": mark("place of an evening of meetings"),
}


def own_copy(season, player: Player, standings: Sequence[Standing]) -> dict[str, str]:
    """Return the files with everything that an open season has of a player, by their names.

    Parameters
    ----------
    standings : of the whole team, of which the player's are taken.

    The page to read is in the language in which the family's own page was last written, if one is kept; what
    is for other programs is the same in every language.
    """
    mine = [one for one in standings if (one.player, one.name) == (player.number, player.name)]
    team = {table.name: table for table in team_tables(season, standings)}
    tables = [only(team["players"], "id", player.id.hex)]
    tables += [only(team[name], "player", player.id.hex, ("player",)) for name in _OWN]
    kept = season.kept_of(player.id)
    written = kept.written()
    tables.append(_written(written))
    files = {f"{table.name}.csv": table.as_csv() for table in tables}
    files["everything.json"] = json_text({"player": tables[0].as_objects()[0]}
        | {table.name: table.as_objects() for table in tables[1:]} | {"kept": kept.tables()})  # fmt: skip
    package = data_package("kept-of-one-player", f"What is kept of {player.name}", tables)
    files["datapackage.json"] = json_text(package)
    names = {one.key: one.name for one in season.catalogue.skills(retired=True)}
    days = {one.key: one.held_on for one in season.practices.every()}
    with speaking(_language_of_family(season, player)):
        said = [(tr(_PLACES[table]), words) for table, words in written]
        read_first = page(Page(str(season.team), player, mine, tables, said, names, days))
    return {"read-me-first.html": read_first, **files}


def _language_of_family(season, player: Player) -> Language:
    """Return the language of the last page for the family that has one of its own; else that in force."""
    lives = {key.as_of: life for key, life in season.notes.all().items() if key.player == player.id}
    tags = (lives[day].value(NoteField.LANGUAGE) for day in sorted(lives, reverse=True))
    return language_of(next(filter(None, tags), "")) or language()


def _written(written: Sequence[tuple[str, str]]) -> TidyTable:
    columns = (
        needed("nth", "integer", "from 1", minimum=1),
        needed("where", "string", "where it stands", enum=list(_PLACES.values())),
        Column("words", "string", "what the staff wrote, without the names of others"),
    )
    rows = tuple((nth, _PLACES[table], words) for nth, (table, words) in enumerate(written, 1))
    return TidyTable("written", "What the staff wrote", columns, ("nth",), rows)
