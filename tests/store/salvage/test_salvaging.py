"""What is read of a damaged file was there: flipped bytes, lost ends, pages that are exchanged or blotted."""

import random
import shutil
import sqlite3
import tempfile
from contextlib import closing
from pathlib import Path

import pytest
from damaging import PAGE, blotted, cut, misled, swapped
from hypothesis import given, settings
from hypothesis import strategies as st
from season_to_damage import season_to_damage

from evaltrack.device.sealing import sealed
from evaltrack.errors import EvaltrackError
from evaltrack.store.opening import open_season
from evaltrack.store.salvage.salvaging import Saved, salvage
from evaltrack.words.salvage import CANNOT_BE_SEEN, loss_words, saved_words

# what an index holds a second time: a change in it is always seen
KNOWN = "id, practice, player, skill, skill_version, outcome, pressure, drill, step, observer, tablet"


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    return season_to_damage(tmp_path_factory.mktemp("whole") / "whole.db")


def rows_of(path: Path) -> dict[str, set[tuple]]:
    """Return all rows by table."""
    with closing(sqlite3.connect(path)) as file:
        names = file.execute("SELECT name FROM sqlite_schema WHERE type = 'table'").fetchall()
        return {name: set(file.execute(f"SELECT * FROM {name}")) for (name,) in names if name[0] != "_"}


def tallies_in(path: Path) -> set[tuple]:
    with closing(sqlite3.connect(path)) as file:
        return set(file.execute(f"SELECT {KNOWN} FROM tally"))


def saved_from(content: bytes) -> tuple[Saved, dict[str, set[tuple]], set[tuple]]:
    """Salvage a file with this content; return what is told, and the rows and tallies of the new one."""
    with tempfile.TemporaryDirectory() as folder:
        damaged, target = Path(folder) / "damaged.db", Path(folder) / "saved.db"
        damaged.write_bytes(content)
        saved = salvage(damaged, target)
        assert damaged.read_bytes() == content
        with open_season(target) as season:
            assert season.checks.findings() == list(saved.findings)
            assert saved.kept["tally"] == len(rows_of(target)["tally"])
        return saved, rows_of(target), tallies_in(target)


def test_of_a_whole_file_everything_comes_back(whole):
    saved, rows, tallies = saved_from(whole.read_bytes())
    before = rows_of(whole)
    assert {name: found for name, found in rows.items() if name != "epoch"} == {
        name: found for name, found in before.items() if name != "epoch"
    }
    assert len(tallies) == 420
    assert loss_words(saved) == ["Every row of the file could be read.", CANNOT_BE_SEEN]
    assert saved_words(saved) == "420 tallies, 2 practices, 17 players saved"


@given(st.data())
@settings(max_examples=14, deadline=None)
def test_a_few_changed_bytes_change_no_more_rows(whole, data):
    """Wherever they are: each tally that comes back was there, and a byte spoils one other row at most."""
    content = bytearray(whole.read_bytes())
    places = data.draw(st.lists(st.integers(0, len(content) - 1), min_size=1, max_size=3, unique=True))
    for at in places:
        content[at] ^= data.draw(st.integers(1, 255))
    saved, rows, tallies = saved_from(bytes(content))
    assert tallies <= tallies_in(whole)
    before = rows_of(whole)
    strange = sum(len(rows[name] - before[name]) for name in rows if name != "epoch")
    assert strange <= len(places) + sum(saved.stood_in.values()) + (saved.kept["season"] - 1)
    assert len(tallies) > 0 or saved.lost["tally"] > 0


@given(seed=st.integers(0, 10_000), damage=st.sampled_from([cut, blotted, swapped, misled]))
@settings(max_examples=8, deadline=None)
def test_whole_stretches_are_lost_and_nothing_is_invented(whole, seed, damage):
    """A lost end, a blot, pages that lead astray: what comes back was there, and losses are told."""
    content = bytes(damage(bytearray(whole.read_bytes()), random.Random(seed), whole.read_bytes()))
    try:
        saved, _, tallies = saved_from(content)
    except EvaltrackError as error:
        told = str(error)
        assert "nothing of a season" in told
        return
    before = tallies_in(whole)
    assert tallies <= before
    if tallies < before:
        assert saved.lost.get("tally") or "tally" in saved.unknown


def without(path: Path, table: str) -> bytes:
    """Return a file with noise in place of the first page of a table."""
    with closing(sqlite3.connect(path)) as file:
        (root,) = file.execute("SELECT rootpage FROM sqlite_schema WHERE name = ?", (table,)).fetchone()
    content = bytearray(path.read_bytes())
    content[(root - 1) * PAGE : root * PAGE] = bytes(2) + random.Random(root).randbytes(PAGE - 2)
    return bytes(content)


@pytest.mark.parametrize(
    "table", ["observer", "practice", "attendance", "skill", "definition", "drill", "step", "slot"]
)
def test_one_lost_page_is_one_table_s_loss(whole, table):
    """A single page of noise leaves all the others: every tally comes back, and the loss is told."""
    saved, _, tallies = saved_from(without(whole, table))
    assert len(tallies) == 420
    assert saved.pages == 1
    assert saved.findings == ()
    assert loss_words(saved)[0] == "1 page cannot be read."


def test_the_page_that_leads_to_all_others_may_be_lost(whole):
    """Without the list of tables each page is told by what is on it."""
    content = bytearray(whole.read_bytes())
    content[:PAGE] = bytes(PAGE)
    _, _, tallies = saved_from(bytes(content))
    assert len(tallies) == 420


def test_tallies_whose_own_page_is_lost_are_read_from_the_indexes(whole):
    """They count as before; when each was made, in which rep and slot, is lost, and that is told."""
    saved, rows, tallies = saved_from(without(whole, "tally"))
    assert tallies == tallies_in(whole)
    assert saved.stood_in["tally"] == len(rows["tally"] - rows_of(whole)["tally"]) > 0
    assert any("from an index alone" in sentence for sentence in loss_words(saved))


def test_of_a_backup_that_was_cut_most_tallies_come_back(whole, tmp_path):
    """A backup has the tallies at its end: where ten pages are cut off, the indexes have them still."""
    with closing(sqlite3.connect(whole)) as file:
        file.execute("VACUUM INTO ?", (str(tmp_path / "backup.db"),))
    content = (tmp_path / "backup.db").read_bytes()
    saved, _, tallies = saved_from(content[: -10 * PAGE])
    assert tallies <= tallies_in(whole)
    assert len(tallies) >= 400, saved


def test_players_that_are_lost_have_stand_ins(whole):
    """Their tallies are not lost with them; who they were is to be written anew."""
    saved, rows, tallies = saved_from(without(whole, "player"))
    assert len(tallies) == 420
    assert saved.stood_in["player"] == 17
    assert {row[2] for row in rows["player"]} == {f"not readable {n}" for n in range(1, 18)}
    assert any("Write their names anew" in sentence for sentence in loss_words(saved))


def test_an_older_file_is_salvaged_too(tmp_path):
    from season_v1 import make_v1

    old, target = make_v1(tmp_path / "old.db"), tmp_path / "saved.db"
    content = bytearray(old.read_bytes())
    content[-1] ^= 255
    old.write_bytes(content)
    saved = salvage(old, target)
    assert saved.kept["tally"] >= 39
    with open_season(target) as season:
        assert season.checks.findings() == []


def test_what_is_no_season_makes_no_file(tmp_path, refused):
    """Noise, nothing, a letter: one sentence, and no file is left."""
    for content in (b"", b"Dear families", random.Random(1).randbytes(50_000), bytes(40_960)):
        damaged = tmp_path / "damaged.db"
        damaged.write_bytes(content)
        with refused("nothing of a season"):
            salvage(damaged, tmp_path / "saved.db")
        assert [path.name for path in tmp_path.iterdir()] == ["damaged.db"]


def test_nothing_is_replaced_and_a_journal_is_named(whole, tmp_path, refused):
    damaged, target = Path(shutil.copy(whole, tmp_path / "damaged.db")), tmp_path / "saved.db"
    Path(f"{damaged}-wal").write_bytes(b"something")
    assert salvage(damaged, target).journal == "damaged.db-wal"
    with refused("is there already"):
        salvage(damaged, target)


def test_a_sealed_file_is_salvaged_under_its_passphrase(whole, tmp_path):
    damaged, words = tmp_path / "damaged.age", "kettle lantern slush"
    damaged.write_bytes(sealed(without(whole, "attendance"), words))
    assert salvage(damaged, tmp_path / "saved.db", words).pages
