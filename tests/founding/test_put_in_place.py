"""A season file gets its name when it is whole, in the place of nothing, and else it is said why not."""

import pytest

from evaltrack.errors import EvaltrackError
from evaltrack.founding.placing import made_beside


def test_a_name_that_is_taken_stays_what_it_was(tmp_path):
    """Nothing of what was made is left beside it."""
    taken = tmp_path / "taken.db"
    taken.write_text("old")
    with pytest.raises(EvaltrackError, match="is there already"), made_beside(taken) as draft:
        draft.write_text("new")
    assert [(one.name, one.read_text()) for one in tmp_path.iterdir()] == [("taken.db", "old")]
    with made_beside(tmp_path / "free.db") as draft:
        draft.write_text("new")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["free.db", "taken.db"]


def test_why_it_cannot_be_made_is_said(tmp_path):
    """By its own name, and never by that of what is being made."""
    target = tmp_path / "season.db"
    with pytest.raises(EvaltrackError, match=r"season\.db\" cannot be made: No such file") as caught:
        with made_beside(target):
            pass  # nothing was made
    assert ".making-" not in str(caught.value)
    (tmp_path / "file").write_text("")
    with pytest.raises(EvaltrackError, match=r"file\b"), made_beside(tmp_path / "file" / "season.db"):
        raise AssertionError
