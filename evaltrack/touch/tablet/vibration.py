"""The device's vibrator, where there is one. Tried on no Android device yet; laptops and iPads have none."""

from collections.abc import Callable

from kivy.utils import platform

_MILLISECONDS = 25  # felt through a glove, and over before the next tap


def vibrator() -> Callable[[], None] | None:
    """Return what makes the device shake once, or None where it cannot."""
    if platform != "android":
        return None
    from jnius import autoclass  # every Kivy build for Android has it

    activity = autoclass("org.kivy.android.PythonActivity").mActivity
    motor = activity.getSystemService("vibrator")
    if not (motor and motor.hasVibrator()):
        return None
    return lambda: motor.vibrate(_MILLISECONDS)
