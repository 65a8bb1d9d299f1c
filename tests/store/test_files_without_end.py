"""A device or a pipe in the place of a file is refused: no end is read to, and nobody is waited for."""

import os
import shutil
from pathlib import Path

import pytest

from evaltrack.cli.passphrases import passphrase_for
from evaltrack.errors import EvaltrackError
from evaltrack.intake.saving import save
from evaltrack.store.backups.restoring import lost_by
from evaltrack.store.erased_on_tablet import erase_on_tablet
from evaltrack.store.opening import open_season
from evaltrack.store.packs.season_packs import pack_in
from evaltrack.store.salvage.salvaging import salvage
from evaltrack.touch.worker.pack_tasks import needs_passphrase

ENDLESS = Path("/dev/zero")


@pytest.mark.skipif(not ENDLESS.exists(), reason="it takes a device that has no end")
def test_a_device_without_end_is_no_pack_and_no_season(tmp_path):
    """Reading it to its end would take all the memory that there is."""
    with pytest.raises(EvaltrackError, match="no ordinary file"):
        pack_in(ENDLESS)
    with pytest.raises(EvaltrackError, match="no ordinary file"):
        salvage(ENDLESS, tmp_path / "saved.db")
    assert not list(tmp_path.iterdir())


@pytest.mark.skipif(not hasattr(os, "mkfifo"), reason="it takes a pipe that has a name")
def test_a_pipe_is_waited_for_by_nobody(season_template, tmp_path):
    """Neither as what is read, nor as what is written, nor beside a season from which somebody is erased."""
    pipe, path = tmp_path / "pipe.txt", Path(shutil.copy(season_template, tmp_path / "lanterns.db"))
    os.mkfifo(pipe)
    for reading in (
        lambda: pack_in(pipe),
        lambda: salvage(pipe, tmp_path / "saved.db"),
        lambda: passphrase_for(True, pipe),
        lambda: needs_passphrase(pipe),
        lambda: save(pipe, b"a form"),
    ):
        with pytest.raises(EvaltrackError, match="no ordinary file"):
            reading()
    with open_season(path) as season:
        with pytest.raises(EvaltrackError, match="no ordinary file"):
            lost_by(season, pipe)
        erase_on_tablet(season, season.people.everyone()[0], keep_counts=False, rehearse=False)
    assert sorted(one.name for one in tmp_path.iterdir()) == ["lanterns.db", "pipe.txt"]


@pytest.mark.parametrize(
    ("content", "words"),
    [
        (b"\0" * 4096, "is no text"),
        (b"x" * 5000, "far too long"),
        (b"\xff\xfe\n", "is no text"),
    ],
    ids=["zeros", "long", "no UTF-8"],
)
def test_what_is_no_line_of_text_is_no_passphrase(tmp_path, content, words):
    """A file is read as far as a passphrase can be; a huge one costs nothing more."""
    file = tmp_path / "key.txt"
    file.write_bytes(content)
    os.truncate(file, len(content) + (64 << 30 if words == "far too long" else 0))
    with pytest.raises(EvaltrackError, match=words):
        passphrase_for(True, file)


def test_a_passphrase_is_the_first_line_without_its_end(tmp_path):
    """Whatever the editor put there: a mark of UTF-8, an end of line of Windows."""
    file = tmp_path / "key.txt"
    file.write_bytes(b"\xef\xbb\xbflake ember stone \r\nnot this")
    assert passphrase_for(True, file) == "lake ember stone "
    with pytest.raises(EvaltrackError, match="Is a directory"):
        passphrase_for(True, tmp_path)
