"""Runs the benchmarks beside this file and prints a table; fails if a promise is not kept.

    python tests/benchmarks/run.py             all of them
    python tests/benchmarks/run.py import      those whose file name holds the word

A benchmark is a file ``bench_*.py`` with a function ``run() -> list[Result]``.
"""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path

from result import Result

HERE = Path(__file__).parent


def measured(path: Path) -> list[Result]:
    """What the benchmark in a file gives."""
    spec = importlib.util.spec_from_file_location(path.stem, path)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules[path.stem] = module
    spec.loader.exec_module(module)
    results: list[Result] = module.run()
    return results


HEADER = f"{'':<62}{'ours s':>9}{'reference s':>13}{'ratio':>7}{'limit':>7}"


def line(result: Result) -> str:
    """A result as a line of the table."""
    limit = "–" if result.limit is None else f"{result.limit:.2f}"
    times = f"{result.ours_s:>9.3f}{result.reference_s:>13.3f}{result.ratio:>7.2f}{limit:>7}"
    return f"{result.name:<62}{times}{'' if result.kept else '  broken'}"


def main(words: list[str]) -> int:
    """Measures and prints; 1 if a promise is broken or no benchmark was found."""
    paths = [
        path
        for path in sorted(HERE.glob("bench_*.py"))
        if not words or any(word in path.stem for word in words)
    ]
    print(HEADER)
    results = []
    for path in paths:
        for result in measured(path):
            print(line(result), flush=True)
            results.append(result)
    return 0 if results and all(result.kept for result in results) else 1


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
