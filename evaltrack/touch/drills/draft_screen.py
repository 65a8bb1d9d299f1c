"""What the screens of drills that are being changed have in common."""

from kivy.properties import StringProperty

from evaltrack.touch.drills.draft.drafting import Drafting
from evaltrack.touch.drills.draft.drills_draft import DrillsDraft
from evaltrack.touch.drills.draft_bar import DraftBar  # noqa: F401  the kv rules name it
from evaltrack.touch.widgets.screen import AppScreen


class DraftScreen(AppScreen):
    """A screen with a `DraftBar` ``bar`` over a ``body`` that is made anew from the draft.

    ``on_back`` asks it to go one back. ``on_left`` comes when it is left, also because undo took away what
    is shown, and ``on_saved`` when all drills are saved.
    """

    __events__ = ("on_back", "on_left", "on_saved")
    heading = StringProperty("")
    summary = StringProperty("")

    def __init__(self, drafting: Drafting, **kwargs):
        super().__init__(**kwargs)
        self.drafting = drafting

    def on_back(self, *_):
        """Leave the screen."""
        self.dispatch("on_left")

    @property
    def draft(self) -> DrillsDraft:
        """Return the drills as they are being changed."""
        return self.drafting.draft

    def show(self) -> None:
        """Show the draft as it is now."""
        self.ids.bar.show(self.draft)
        body = self.ids.body
        body.clear_widgets()
        for part in self.parts():
            body.add_widget(part)

    def parts(self) -> list:
        """Return what stands in the body."""
        raise NotImplementedError

    def undo(self) -> None:
        """Take the last change back."""
        self.desk.message = ""
        self.draft.undo()
        self.show()

    def save(self) -> None:
        """Save all drills."""
        if self.drafting.save():
            self.dispatch("on_saved")
        else:
            self.show()
