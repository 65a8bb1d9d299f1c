"""What is exported is the season, read back with plain readers; a child's has no word of another child.

Cases: every table against its description (types, constraints, keys, references) and against the season;
cells that would be formulas; the page for parents; all or nothing; a folder with something in it.
"""

import csv
import json
import os
import shutil
from dataclasses import replace
from datetime import date, datetime, time
from html.parser import HTMLParser
from pathlib import Path

import pytest
from erasable_season import EARLIER, FIRST, ZORA, noted
from lanterns_season import PLAYERS
from name_search import where_named

from evaltrack.analysis.standings.standings import read_standings
from evaltrack.paper.export import new_folder
from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.note_life import NoteFact, NoteField, NoteKey
from evaltrack.store.kept_of_player import WRITTEN
from evaltrack.store.opening import open_season
from evaltrack.touch.worker.player_tasks import export_team

READ = {
    "string": str,
    "integer": int,
    "number": float,
    "boolean": {"true": True, "false": False}.__getitem__,
    "date": date.fromisoformat,
    "datetime": lambda text: datetime.strptime(text, "%Y-%m-%dT%H:%M:%SZ"),
}


@pytest.fixture(scope="module")
def lanterns(tmp_path_factory) -> Path:
    """Keep a season in which everything is named, with a name that a spreadsheet would work out."""
    path = noted(tmp_path_factory.mktemp("export") / "lanterns.db")
    with open_season(path) as season:
        season.people.change([replace(PLAYERS[1], name="=Wim+Tallow")], FIRST, "bench")
        season.comments.write(FIRST.isoformat(), "@Juno Reed passes to Žofia Quillembrück", "bench")
    return path


@pytest.fixture
def season_file(lanterns, tmp_path) -> Path:
    """Return a copy of it."""
    return Path(shutil.copy(lanterns, tmp_path / "lanterns.db"))


def read(folder: Path) -> dict[str, list[dict]]:
    """Return the tables of a folder as their description says, each looked at."""
    package = json.loads((folder / "datapackage.json").read_text("utf-8"))
    tables = {one["name"]: _rows(folder, one) for one in package["resources"]}
    for one in package["resources"]:
        rows, schema = tables[one["name"]], one["schema"]
        keys = [tuple(row[name] for name in schema["primaryKey"]) for row in rows]
        assert len(set(keys)) == len(keys), one["name"]
        for key in schema.get("foreignKeys", ()):
            there = tables.get(key["reference"]["resource"])
            known = {tuple(row[name] for name in key["reference"]["fields"]) for row in there}
            assert {tuple(row[name] for name in key["fields"]) for row in rows} <= known
    return tables


def _rows(folder: Path, resource: dict) -> list[dict]:
    fields = resource["schema"]["fields"]
    with (folder / resource["path"]).open(newline="", encoding="utf-8") as file:
        lines = list(csv.reader(file))
    assert lines[0] == [one["name"] for one in fields]
    assert not [text for line in lines for text in line if text[:1] in ("=", "+", "@")]
    return [
        {one["name"]: _value(one, text) for one, text in zip(fields, line, strict=True)} for line in lines[1:]
    ]


def _value(field: dict, text: str) -> object:
    rules = field.get("constraints", {})
    if not text:
        assert not rules.get("required"), field
        return None
    value = READ[field["type"]](text)
    assert text in rules.get("enum", [text])
    assert rules.get("minimum", value) <= value <= rules.get("maximum", value)
    return value


def test_the_team_s_tables_are_the_season(command, season_file, tmp_path):
    """Each row that is read back is one of the season, and none is missing."""
    told = command("export", season_file, "--out", tmp_path / "out")
    assert told.exit_code == 0, told.stderr
    tables = read(tmp_path / "out")
    with open_season(season_file) as season:
        people, tallies = season.people.everyone(), season.log.tallies()
        standings = read_standings(season, left=True)
        there = {(key, one.hex) for key, found in season.turnout.there().items() for one in found}
        changes = season.people.changes()
    ids = {one.id.hex: one for one in people}
    assert {row["id"] for row in tables["players"]} == set(ids)
    assert {row["name"] for row in tables["players"]} == {one.name for one in PLAYERS[:1] + PLAYERS[2:]} | {
        ZORA.name,
        "'=Wim+Tallow",
    }
    assert [(r["id"], r["player"], r["skill"], r["outcome"], r["pressure"]) for r in tables["tallies"]] == [
        (t.id.hex, t.player.hex, t.skill, t.outcome, t.pressure) for t in tallies
    ]
    assert {(row["practice"], row["player"]) for row in tables["attendance"] if row["here"]} == there
    assert [
        (ids[r["player"]].number, r["skill"], r["tries"], r["done"], r["call"]) for r in tables["standings"]
    ] == [(one.player, one.skill, one.tries, one.done, one.call) for one in standings]
    assert [r["share"] for r in tables["standings"]] == pytest.approx([s.share for s in standings], abs=1e-6)
    assert [(r["player"], r["was"] or "", r["day"]) for r in tables["roster_changes"]] == [
        (c.player.hex, c.was if c.was != "=Wim+Tallow" else "'=Wim+Tallow", c.day) for c in changes
    ]
    assert tables["practices"][0]["comment"] == "'@Juno Reed passes to Žofia Quillembrück"


class Outline(HTMLParser):
    """The tags of a page, and what they ask for from elsewhere."""

    def __init__(self, text: str):
        super().__init__()
        self.tags, self.asks, self.attributes = [], [], {}
        self.feed(text)

    def handle_starttag(self, tag, attrs):
        self.tags.append(tag)
        self.attributes.setdefault(tag, dict(attrs))
        self.asks += [value for name, value in attrs if name in ("src", "href")]


def test_a_child_s_folder_has_all_of_the_child_and_no_word_of_another(command, season_file, tmp_path):
    """Page, tables and rows as they are kept; the names of others are struck out of what was written."""
    folder = tmp_path / "parents" / "out"
    told = command("export", season_file, "--out", folder, "--player", "88")
    assert told.exit_code == 0, told.stderr
    others = [word for one in PLAYERS for word in (one.name, one.id.hex)]
    assert where_named(folder, *others, "Juno", "Tallow") == []
    page = (folder / "read-me-first.html").read_text("utf-8")
    outline = Outline(page)
    assert outline.attributes["html"] == {"lang": "en"}
    assert (outline.tags.count("h1"), outline.tags.count("title"), outline.asks) == (1, 1, [])
    assert outline.tags.count("caption") == outline.tags.count("table") == 5
    assert "passes to Žofia Quillembrück" in page
    tables = read(folder)
    with open_season(season_file) as season:
        tallies = season.log.tallies(player=ZORA.id)
    assert [row["id"] for row in tables["tallies"]] == [one.id.hex for one in tallies]
    kept = json.loads((folder / "everything.json").read_text("utf-8"))
    assert kept["player"]["name"] == ZORA.name
    assert [row["id"] for row in kept["tallies"]] == [one.id.hex for one in tallies]
    named = {
        "player",
        "attendance",
        "tally",
        "roster_change",
        "line_start",
        "rep_slot",
        "plan_place",
        "plan_look",
    }
    assert named | {"edit", "correction_of_tally"} == set(kept["kept"])
    assert {row["was"] for row in kept["kept"]["roster_change"]} >= set(EARLIER)
    assert not [
        row for row in kept["kept"]["correction_of_tally"] if row["change"] == "player" and row["was"]
    ]


@pytest.mark.parametrize("place", WRITTEN)
def test_wherever_the_child_is_named_it_is_told(command, season_file, tmp_path, place):
    """Each text of the staff's in which a name may stand, also the words of the family's own page."""
    table, column = place.split(".")
    with open_season(season_file) as season:
        page = NoteFact(NoteKey(ZORA.id, FIRST), NoteField.COACH_WORDS, "Keep at it.")
        season.notes.add([page], "bench")
        season.meetings.add(Evening("2026-01-20", date(2026, 1, 20), time(18)), "bench")
        season.calendar.note([IceTime(FIRST, time(18), uid="ice")], "bench")
        assert season._connection.execute(f"SELECT count(*) FROM {table}").fetchone() > (0,)
        season._connection.execute(f"UPDATE {table} SET {column} = 'Žofia, twice'")
    told = command("export", season_file, "--out", tmp_path / "out", "--player", "88")
    assert told.exit_code == 0, told.stderr
    assert {"Žofia, twice"} <= {row["words"] for row in read(tmp_path / "out")["written"]}


def test_the_page_speaks_the_family_s_language_and_the_tables_the_programs(command, season_file, tmp_path):
    """The language of the family's last own page is that of the page to read; no table depends on it."""
    assert command("export", season_file, "--out", tmp_path / "english", "--player", "88").exit_code == 0
    with open_season(season_file) as season:
        earlier, last = (NoteKey(ZORA.id, day) for day in (date(2025, 12, 1), date(2026, 1, 13)))
        season.notes.add(
            [NoteFact(earlier, NoteField.LANGUAGE, "en"), NoteFact(last, NoteField.LANGUAGE, "fr-CA")]
        )
    assert command("export", season_file, "--out", tmp_path / "french", "--player", "88").exit_code == 0
    page = (tmp_path / "french" / "read-me-first.html").read_text("utf-8")
    assert Outline(page).attributes["html"] == {"lang": "fr-CA"}
    assert "Voici tout ce que" in page
    assert "Séance par séance" in page
    for table in sorted((tmp_path / "english").glob("*.csv")):
        assert (tmp_path / "french" / table.name).read_text("utf-8") == table.read_text("utf-8")


def test_a_name_is_no_markup(command, season_file, tmp_path):
    """What somebody typed stands on the page as they typed it."""
    with open_season(season_file) as season:
        season.people.change([replace(ZORA, name="<b>Žofia</b> & co")], FIRST, "bench")
    assert command("export", season_file, "--out", tmp_path / "out", "--player", "88").exit_code == 0
    page = (tmp_path / "out" / "read-me-first.html").read_text("utf-8")
    assert "<h1>What is kept of &lt;b&gt;Žofia&lt;/b&gt; &amp; co</h1>" in page


def test_a_folder_is_there_whole_or_not_at_all(command, season_file, tmp_path, monkeypatch):
    """For its owner alone, never over what is there, and nothing is left of one that failed."""
    full, empty = tmp_path / "full", tmp_path / "empty"
    full.mkdir()
    (full / "mine.txt").write_text("mine")
    empty.mkdir()
    told = command("export", season_file, "--out", full)
    assert (told.exit_code, told.stdout) == (1, "")
    assert "has something in it already" in told.stderr
    assert [one.name for one in full.iterdir()] == ["mine.txt"]
    assert command("export", season_file, "--out", empty).exit_code == 0
    if os.name != "nt":
        assert {path.stat().st_mode & 0o077 for path in (empty, *empty.iterdir())} == {0}
    before, written = sorted(tmp_path.iterdir()), []

    def full_disk(target, content):
        written.append(target)
        if len(written) == 4:
            raise OSError(28, "No space left on device")
        target.write_bytes(content)

    monkeypatch.setattr(new_folder, "write_private", full_disk)
    told = command("export", season_file, "--out", tmp_path / "late")
    assert told.exit_code == 1
    assert "cannot be written: the disk is full; make room on it" in told.stderr
    assert sorted(tmp_path.iterdir()) == before


def test_the_window_writes_the_same_files(command, season_file, tmp_path):
    """Byte for byte: there is one way to the tables and their description."""
    made = tmp_path / "by-touch"
    made.mkdir()
    export_team(season_file, made)
    assert command("export", season_file, "--out", tmp_path / "by-command").exit_code == 0
    (folder,) = made.iterdir()
    told = [
        {one.name: one.read_bytes() for one in each.iterdir()} for each in (folder, tmp_path / "by-command")
    ]
    assert told[0] == told[1]
    assert "datapackage.json" in told[0]


def test_each_child_has_a_folder(command, season, tmp_path):
    """With --each, and of no other child a word in it; a folder in use is refused."""
    folder = tmp_path / "for-all"
    told = command("export", season, "--out", folder, "--each")
    assert told.exit_code == 0, told.stderr
    with open_season(season) as opened:
        players = opened.people.everyone()
    assert f"copies for the parents of {len(players)} players" in told.stdout
    places = sorted(folder.iterdir())
    assert len(places) == len(players)
    own = next(place for place in places if place.name.startswith("2-"))
    assert where_named(own, players[0].name)
    assert where_named(own, *(player.name for player in players[1:])) == []
    assert command("export", season, "--out", folder, "--each").exit_code == 1
    assert command("export", season, "--out", folder, "--each", "--player", "2").exit_code == 2
