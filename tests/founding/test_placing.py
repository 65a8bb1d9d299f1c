"""A season file gets its name when it is whole, in the place of nothing, and else it is said why not."""

import pytest

from evaltrack.errors import EvaltrackError
from evaltrack.founding.placing import folder_beside, put


def test_a_name_that_is_taken_stays_what_it_was(tmp_path):
    """The draft is not lost either."""
    draft, taken = tmp_path / "draft", tmp_path / "taken.db"
    draft.write_text("new")
    taken.write_text("old")
    with pytest.raises(EvaltrackError, match="is there already"):
        put(draft, taken)
    assert (draft.read_text(), taken.read_text()) == ("new", "old")
    put(draft, tmp_path / "free.db")
    assert [one.name for one in sorted(tmp_path.iterdir())] == ["free.db", "taken.db"]


def test_why_it_cannot_be_made_is_said(tmp_path):
    """In the words of the system."""
    with pytest.raises(OSError) as refused:  # noqa: PT011  whatever the system says of it
        (tmp_path / "none").rename(tmp_path / "season.db")
    with pytest.raises(EvaltrackError) as caught:
        put(tmp_path / "none", tmp_path / "season.db")
    assert str(caught.value) == f'"{tmp_path / "season.db"}" cannot be made: {refused.value.strerror}'
    (tmp_path / "file").write_text("")
    with pytest.raises(EvaltrackError, match="cannot be made: a file has its name"):
        folder_beside(tmp_path / "file" / "season.db")
