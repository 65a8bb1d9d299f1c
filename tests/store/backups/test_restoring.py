"""A backup is brought back: what would be lost is told, what was there is kept, all or nothing."""

import os
import shutil
from datetime import date

import pytest
from lanterns_season import PLAYERS, PRACTICES, tally

from evaltrack.device import sealing
from evaltrack.device.backup_places import Why, backups_folder, backups_of
from evaltrack.device.season_claim import SeasonClaim
from evaltrack.device.tablet import load_tablet
from evaltrack.errors import EvaltrackError
from evaltrack.language import Language, speaking
from evaltrack.rink.loan import LentNames
from evaltrack.rink.tally import Withdrawal
from evaltrack.store.backups import restoring
from evaltrack.store.backups.keeping import write_backup
from evaltrack.store.backups.restoring import bring_back, lost_by, opened_backup
from evaltrack.store.lending import lend
from evaltrack.store.opening import open_season

WORDS = "kettle lantern slush"


@pytest.fixture(autouse=True)
def little_work(monkeypatch):
    """Stretch a passphrase less than for real: how much is another test's."""
    monkeypatch.setattr(sealing, "_WORK", 4)


@pytest.fixture
def backup(season_path, tmp_path):
    """Return a backup with three tallies, of a season that has gone on since."""
    made = tmp_path / "backup.db"
    with open_season(season_path) as season:
        season.log.add_many([], [tally(n) for n in range(3)])
        write_backup(season, made)
        season.log.add_many([], [tally(n) for n in range(3, 8)])
        season.log.withdraw(Withdrawal(tally(0).id, "bench", 1))
        season.comments.write(PRACTICES[0].key, "Soft ice.")
    return made


def test_what_would_be_lost_is_counted(backup, season_path):
    with opened_backup(backup) as season:
        lost = lost_by(season, season_path)
    assert lost == {"tallies": 5, "withdrawals": 1, "comments": 1}


def test_it_comes_back_and_what_was_there_is_kept(backup, season_path):
    """Every fact of the backup is there and no other; the tablet has a new id; it can be taken back."""
    before = load_tablet().id
    with opened_backup(backup) as season:
        kept = bring_back(season, season_path)
    with open_season(season_path) as season:
        assert season.log.count() == 3
        assert season.checks.findings() == []
        (newest,) = backups_of(season.ident)
    assert (newest.path, newest.why) == (kept, Why.RESTORE)
    assert load_tablet().id != before
    with opened_backup(kept) as season:
        bring_back(season, season_path)
    with open_season(season_path) as season:
        assert season.log.count() == 7
        assert season.comments.all()


def test_a_sealed_one_comes_back_under_its_passphrase_only(season_path, tmp_path, refused):
    sealed = tmp_path / "backup.age"
    with open_season(season_path) as season:
        season.log.add(tally(1))
        write_backup(season, sealed, WORDS)
    with refused("sealed under a passphrase", kind=EvaltrackError), opened_backup(sealed):
        pass
    with refused("not the right one", kind=EvaltrackError), opened_backup(sealed, WORDS + "s"):
        pass
    with opened_backup(sealed, WORDS) as season:
        assert season.log.count() == 1
    assert [path for path in backups_folder().iterdir() if path.name.startswith("opened")] == []


def test_what_lies_beside_a_backup_is_not_read(backup, season_path, another_season_path):
    """A journal of any other file beside it changes nothing: the file alone is copied."""
    with open_season(another_season_path) as other:
        other.people.add_observer("Somebody")
        shutil.copy(f"{other.path}-wal", f"{backup}-wal")
        with opened_backup(backup) as season:
            assert season.log.count() == 3


def test_a_season_of_others_and_other_files_are_not_replaced(backup, another_season_path, tmp_path, refused):
    with opened_backup(backup) as season:
        with refused("another season"):
            lost_by(season, another_season_path)
        letter = tmp_path / "letter.db"
        letter.write_text("Dear families")
        with refused("no season file"):
            bring_back(season, letter)
        assert letter.read_text() == "Dear families"


def test_a_season_that_is_open_is_not_replaced(backup, season_path, refused):
    """Not here, and not while another window has its claim."""
    with opened_backup(backup) as season:
        with open_season(season_path) as now, refused("open in a window"):
            bring_back(season, now.path)
        claim = SeasonClaim()
        assert claim.take(season_path)
        bring_back(season, season_path)  # one of this process is no other window
        claim.leave()


def test_a_damaged_season_is_replaced_and_kept_as_it_lay(backup, season_path, another_season_path):
    """Also with its journal: what cannot be read today may be read by somebody tomorrow."""
    content = bytearray(season_path.read_bytes())
    content[2 * 4096 : 3 * 4096] = bytes(4096)
    content[100:200] = os.urandom(100)
    season_path.write_bytes(content)
    with open_season(another_season_path) as other:
        other.people.add_observer("Somebody else")
        shutil.copy(f"{other.path}-wal", f"{season_path}-wal")
        journal = season_path.with_name("lanterns.db-wal").read_bytes()
    with opened_backup(backup) as season:
        assert lost_by(season, season_path) is None
        kept = bring_back(season, season_path)
    assert kept.read_bytes() == content
    assert kept.with_name(f"{kept.name}-wal").read_bytes() == journal
    assert "damaged" in kept.name
    with open_season(season_path) as season:
        assert season.log.count() == 3


def test_a_damaged_backup_is_not_brought_back(backup, season_path, refused):
    """Nothing of it is adopted: neither one with a wrong page nor what cannot be read."""
    content = bytearray(backup.read_bytes())
    content[-4096:] = os.urandom(4096)
    backup.write_bytes(content)
    before = season_path.read_bytes()
    with refused("damaged"), opened_backup(backup):
        pass
    assert season_path.read_bytes() == before
    with refused("no file"), opened_backup(backup.with_name("none.db")):
        pass
    with refused("no file"), opened_backup(backup.parent):
        pass


def test_an_older_backup_is_brought_up_to_date_apart(tmp_path):
    """The backup itself stays of its version, and no copy of it is left beside it."""
    from season_v1 import make_v1

    old = make_v1(tmp_path / "old.db")
    content = old.read_bytes()
    with opened_backup(old) as season:
        count = season.log.count()
        bring_back(season, tmp_path / "new.db")
    with open_season(tmp_path / "new.db") as season:
        assert season.log.count() == count > 0
        assert {player.id for player in season.people.everyone()} != {player.id for player in PLAYERS}
    assert old.read_bytes() == content
    assert sorted(os.listdir(tmp_path)) == ["new.db", "old.db"]


def test_what_was_marked_read_only_is_not_replaced(backup, season_path, refused):
    """Whoever did that meant it, also where this process could write all the same."""
    season_path.chmod(0o400)
    before = season_path.read_bytes()
    with opened_backup(backup) as season, refused("read-only"):
        bring_back(season, season_path)
    assert season_path.read_bytes() == before


@pytest.mark.skipif(os.name == "nt", reason="links need a right of their own")
def test_another_name_goes_on_leading_to_the_season(backup, season_path):
    """A link is followed: what it leads to is replaced, and the link stays one."""
    link = season_path.with_name("link.db")
    link.symlink_to(season_path)
    with opened_backup(backup) as season:
        bring_back(season, link)
    assert link.is_symlink()
    with open_season(season_path) as season:
        assert season.log.count() == 3


def test_what_cannot_be_a_backup_is_refused_before_it_is_read(backup, season_path, refused, monkeypatch):
    """The season that is open itself, whose locks a copy would drop; and what is far too large."""
    with open_season(season_path), refused("is the season that is open"), opened_backup(season_path):
        pass
    monkeypatch.setattr(restoring, "MOST_BYTES", backup.stat().st_size)
    with opened_backup(backup) as season:
        assert season.log.count() == 3
        with refused("there is no folder"):
            bring_back(season, season_path.parent / "none" / "lanterns.db")
    monkeypatch.setattr(restoring, "MOST_BYTES", 2048)
    with refused("far too large for a backup"), opened_backup(backup):
        pass


def test_nothing_is_lost_where_nothing_is(backup, season_path, tmp_path):
    """A new name, and a season that has no more than the backup."""
    with opened_backup(backup) as season:
        assert lost_by(season, tmp_path / "new.db") == {}
        assert bring_back(season, tmp_path / "new.db") is None
        assert lost_by(season, tmp_path / "new.db") == {}


def test_a_loan_is_no_backup_in_any_language(backup, tmp_path):
    """It has no tallies of before, so a season would lose all of them; the sentence is a whole one."""
    loan = tmp_path / "loan.db"
    with opened_backup(backup) as season:
        lend(season, loan, LentNames.NONE, date.today())
    for tongue, words in (
        (Language.ENGLISH, "is a season on loan"),
        (Language.FRENCH_CANADA, "saison en prêt"),
    ):
        with speaking(tongue), pytest.raises(EvaltrackError, match=words), opened_backup(loan):
            pass
