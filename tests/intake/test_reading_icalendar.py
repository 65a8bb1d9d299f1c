"""iCalendar files: zones, repeats, changes of one of them, what is no ice time, and files that mean harm."""

from contextlib import suppress
from datetime import date, time
from zoneinfo import ZoneInfo

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from evaltrack.errors import IntakeError
from evaltrack.intake.icalendar_file import LARGEST, MOST_EVENTS, MOST_LINES, read_icalendar
from evaltrack.intake.icalendar_repeats import MOST_REPEATS

HALIFAX, UTC = ZoneInfo("America/Halifax"), ZoneInfo("UTC")
SINCE = date(2026, 1, 20)
ZONE = """BEGIN:VTIMEZONE
TZID:America/Halifax
BEGIN:STANDARD
DTSTART:20251102T020000
TZOFFSETFROM:-0300
TZOFFSETTO:-0400
RRULE:FREQ=YEARLY;BYMONTH=11;BYDAY=1SU
END:STANDARD
BEGIN:DAYLIGHT
DTSTART:20260308T020000
TZOFFSETFROM:-0400
TZOFFSETTO:-0300
RRULE:FREQ=YEARLY;BYMONTH=3;BYDAY=2SU
END:DAYLIGHT
END:VTIMEZONE"""


def event(*lines: str, uid: str = "practice-of-oda@rink") -> str:
    return "\n".join(("BEGIN:VEVENT", f"UID:{uid}", "DTSTAMP:20260101T000000Z", *lines, "END:VEVENT"))


@pytest.fixture
def read(tmp_path):
    """Return a reader of events as a file that another program would have written."""

    def reader(*events: str, only: str = "", zone=HALIFAX):
        text = "\n".join(
            ("BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//x//y//EN", ZONE, *events, "END:VCALENDAR")
        )
        path = tmp_path / "team.ics"
        path.write_bytes(text.replace("\n", "\r\n").encode())
        return read_icalendar(path, SINCE, only, zone)

    return reader


def test_an_ice_time_is_read_by_the_clock_of_the_rink(read):
    """From UTC, from a zone of its own, and without one; with place and length."""
    found = read(
        event("DTSTART:20260129T223000Z", "DURATION:PT50M", "LOCATION:Kettle Bay\\, pad 2", uid="1"),
        event(
            "DTSTART;TZID=America/Halifax:20260130T183000",
            "DTEND;TZID=America/Halifax:20260130T193000",
            uid="2",
        ),
        event("DTSTART:20260131T070000", "DTEND:20260131T080000", uid="3"),
    )
    assert [(one.day.day, one.start, one.minutes, one.place) for one in found.entries] == [
        (29, time(18, 30), 50, "Kettle Bay, pad 2"),
        (30, time(18, 30), 60, ""),
        (31, time(7), 60, ""),
    ]


def test_a_practice_that_repeats_keeps_its_time_when_the_clocks_change(read):
    """Each repeat by itself, without the day that is left out; one that was moved, where it was moved to."""
    start = "DTSTART;TZID=America/Halifax:20260122T183000"
    found = read(
        event(start, "DURATION:PT1H", "RRULE:FREQ=WEEKLY;UNTIL=20260320T000000Z",
              "EXDATE;TZID=America/Halifax:20260205T183000"),
        event("RECURRENCE-ID;TZID=America/Halifax:20260212T183000",
              "DTSTART;TZID=America/Halifax:20260213T190000", "DURATION:PT1H"),
    )  # fmt: skip
    days = sorted((one.day.month, one.day.day, one.start.hour) for one in found.entries)
    assert days == [
        *((1, 22, 18), (1, 29, 18), (2, 13, 19), (2, 19, 18), (2, 26, 18)),
        *((3, 5, 18), (3, 12, 18), (3, 19, 18)),
    ]


def test_read_again_an_entry_has_the_uid_that_it_had(read):
    """And nothing of the name that another program put into its own."""
    one = event("DTSTART:20260129T223000Z", "DURATION:PT50M")
    (before,), (after,) = read(one).entries, read(one.replace("PT50M", "PT60M")).entries
    assert before.uid == after.uid
    assert before.minutes != after.minutes
    assert "oda" not in before.uid


def test_what_is_no_ice_time_is_counted(read):
    """All day, two days, five minutes, a day that is none; over; cancelled; without the word asked for."""
    found = read(
        event("DTSTART;VALUE=DATE:20260201", uid="1"),
        event("DTSTART:20260201T100000Z", "DTEND:20260203T100000Z", uid="2"),
        event("DTSTART:20260201T100000Z", "DURATION:PT5M", uid="3"),
        event("DTSTART:20261301T100000Z", uid="4"),
        event("DTSTART:20250101T100000Z", "DURATION:PT1H", uid="5", ),
        event("DTSTART:20260202T100000Z", "DURATION:PT1H", "STATUS:CANCELLED", uid="6"),
    )  # fmt: skip
    assert (found.entries, found.odd, found.over, len(found.cancelled)) == ((), 4, 1, 1)
    game = event("DTSTART:20260202T100000Z", "DURATION:PT1H", "SUMMARY:Game", uid="7")
    practice = event("DTSTART:20260203T100000Z", "DURATION:PT1H", "SUMMARY:Team Practice", uid="8")
    assert len(read(game, practice).entries) == 2
    assert len(read(game, practice, only="practice").entries) == 1


@pytest.mark.parametrize(
    ("rule", "days"),
    [
        ("FREQ=DAILY;COUNT=3", [22, 23, 24]),
        ("FREQ=WEEKLY;INTERVAL=2;BYDAY=MO,TH;COUNT=3", [22, 2, 5]),
        ("FREQ=DAILY;INTERVAL=2;UNTIL=20260126T000000Z", [22, 24]),
        ("FREQ=WEEKLY;UNTIL=20260205", [22, 29, 5]),
        ("FREQ=MONTHLY", [22]),
    ],
)
def test_days_and_weeks_repeat(read, rule, days):
    """By the rule of the standard; what repeats otherwise is taken once, and counted."""
    found = read(event("DTSTART:20260122T183000", "DURATION:PT1H", f"RRULE:{rule}"))
    assert [one.day.day for one in found.entries] == days
    assert found.once == (rule == "FREQ=MONTHLY")


@pytest.mark.parametrize(
    "rule",
    [
        "FREQ=SECONDLY",
        "FREQ=DAILY;BYMONTH=2;BYMONTHDAY=30",
        "FREQ=DAILY;COUNT=999999999",
        "FREQ=DAILY;COUNT=-1",
        "FREQ=DAILY;COUNT=99999999999999999999999",
        "FREQ=WEEKLY;INTERVAL=99999999999999999999999",
        "FREQ=DAILY;INTERVAL=7;BYDAY=MO",
        "FREQ=DAILY;INTERVAL=0",
        "FREQ=YEARLY;BYEASTER=1",
        "FREQ=DAILY;BYHOUR=1,2,3;BYMINUTE=1,2,3;BYSECOND=1,2,3",
        "FREQ=NEVER",
    ],
)
def test_a_rule_that_means_harm_ends(read, rule):
    """No more repeats than a season can have, in no time."""
    found = read(event("DTSTART:20260122T183000", "DURATION:PT1H", f"RRULE:{rule}"))
    assert len(found.entries) <= MOST_REPEATS


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (b"number,name\n2,Oda\n", "no iCalendar file"),
        (b"BEGIN:VCALENDAR\r\n" + b" " * LARGEST, "at most 2 MB"),
        (b"", "no iCalendar file"),
        (b"BEGIN:VCALENDAR\n" + b"X:1\n" * MOST_LINES, "more than 5,000 events"),
    ],
)
def test_another_file_is_refused(tmp_path, content, said):
    """In a sentence."""
    path = tmp_path / "team.ics"
    path.write_bytes(content)
    with pytest.raises(IntakeError, match=said):
        read_icalendar(path, SINCE)


def test_too_many_events_are_refused(read):
    """A sentence says what to do."""
    many = "\n".join(["BEGIN:VEVENT\nEND:VEVENT"] * (MOST_EVENTS + 1))
    with pytest.raises(IntakeError, match="more than 5,000 events"):
        read(many)


def test_more_ice_times_than_a_season_has_are_refused(read):
    """Events that repeat every day would fill the season file."""
    daily = [
        event("DTSTART:20260122T183000", "DURATION:PT1H", "RRULE:FREQ=DAILY", uid=str(n)) for n in range(9)
    ]
    with pytest.raises(IntakeError, match="more than 1,000 ice times"):
        read(*daily)


@pytest.mark.parametrize("line", ["EXDATE:20200101T183000", "STATUS:CANCELLED"])
def test_rules_that_repeat_without_end_beside_one_another_are_refused(read, line):
    """One uid for all of them, days left out and cancelled ones hide how many there are."""
    rule = "RRULE:FREQ=DAILY;COUNT=99999"
    daily = event("DTSTART:19900101T183000", "DURATION:PT1H", rule, line)
    with pytest.raises(IntakeError, match=r"repeat more than 300,000 times|more than 1,000 ice times"):
        read(*[daily] * 60)


def test_a_line_that_stands_there_thousands_of_times_counts_once(read):
    """Each of its repeats asks for the uid and the place: the first of them, however many there are."""
    many = ["UID:2", "LOCATION:Pad 2"] * 20_000
    found = read(event("DTSTART:20260122T183000", "DURATION:PT1H", "RRULE:FREQ=DAILY", *many))
    assert {one.place for one in found.entries} == {"Pad 2"}
    assert len({one.uid for one in found.entries}) == len(found.entries) > 300


def test_a_count_goes_on_from_the_first_day(read):
    """Days that are over count, also where a practice is every second week on two days."""
    found = read(
        event("DTSTART:20260106T183000", "DURATION:PT1H", "RRULE:FREQ=WEEKLY;INTERVAL=2;BYDAY=TU,TH;COUNT=5")
    )
    assert ([one.day.day for one in found.entries], found.over) == ([20, 22, 3], 0)


@pytest.mark.parametrize("value", [";VALUE=PERIOD:20260122T183000Z/PT1H", ":soon", ";TZID=Nowhere:20269999"])
def test_what_is_no_day_is_not_left_out(read, value):
    """Some programs write periods or other things among the days that are left out."""
    out = f"EXDATE{value}"
    found = read(event("DTSTART:20260122T183000", "DURATION:PT1H", "RRULE:FREQ=DAILY;COUNT=2", out))
    assert len(found.entries) == 2


@pytest.mark.parametrize("line", ["RRULE:FREQ=DAILY;UNTIL=00010101T000000Z", "EXDATE:99991231T235959Z"])
def test_moments_at_the_end_of_the_calendar_are_passed_by(read, line):
    """Their zones would carry them out of it."""
    lines = [line] if line.startswith("RRULE") else ["RRULE:FREQ=DAILY;COUNT=2", line]
    found = read(event("DTSTART;TZID=America/Halifax:20260122T183000", "DURATION:PT1H", *lines))
    assert found.entries


@settings(max_examples=30, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_a_damaged_calendar_is_read_or_refused(tmp_path, data):
    """Whatever bytes stand where: ice times, or a sentence, and nothing else."""
    whole = bytearray(
        b"BEGIN:VCALENDAR\r\nVERSION:2.0\r\n"
        + event("DTSTART:20260122T183000Z", "DURATION:PT1H", "RRULE:FREQ=WEEKLY;COUNT=9")
        .replace("\n", "\r\n")
        .encode()
        + b"\r\nEND:VCALENDAR\r\n"
    )
    for _ in range(data.draw(st.integers(1, 6))):
        whole[data.draw(st.integers(0, len(whole) - 1))] = data.draw(st.integers(0, 255))
    path = tmp_path / "team.ics"
    path.write_bytes(whole)
    with suppress(IntakeError):
        assert len(read_icalendar(path, SINCE, zone=UTC).entries) <= MOST_REPEATS
