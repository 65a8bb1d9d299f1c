"""A season lent from the command line: what is said, what a loan refuses, and tallies taken back."""

from dataclasses import replace
from datetime import date, timedelta

import pytest

from evaltrack.device.backup_places import copies_elsewhere
from evaltrack.rink.ident import new_id
from evaltrack.rink.practice import Practice
from evaltrack.store.opening import open_season


@pytest.fixture
def loan(command, season, tmp_path):
    """Lend the pond season, and return the loan's path."""
    done = command("lend", season, "--out", tmp_path / "loan.db")
    assert done.exit_code == 0, done.stderr
    return tmp_path / "loan.db"


def test_lending_says_until_when_and_how_the_tallies_come_back(command, season, tmp_path):
    """The last day that was named, and what is in the loan; the tablet remembers that it is out."""
    until = date.today() + timedelta(3)
    done = command("lend", season, "--out", tmp_path / "out.db", "--names", "none", "--until", until)
    assert (done.exit_code, "numbers and no name" in done.stdout, "as a pack" in done.stdout) == (
        0,
        True,
        True,
    )
    with open_season(season) as lender, open_season(tmp_path / "out.db") as lent:
        assert lent.loan.last_day == until
        assert [copy.path.name for copy in copies_elsewhere(lender.ident)] == ["out.db"]


def test_tallies_of_a_loan_are_packed_and_joined(command, season, loan, tmp_path):
    """They count in the season, and whoever joins twice has them once."""
    with open_season(season) as lender:
        before = lender.log.count()
        tallies = lender.log.tallies()[:3]
    with open_season(loan) as lent:
        practice = date.today().isoformat()
        made = [replace(one, id=new_id(), practice=practice, rep=None, observer="Helper") for one in tallies]
        lent.log.add_many([Practice(practice, date.today())], made)
    assert command("pack", loan, "--out", tmp_path / "back.pack").exit_code == 0
    for _ in range(2):
        done = command("join", season, tmp_path / "back.pack")
        assert done.exit_code == 0, done.stderr
    with open_season(season) as lender:
        assert lender.log.count() == before + 3


@pytest.mark.parametrize(
    "words",
    [
        ("standings", "{loan}"),
        ("roster", "{loan}"),
        ("lend", "{loan}", "--out", "{loan}.2"),
        ("join", "{loan}", "{loan}"),
        ("erase", "{loan}", "--player", "2"),
        ("backup", "{loan}", "{loan}.3"),
        ("restore", "{loan}", "{loan}.4"),
    ],
    ids=lambda words: words[0],
)
def test_what_is_not_for_a_loan_is_refused_in_a_sentence(command, loan, words):
    """Review, roster, backups and further loans belong to the season that it was lent from."""
    done = command(*(word.format(loan=loan) for word in words))
    assert (done.exit_code, "on loan" in done.stderr) == (1, True), done.stderr


def test_a_day_that_is_over_is_refused(command, season, tmp_path):
    """And nothing is written."""
    yesterday = date.today() - timedelta(1)
    done = command("lend", season, "--out", tmp_path / "out.db", "--until", yesterday)
    assert (done.exit_code, "is over" in done.stderr, (tmp_path / "out.db").exists()) == (1, True, False)


def test_a_loan_is_no_place_for_a_backup(command, season, tmp_path):
    """What the helper noted in it would be gone, and the loan would be a season."""
    loan, backup = tmp_path / "loan.db", tmp_path / "back.db"
    assert command("lend", season, "--out", loan).exit_code == 0
    assert command("backup", season, backup).exit_code == 0
    for words in ((), ("--yes",)):
        told = command("restore", backup, loan, *words)
        assert (told.exit_code, told.stdout) == (1, "")
        assert told.stderr == f'"{loan}" is a season on loan, and is not replaced; name another file\n'
