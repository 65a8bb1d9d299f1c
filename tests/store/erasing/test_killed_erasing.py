"""A process that is killed while it erases leaves the player there, or not a byte of the name."""

import os
import shutil
from pathlib import Path

import pytest
from erasable_season import EARLIER, ZORA, noted
from erasing_killed import erase, in_a_child, is_there, kill
from name_search import where_named

from evaltrack.store.erasing import copies_kept, erasing

pytestmark = pytest.mark.skipif(not hasattr(os, "fork"), reason="it takes a process that can be split")
# before each of these, in the order in which they come
STEPS = (
    "pattern_of",
    "take_out",
    "_prove",
    "read_all",
    "names_in_file",
    "forget_copies",
    "_put",
    "_put_on_disk",
)


@pytest.fixture(scope="module")
def whole(tmp_path_factory) -> Path:
    """Keep a season with the player, and an older copy of it beside it."""
    path = noted(tmp_path_factory.mktemp("killed") / "lanterns.db")
    shutil.copy(path, path.with_name("lanterns.db.before-version-8"))
    return path


@pytest.fixture
def path(whole, tmp_path) -> Path:
    """Return a copy of it."""
    return Path(shutil.copytree(whole.parent, tmp_path / "killed")) / "lanterns.db"


@pytest.mark.parametrize("step", STEPS)
def test_a_killed_erasure_is_whole_or_not_at_all(path, monkeypatch, step):
    """Whichever step was about to be taken; and asked for again, it is done, and nothing is left behind."""
    with monkeypatch.context() as patched:
        patched.setattr(erasing, step, lambda *_, **__: kill())
        assert in_a_child(lambda: erase(path))
    there = is_there(path)
    assert there == (step != "_put_on_disk")
    if there:
        erase(path)
    assert where_named(path.parent, ZORA.name, *EARLIER) == []
    assert [one.name for one in path.parent.iterdir()] == ["lanterns.db"]


def test_older_copies_go_before_the_file_takes_its_place(path, monkeypatch):
    """A kill in between would else leave the name in a copy that nobody looks for any more."""
    order = []
    monkeypatch.setattr(
        erasing, "forget_copies", lambda *a: order.append("copies") or copies_kept.forget_copies(*a)
    )
    put = erasing._put
    monkeypatch.setattr(erasing, "_put", lambda *a: order.append("put") or put(*a))
    erase(path)
    assert order == ["copies", "put"]
