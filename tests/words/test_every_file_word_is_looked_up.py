"""No sentence about packs, backups, damaged files, the roster or the calendar stays English."""

from collections import Counter
from dataclasses import replace
from datetime import date, time
from types import SimpleNamespace
from uuid import UUID

import pytest
from wordless import never_looked_up, wordless

from evaltrack.device.backup_places import Why
from evaltrack.language import tr
from evaltrack.rink.ice_time import IceTime
from evaltrack.rink.player import Player, Position, Status
from evaltrack.rink.roster_change import changes_between
from evaltrack.rink.tally_sum import TallySum
from evaltrack.store.packs.joined import Joined, Lost
from evaltrack.store.salvage.salvaging import Saved
from evaltrack.words import backups, calendar, erasing, packs, salvage
from evaltrack.words.roster import change_lines, history_lines
from evaltrack.words.sums import sum_words

DAY = date(2026, 1, 6)
ONE = Player("7", "1", Position.DEFENCE)
COUNTS = (1, 2, 5506)


@pytest.mark.parametrize("number", COUNTS)
def test_nothing_of_packs_stays_english(number):
    """Every kind of fact, and every field of which a change can lose."""
    lost = [
        Lost(kind, ("1", "2"), field, value, "3", 1_762_945_200_000, won, "4")
        for kind, field in packs.FIELDS
        for value, won in (((0,), None), ((1,), (0,)), ((None,), (1,)))
        if kind != "practice_comment"
    ]
    joined = Joined(
        new=Counter(dict.fromkeys([*packs._KINDS, "station"], number)), practices=number, lost=lost,
        ahead={"": 9 * 86_400_000}, clashes=Counter(tally=1), doubled=[("7", "901")],
        renamed={"2026-01-06": "2026-01-06.2"}, erased=[UUID(int=1)],
        struck=number, to_read=lost[:3],
    )  # fmt: skip
    with wordless():
        said = [*packs.joined_lines(joined, {}), *packs.joined_lines(Joined(), {}, rehearsed=True)]
        assert never_looked_up(said) == set()


@pytest.mark.parametrize("number", COUNTS)
def test_nothing_of_backups_and_damaged_files_stays_english(number):
    """Every kind of thing that would be gone, was saved, is lost, or stands in for what is lost."""
    tables = dict.fromkeys(salvage._NAMES, number)
    told = Saved(tables, tables, frozenset(), number, dict.fromkeys(salvage._STOOD_IN, number), "1", ("2",))
    with wordless():
        said = [backups.why_words(why) for why in Why]
        said += [*backups.lost_words(dict.fromkeys(backups._LOST, number)), *backups.lost_words(None)]
        said += [*backups.lost_words({}), salvage.saved_words(told), *salvage.loss_words(told)]
        said += salvage.loss_words(replace(told, unknown=frozenset(tables)))
        said += [sum_words(TallySum(number, number, number, number)), sum_words(TallySum(number))]
        assert never_looked_up(said) == set()


def test_nothing_of_an_erasure_stays_english():
    """Whether it is rehearsed or done."""
    settled = SimpleNamespace(gone=1, kept=2, given_back=3)
    taken = SimpleNamespace(settled=settled, struck={"a": 1}, rows={"b": 2})
    erasure = SimpleNamespace(taken_out=taken, names=SimpleNamespace(passed_over=["9"]))
    files = [SimpleNamespace(path="1", day=DAY, surely=surely) for surely in (True, False)]
    with wordless():
        said = [line for done in (True, False) for line in erasing.taken_out_lines("1", erasure, done)]
        said += [
            line for done in (True, False) for line in erasing.file_lines(files, [("1", DAY)], ["2"], done)
        ]
        given = [SimpleNamespace(path="1", day=DAY, pages=pages) for pages in (True, False)]
        said += erasing.elsewhere_lines(given)
        assert never_looked_up(said) == set()


def test_nothing_of_the_roster_and_the_calendar_stays_english():
    """Every change of a player, asked before and told after; ice times, and what was read of them."""
    changed = [
        replace(ONE, number="8"), replace(ONE, name="2"), replace(ONE, position=Position.GOALIE),
        replace(ONE, birth_year=2014), replace(ONE, status=Status.LIMITED), replace(ONE, status=Status.LEFT),
        replace(ONE, status=Status.AWAY), replace(ONE, status=Status.AWAY, away_until=DAY),
    ]  # fmt: skip
    pairs = [pair for one in changed for pair in ((ONE, one), (one, ONE))]
    pairs += [(None, one) for one in (ONE, *changed)]
    found = SimpleNamespace(entries=[1], odd=1, once=2, over=1)
    with wordless():
        said = []
        for was, becomes in pairs:
            changes = changes_between(was, becomes, DAY)
            said += change_lines(changes, [was] if was else [], [becomes]) + history_lines(changes)
        said += [calendar.read_words(2, 3, found), calendar.ice_words(IceTime(DAY)), tr("now")]
        said.append(calendar.when_words(IceTime(DAY, time(18, 30))))
        assert never_looked_up(said) <= {"D", "G"}
