"""Every reader of text files that people bring, each with a sound file to damage."""

from collections.abc import Callable
from datetime import date, time
from pathlib import Path
from random import Random
from typing import NamedTuple
from zoneinfo import ZoneInfo

from evaltrack.intake.catalogue import read_drills, read_skills
from evaltrack.intake.catalogue_text import drills_text, skills_text
from evaltrack.intake.icalendar_file import read_icalendar
from evaltrack.intake.meeting_wishes import read_meeting_wishes
from evaltrack.intake.roster import read_roster, roster_text
from evaltrack.intake.roster_lines import judged, pasted, read_lines
from evaltrack.intake.tallies import read_tallies
from evaltrack.intake.wishes import read_wishes
from evaltrack.places import sample_roster
from evaltrack.rink.meeting_evening import MeetingWishKind

_HALIFAX, _SINCE = ZoneInfo("America/Halifax"), date(2026, 1, 20)
_OFFSETS = ("-0400", "-0300", "+2359", "-2400", "+9999", "+235959", "0", "")
_RULES = (
    *(
        "FREQ=WEEKLY;BYDAY=TU,TH",
        "FREQ=DAILY",
        "FREQ=DAILY;COUNT=-1",
        "FREQ=DAILY;INTERVAL=-3",
        "FREQ=SECONDLY",
    ),
    *(
        "FREQ=WEEKLY;COUNT=999999999999",
        "FREQ=DAILY;INTERVAL=999999999999",
        "FREQ=YEARLY;BYMONTH=11;BYDAY=1SU",
    ),
    *(
        "FREQ=WEEKLY;BYDAY=99MO",
        "FREQ=DAILY;UNTIL=00010101T000000Z",
        "FREQ=DAILY;UNTIL=99991231",
        "FREQ=,DAILY",
    ),
    *(
        "FREQ=DAILY;COUNT=0",
        "FREQ=DAILY;COUNT=1,2",
        "FREQ=DAILY;UNTIL=20260301T000000",
        "FREQ=",
        "",
        "COUNT=3",
    ),
    *("FREQ=WEEKLY;WKST=XX", "FREQ=DAILY;BYSETPOS=1", "FREQ=DAILY;INTERVAL=", "FREQ=DAILY;UNTIL=120000"),
)
_MOMENTS = (
    *("20260122T183000", "20260122T223000Z", ";TZID=America/Halifax:20260122T183000", "19900101T070000"),
    *(";TZID=Nowhere/At_All:20260122T183000", ";VALUE=DATE:20260122", "00010101T000000Z", "99991231T235959Z"),
    *(
        "20260230T183000",
        "183000",
        "",
        "20260122T183000,20260123T183000",
        "21991231T235959Z",
        "18830101T000000",
    ),
    *(";VALUE=PERIOD:20260122T183000Z/PT1H", ";TZID=:20260122T183000", ";TZID=../etc/x:20260122T183000", "x"),
)
_LENGTHS = ("PT1H", "PT50M", "-PT1H", "P999999999D", "PT0S", "P1W", "P99999999999999W", "PT", "1H", "")
_OF_AN_EVENT = {
    "DURATION": _LENGTHS,
    "DTEND": _MOMENTS,
    "RRULE": _RULES,
    "EXDATE": _MOMENTS,
    "RDATE": _MOMENTS,
    "RECURRENCE-ID": _MOMENTS,
    "STATUS": ("CONFIRMED", "CANCELLED", ""),
    "SUMMARY": ("Ice", "\\n\\,\\;", ";LANGUAGE=x:Ice", "\u202e"),
    "LOCATION": ("Kettle Bay", ";ALTREP=y:x", "\x1b[2J"),
    "X-ODD": (";ENCODING=BASE64;VALUE=BINARY:====", ";A=B;A=C:x"),
}
_STARTS = [time(18, minute) for minute in (0, 10, 20, 30, 40, 50)]


class TextReader(NamedTuple):
    """A reader: the name of its file, what a sound one may hold, and what reads it.

    ``sound`` draws one; ``read`` reads the file at a path, and what follows from what was read.
    """

    file: str
    sound: Callable[[Random], bytes]
    read: Callable[[Path], None]


def text_readers() -> dict[str, TextReader]:
    """Return the readers by name."""
    folder = sample_roster()
    players = read_roster(folder / "roster.csv")
    skills = read_skills(folder / "skills.toml")
    drills = read_drills(folder / "drills.toml", skills)
    numbers = [player.number for player in players]

    def skills_and_back(path: Path) -> None:
        found = read_skills(path)
        path.write_text(skills_text(found, path.read_text("utf-8-sig")), "utf-8", newline="")
        assert read_skills(path) == found, "skills read otherwise than they were written"

    def drills_and_back(path: Path) -> None:
        found = read_drills(path, skills)
        path.write_text(drills_text(found, path.read_text("utf-8-sig")), "utf-8", newline="")
        assert read_drills(path, skills) == found, "drills read otherwise than they were written"

    def roster_and_back(path: Path) -> None:
        written = roster_text(read_roster(path))
        path.write_text(written, "utf-8", newline="")
        assert roster_text(read_roster(path)) == written, "a roster read otherwise than it was written"

    def tallies(path: Path) -> None:
        read_tallies(path, players, skills, drills)

    def clipboard(path: Path) -> None:
        judged(pasted(path.read_bytes().decode("utf-8", "surrogateescape")).lines)

    return {
        "roster": TextReader("roster.csv", _of(folder / "roster.csv"), roster_and_back),
        "roster to look through": TextReader(
            "team.csv", _of(folder / "roster.csv"), lambda path: judged(read_lines(path).lines)
        ),
        "pasted table": TextReader("clipboard", _pasted(folder / "roster.csv"), clipboard),
        "tallies": TextReader("tallies.csv", _some_lines(folder / "tallies.csv"), tallies),
        "wishes": TextReader("wishes.csv", _wishes(numbers), lambda path: read_wishes(path, numbers)),
        "wishes of meetings": TextReader(
            "meeting_wishes.csv",
            _meeting_wishes(numbers),
            lambda path: read_meeting_wishes(path, players, 3, _STARTS),
        ),
        "skills": TextReader("skills.toml", _of(folder / "skills.toml"), skills_and_back),
        "drills": TextReader("drills.toml", _of(folder / "drills.toml"), drills_and_back),
        "calendar": TextReader("team.ics", calendar, lambda path: read_icalendar(path, _SINCE, "", _HALIFAX)),
    }


def calendar(chance: Random) -> bytes:
    """Return a calendar of a few practices, in which some lines are sound and some mean harm."""
    harm = chance.choice((0.0, 0.05, 0.3))
    zone = f"BEGIN:VTIMEZONE\n{_line('TZID', ('America/Halifax', 'Nowhere', ''), harm, chance)}\n"
    for part in ("STANDARD", "DAYLIGHT"):
        offsets = [_line(f"TZOFFSET{end}", _OFFSETS, harm, chance) for end in ("FROM", "TO")]
        begins = f"DTSTART:20{chance.randrange(100):02}1102T020000\n{_line('RRULE', _RULES, harm, chance)}"
        zone += "\n".join((f"BEGIN:{part}", begins, *offsets, f"END:{part}", ""))
    events = "".join(_event(harm, chance) for _ in range(chance.choice((1, 2, 4, 20))))
    text = f"BEGIN:VCALENDAR\nVERSION:2.0\nPRODID:-//x//y//EN\n{zone}END:VTIMEZONE\n{events}END:VCALENDAR\n"
    return text.replace("\n", "\r\n").encode()


def _event(harm: float, chance: Random) -> str:
    lines = [f"UID:{chance.randrange(5)}", _line("DTSTART", _MOMENTS, harm, chance)]
    for name, values in _OF_AN_EVENT.items():
        while chance.random() < 0.4:
            lines.append(_line(name, values, harm, chance))
    return "\n".join(("BEGIN:VEVENT", *lines, "END:VEVENT", ""))


def _line(name: str, values: tuple[str, ...], harm: float, chance: Random) -> str:
    value = chance.choice(values) if chance.random() < harm else chance.choice(values[:2])
    return f"{name}{value}" if value.startswith(";") else f"{name}:{value}"


def _of(path: Path) -> Callable[[Random], bytes]:
    content = path.read_bytes()
    return lambda chance: content


def _some_lines(path: Path) -> Callable[[Random], bytes]:
    header, *lines = path.read_bytes().splitlines(True)
    return lambda chance: header + b"".join(chance.choices(lines, k=chance.choice((1, 20, 200))))


def _pasted(path: Path) -> Callable[[Random], bytes]:
    content = path.read_bytes()
    return lambda chance: content.replace(b",", chance.choice((b",", b"\t", b";", b"  ", b" , ")))


def _wishes(numbers: list[str]) -> Callable[[Random], bytes]:
    def sound(chance: Random) -> bytes:
        words = ("together", "apart", "not again")
        rows = [
            f"{chance.choice(words)},{','.join(chance.sample(numbers, 2))}\n"
            for _ in range(chance.randrange(1, 9))
        ]
        return f"wish,player,other\n{''.join(rows)}".encode()

    return sound


def _meeting_wishes(numbers: list[str]) -> Callable[[Random], bytes]:
    def sound(chance: Random) -> bytes:
        values = {"at": "18:30", "table": "2", "not coming": "", "not before": "18:05", "not after": "19:00"}
        rows = []
        for _ in range(chance.randrange(1, 9)):
            one, other = chance.sample(numbers, 2)
            kind = str(chance.choice(list(MeetingWishKind)))
            rows.append(f"{one},{kind},{values.get(kind, other)}\n")
        return f"player,wish,value\n{''.join(rows)}".encode()

    return sound
