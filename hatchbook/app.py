"""The program: builds settings, journal and window once; the only module that knows all others."""

from __future__ import annotations

import sys
from pathlib import Path


def main(arguments: list[str] | None = None) -> int:
    """Runs the program; returns its exit code.

    ``hatchbook [FILE]`` opens the window, ``hatchbook --demo`` on a copy of the demo journal; the headless
    commands are those of ``hatchbook.commands``.
    """
    from hatchbook.commands import build_parser, run_command

    given = sys.argv[1:] if arguments is None else arguments
    code = run_command(given)
    if code is not None:
        return code
    options = build_parser().parse_args(given)
    file = getattr(options, "file", None)
    return _open_window(Path(file) if file else None, demo=bool(getattr(options, "demo", False)))


def _open_window(path: Path | None, *, demo: bool) -> int:
    from hatchbook.desk.demo_making import DemoMaking

    making = None
    if demo:
        # Beside, while the window is being built: on two cores that halves the wait.
        making = DemoMaking()
        making.begin()
    from hatchbook.desk.crash import watch_for_crashes
    from hatchbook.desk.start import build_application, build_window

    application = build_application(sys.argv[:1])
    watch_for_crashes(application)
    window = build_window(path, making=making)
    window.show()
    return application.exec()


if __name__ == "__main__":
    sys.exit(main())
