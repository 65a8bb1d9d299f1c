"""Files under a passphrase: they open in an independent reader of the age format, and fail closed."""

import os
import re
import time
from base64 import b64encode

import pyrage
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from evaltrack.device import sealing
from evaltrack.device.sealing import is_sealed, opened, sealed
from evaltrack.errors import EvaltrackError

WORDS = "kettle lantern slush whistle"
SIZES = (0, 1, 15, 16, 17, 65_519, 65_520, 65_535, 65_536, 65_537, 131_072, 131_073)


@pytest.fixture(autouse=True)
def little_work(monkeypatch):
    """Stretch a passphrase less than for real, so that a few hundred files are sealed in no time."""
    monkeypatch.setattr(sealing, "_WORK", 4)


@pytest.mark.parametrize("size", SIZES)
def test_what_we_seal_opens_elsewhere(size):
    """An independent reader of the format gets every byte back, and so do we, at each edge of a chunk."""
    content = os.urandom(size)
    file = sealed(content, WORDS)
    assert is_sealed(file)
    assert pyrage.passphrase.decrypt(file, WORDS) == content
    assert opened(file, WORDS) == content


def test_the_work_is_as_told_for_real(monkeypatch):
    """For real a passphrase takes 64 MiB to try, and the other reader opens that too."""
    monkeypatch.undo()
    file = sealed(b"outlet pass", WORDS)
    assert re.search(rb"-> scrypt \S+ 16\n", file)
    assert pyrage.passphrase.decrypt(file, WORDS) == b"outlet pass"


@pytest.mark.parametrize("work", [b"19", b"22", b"30", b"63", b"99"])
def test_a_greedy_file_takes_no_time(work):
    """A file that asks for gigabytes is refused by its header, before any is taken."""
    file = re.sub(rb"(-> scrypt \S+) \d+\n", rb"\1 " + work + rb"\n", sealed(b"", WORDS))
    began = time.process_time()
    with pytest.raises(EvaltrackError, match="more memory"):
        opened(file, WORDS)
    assert time.process_time() - began < 0.1


@pytest.mark.parametrize(
    "work", [b"0", b"04", b"+4", b"-4", b"0x4", b"4 ", b"", b" 4", b"4\r", b"100", "４".encode()]
)
def test_a_work_factor_is_written_in_one_way(work):
    """What is no plain whole number is refused, as the format asks."""
    file = re.sub(rb"(-> scrypt \S+) \d+\n", lambda m: m[1] + b" " + work + b"\n", sealed(b"", WORDS))
    with pytest.raises(EvaltrackError):
        opened(file, WORDS)


def test_another_stanza_beside_it_is_refused():
    """The format allows nothing beside a passphrase: whoever adds a key could read along."""
    head, stanza, rest = re.match(rb"(.*?\n)(-> .*?\n.*?\n)(---.*)", sealed(b"", WORDS), re.S).groups()
    for file in (head + stanza + stanza + rest, head + b"-> X25519 abc\nabc\n" + stanza + rest, head + rest):
        with pytest.raises(EvaltrackError, match="another way"):
            opened(file, WORDS)


@pytest.mark.parametrize("words", [WORDS[:-1], WORDS + " ", WORDS.upper(), ""])
def test_a_wrong_passphrase_gets_nothing(words):
    with pytest.raises(EvaltrackError, match="passphrase"):
        opened(sealed(b"outlet pass", WORDS), words)


@pytest.mark.parametrize("words", ["", "short", "1234567"])
def test_a_short_passphrase_is_refused(words):
    with pytest.raises(EvaltrackError, match="at least 8"):
        sealed(b"", words)


def test_two_ways_to_type_a_letter_are_one():
    """A keyboard that writes an accent as a sign of its own opens what another one sealed."""
    assert opened(sealed(b"x", "cafe\u0301 lantern"), "caf\u00e9 lantern") == b"x"
    assert pyrage.passphrase.decrypt(sealed(b"x", "cafe\u0301 lantern"), "caf\u00e9 lantern") == b"x"


FILE = None


@given(st.data())
@settings(max_examples=30)
def test_changed_bytes_get_nothing(data):
    """Any byte changed, cut off or added, anywhere: nothing comes out, and one sentence says so."""
    global FILE
    FILE = FILE or sealed(os.urandom(66_000), WORDS)
    file = bytearray(FILE)
    at = data.draw(st.integers(0, len(file) - 1) | st.integers(0, 250))
    what = data.draw(st.sampled_from(["flip", "cut", "add", "drop"]))
    if what == "flip":
        file[at] ^= data.draw(st.integers(1, 255))
    elif what == "cut":
        del file[at:]
    elif what == "add":
        file[at:at] = data.draw(st.binary(min_size=1, max_size=20))
    else:
        del file[at]
    if bytes(file) == FILE:
        return
    with pytest.raises(EvaltrackError) as told:
        opened(bytes(file), WORDS)
    assert "\n" not in str(told.value)


def test_whole_chunks_cannot_be_cut_off_or_exchanged():
    """A file that ends with a whole chunk, or has two of them exchanged, is refused like any other change."""
    file = sealed(os.urandom(3 * 65_536), WORDS)
    whole, start = 65_552, len(file) - 3 * 65_552
    first, second = file[start : start + whole], file[start + whole : start + 2 * whole]
    for changed in (file[:-whole], file[:start] + second + first + file[-whole:], file + file[-whole:]):
        with pytest.raises(EvaltrackError, match="changed"):
            opened(changed, WORDS)


def test_one_sealing_is_not_like_another():
    """The same content twice has no bytes in common but the format's own words."""
    one, two = sealed(bytes(1000), WORDS), sealed(bytes(1000), WORDS)
    assert one[60:] != two[60:]
    assert b64encode(bytes(30)) not in one
