"""What is written is read back as it was, and no text whatever makes a reader fail in another way."""

from dataclasses import replace
from datetime import date, datetime, timedelta
from uuid import UUID

import pytest
from hypothesis import HealthCheck, example, given, settings
from hypothesis import strategies as st
from lanterns_files import DRILLS, DRILLS_TOML, PLAYERS, ROSTER_CSV, SKILLS, SKILLS_TOML, roster_bytes

from evaltrack.errors import IntakeError
from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.roster import read_roster
from evaltrack.intake.tallies import LoadedTallies, read_tallies
from evaltrack.intake.text import folded
from evaltrack.intake.writing import write_tallies
from evaltrack.rink.plain_text import first_hidden
from evaltrack.rink.player import ON_TEAM, Player, Position
from evaltrack.rink.practice import Practice
from evaltrack.rink.tally import Outcome, Tally

SAME_FOLDER = settings(
    max_examples=30, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None
)
YEAR = date.today().year

names = (
    st.text(min_size=1, max_size=40)
    .map(folded)
    .filter(lambda name: 0 < len(name) <= 40 and not first_hidden(name))
)
numbers = st.one_of(st.integers(0, 999).map(str), st.just("00"))
positions, statuses = st.sampled_from(Position), st.sampled_from(ON_TEAM)
birth_years = st.none() | st.integers(YEAR - 25, YEAR - 5)
rosters = st.lists(
    st.builds(Player, numbers, names, positions, birth_years, statuses),
    min_size=1,
    max_size=40,
    unique_by=lambda player: player.number,
)
places = st.sampled_from([(drill.key, step.key) for drill in DRILLS for step in drill.steps])
moments = st.datetimes(datetime(2000, 1, 1), datetime(2099, 12, 31)).map(
    lambda moment: moment.replace(microsecond=0)
)
pressures, outcomes = st.sampled_from([None, True, False]), st.sampled_from(Outcome)


@st.composite
def tallied(draw) -> Tally:
    """Return any tally that a file can hold."""
    # a clock that is set back shows some times twice, and one that is set forward skips some
    moment = datetime.fromtimestamp(draw(moments).timestamp()).replace(fold=0)
    return Tally(
        moment.date().isoformat(),
        draw(st.sampled_from(PLAYERS)).id,
        draw(st.sampled_from(SKILLS)).key,
        draw(outcomes),
        *draw(places),
        draw(st.just("") | names),
        draw(pressures),
        tablet="file",
        at=int(moment.timestamp()) * 1000,
        id=UUID(int=0),
    )


@SAME_FOLDER
@given(rosters)
@example([Player("1", 'Petra "Pip" O\'Fern, jr; D', Position.DEFENCE), Player("2", "=1+1", Position.FORWARD)])
def test_rosters(tmp_path, players):
    """Any roster comes back as it was written, in its order."""
    (tmp_path / "roster.csv").write_bytes(roster_bytes(players))
    assert read_roster(tmp_path / "roster.csv") == players


@SAME_FOLDER
@given(st.lists(tallied(), min_size=1, max_size=20))
def test_tallies(tmp_path, written):
    """Any tallies come back as they were written, but for their ids, which follow from the file."""
    held = [Practice(key, date.fromisoformat(key)) for key in {tally.practice for tally in written}]
    write_tallies(tmp_path / "tallies.csv", written, PLAYERS, held)
    loaded = read_tallies(tmp_path / "tallies.csv", PLAYERS, SKILLS, DRILLS)
    assert [replace(tally, id=UUID(int=0)) for tally in loaded.tallies] == written
    assert len({tally.id for tally in loaded.tallies}) == len(written)
    assert [practice.key for practice in loaded.practices] == sorted({tally.practice for tally in written})


@SAME_FOLDER
@given(tallied(), st.integers(1, 400))
def test_tally_of_another_day(tmp_path, tally, days):
    """The day on which the practice was held goes out, and no time when the moment is of another day."""
    held = max(date.fromisoformat(tally.practice) - timedelta(days), date(1999, 1, 1))
    write_tallies(tmp_path / "tallies.csv", [tally], PLAYERS, [Practice(tally.practice, held)])
    line = (tmp_path / "tallies.csv").read_text(encoding="utf-8").splitlines()[-1]
    assert line.startswith(f"{held},")
    assert line.endswith(",")


READERS = {
    "roster.csv": (read_roster, (), ROSTER_CSV),
    "tallies.csv": (
        read_tallies,
        (PLAYERS, SKILLS, DRILLS),
        "date,drill,step,skill,player,outcome,time\n2025-09-04,breakout,one,stop,2,done,18:05\n",
    ),
    "skills.toml": (read_skills, (), SKILLS_TOML),
    "drills.toml": (read_drills, (SKILLS,), DRILLS_TOML),
}


def answers(name: str, path) -> None:
    """Fail unless the reader gives what it promises or refuses in sentences that name the file."""
    read, more, _ = READERS[name]
    try:
        loaded = read(path, *more)
    except IntakeError as error:
        complaints = error.complaints
    else:
        assert isinstance(loaded, list | LoadedTallies)
        return
    assert complaints
    assert all(text.startswith(name) and len(text.splitlines()) == 1 for text in complaints)


@pytest.mark.parametrize("name", READERS)
@settings(SAME_FOLDER, max_examples=30)
@given(content=st.binary() | st.text().map(lambda text: text.encode("utf-8", "surrogatepass")))
def test_any_bytes(tmp_path, name, content):
    """Whatever the bytes, there is a list or a refusal."""
    (tmp_path / name).write_bytes(content)
    answers(name, tmp_path / name)


@pytest.mark.parametrize("name", READERS)
@settings(SAME_FOLDER, max_examples=30)
@given(choice=st.data())
def test_any_slip_in_a_good_file(tmp_path, name, choice):
    """Whatever one slip does to a good file, there is a list or a refusal."""
    good = READERS[name][2]
    at = choice.draw(st.integers(0, len(good)))
    gone = choice.draw(st.integers(0, 12))
    typed = choice.draw(
        st.sampled_from(['"', "'", "=", "[", "]", "\n", ",", ";", "[[skill]]\n"]) | st.text(max_size=6)
    )
    slipped = good[:at] + typed + good[at + gone :]
    (tmp_path / name).write_bytes(slipped.encode("utf-8", "surrogatepass"))
    answers(name, tmp_path / name)


@SAME_FOLDER
@given(
    st.lists(
        st.lists(
            st.sampled_from(["7", "00", "Ann", "D", "forward", "2014", "away", "", " ", '"', "x"]), max_size=7
        )
    ),
    st.sampled_from(",;\t"),
)
def test_any_table(tmp_path, lines, separator):
    """Whatever stands in the cells, every player that is read is one that the file names."""
    path = tmp_path / "roster.csv"
    header = separator.join(("number", "name", "position", "birth_year", "status"))
    path.write_text("\n".join([header, *map(separator.join, lines)]), encoding="utf-8")
    answers("roster.csv", path)
