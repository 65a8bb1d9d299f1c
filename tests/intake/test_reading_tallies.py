"""tallies.csv: what is read, which tallies are the same, and every fault at its line."""

import random
import time
from dataclasses import replace
from datetime import UTC, date, datetime

import pytest
from lanterns_files import DRILLS, PLAYERS, SKILLS

from evaltrack.intake.tallies import read_tallies
from evaltrack.rink.practice import Practice
from evaltrack.rink.skill import Skill
from evaltrack.rink.tally import Outcome
from evaltrack.rink.tally_choice import time_of

HEAD = "date,drill,step,skill,player,outcome,pressure,observer,time\n"
FIRST = "2025-09-04,breakout,one,outlet_pass,2,done,yes,Ann Reed,18:05:09\n"
LINES = [
    FIRST,
    "2025-09-04,breakout,one,outlet_pass,2,missed,no,Ann Reed,18:05\n",
    "2025-09-04,breakout,two,stop,17,unseen,,,\n",
    "2025-09-11,breakout,two,stop,00,done,,Bo,\n",
]
TEXT = HEAD + "".join(LINES)

BAD_LINES = {
    "no date": (",breakout,one,stop,2,done,,,", "the date is missing"),
    "day first": ("4.9.2025,breakout,one,stop,2,done,,,", "year, month and day as 2025-09-04"),
    "slashes": ("09/04/2025,breakout,one,stop,2,done,,,", "year, month and day as 2025-09-04"),
    "date without dashes": ("20250904,breakout,one,stop,2,done,,,", "year, month and day"),
    "week date": ("2025-W36-4,breakout,one,stop,2,done,,,", "year, month and day"),
    "no such day": ("2025-02-30,breakout,one,stop,2,done,,,", "no such day"),
    "other digits": ("٢٠٢٥-09-04,breakout,one,stop,2,done,,,", "year, month and day"),
    "far year": ("1925-09-04,breakout,one,stop,2,done,,,", "in no season"),
    "no drill": ("2025-09-04,,one,stop,2,done,,,", "the drill is missing"),
    "unknown drill": ("2025-09-04,brekout,one,stop,2,done,,,", "did you mean `breakout`?"),
    "unknown step": ("2025-09-04,breakout,three,stop,2,done,,,", "no step `three` in the drill `breakout`"),
    "unknown skill": ("2025-09-04,breakout,one,stops,2,done,,,", "did you mean `stop`?"),
    "skill by name": ("2025-09-04,breakout,one,Outlet pass,2,done,,,", "did you mean `outlet_pass`?"),
    "unknown player": ("2025-09-04,breakout,one,stop,71,done,,,", "no player `71` on the roster"),
    "player by name": ("2025-09-04,breakout,one,stop,Juno Reed,done,,,", "not a jersey number"),
    "letter in number": ("2025-09-04,breakout,one,stop,l7,done,,,", "did you mean 17?"),
    "no outcome": ("2025-09-04,breakout,one,stop,2,,,,", "the outcome is missing"),
    "odd outcome": ("2025-09-04,breakout,one,stop,2,1,,,", "write done, missed or unseen"),
    "odd pressure": ("2025-09-04,breakout,one,stop,2,done,some,,", "write yes, no or nothing"),
    "long observer": (f"2025-09-04,breakout,one,stop,2,done,,{'a' * 41},", "at most 40"),
    "observer's control character": ("2025-09-04,breakout,one,stop,2,done,,A\x1fn,", "U+001F"),
    "afternoon": ("2025-09-04,breakout,one,stop,2,done,,,6:05 pm", "hours and minutes as 18:05"),
    "no such time": ("2025-09-04,breakout,one,stop,2,done,,,24:00", "hours and minutes as 18:05"),
    "time with zone": ("2025-09-04,breakout,one,stop,2,done,,,18:05Z", "hours and minutes as 18:05"),
}


@pytest.fixture
def read(brought):
    """Return a reading of a text as tallies.csv."""
    return lambda text: read_tallies(brought(text, "tallies.csv"), PLAYERS, SKILLS, DRILLS)


def ids(loaded) -> set:
    """Return the ids of what was loaded."""
    return {tally.id for tally in loaded.tallies}


def test_values(read):
    """Every value arrives, and tallies stand in the order of the file."""
    loaded = read(TEXT)
    first, second, third, fourth = loaded.tallies
    assert (first.practice, first.drill, first.step, first.skill) == (
        "2025-09-04",
        "breakout",
        "one",
        "outlet_pass",
    )
    assert first.player == PLAYERS[2].id
    assert (first.outcome, first.pressure, first.observer) == (Outcome.DONE, True, "Ann Reed")
    assert (second.outcome, second.pressure) == (Outcome.MISSED, False)
    assert (third.outcome, third.pressure, third.observer) == (Outcome.UNSEEN, None, "")
    assert fourth.player == PLAYERS[1].id
    assert {tally.tablet for tally in loaded.tallies} == {"file"}
    assert {tally.skill_version for tally in loaded.tallies} == {1}


def test_practices(read):
    """There is one practice for each date, by date, on the full surface."""
    held = [Practice("2025-09-04", date(2025, 9, 4)), Practice("2025-09-11", date(2025, 9, 11))]
    assert read(HEAD + "".join(reversed(LINES))).practices == held


def test_moments(read):
    """A time is the rink's clock in this zone; without one the tally has noon in UTC."""
    loaded = read(TEXT)
    assert datetime.fromtimestamp(loaded.tallies[0].at / 1000) == datetime(2025, 9, 4, 18, 5, 9)
    assert loaded.tallies[2].at == datetime(2025, 9, 4, 12, tzinfo=UTC).timestamp() * 1000


def test_skill_version(brought):
    """A tally takes the version of the definition in force."""
    skills = [
        Skill(s.key, s.name, s.positions, s.caption, s.definition, s.looks_like, version=3) for s in SKILLS
    ]
    loaded = read_tallies(brought(TEXT, "tallies.csv"), PLAYERS, skills, DRILLS)
    assert {tally.skill_version for tally in loaded.tallies} == {3}


@pytest.mark.parametrize(
    "same",
    [
        TEXT,
        TEXT.replace(",", ";"),
        TEXT.replace("\n", "\r\n"),
        "\ufeff" + TEXT.upper().replace("BREAKOUT", "breakout").replace("ONE", "one").replace("TWO", "two")
        .replace("OUTLET_PASS", "outlet_pass").replace("STOP", "stop").replace("ANN REED", "Ann  Reed")
        .replace("BO", "Bo"),
        HEAD + "".join(reversed(LINES)),
        TEXT.replace("18:05\n", "18:05:00\n").replace(",2,", ",02,"),
    ],
    ids=["as it is", "semicolons", "Windows", "capitals", "reversed", "seconds and zeros"],
)  # fmt: skip
def test_same_file_again(same, read):
    """The same tallies have the same ids, however the file is sorted or saved."""
    assert ids(read(TEXT)) == ids(read(same))


@pytest.mark.parametrize(
    ("said", "otherwise"),
    [
        *[
            ("09-04", "09-05"),
            ("outlet_pass", "stop"),
            (",one,", ",two,"),
            (",2,", ",17,"),
            ("done", "missed"),
        ],
        *[("yes", "no"), ("yes", ""), ("Ann", "Bo"), ("18:05:09", "18:05:10"), ("18:05:09", "")],
    ],
)
def test_every_value_tells_tallies_apart(said, otherwise, read):
    """Two lines that differ in one value are two tallies, in whichever file they stand."""
    other = FIRST.replace(said, otherwise)
    assert other != FIRST
    assert not ids(read(HEAD + FIRST)) & ids(read(HEAD + other))


def test_repeated_lines_count(read):
    """Lines that are wholly alike are as many tallies, and the same ones next time."""
    thrice = read(HEAD + FIRST * 3)
    assert len(ids(thrice)) == 3
    assert ids(read(HEAD + FIRST * 2)) < ids(thrice)


def test_grown_file_adds_what_is_new(read):
    """A file that grew, and was sorted again, keeps the ids of what it had."""
    rng = random.Random(7)
    lines = [
        f"2025-09-04,breakout,one,stop,2,{rng.choice(['done', 'missed'])},,Ann,18:{n % 9:02}\n"
        for n in range(60)
    ]
    before = ids(read(HEAD + "".join(lines[:40])))
    rng.shuffle(lines)
    after = ids(read(HEAD + "".join(lines)))
    assert before < after
    assert len(after) == 60


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the time zone cannot be set here")
def test_ids_are_the_same_in_every_time_zone(read, monkeypatch):
    """A laptop that travelled loads the same tallies again, not new ones."""
    found = []
    for zone in ("UTC", "America/Edmonton", "Asia/Tokyo"):
        monkeypatch.setenv("TZ", zone)
        time.tzset()
        found.append(ids(read(TEXT)))
    monkeypatch.undo()
    time.tzset()
    assert found[0] == found[1] == found[2]


@pytest.mark.skipif(not hasattr(time, "tzset"), reason="the time zone cannot be set here")
@pytest.mark.parametrize(("zone", "clock"), [("America/Toronto", "07:00"), ("America/Edmonton", "05:00"),
                                             ("Asia/Tokyo", "21:00"), ("UTC", "18:05")])  # fmt: skip
def test_a_time_is_known_also_where_it_is_noon_in_utc(read, monkeypatch, zone, clock):
    """A practice at 7 in the morning is as usual as any; a line without a time has none, in every zone."""
    timed, untimed = (f"2026-01-10,breakout,one,stop,2,done,,Ann,{text}\n" for text in (clock, ""))
    monkeypatch.setenv("TZ", zone)
    time.tzset()
    try:
        one, other = read(HEAD + timed + untimed).tallies
        assert f"{time_of(one):%Y-%m-%d %H:%M}" == f"2026-01-10 {clock}"
        assert time_of(replace(one, id=other.id)) is None or zone == "UTC"
        assert time_of(other) is None
    finally:
        monkeypatch.undo()
        time.tzset()


@pytest.mark.parametrize("fault", BAD_LINES)
def test_bad_lines(fault, read, brought, complaints):
    """Every kind of fault is told with its line, and the good lines do not save the file."""
    line, words = BAD_LINES[fault]
    path = brought(f"{HEAD}{FIRST}{line}\n", "tallies.csv")
    (found,) = complaints(read_tallies, path, PLAYERS, SKILLS, DRILLS)
    assert found.startswith("tallies.csv, line 3: ")
    assert words in found


def test_same_fault_in_many_lines(brought, complaints):
    """A fault that comes back is told for every line that has it."""
    bad = FIRST.replace("outlet_pass", "outlet")
    path = brought(HEAD + (FIRST + bad) * 50, "tallies.csv")
    found = complaints(read_tallies, path, PLAYERS, SKILLS, DRILLS)
    assert [int(text.split(":")[0].split()[-1]) for text in found] == list(range(3, 102, 2))


def test_header_alone(brought, complaints):
    """A file without a tally is refused."""
    (found,) = complaints(read_tallies, brought(HEAD, "tallies.csv"), PLAYERS, SKILLS, DRILLS)
    assert "there is no tally in it" in found


def test_required_columns_suffice(read):
    """Pressure, observer and time may be left out altogether."""
    (tally,) = read("Date;Drill;Step;Skill;Player;Outcome\n2025-09-04;breakout;one;stop;2;Done\n").tallies
    assert (tally.pressure, tally.observer) == (None, "")
