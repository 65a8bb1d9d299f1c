"""What a saved tally sounds and feels like: the same for done and missed, and off unless somebody wants it.

Sound carries along a bench; if it told the two apart, it would tell players who failed.
"""

from kivy.clock import Clock

from evaltrack.places import assets
from evaltrack.touch.desk.desk import Desk
from evaltrack.touch.tablet.vibration import vibrator


class Feedback:
    """Clicks and shakes after tallies that are on disk, as far as the tablet's settings want it."""

    def __init__(self, desk: Desk):
        self._desk = desk
        self._click = self._shake = None
        # before the frame is drawn, but after every touch of it is on disk: no tap waits for a sound
        self._answer = Clock.create_trigger(self._give, -1)

    def follow(self) -> None:
        """Take up the settings: what is off is neither loaded nor listened for."""
        tablet = self._desk.tablet
        if tablet.sound and not self._click:
            self._click = _load_click()
        if tablet.vibration and not self._shake:
            self._shake = vibrator()
        self._desk.unbind(on_tallied=self._tallied)
        if tablet.sound or tablet.vibration:
            self._desk.bind(on_tallied=self._tallied)

    @property
    def can_click(self) -> bool:
        """Say whether this device plays the click."""
        self._click = self._click or _load_click()
        return self._click is not None

    def give(self) -> None:
        """Click and shake once before the next frame, as far as that is on."""
        self._answer()

    def _tallied(self, *_) -> None:
        self._answer()

    def _give(self, *_) -> None:
        tablet = self._desk.tablet
        if tablet.sound and self._click:
            self._click.play()
        if tablet.vibration and self._shake:
            self._shake()


def _load_click():
    """Return the click, ready to play, or None where the device has no sound."""
    from kivy.core.audio import SoundLoader  # looks for sound libraries: not before somebody wants it

    click = SoundLoader.load(str(assets() / "sounds" / "tick.wav"))
    return click if click and click.length > 0 else None
