"""Five invented families' pages, made by hand: what is said of the usual child and of four unusual ones."""

from collections.abc import Callable
from dataclasses import replace
from datetime import date

from lantern_pages import DAYS, skills, standing

from evaltrack.analysis.standings.standing import Call, PathPoint, Seen, Standing, Trend
from evaltrack.rink.family_note import Agreed, NoteEdits
from evaltrack.rink.player import Player, Position
from evaltrack.words.date_axis import DateAxis
from evaltrack.words.family.drafting import Ground, draft_sheet
from evaltrack.words.family.presence import Presence
from evaltrack.words.family.sheet import FamilySheet
from evaltrack.words.wording import long_date

SKILLS = {skill.key: skill for skill in skills()}
TEAM = "Kettle Bay Lanterns 12U"


def ground_of(player: Player, presence: Presence | None = None, last: date = DAYS[-1]) -> Ground:
    """Return what the pages share, with this player here at every practice unless said otherwise."""
    here = presence or Presence(len(DAYS), len(DAYS), DAYS[0], DAYS[-1])
    return Ground(TEAM, DateAxis(DAYS[0], last), SKILLS, {player.id: here})


def counted(key: str, done: int, tries: int, days=DAYS[::3], low=None, high=None, **other) -> Standing:
    """Return a standing of these counts, spread over some days as evenly as they go."""
    spread = [
        (
            tries * (i + 1) // len(days) - tries * i // len(days),
            done * (i + 1) // len(days) - done * i // len(days),
        )
        for i in range(len(days))
    ]
    seen = tuple(Seen(day, *each) for day, each in zip(days, spread, strict=True) if each[0])
    made = standing(key, [(one.tries, one.done) for one in seen], **other)
    low, high = made.low if low is None else low, made.high if high is None else high
    path = tuple(
        PathPoint(day, made.share, low, high, low, high) for day in DAYS if days[0] <= day <= days[-1]
    )
    return replace(
        made, seen=seen, practices=len(seen), path=path, low=low, high=high, target=SKILLS[key].target
    )


def usual() -> FamilySheet:
    """Return the page of a child with a little of everything."""
    player = Player("7", "Zoë Łukasik", Position.DEFENCE)
    own = [
        counted("outlet_pass", 31, 38, call=Call.SOLID, low=0.7, high=0.89, p_below=0.02),
        counted("gap_at_line", 5, 22, call=Call.WORK_ON, low=0.13, high=0.44, p_below=0.98),
        counted("gap_up", 17, 30, call=Call.IN_BETWEEN, low=0.43, high=0.71, p_below=0.6),
        counted("support_distance", 14, 31, call=Call.IN_BETWEEN, trend=Trend.UP, low=0.4, high=0.7),
        counted("receive_pass", 20, 22, call=Call.IN_BETWEEN, low=0.62, high=0.95, p_below=0.08),
        counted("stop", 3, 4, days=DAYS[:2], call=Call.TOO_FEW),
    ]
    edits = NoteEdits(
        coach_words="Zoë asks good questions on the bench and helps to pick up the pucks.",
        agreed=(Agreed("Ten wall passes after school on school days", "Dad", date(2026, 3, 12)),),
        meeting=date(2026, 1, 20),
        coach="Dana Whitlock",
    )
    return draft_sheet(ground_of(player), player, own, edits, is_draft=False)


def too_few_everywhere() -> FamilySheet:
    """Return the page of a child of whom nothing can be said yet."""
    player = Player("12", "Björn Sætre", Position.FORWARD)
    own = [
        counted("lane_fill", 2, 6, days=DAYS[4:7], call=Call.TOO_FEW),
        counted("open_target", 20, 22, days=DAYS[4:6], call=Call.TOO_FEW),
        counted("stop", 0, 1, days=DAYS[4:5], call=Call.TOO_FEW),
    ]
    return draft_sheet(ground_of(player), player, own)


def goalie() -> FamilySheet:
    """Return the page of a goalie, whom coaches watched at few practices."""
    player = Player("00", "Mary J. Okafor", Position.GOALIE)
    days = (DAYS[3], DAYS[9], DAYS[15], DAYS[22])
    own = [
        counted(
            "rebound_control", 25, 41, days=days, call=Call.IN_BETWEEN, low=0.45, high=0.74, p_below=0.48
        ),
        counted(
            "set_before_shot", 21, 29, days=days, call=Call.IN_BETWEEN, low=0.54, high=0.84, p_below=0.14
        ),
    ]
    return draft_sheet(ground_of(player), player, own)


def joined_late() -> FamilySheet:
    """Return the page of a child who came in December, and whose only strength has gone down since."""
    player = Player("19", "김 민준", Position.FORWARD)
    days = DAYS[15:]
    own = [
        counted("wall_puck_feet", 30, 40, days=days, call=Call.SOLID, trend=Trend.DOWN, low=0.58, high=0.8),
        counted("indirect_pass", 24, 41, days=days, call=Call.WORK_ON, low=0.28, high=0.54, p_below=0.96),
        counted(
            "shot_on_net", 11, 25, days=days, call=Call.IN_BETWEEN, trend=Trend.DOWN, low=0.25, high=0.56
        ),
    ]
    presence = Presence(len(DAYS), len(days), days[0], DAYS[-1])
    return draft_sheet(ground_of(player, presence), player, own)


def weak_in_all() -> FamilySheet:
    """Return the page of a child with nothing solid, for whom the coach picked what goes well."""
    player = Player("4", "Eero Koskela", Position.DEFENCE)
    own = [
        counted("outlet_pass", 0, 24, call=Call.WORK_ON, low=0.0, high=0.16, p_below=1.0),
        counted("gap_at_line", 6, 30, call=Call.WORK_ON, low=0.1, high=0.36, p_below=1.0),
        counted("escape_turn", 4, 28, call=Call.WORK_ON, trend=Trend.UP, low=0.12, high=0.38, p_below=1.0),
        counted("start", 12, 26, call=Call.IN_BETWEEN, low=0.3, high=0.6, p_below=0.75),
        counted("receive_pass", 9, 21, call=Call.IN_BETWEEN, low=0.28, high=0.62, p_below=0.79),
    ]
    return draft_sheet(ground_of(player), player, own, NoteEdits(strengths=("start",)))


SAMPLES: dict[str, Callable[[], FamilySheet]] = {
    "usual": usual,
    "too_few_everywhere": too_few_everywhere,
    "goalie": goalie,
    "joined_late": joined_late,
    "weak_in_all": weak_in_all,
}


def as_text(sheet: FamilySheet) -> str:
    """Return a page as plain text: every word of it, in the order of reading."""
    days = f"{long_date(sheet.axis.first)} to {long_date(sheet.axis.last)}"
    lines = [sheet.team, sheet.name, f"Number {sheet.number}, {sheet.position}", days]
    for part in sheet.parts:
        if part.key == "next":
            lines += _rows(sheet)
        if part.sentences or part.to_write:
            lines += ["", part.heading, *(f"- {one.text}" for one in part.sentences)]
            lines += ["- ..."] if part.to_write else []
    lines += ["", *sheet.footers]
    lines += ["", *(f"For the coach: {one}" for one in sheet.doubts)] if sheet.doubts else []
    return "\n".join(lines) + "\n"


def _rows(sheet: FamilySheet) -> list[str]:
    rows = [
        f"- {row.name} ({row.looks_like}) | {row.count}, {row.share} | {row.direction}"
        + (f"; {row.level}" if row.level else "")
        + (f" | {row.chart_words}" if row.drawn else "")
        for row in sheet.rows
    ]
    return [
        "",
        "Skills we watched",
        *rows,
        sheet.how_to_read,
        *([f"Too few tries to say: {sheet.thin}"] if sheet.thin else []),
    ]
