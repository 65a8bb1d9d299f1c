"""What the bench of mutations changes, room by room, and the tests that should notice."""

import sys
from collections.abc import Sequence
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[2]


def files_of(patterns: Sequence[str]) -> list[Path]:
    found = sorted({file for pattern in patterns for file in ROOT.glob(pattern)})
    if not found:
        sys.exit(f"nothing is at {', '.join(patterns)}: mend the table of rooms")
    return found


class Room(NamedTuple):
    """What is changed, and the tests that should notice; all are patterns below the top of the checkout.

    Left out are tests that do all in processes of their own, which read the code as it stands, and tests of
    time alone, which a busy machine may fail.
    """

    changed: tuple[str, ...]
    tests: tuple[str, ...]
    left_out: tuple[str, ...] = ()

    def test_files(self) -> list[Path]:
        """Return the test files."""
        left_out = set(files_of(self.left_out)) if self.left_out else set()
        return [file for file in files_of(self.tests) if file not in left_out]


def _of(folder: str, *names: str) -> tuple[str, ...]:
    return tuple(f"{folder}/**/{name}.py" for name in names)


ROOMS = {
    "rink": Room(_of("evaltrack/rink", "*"), ("tests/rink/**/test_*.py",)),
    "log": Room(
        _of("evaltrack/store", "log", "tally_rows", "put_right", "tally_corrections"),
        ("tests/store/**/test_*.py",),
        left_out=("tests/store/**/test_damaged_files.py",),
    ),
    "calls": Room(_of("evaltrack/analysis", "calls"), ("tests/analysis/**/test_*.py",)),
    "standings": Room(
        _of("evaltrack/analysis", "standings", "standing", "counts"), ("tests/analysis/**/test_*.py",)
    ),
    "reasons": Room(_of("evaltrack/analysis", "reasons"), ("tests/analysis/**/test_*.py",)),
    "coverage": Room(
        _of("evaltrack/analysis", "coverage", "precision", "watching"), ("tests/analysis/**/test_*.py",)
    ),
    "wording": Room(
        (*_of("evaltrack/words", "*"), *_of("evaltrack/paper", "choice")),
        (
            "tests/words/**/test_*.py",
            "tests/paper/**/test_*.py",
            "tests/analysis/agreement/test_*.py",
            *("tests/store/test_player_away.py", "tests/store/test_plays_both.py"),
            *(
                "tests/cli/test_cli_roster.py",
                "tests/cli/test_cli_catalogue.py",
                "tests/cli/test_cli_plan.py",
                "tests/cli/test_cli_meetings.py",
            ),
            *("tests/cli/test_cli_correcting.py", "tests/cli/test_cli_tallies_put_right.py"),
        ),
    ),
    "sums": Room(
        _of("evaltrack/store", "turnout", "tally_sums"),
        (
            "tests/store/test_turnout.py",
            "tests/store/test_tally_sums.py",
            "tests/store/test_tally_corrections.py",
        ),
    ),
    "team": Room(
        (*_of("evaltrack/analysis/team", "*"), *_of("evaltrack/analysis", "together", "below_target")),
        (
            "tests/analysis/team/test_*.py",
            "tests/analysis/season/test_together.py",
            "tests/analysis/standings/test_below_target.py",
        ),
    ),
    "planning": Room(_of("evaltrack/analysis/planning", "*"), ("tests/analysis/planning/test_*.py",)),
    "meetings": Room(_of("evaltrack/analysis/meetings", "*"), ("tests/analysis/meetings/test_*.py",)),
    "targets": Room(
        (*_of("evaltrack/analysis/standings", "targets"), *_of("evaltrack/founding", "catalogue_files")),
        (
            *("tests/touch/catalogue/test_*.py", "tests/cli/test_cli_catalogue.py"),
            *("tests/analysis/planning/test_needs.py", "tests/words/test_below.py"),
        ),
    ),
    "back": Room(
        (*_of("evaltrack/touch/desk", "undone"), *_of("evaltrack/touch/board", "taking_back")),
        ("tests/touch/desk/test_*.py", "tests/touch/board/test_undo_and_redo.py"),
    ),
    "skills": Room(_of("evaltrack/touch/catalogue", "*"), ("tests/touch/catalogue/test_*.py",)),
    "drills": Room(_of("evaltrack/touch/drills", "*"), ("tests/touch/drills/test_*.py",)),
    "help": Room(_of("evaltrack/touch/help", "*"), ("tests/touch/help/test_*.py",)),
    "season": Room(_of("evaltrack/touch/season_view", "*"), ("tests/touch/season_view/test_*.py",)),
    "plan": Room(_of("evaltrack/touch/plan", "*"), ("tests/touch/plan/test_*.py",)),
    "putting_right": Room(
        _of("evaltrack/touch/putting_right", "*"), ("tests/touch/putting_right/test_*.py",)
    ),
    "people": Room(
        (*_of("evaltrack/touch/people", "*"), *_of("evaltrack/intake", "roster", "roster_*", "pasted_table")),
        ("tests/touch/people/test_*.py", "tests/intake/test_*.py", "tests/store/test_plays_both.py"),
    ),
    "handover": Room(
        _of("evaltrack/device/handover", "*"),
        ("tests/device/handover/test_*.py", "tests/cli/test_cli_handover.py"),
    ),
    "handover_screen": Room(_of("evaltrack/touch/handover", "*"), ("tests/touch/handover/test_*.py",)),
    "lending": Room(
        (*_of("evaltrack/store", "lending", "lent_file", "loan"), *_of("evaltrack/rink", "loan")),
        (
            *("tests/store/test_lending.py", "tests/cli/test_cli_lend.py"),
            "tests/touch/packs/test_loan_by_touch.py",
        ),
    ),
    "packs": Room(
        _of("evaltrack/store/packs", "*"),
        (
            *("tests/store/packs/test_*.py", "tests/store/test_older_season_shared.py"),
            *("tests/touch/desk/test_joined_in_hand.py", "tests/words/test_pack_words.py"),
            "tests/cli/test_cli_packs.py",
        ),
        left_out=("tests/store/packs/test_killed_packs.py",),
    ),
    "packs_screen": Room(_of("evaltrack/touch/packs", "*"), ("tests/touch/packs/test_*.py",)),
    "backups": Room(
        _of("evaltrack/store/backups", "*"),
        ("tests/store/backups/test_*.py", "tests/cli/test_cli_backups.py"),
        left_out=("tests/store/backups/test_killed_backups.py",),
    ),
    "erasing": Room(
        _of("evaltrack/store/erasing", "*"),
        (
            *("tests/store/erasing/test_*.py", "tests/store/packs/test_erased.py"),
            *("tests/cli/test_cli_erase.py", "tests/store/test_season_life.py"),
        ),
        left_out=("tests/store/erasing/test_killed_erasing.py",),
    ),
    "closing": Room(
        _of("evaltrack/founding", "closing", "next_season", "placing", "season"),
        (
            *("tests/cli/test_cli_close_season.py", "tests/cli/test_cli_next_season.py"),
            *("tests/store/erasing/test_forgetting.py", "tests/founding/test_*.py"),
        ),
    ),
    "closing_screen": Room(_of("evaltrack/touch/closing", "*"), ("tests/touch/closing/test_*.py",)),
    "language": Room(
        ("evaltrack/language.py",),
        (
            *("tests/languages/test_*.py", "tests/device/test_tablet_language.py"),
            "tests/words/test_french_numbers.py",
        ),
    ),
    "family": Room(_of("evaltrack/words/family", "*"), ("tests/words/family/test_*.py",)),
    "planned": Room(
        _of("evaltrack/rink", "plan", "plan_changes"),
        (
            *("tests/rink/test_plan*.py", "tests/words/test_planning_words.py", "tests/store/test_plans.py"),
            *("tests/analysis/planning/test_planner.py", "tests/analysis/planning/test_conflicts.py"),
        ),
    ),
    "readers": Room(
        _of("evaltrack/intake", "*"),
        ("tests/intake/test_*.py", "tests/cli/test_cli_correcting.py", "tests/cli/test_cli_season.py"),
    ),
}
