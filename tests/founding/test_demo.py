"""The season of the invented team: whole or not there, and known as invented wherever it goes."""

import shutil

import pytest

from evaltrack.cli.working import created
from evaltrack.errors import EvaltrackError
from evaltrack.founding.demo import DEMO_FILE, make_demo
from evaltrack.founding.season import shipped
from evaltrack.store.opening import open_season


def test_the_demo_is_whole_and_each_stage_is_told(tmp_path):
    """A folder that is not there yet gets one file, and the stages come in order, each with its share."""
    target = tmp_path / "own" / DEMO_FILE
    stages = list(make_demo(target))
    assert [stage.share for stage in stages] == sorted(stage.share for stage in stages)
    assert all(stage.words for stage in stages)
    assert list(target.parent.iterdir()) == [target]
    with open_season(target) as season:
        count, practices = season.log.count(), len(season.practices.all())
        assert str(season.team) == "Kettle Bay Lanterns 12U"
    assert stages[2].words == f"{count:,} tallies of {practices} practices are noted"
    assert count > 5000


@pytest.mark.parametrize("after", [1, 2, 3, 4])
def test_work_that_is_cut_short_leaves_nothing(tmp_path, after):
    """Whoever stops listening after any stage leaves no half season under the name, and none beside it."""
    target = tmp_path / DEMO_FILE
    work = make_demo(target)
    for _ in range(after):
        next(work)
    work.close()
    assert list(tmp_path.iterdir()) == []


def test_what_is_there_is_not_replaced(tmp_path):
    """A file of that name stays byte for byte, and the work says in a sentence what is in the way."""
    target = tmp_path / DEMO_FILE
    target.write_text("mine")
    with pytest.raises(EvaltrackError, match="is there already"):
        list(make_demo(target))
    assert (target.read_text(), len(list(tmp_path.iterdir()))) == ("mine", 1)


def test_a_folder_that_cannot_be_written_to_is_told(read_only_folder):
    """A sentence with the folder in it, and nothing else."""
    with read_only_folder() as folder, pytest.raises(EvaltrackError, match="nothing can be written"):
        list(make_demo(folder / DEMO_FILE))


def test_a_copy_is_still_known_as_invented_and_a_teams_own_season_is_not(tmp_path):
    """The mark is in the file: neither another name takes it off, nor does the same team name put it on."""
    list(make_demo(tmp_path / DEMO_FILE))
    shutil.copy(tmp_path / DEMO_FILE, tmp_path / "ours.db")
    created(tmp_path / "own.db", "Kettle Bay Lanterns", "12U", shipped("roster.csv")).close()
    found = {}
    for name in (DEMO_FILE, "ours.db", "own.db"):
        with open_season(tmp_path / name) as season:
            found[name] = season.invented
    assert found == {DEMO_FILE: True, "ours.db": True, "own.db": False}
