"""The list of an evening, the coach's cue cards and the team overview as PDF."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from itertools import pairwise
from pathlib import Path
from uuid import UUID

from evaltrack.paper import palette
from evaltrack.paper.render import Printed, print_pdf
from evaltrack.rink.meeting_evening import Evening
from evaltrack.rink.player import Player
from evaltrack.rink.short_names import short_names
from evaltrack.words.meeting_cards import CueCard
from evaltrack.words.meetings import (
    COACHES_ONLY,
    GUIDANCE,
    clock_words,
    evening_words,
    slot_words,
    summary_words,
)
from evaltrack.words.team_overview import HOW_TO, Overview
from evaltrack.words.wording import CAUTION

PAPERS = {"letter": "us-letter", "a4": "a4"}
_HERE = Path(__file__).resolve().parent


def print_list(team: str, evening: Evening, players: Mapping[UUID, Player], paper: str) -> Printed:
    """Return the list in order of time: numbers and first names alone, and room to tick who came."""
    short = short_names(players[one] for one in evening.slots)
    rows = [
        {
            "time": clock_words(slot.start),
            "table": str(slot.table),
            "number": players[player].number,
            "name": short[player],
        }
        for player, slot in evening.in_order()
    ]
    words = {"rows": _with_breaks(rows, evening), "tables": evening.tables, "place": evening.place}
    words |= {"heading": evening_words(evening), "summary": summary_words(evening)}
    return _printed(
        "meeting_list.typ", team, f"Meetings, {evening_words(evening)}", words, evening.day, paper
    )


def _with_breaks(rows: Sequence[dict], evening: Evening) -> list[dict]:
    """Return the rows, with a row for each break that lies between two of them."""
    found = list(rows[:1])
    for before, row in pairwise(rows):
        for one in evening.breaks:
            if before["time"] < clock_words(one.end) <= row["time"]:
                found.append({"pause": f"{clock_words(one.start)}–{clock_words(one.end)}"})
        found.append(row)
    return found


def print_cards(
    team: str, evening: Evening, cards: Mapping[UUID, CueCard], last: date | None, paper: str
) -> Printed:
    """Return the cue cards in the order of the meetings, each on a page of its own."""
    made = [
        asdict(cards[player]) | {"when": slot_words(evening, slot)} for player, slot in evening.in_order()
    ]
    words = {"cards": made, "coaches-only": COACHES_ONLY, "guidance": list(GUIDANCE), "caution": CAUTION}
    title = f"Cue cards, {evening_words(evening)}"
    return _printed("cue_cards.typ", team, title, words, last or evening.day, paper)


def print_overview(overview: Overview, paper: str) -> Printed:
    """Return the team on one page."""
    words = {"heading": overview.heading, "coaches-only": COACHES_ONLY, "how-to": HOW_TO}
    words["blocks"] = [asdict(block) for block in overview.blocks]
    title = f"{overview.heading}, {overview.team}"
    return _printed("team_overview.typ", overview.team, title, words, overview.last, paper)


def _printed(template: str, team: str, title: str, words: dict, day: date, paper: str) -> Printed:
    shared = {"team": team, "title": f"{title}: {team}", "paper": PAPERS[paper], "palette": palette.NAMES}
    return print_pdf(_HERE / template, words | shared, day)
