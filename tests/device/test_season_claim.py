"""One process at a time has a season file in hand, and no death of a process leaves it claimed."""

import subprocess
import sys

import pytest

from evaltrack.device.season_claim import SeasonClaim, is_claimed_here

_HOLD = (
    "import sys; from evaltrack.device.season_claim import SeasonClaim; claim = SeasonClaim();"
    "print(claim.take(sys.argv[1]), flush=True); sys.stdin.read()"
)


@pytest.fixture
def other():
    """Return a function by which a process of its own claims a season file, and says whether it has it."""
    begun = []

    def claims(path):
        child = subprocess.Popen(
            [sys.executable, "-c", _HOLD, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
        )
        begun.append(child)
        return child, child.stdout.readline().strip() == "True"

    yield claims
    for child in begun:
        child.kill()
        child.communicate()


def test_a_claimed_file_is_refused_until_its_process_is_killed(other, tmp_path):
    """A second process is told; after a kill, which clears nothing away, the very next one has the file."""
    season, claim = tmp_path / "season.db", SeasonClaim()
    child, first = other(season)
    assert (first, claim.take(season), other(season)[1]) == (True, False, False)
    child.kill()
    child.wait()
    assert claim.take(season)
    assert not other(season)[1]


def test_another_season_is_free_and_leaving_gives_the_first_back(other, tmp_path):
    """Two teams' files can be open at once; whoever goes on to another file, or closes it, lets it go."""
    one, two, claim = tmp_path / "one.db", tmp_path / "two.db", SeasonClaim()
    assert claim.take(one)
    assert claim.take(two)
    assert other(one)[1]
    assert not claim.take(one)
    assert not other(two)[1]  # what was refused has not cost the claim that was there
    claim.leave()
    assert other(two)[1]


def test_the_same_file_by_another_way_is_the_same(other, tmp_path):
    """A path with detours in it claims the file that it leads to."""
    (tmp_path / "below").mkdir()
    assert other(tmp_path / "below" / ".." / "season.db")[1]
    assert not SeasonClaim().take(tmp_path / "season.db")


def test_a_claim_of_two_in_one_process_ends_with_the_last(other, tmp_path):
    """A command within the app's process that leaves, once or twice, gives nothing of the app's away."""
    season, app, command = tmp_path / "season.db", SeasonClaim(), SeasonClaim()
    assert app.take(season)
    assert command.take(season)
    command.leave()
    command.leave()
    assert is_claimed_here(season)
    assert not other(season)[1]
    app.leave()
    assert not is_claimed_here(season)
    assert other(season)[1]


def test_a_folder_that_is_read_only_keeps_nobody_out(read_only_folder, monkeypatch, tmp_path):
    """The file of the locks cannot be made there: that is not another window."""
    with read_only_folder() as folder:
        monkeypatch.setenv("EVALTRACK_HOME", str(folder))
        claim = SeasonClaim()
        assert claim.take(tmp_path / "season.db")
        claim.leave()


def test_where_nothing_can_be_locked_nobody_is_kept_out(monkeypatch, tmp_path):
    """A settings folder that cannot be made costs the warning and not the bench."""
    (tmp_path / "file").write_text("in the way")
    monkeypatch.setenv("EVALTRACK_HOME", str(tmp_path / "file" / "below"))
    claim = SeasonClaim()
    assert claim.take(tmp_path / "season.db")
    claim.leave()
