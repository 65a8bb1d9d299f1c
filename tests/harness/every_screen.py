"""Showing any screen of the app by its name, filled as a user would find it."""

from datetime import date, timedelta

from invented_evenings import evening_for
from planned_cards import plan_for

from evaltrack.rink.ident import new_id
from evaltrack.rink.loan import LentNames
from evaltrack.rink.note_life import NoteField
from evaltrack.store.lending import lend
from evaltrack.touch.tablet.tablet_screens import ScreenName


def show(driver, name: str):
    """Have a screen in front, with what it shows ready, and return it."""
    app = driver.app
    off_loan(app)
    if name in (ScreenName.NOTE_PICKS, ScreenName.NOTE_HISTORY, ScreenName.LOOK_BACK):
        show(driver, ScreenName.NOTE)
    _OPENED.get(name, lambda app: app.go(name))(app)
    if name in (ScreenName.TEAM, ScreenName.PLAYER, ScreenName.SKILL):
        driver.wait(lambda: app.review.state in ("ready", "failed"))
    driver.wait(lambda: not getattr(app.screens.current_screen, "waiting", False))
    if name == ScreenName.FILE:
        driver.wait(lambda: app.screens.current_screen.ids.files.words or _rows(app))
    driver.settle()
    screen = app.screens.current_screen
    assert screen.name == name
    return screen


def _rows(app):
    return app.screens.current_screen.ids.files.rows


def _board(app) -> None:
    desk = app.desk
    if not desk.practice:
        drill = desk.drills[0]
        assert desk.begin(date(2026, 1, 20), desk.players, drill.key, drill.steps[0].key, "Ines")
    app.go(ScreenName.BOARD)


def _busiest(app) -> str:
    counts = app.desk.season.log.counts()
    return max(counts, key=counts.get) if counts else app.desk.season.practices.all()[-1].key


def _plan(app) -> None:
    plan = app.plan_in_hand
    plan.read()
    if plan.card is None:
        plan.change(plan_for(app.desk))
    app.go(ScreenName.PLAN)


def _from_note(app, name: str, *what) -> None:
    app._to_page(name, app.screens.get_screen(ScreenName.NOTE), *what)


def _meetings(app) -> None:
    meetings = app.meetings_in_hand
    meetings.read()
    if meetings.evening is None:
        meetings.keep(evening_for(app.desk.players))
    app.go(ScreenName.MEETINGS)


def _cue_card(app) -> None:
    _meetings(app)
    app._to_cue_card(None, app.meetings_in_hand.evening.in_order()[2][0])


def _tallies(app) -> None:
    app._to_held(None, _busiest(app))
    app._to_tallies(app.screens.get_screen(ScreenName.PRACTICE))


def _drill(app) -> None:
    app.drafting.throw_away()  # a random walk may have taken steps out of it
    app.go(ScreenName.DRILLS)
    app._to_drill(None, (app.desk.drills[0].key,))


def _step(app) -> None:
    _drill(app)
    drill = app.desk.drills[0]
    app._to_step(None, (drill.key, drill.steps[0].key))


def _reps(app) -> None:
    _step(app)
    app._to_reps(app.screens.get_screen(ScreenName.STEP))


def on_loan(app) -> None:
    """Lend the season in hand, and take the loan in hand."""
    if not app.desk.loan:
        path = app.desk.season.path
        loan = path.with_name(f"{path.stem}-{new_id().hex}.db")
        lend(app.desk.season, loan, LentNames.FIRST, date.today() + timedelta(7))
        app.lender = path
        assert app.desk.open(loan)


def off_loan(app) -> None:
    """Take the season in hand that was lent, where a loan is, or was deleted."""
    if app.desk.loan or (app.desk.season is None and hasattr(app, "lender")):
        assert app.desk.open(app.lender)


def _loan(app) -> None:
    on_loan(app)
    app.go(ScreenName.LOAN)


_OPENED = {
    ScreenName.LOAN: _loan,
    ScreenName.KEPT: lambda app: app._to_kept(None, app.desk.players[4]),
    ScreenName.DRILL: _drill,
    ScreenName.STEP: _step,
    ScreenName.REPS: _reps,
    ScreenName.SKILL: lambda app: app._to_skill(None, next(iter(app.desk.skills))),
    ScreenName.SKILL_FORM: lambda app: app._to_skill_form(None, next(iter(app.desk.skills.values()))),
    ScreenName.BOARD: _board,
    ScreenName.PLAYER: lambda app: app._to_player(None, app.desk.players[3].number),
    ScreenName.PLAYER_FORM: lambda app: app._to_player_form(None, app.desk.players[4]),
    ScreenName.PLAN: _plan,
    ScreenName.NOTE: lambda app: app._to_note(None, app.desk.players[3].id),
    ScreenName.NOTE_PICKS: lambda app: _from_note(app, ScreenName.NOTE_PICKS, NoteField.NEXT_SKILLS),
    ScreenName.NOTE_HISTORY: lambda app: _from_note(app, ScreenName.NOTE_HISTORY),
    ScreenName.LOOK_BACK: lambda app: _from_note(app, ScreenName.LOOK_BACK),
    ScreenName.MEETINGS: _meetings,
    ScreenName.CUE_CARD: _cue_card,
    ScreenName.PRACTICE: lambda app: app._to_held(None, _busiest(app)),
    ScreenName.TALLIES: _tallies,
    ScreenName.FILE: lambda app: app._to_season_file(),
    ScreenName.CODE: lambda app: app._to_new_code(),
}
