"""The command that makes an evening of meetings."""

import json

import pytest
from icalendar import Calendar
from pypdf import PdfReader

from evaltrack.store.opening import open_season

START = ("--start", "2026-01-20 18:00")


def made(command, season, *words) -> dict:
    """Return the evening as JSON."""
    done = command("meetings", season, "--format", "json", *words)
    assert done.exit_code == 0, done.stderr
    return json.loads(done.stdout)


def test_json_has_everybody_once_in_order_of_time(command, season):
    """Five families at two tables; no last word on anything is missing."""
    evening = made(command, season, *START, "--tables", "2", "--breaks", "18:10-18:20", "--minutes", "10")
    assert [one["start"] for one in evening["meetings"]] == ["18:00", "18:00", "18:20", "18:20", "18:30"]
    assert [one["player"] for one in evening["meetings"]] == ["2", "7", "11", "14", "31"]
    assert evening["optimal"] is True
    assert (evening["unmet"], evening["remarks"]) == ([], [])


def test_everything_is_written_and_a_second_time_updates_it(command, season, tmp_path):
    """List, calendar, cards, overview, notes and the batch; after a swap two entries have changed."""
    out = tmp_path / "evening"
    done = command("meetings", season, *START, "--out", out)
    assert done.exit_code == 0, done.stderr
    names = {path.name for path in out.iterdir()}
    expected = {"meetings-2026-01-20.pdf", "meetings-2026-01-20.ics", "cue-cards-2026-01-20.pdf"}
    assert expected <= names
    assert "team-overview-2026-01-20.pdf" in names
    assert "31 Mika Sundqvale: no page yet" in done.stderr
    _check_batch(out, ["note-02-", "note-07-", "note-11-", "note-14-"])
    before = _events(out)
    assert command("meetings", season, "--swap", "2", "31", "--out", out, "--notes", "none").exit_code == 0
    after = _events(out)
    assert before.keys() == after.keys()
    assert sorted(after[uid][1] - before[uid][1] for uid in before) == [0, 0, 0, 1, 1]
    assert sorted(start for start, _ in before.values()) == sorted(start for start, _ in after.values())
    assert all((path.stat().st_mode & 0o077) == 0 for path in out.iterdir() if path.is_file())


def _check_batch(out, notes: list[str]) -> None:
    """Each note begins on a front, in the order of the meetings; what is not theirs on a sheet is blank."""
    pages = [page.extract_text() for page in PdfReader(out / "notes-to-print-2026-01-20.pdf").pages]
    pages += [""] * (len(pages) % 2)  # the printer leaves the last back blank by itself
    for stem in notes:
        (path,) = (out / "notes").glob(f"{stem}*")
        own = [page.extract_text() for page in PdfReader(path).pages]
        assert "20 January 2026" in own[0]  # the day of the meeting
        own += [""] * (len(own) % 2)
        assert pages[: len(own)] == own
        pages = pages[len(own) :]
    assert pages == []


def _events(folder) -> dict:
    (file,) = folder.glob("*.ics")
    walked = Calendar.from_ical(file.read_bytes()).walk("VEVENT")
    return {str(e["UID"]): (e.decoded("DTSTART"), int(e["SEQUENCE"])) for e in walked}


def test_names_stand_in_the_calendar_only_when_asked(command, season, tmp_path):
    """Numbers alone otherwise; never a last name."""
    assert command("meetings", season, *START, "--out", tmp_path, "--notes", "none").exit_code == 0
    with open_season(season) as opened:
        firsts = [player.name.split()[0] for player in opened.people.players()]
    (file,) = tmp_path.glob("*.ics")
    assert not any(name in file.read_text("utf-8") for name in firsts)
    assert command("meetings", season, "--names", "--out", tmp_path, "--notes", "none").exit_code == 0
    assert all(name in file.read_text("utf-8") for name in firsts)


def test_wishes_come_from_a_file_and_stay(command, season, tmp_path):
    """What cannot be met is named with what stands against it; without the file they are as they were."""
    wishes = tmp_path / "wishes.csv"
    wishes.write_text("player,wish,value\n2,at,18:00\n7,at,18:00\n14,not coming,\n", encoding="utf-8")
    first = made(command, season, *START, "--wishes", wishes)
    (unmet,) = first["unmet"]
    assert (unmet["player"], unmet["wish"], unmet["value"]) == ("7", "at", "18:00")
    assert [one["player"] for one in unmet["against"]] == ["2"]
    assert "14" not in [one["player"] for one in first["meetings"]]
    again = made(command, season, *START, "--tables", "2")
    assert again["unmet"] == []
    assert "14" not in [one["player"] for one in again["meetings"]]
    wishes.write_text("player,wish,value\n2,at,noon\n", encoding="utf-8")
    done = command("meetings", season, *START, "--wishes", wishes)
    assert done.exit_code == 1
    assert "wishes.csv, line 2: `noon` is no time of day" in done.stderr


def test_locks_and_ticks_by_command(command, season):
    """A locked family stays when the evening is worked out anew; who came is told."""
    made(command, season, *START)
    made(command, season, "--swap", "2", "31")
    found = made(command, season, *START, "--tables", "2", "--came", "7")
    assert [(one["player"], one["start"]) for one in found["meetings"] if one["locked"]] == [
        ("31", "18:00"),
        ("2", "18:48"),
    ]
    assert [one["player"] for one in found["meetings"] if one["came"]] == ["7"]
    found = made(command, season, "--came", "2,11", "--missed", "7")
    assert {one["player"] for one in found["meetings"] if one["came"]} == {"2", "11"}
    freed = made(command, season, "--free", "2,31")
    assert not any(one["locked"] for one in freed["meetings"])


def test_each_day_has_its_own_evening(command, season):
    """Made again for a day that has one, it is that one; without a day the last one is meant."""
    first = made(command, season, *START)
    made(command, season, "--start", "2026-01-21 19:00")
    assert made(command, season)["day"] == "2026-01-21"
    assert made(command, season, "--day", "2026-01-20") == first
    made(command, season, *START, "--tables", "2")
    with open_season(season) as opened:
        assert [str(one.day) for one in opened.meetings.all()] == ["2026-01-20", "2026-01-21"]
        assert [one.tables for one in opened.meetings.all()] == [2, 1]


@pytest.mark.parametrize(
    ("words", "code", "said"),
    [
        ((), 1, "there is no evening yet; say when one begins"),
        (("--day", "2026-01-20"), 1, "there is no evening on 2026-01-20 yet"),
        (("--start", "tomorrow"), 2, "is no day with a time; write it as '2026-01-20 18:00'"),
        ((*START, "--breaks", "19:00"), 2, "is no break; write it as 19:00-19:10"),
        ((*START, "--until", "18:30"), 1, "5 families need 5 rounds of 12 minutes at one table"),
        ((*START, "--swap", "2", "99"), 1, "there is no meeting of player"),
    ],
)
def test_what_cannot_be_done_is_said_in_a_sentence(command, season, words, code, said):
    """And nothing is kept."""
    done = command("meetings", season, *words)
    assert done.exit_code == code
    assert said in " ".join(done.stderr.split())
    with open_season(season) as opened:
        assert opened.meetings.last() is None
