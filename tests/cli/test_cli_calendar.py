"""The calendar by command: added, read from an iCalendar file, shown."""

import json
from datetime import date, timedelta

DAY = date.today() + timedelta(7)


def test_an_ice_time_is_added_and_shown(command, season):
    """As a table and as JSON; what is over is not shown."""
    assert "No ice time" in command("calendar", season).stdout
    added = command(
        *("calendar", season, "--add", DAY, "--start", "18:30", "--minutes", "50"),
        *("--place", "Kettle Bay", "--surface", "half"),
    )
    assert "18:30  50 minutes, half ice, Kettle Bay" in added.stdout
    assert command("calendar", season, "--add", date(2026, 1, 2)).exit_code == 0
    (shown,) = json.loads(command("calendar", season, "--format", "json").stdout)
    assert shown == {
        "date": DAY.isoformat(),
        "start": "18:30",
        "minutes": 50,
        "surface": "half",
        "place": "Kettle Bay",
    }


def test_a_calendar_is_read_again_when_it_has_changed(command, season, tmp_path):
    """What changed is changed, what was cancelled is taken out."""
    path = tmp_path / "team.ics"

    def read(hour: int, *more: str):
        lines = (
            *("BEGIN:VCALENDAR", "VERSION:2.0", "BEGIN:VEVENT", "UID:1", "SUMMARY:Practice"),
            *(f"DTSTART:{DAY:%Y%m%d}T{hour}0000", "DURATION:PT1H", *more, "END:VEVENT", "END:VCALENDAR"),
        )
        path.write_bytes("\r\n".join(lines).encode())
        return command("calendar", season, "--read", path, "--only", "practice").stdout

    assert "1 ice time read, 1 of them new or changed" in read(18)
    assert "1 ice time read, 0 of them new or changed" in read(18)
    assert f"{DAY.year}, 19:00" in read(19)
    last = read(19, "STATUS:CANCELLED")
    assert "1 taken out, because cancelled" in last
    assert "No ice time" in last


def test_another_file_is_refused(command, season, tmp_path):
    """Exit 1, with a sentence."""
    path = tmp_path / "roster.csv"
    path.write_text("number,name\n")
    done = command("calendar", season, "--read", path)
    assert done.exit_code == 1
    assert "no iCalendar file" in done.stderr
