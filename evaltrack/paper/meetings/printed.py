"""The list of an evening, the coach's cue cards and the team overview as PDF."""

from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from itertools import pairwise
from pathlib import Path
from uuid import UUID

from evaltrack.language import language, mark, tr
from evaltrack.paper import palette
from evaltrack.paper.render import Printed, print_pdf, tagged
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
from evaltrack.words.team_overview import Overview, how_to
from evaltrack.words.wording import CAUTION

PAPERS = {"letter": "us-letter", "a4": "a4"}
_LIST_LABELS = {
    "time": mark("Time"), "table": mark("Table"), "number": mark("No."), "player": mark("Player"),
    "came": mark("Came"), "pause": mark("break"),
}  # fmt: skip
_CARD_LABELS = {
    "say": mark("Say first: what goes well"), "next_steps": mark("Then: one or two next steps"),
    "at_home": mark("To try at home"), "ask": mark("Ask"), "agreed": mark("Agreed last time"),
    "numbers": mark("The numbers behind it"),
}  # fmt: skip
_CARD_COLUMNS = (mark("Skill"), mark("Worked"), mark("Call"), mark("Share now"))
_HERE = Path(__file__).resolve().parent


def print_list(team: str, evening: Evening, players: Mapping[UUID, Player], paper: str) -> Printed:
    """Return the list in order of time: numbers and first names alone, and room to tick who came."""
    short = short_names(players[one] for one in evening.slots)
    rows = [
        {
            "start": slot.start,
            "time": clock_words(slot.start),
            "table": str(slot.table),
            "number": players[player].number,
            "name": short[player],
        }
        for player, slot in evening.in_order()
    ]
    shown = [
        {name: value for name, value in row.items() if name != "start"} for row in _with_breaks(rows, evening)
    ]
    when = evening_words(evening)
    words = {"rows": shown, "tables": evening.tables, "place": evening.place}
    words |= {"heading": tr("Meetings: {evening}", evening=when), "summary": summary_words(evening)}
    words["labels"] = _labels(_LIST_LABELS)
    title = tr("Meetings, {evening}", evening=when)
    return _printed("meeting_list.typ", team, title, words, evening.day, paper)


def _with_breaks(rows: Sequence[dict], evening: Evening) -> list[dict]:
    """Return the rows, with a row for each break that lies between two of them."""
    found = list(rows[:1])
    for before, row in pairwise(rows):
        for one in evening.breaks:
            if before["start"] < one.end <= row["start"]:
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
    words = {"cards": made, "coaches-only": tr(COACHES_ONLY), "guidance": [tr(one) for one in GUIDANCE]}
    words |= {"caution": tr(CAUTION), "labels": _labels(_CARD_LABELS)}
    words["labels"]["columns"] = [tr(one) for one in _CARD_COLUMNS]
    title = tr("Cue cards, {evening}", evening=evening_words(evening))
    return _printed("cue_cards.typ", team, title, words, last or evening.day, paper)


def print_overview(overview: Overview, paper: str) -> Printed:
    """Return the team on one page."""
    words = {"heading": overview.heading, "coaches-only": tr(COACHES_ONLY), "how-to": how_to()}
    words["labels"] = {"only": tr("For coaches only")}
    words["blocks"] = [asdict(block) for block in overview.blocks]
    title = f"{overview.heading}, {overview.team}"
    return _printed("team_overview.typ", overview.team, title, words, overview.last, paper)


def _labels(marked: Mapping[str, str]) -> dict:
    return {name: tr(words) for name, words in marked.items()}


def _printed(template: str, team: str, title: str, words: dict, day: date, paper: str) -> Printed:
    shared = {
        "team": team,
        "title": tr("{title}: {team}", title=title, team=team),
        "paper": PAPERS[paper],
        "palette": palette.NAMES,
    }
    shared |= tagged(language())
    return print_pdf(_HERE / template, words | shared, day)
