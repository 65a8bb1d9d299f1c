"""Make a picture of every screen and board, at three sizes, light and dark, also in French, and of pages.

    python tests/pictures.py --out pictures [--only portrait|french|pages] [--words largest]

Needs a GL library (Mesa's software one will do), but no display. Every size runs in a process of its own,
since a window's density is fixed when it opens.
"""

import argparse
import json
import os
import subprocess
import sys
import tempfile
from pathlib import Path

SIZES = {"landscape": (1280, 800, 1), "portrait": (800, 1280, 1), "tablet": (2560, 1600, 2)}
IN_FRENCH = ("landscape", "portrait")
HERE = Path(__file__).resolve().parent


def main() -> None:
    """Read the command line and make the pictures."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--out", type=Path, required=True, help="folder for the pictures")
    parser.add_argument("--only", choices=(*SIZES, "french", "pages"), help="instead of all")
    parser.add_argument("--words", choices=("usual", "larger", "largest"), default="usual")
    options = parser.parse_args()
    options.out.mkdir(parents=True, exist_ok=True)
    for name in [options.only] if options.only in SIZES else [] if options.only else SIZES:
        for look in ("light", "dark"):
            shoot(name, look, {"words": options.words}, options.out / f"{name}-{look}")
    for name in IN_FRENCH if options.only in (None, "french") else ():
        settings = {"words": options.words, "language": "fr-CA"}
        shoot(name, "light", settings, options.out / f"french-{name}")
    if options.only in (None, "pages"):
        print_pages(options.out)
    print(f"{len(list(options.out.glob('*.png')))} pictures in {options.out}")


def shoot(size: str, look: str, settings: dict[str, str], stem: Path) -> None:
    """Make the pictures of one size and look, with these settings of the tablet, named from ``stem`` on."""
    width, height, density = SIZES[size]
    kept = {
        key: value for key, value in os.environ.items() if not key.startswith("KIVY") and key != "DISPLAY"
    }
    paths = (HERE.parent, HERE / "harness", HERE / "worlds")
    kept |= {
        "SDL_VIDEODRIVER": "offscreen",
        "LIBGL_ALWAYS_SOFTWARE": "1",
        "KIVY_METRICS_DENSITY": str(density),
        "PYTHONPATH": os.pathsep.join(map(str, paths)),
    }
    for script in sorted((HERE / "processes").glob("shoot*.py")):
        with tempfile.TemporaryDirectory() as home:  # one of its own: a script may set a code
            (Path(home) / "tablet.json").write_text(json.dumps(settings))
            command = [sys.executable, str(script), str(width), str(height), look]
            run_twice_at_most([*command, str(stem)], kept | {"EVALTRACK_HOME": home})


def print_pages(out: Path) -> None:
    """Make a picture of each page of families of every kind."""
    paths = os.pathsep.join(map(str, (HERE.parent, HERE / "harness", HERE / "worlds")))
    script = HERE / "processes" / "print_pages.py"
    command = [sys.executable, str(script), str(out / "page")]
    subprocess.run(command, env=os.environ | {"PYTHONPATH": paths}, timeout=300, check=True)


def run_twice_at_most(command: list[str], environment: dict[str, str]) -> None:
    """Run a program, and once more, which is told, when a signal ended it: a software renderer may crash."""
    ended = subprocess.run(command, env=environment, timeout=300)
    if ended.returncode < 0:
        print(f"{Path(command[1]).name} {' '.join(command[2:5])}: ended by signal {-ended.returncode}, again")
        ended = subprocess.run(command, env=environment, timeout=300)
    ended.check_returncode()


if __name__ == "__main__":
    main()
