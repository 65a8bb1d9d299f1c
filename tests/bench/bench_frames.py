"""Time from touch down to the end of the frame that shows the answer, in a burst of taps on the board.

    python tests/bench/bench_frames.py [--taps 400] [--rate 20]

Fingers come down at moments of their own, on a thread as from a touch panel, while the app draws sixty
frames a second; each tap is committed to disk, and timed to the end of the frame that drew its count. A
bare window that recolours one rectangle at each touch runs beside it in turns. ``starts.py`` says which kinds
of window there are: software GL shows what the processor makes of a graphics card's work, the other two
leave that work out. A panel adds its own delay, and up to one of its frames; that is not in here.
"""

import argparse
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

HERE = Path(__file__).parent
import at_home  # noqa: F401
from starts import NO_OP, environment, kinds

TURNS = 4


def main() -> None:
    """Print median, 99 in 100 and longest, for the board and for the bare window."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--taps", type=int, default=400)
    parser.add_argument("--rate", type=int, default=20, help="taps a second")
    options = parser.parse_args()
    print(f"touch down to the end of the frame that shows the answer, {options.rate} taps a second")
    for kind in kinds():
        times = {"board": [], "bare": []}
        for _ in range(TURNS):
            for what, found in times.items():
                found += burst(what, kind, options.taps // TURNS, options.rate)
        print(f"  {kind}, {len(times['board'])} taps")
        for what, found in times.items():
            print(f"    {what}: {in_words(found)}")


def in_words(times: list[float]) -> str:
    """Return the median, the value that 99 in 100 stay under, and the longest, in milliseconds."""
    ordered = sorted(times)
    p99 = ordered[int(0.99 * (len(ordered) - 1))]
    return f"median {statistics.median(ordered):.1f} ms, p99 {p99:.1f} ms, longest {ordered[-1]:.1f} ms"


def burst(what: str, kind: str, taps: int, rate: int) -> list[float]:
    """Run one burst in a fresh process and return its times in milliseconds."""
    with tempfile.TemporaryDirectory() as home:
        command = [sys.executable, str(HERE / "frames.py"), what, kind, home, str(taps), str(rate)]
        pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.DEVNULL}
        told = {"EVALTRACK_HOME": home}
        run = subprocess.run(command, check=True, text=True, env=environment(kind) | told, **pipes)
    renderer, *times = run.stdout.split("\n")[:-1]
    assert kind != NO_OP or renderer == "NOOP", f"{renderer} rasterises"
    assert len(times) == taps
    return [float(found) for found in times]


if __name__ == "__main__":
    start = time.perf_counter()
    main()
    print(f"took {time.perf_counter() - start:.0f} s")
