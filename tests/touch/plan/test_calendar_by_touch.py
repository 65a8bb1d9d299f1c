"""The calendar by touch: an ice time is added, read from a file, planned for, and taken out."""

from datetime import date, time, timedelta

import pytest
from planned_cards import plan_for
from pressing import keys_of, press

DAY = date.today() + timedelta(7)


@pytest.fixture
def calendar(drive, season_path, window):
    """Return a driver with the ice times in front, reached from home."""
    driver = drive(season_path)
    driver.app.go("home")
    press(driver, "Next practice")
    press(driver, "Ice times")
    assert driver.app.screens.current == "calendar"
    return driver


def entries(driver):
    return driver.app.desk.season.calendar.all()


def test_an_ice_time_is_typed_in_and_taken_out(calendar):
    """A day later, a quarter of an hour later, half the ice, with its place; the next one is a week on."""
    screen = calendar.app.screens.current_screen
    plus = [key for key in keys_of(calendar) if key.title == "+"]
    for key in plus[:2]:
        calendar.tap(key)
    screen.ids.place.text = "Kettle Bay, pad 2"
    press(calendar, "Half ice")
    press(calendar, "Add it")
    (entry,) = entries(calendar)
    tomorrow = date.today() + timedelta(1)
    assert (entry.day, entry.start, entry.minutes) == (tomorrow, time(18, 15), 60)
    assert (entry.surface, entry.place) == ("half", "Kettle Bay, pad 2")
    assert screen.summary == "1 ice time to come"
    press(calendar, "Add it")
    assert [one.day for one in entries(calendar)] == [tomorrow, tomorrow + timedelta(7)]
    calendar.tap(next(key for key in keys_of(calendar) if key.title == "Take out"))
    assert [one.day for one in entries(calendar)] == [tomorrow + timedelta(7)]


def test_a_calendar_is_read_by_touch(calendar, tmp_path):
    """From a file that is chosen; what cannot be read is said."""
    path = tmp_path / "team.ics"
    lines = ("BEGIN:VCALENDAR", "VERSION:2.0", "BEGIN:VEVENT", "UID:1", f"DTSTART:{DAY:%Y%m%d}T183000")
    path.write_bytes("\r\n".join((*lines, "DURATION:PT50M", "END:VEVENT", "END:VCALENDAR")).encode())
    press(calendar, "Read a file")
    files = calendar.app.screens.current_screen
    assert (files.name, files.wanted) == ("file", "calendar")
    files.dispatch("on_chosen", str(path))
    screen = calendar.app.screens.current_screen
    calendar.wait(lambda: "1 ice time read" in screen.words)
    (entry,) = entries(calendar)
    assert (entry.day, entry.start, entry.minutes) == (DAY, time(18, 30), 50)
    path.write_text("number,name\n")
    screen.read(str(path))
    calendar.wait(lambda: "no iCalendar file" in screen.words)


def test_a_plan_belongs_to_an_ice_time(calendar):
    """Chosen by one touch it brings day, length and surface; the plan tells its time and place."""
    app = calendar.app
    calendar.app.screens.current_screen.ids.place.text = "Kettle Bay"
    press(calendar, "Cross ice")
    press(calendar, "Add it")
    (entry,) = entries(calendar)
    press(calendar, "Back")
    key = next(key for key in keys_of(calendar) if "18:00" in key.title)
    calendar.tap(key)
    wanted = app.plan_in_hand.wanted
    assert (wanted.day, wanted.minutes, wanted.surface) == (entry.day, 60, "cross")
    app.plan_in_hand._take(app.desk.season, None, lambda: None, plan_for(app.desk))
    assert app.desk.season.plans.last().ice_time == entry.uid
    app.go("plan")
    screen = app.screens.current_screen
    assert screen.heading.endswith(", 18:00")
    assert screen.summary.endswith("Kettle Bay")
