"""Where the command line and the app meet: the only module that knows both."""

from pathlib import Path

from evaltrack.cli import commands


def open_app(season: Path | None) -> None:
    """Open the app on this season file, or on the last one used, or on a choice."""
    # imported when the app is wanted: it brings Kivy, which takes over stderr and the root logger
    from evaltrack.touch.launch import run

    run(season)


def main() -> None:
    """Run the command line."""
    commands.main(prog_name="evaltrack", obj=open_app)


if __name__ == "__main__":
    main()
