"""Make tick.wav, the short click after a saved tally. It is computed here and recorded nowhere.

    python assets/sounds/make_tick.py [FOLDER]

Two soft sine tones that die away within 60 ms: low enough not to carry across the ice, and without the hard
edge that would crackle. The same bytes every time.
"""

import math
import struct
import sys
import wave
from pathlib import Path

_RATE = 22_050  # samples a second
_LENGTH = 0.06  # seconds
_TONES = ((740.0, 0.7), (1480.0, 0.3))  # Hz and share
_LOUDNESS = 0.5  # of what the format can hold
_RISE, _FALL = 0.002, 0.011  # seconds: of the first rise, and until a third is left


def samples() -> list[int]:
    """Return the click as 16-bit samples."""
    return [round(32_767 * _LOUDNESS * _at(number / _RATE)) for number in range(int(_RATE * _LENGTH))]


def _at(second: float) -> float:
    tone = sum(share * math.sin(2 * math.pi * hertz * second) for hertz, share in _TONES)
    end = min(1.0, (_LENGTH - second) / _RISE)
    return tone * min(1.0, second / _RISE) * math.exp(-second / _FALL) * end


def write_tick(path: Path) -> None:
    """Write the click as a WAV file."""
    click = samples()
    with wave.open(str(path), "wb") as file:
        file.setnchannels(1)
        file.setsampwidth(2)
        file.setframerate(_RATE)
        file.writeframes(struct.pack(f"<{len(click)}h", *click))


if __name__ == "__main__":
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).parent
    write_tick(folder / "tick.wav")
