"""How the seasons lead to their backups, and when one is made by itself; each comes when it is asked for."""

from functools import partial

from evaltrack.language import mark, tr

_BACKUPS, _SEASONS = "backups", "seasons"
_FAILED = mark("No backup could be made: {reason}")


class BackupScreens:
    """A part of the app."""

    def back_up_ended(self, _, ended: str) -> None:
        """Keep a backup after a practice, which has ended when there are words for it."""
        if ended:
            self.back_up_soon()

    def back_up_at_start(self) -> None:
        """Make up for a backup that was not made before the app was closed; not while somebody taps."""
        if not self.desk.practice:
            self.back_up_soon()

    def back_up_soon(self) -> None:
        """Keep a backup beside the app if there is something new: nobody waits for it.

        The invented team needs none.
        """
        desk = self.desk
        if desk.season is None or desk.invented:
            return
        from evaltrack.touch.worker.backup_tasks import back_up_after_practice

        work = partial(back_up_after_practice, desk.season.path.resolve())
        self.worker.ask(work, lambda _: None, self._tell_no_backup)

    def _tell_no_backup(self, why: str) -> None:
        self.desk.message = tr(_FAILED, reason=why)

    def _make_backups(self):
        from evaltrack.touch.seasons.backups_screen import BackupsScreen

        screen = BackupsScreen(name=_BACKUPS, desk=self.desk, worker=self.worker)
        screen.bind(
            on_back=partial(self.go, _SEASONS), on_folder=lambda _: self._ask_for_file("BACKUP_FOLDER")
        )
        return screen
