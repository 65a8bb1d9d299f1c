"""Packs from the command line: what is said of what came in, what lost, and what is refused.

Cases: there and back with equal standings and practices; a rehearsal; what lost, then and later; since a
pack; two homes give two tablets; a window that is open; wrong words; files that are none.
"""

import os
import shutil
from contextlib import contextmanager
from pathlib import Path

import pytest

from evaltrack.device.tablet import load_tablet


@pytest.fixture
def tablets(season, tmp_path):
    """Return two copies of a season with tallies, and a way to work on one of them as its own tablet."""
    copies = {name: Path(shutil.copy(season, tmp_path / f"{name}.db")) for name in ("one", "two")}

    @contextmanager
    def tablet(name: str):
        before, os.environ["EVALTRACK_HOME"] = os.environ["EVALTRACK_HOME"], str(tmp_path / f"home-{name}")
        try:
            yield copies[name]
        finally:
            os.environ["EVALTRACK_HOME"] = before

    return tablet


@pytest.fixture
def said(command):
    """Return a runner of a command that must do it, which gives what was said."""

    def run(*words) -> str:
        done = command(*words)
        assert (done.exit_code, done.stderr) == (0, ""), done.stderr
        return done.stdout

    return run


def renumbered(said, path: Path, number: str) -> None:
    """Give number 2 another number, as a roster file says."""
    roster = path.with_suffix(".csv")
    said("roster", path, "--out", roster)
    text = roster.read_text("utf-8").replace("\n2,", f"\n{number},")
    roster.write_text(text, encoding="utf-8")
    said("roster", path, "--set", roster)


def test_two_tablets_come_to_the_same(tablets, said, tmp_path):
    """What is printed of the season is the same to the byte, whoever prints it."""
    day = "2025-11-03,breakout_attack,two_on_one,outlet_pass,2,done,no,Edda"
    header = "date,drill,step,skill,player,outcome,pressure,observer"
    for name, count in (("one", 3), ("two", 5)):
        with tablets(name) as path:
            more = tmp_path / f"{name}-more.csv"
            more.write_text(
                "\n".join([header, *[day.replace("Edda", name)] * count]) + "\n", encoding="utf-8"
            )
            said("load", path, more)
            told = said("pack", path, "--out", tmp_path / f"{name}.pack")
            assert f"{128 + count} tallies" in told
    printed = []
    for name, other in (("one", "two"), ("two", "one")):
        with tablets(name) as path:
            pack = tmp_path / f"{other}.pack"
            would = said("join", path, pack, "--dry-run")
            assert would.startswith("would bring: ")
            assert would.endswith("Nothing was changed.\n")
            count = 5 if other == "two" else 3
            assert f"brought: {count} tallies" in said("join", path, pack)
            assert said("join", path, pack) == "brought: nothing new\n"
            printed.append(
                said("standings", path, "--format", "csv") + said("practices", path, "--format", "csv")
            )
    assert printed[0] == printed[1]
    assert "2025-11-03,2025-11-03,Monday,full,1,8,one; two," in printed[0]


def test_what_lost_is_said_and_can_be_listed(tablets, said, tmp_path):
    """Then, and whenever it is asked for."""
    for name, number in (("one", "55"), ("two", "56")):
        with tablets(name) as path:
            renumbered(said, path, number)
            said("pack", path, "--out", tmp_path / f"{name}.pack")
    with tablets("one") as path:
        assert said("join", path, "--lost") == "No change has lost against a newer one.\n"
        told = said("join", path, tmp_path / "two.pack")
        assert "the number of 56 Tuva Ashlund: 55, of " in told
        assert "lost against 56 of the tablet" in told
        listed = said("join", path, "--lost")
        assert listed.startswith("the number of 56 Tuva Ashlund: 55, of ")


def test_a_pack_since_another_has_only_what_is_new(tablets, said, command, tmp_path):
    """Whoever lacks the other one is told to join it first."""
    with tablets("one") as path:
        said("pack", path, "--out", tmp_path / "early.pack")
        said("correct", path, "--practice", "2025-10-06", "--comment", "Soft ice.")
        told = said("pack", path, "--out", tmp_path / "late.pack", "--since", tmp_path / "early.pack")
        assert told.startswith(f"{tmp_path / 'late.pack'}: 1 comment; not sealed")
    with tablets("two") as path:
        assert "1 comment" in said("join", path, tmp_path / "late.pack")


def test_a_copy_on_another_tablet_has_another_id(tablets):
    """The id is the tablet's, and not in the season's file: no copy of that brings it along."""
    ids = []
    for name in ("one", "two"):
        with tablets(name):
            ids.append(load_tablet().id)
    assert len(set(ids)) == 2


def test_nothing_is_joined_under_an_open_window(tablets, said, command, tmp_path):
    """It would go on showing what was before; a pack can be written, and a rehearsal too is refused."""
    with tablets("one") as path:
        said("pack", path, "--out", tmp_path / "a.pack")
        other = command_in_another_process(path)
        try:
            assert "128 tallies" in said("pack", path, "--out", tmp_path / "b.pack")
            done = command("join", path, tmp_path / "a.pack")
            assert done.exit_code == 1
            assert "close that window first" in done.stderr
        finally:
            other.kill()
            other.wait()


def command_in_another_process(path: Path):
    """Let another process claim a season file, as a window does."""
    import subprocess
    import sys

    text = (
        "import sys; from pathlib import Path; from evaltrack.device.season_claim import SeasonClaim\n"
        "claim = SeasonClaim(); print(claim.take(Path(sys.argv[1])), flush=True); sys.stdin.read()"
    )
    child = subprocess.Popen(
        [sys.executable, "-c", text, str(path)], stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True
    )
    assert child.stdout.readline() == "True\n"
    return child


@pytest.mark.parametrize(
    "words", [[], ["--lost", "--dry-run"], ["a.pack", "--lost"]], ids=["nothing", "both", "a pack too"]
)
def test_wrong_words_are_wrong_usage(tablets, command, words):
    """Exit 2, with what is meant."""
    with tablets("one") as path:
        done = command("join", path, *words)
    assert done.exit_code == 2
    assert "--lost" in done.stderr


def test_what_is_no_pack_is_refused(tablets, said, command, tmp_path):
    """A file that is not there, a folder, a season file, a cut one; no pack replaces a season file."""
    with tablets("one") as path:
        said("pack", path, "--out", tmp_path / "a.pack")
        (tmp_path / "cut.pack").write_bytes((tmp_path / "a.pack").read_bytes()[:-20])
        for name, words in (
            ("gone.pack", "cannot be read"),
            (".", "cannot be read"),
            ("two.db", "a season file and no pack: open it"),
            ("cut.pack", "nothing was taken in"),
        ):
            done = command("join", path, tmp_path / "a.pack", tmp_path / name)
            assert (done.exit_code, done.stdout) == (1, "")
            assert words in done.stderr
        refused = command("pack", path, "--out", tmp_path / "two.db")
        assert "is a season file, and is not replaced" in refused.stderr


def test_a_sealed_pack_opens_with_its_passphrase_alone(tablets, said, command, tmp_path):
    """It is an age file without a name in it; a wrong passphrase takes nothing in, and a copy is known of."""
    pack, right, wrong = (tmp_path / name for name in ("bench.age", "right.txt", "wrong.txt"))
    right.write_text("six words for the bench tablet")
    wrong.write_text("six other words for it")
    with tablets("one") as path:
        assert "sealed under the passphrase" in said("pack", path, "--out", pack, "--passphrase-file", right)
        assert str(pack) in said("backup", path, "--list")
    assert pack.read_bytes().startswith(b"age-encryption.org/v1")
    with tablets("two") as path:
        refused = command("join", path, pack, "--passphrase-file", wrong)
        assert (refused.exit_code, "passphrase" in refused.stderr) == (1, True)
        assert said("join", path, pack, "--passphrase-file", right)
