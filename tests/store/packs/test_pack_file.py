"""A pack file is read whole or refused in a sentence, whatever was done to it.

Cases: what is written is read again; cut anywhere, a byte changed, made longer; not a pack; newer, in major
and in minor; bombs, long lines, deep nesting, odd JSON; facts with values of every wrong kind, signed anew.
"""

import gzip
import hashlib
import json
import time
import tracemalloc
import zlib
from uuid import UUID

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lanterns_season import tally
from pack_damage import lines_of, rows_of, signed, tampered

from evaltrack.errors import EvaltrackError
from evaltrack.rink.ident import new_id
from evaltrack.store.opening import open_season
from evaltrack.store.packs.pack_file import (
    LONGEST_LINE,
    MOST_LINES,
    Header,
    PackError,
    pack_bytes,
    read_pack,
)

NOON = 1_762_945_200_000
HEADER = Header(UUID(int=7), 5, "bench", NOON)


@pytest.fixture(scope="module")
def content(make_season) -> bytes:
    """Return a pack with a few tallies."""
    with open_season(make_season()) as season:
        season.log.add_many([], [tally(n, id=new_id()) for n in range(20)])
        return season.packs.pack("bench")


def test_what_is_written_is_read_again(content):
    """Facts, header and digest; and the same file makes the same lines."""
    pack = read_pack("a.pack", content)
    assert pack.counts()["tally"] == 20
    assert pack.counts()["edit"] == 0, "nothing was changed"
    assert pack.header.tablet == "bench"
    again = pack_bytes(pack.header, [line.decode() for line in lines_of(content)[1:-1]])
    assert again == content


def test_every_cut_is_refused(content):
    """Wherever the copy broke off."""
    for end in [*range(0, len(content), 97), len(content) - 1]:
        with pytest.raises(PackError, match="nothing was taken in"):
            read_pack("a.pack", content[:end])


@settings(deadline=None)
@given(st.data())
def test_every_changed_byte_is_refused_or_changes_nothing(content, data):
    """Gzip's head has a few bytes that mean nothing; all else is under a digest."""
    at = data.draw(st.integers(0, len(content) - 1))
    changed = bytearray(content)
    changed[at] ^= data.draw(st.integers(1, 255))
    try:
        found = read_pack("a.pack", bytes(changed))
    except PackError as error:
        found = str(error)
    assert found == read_pack("a.pack", content) or found.endswith("nothing was taken in")


@pytest.mark.parametrize(
    ("made", "words"),
    [
        (lambda c: c + b"x", "something follows its end"),
        (lambda c: b"", "no pack of evaltrack"),
        (lambda c: b"number,name\n", "no pack of evaltrack"),
        (lambda c: gzip.compress(b""), "cannot be read"),
        (lambda c: gzip.compress(b"{}\n{}\n"), "no pack of evaltrack"),
        (lambda c: gzip.compress(b"\0" * 1000), "cut short or damaged"),
        (lambda c: gzip.compress(b"\n".join(lines_of(c)[:-1]) + b"\n"), "cut short or damaged"),
        (lambda c: gzip.compress(b"\n".join(lines_of(c)[:5] + lines_of(c)[6:]) + b"\n"), "changed"),
        (lambda c: signed(c, header={"major": 2}), "newer evaltrack"),
        (lambda c: signed(c, header={"major": "1"}), "first line"),
        (lambda c: signed(c, header={"season": "x"}), "first line"),
        (lambda c: signed(c, header={"at": -1}), "first line"),
        (lambda c: signed(c, more=[b'["weather","snow"]']), "should know"),
        (lambda c: signed(c, more=[b"[" * 100_000]), "cannot be read"),
        (lambda c: signed(c, more=[b'["tally",NaN]']), "cannot be read"),
        (lambda c: signed(c, more=[b'["rep",{"a":1,"a":2}]']), "cannot be read"),
        (lambda c: signed(c, more=[b'["observer","\\ud800"]']), "cannot be read"),
        (lambda c: signed(c, more=[b"\xff"]), "cannot be read"),
        (lambda c: signed(c, more=[b"7"]), "no fact"),
        (lambda c: signed(c, more=[b'["observer","' + b"x" * LONGEST_LINE + b'"]']), "larger than"),
    ],
)
def test_what_is_no_pack_of_ours_is_refused_by_a_sentence(content, made, words):
    """One sentence says what it is."""
    with pytest.raises(PackError, match=words) as caught:
        read_pack("a.pack", made(content))
    assert str(caught.value).startswith('"a.pack" ')


def test_a_bomb_is_stopped_before_it_fills_the_memory():
    """A gigabyte of nothing packs small, and is refused after a few megabytes of one line, or all of many."""
    began = time.process_time()
    for block in (b"\0" * (1 << 20), b"\n" * (1 << 20)):
        press = zlib.compressobj(9, zlib.DEFLATED, 31)
        bomb = b"".join(press.compress(block) for _ in range(64)) + press.flush()
        tracemalloc.start()
        with pytest.raises(PackError):
            read_pack("a.pack", bomb)
        _, most = tracemalloc.get_traced_memory()
        tracemalloc.stop()
        assert most < 16 << 20
    assert time.process_time() - began < 5


def test_a_newer_minor_is_read_and_its_kinds_are_kept(content, make_season):
    """They are passed on in the next pack, as they came."""
    newer = signed(content, header={"minor": 3}, more=[b'["weather","snow"]'])
    with open_season(make_season()) as season:
        season.packs.join([("new", read_pack("new", newer))])
        assert season.log.count() == 20
        passed_on = read_pack("next", season.packs.pack("other"))
    assert passed_on.foreign == ('["weather","snow"]',)
    assert passed_on.header.minor > 0


@pytest.mark.parametrize(
    ("line", "words"),
    [
        (["observer", 7], "observer.name is not as evaltrack writes it"),
        (["observer"], "a line is no fact"),
        (["withdrawal", "00" * 16, "one", 2**60], "withdrawal.at is not as evaltrack writes it"),
        (["withdrawal", "00" * 16, "one" * 99, 5], "withdrawal.tablet is not as evaltrack writes it"),
        (["station", "one", 2**52, "2025-10-04", 5, "a", "b", "c", "d", 0], "station.nth is not as"),
        (["station", "one", 1, "2025-10-04", 5, "a", "b", "c", "d", 7], "no season file may have"),
        (["station", "one", 1, "1999-10-04", 5, "a", "b", "c", "d", 0], "no season file may have|not there"),
        (["edit", "player", '["00"]', "number", 0, "", '["9"]'], "the key of a change is not as"),
        (["edit", "player", f'["{"0" * 32}"]', "shoe", 0, "", '["9"]'], "a change is not as"),
        (["edit", "weather", "[1]", "sky", 0, "", '["9"]'], "a change is not as"),
        (["edit", "practice", "[" * 3000, "held_on", 5, "one", "[1]"], "the key of a change is not as"),
        (["edit", "skill", '["outlet_pass"]', "target", 5, "one", "[" * 3000], "a change is not as"),
        (["edit", "skill", '["outlet_pass"]', "target", 5, "one", "[7.0]"], "no season file may have"),
        (["edit", "skill", '["outlet_pass"]', "target", 5, "one", '["x"]'], "a change is not as"),
        (["edit", "practice", '["2025-10-04"]', "held_on", 5, "one", '["soon"]'], "no season file may have"),
        (["begun", 5, "one", [], NOON, "2025-10-04"], "begun.prefers is not as"),
        (["begun", 5], "a row of begun"),
        (["rep", "11" * 16, "2025-10-04", "breakout_attack", "two_on_one", 5, "one", {}], "a row of rep"),
        (["rep", "11" * 16, "2025-10-04", "breakout_attack", "two_on_one", 5, "one",
          {"rep_slot": [["22" * 16, "wall_f", "00" * 15 + "0a"]]}], "a row of rep_slot"),
        (["rep", "11" * 16, "2025-10-04", "breakout_attack", "two_on_one", 5, "one",
          {"rep_slot": [["11" * 16, slot, "00" * 15 + "0a"] for slot in ("wall_f", "line_d")]}],
         "no season file may have"),
    ],
)  # fmt: skip
def test_a_fact_that_nobody_writes_is_refused_with_its_pack(content, make_season, line, words):
    """The digest goes with it: whoever makes such a pack means it."""
    made = signed(content, more=[json.dumps(line).encode()])
    with open_season(make_season()) as season:
        before = rows_of(season)
        with pytest.raises(PackError, match=words) as caught:
            season.packs.join([("a.pack", read_pack("a.pack", made))])
        assert str(caught.value).startswith('"a.pack" is damaged')
        assert rows_of(season) == before


def test_the_last_line_is_the_digest_of_all_before(content):
    """As DEVELOPERS says, so that any program can check it."""
    whole = gzip.decompress(content)
    last = json.loads(lines_of(content)[-1])
    before = whole[: whole.rindex(b"\n", 0, -1) + 1]
    assert last == {"rows": before.count(b"\n") - 1, "sha256": hashlib.sha256(before).hexdigest()}


@settings(deadline=None)
@given(st.randoms(use_true_random=False))
def test_facts_of_every_wrong_kind_are_refused_whole(content, season_template, chance):
    """Values are exchanged by chance, the digest made anew: sentences only, and the file stays as it was."""
    changed = tampered(content, chance)
    with open_season(season_template) as season:
        before, said = rows_of(season), ""
        try:
            season.packs.join([("a.pack", read_pack("a.pack", changed))], rehearse=True)
        except EvaltrackError as error:
            said = str(error)
        assert said.isprintable()
        assert rows_of(season) == before


def test_too_much_for_one_pack_is_said_when_it_is_written():
    """Not when somebody else cannot read it any more."""
    with pytest.raises(PackError, match="too much for one pack; write one since"):
        pack_bytes(HEADER, ['["observer","Edda"]'] * (MOST_LINES + 1))
    read_pack("a.pack", pack_bytes(HEADER, ['["observer","Edda"]'] * 10))
