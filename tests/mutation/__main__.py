"""Changes the formulas and limits one place at a time and tells which changes no test notices.

``python -m tests.mutation`` tries them all; give modules to try those alone, for example ``formulas.shells``. With
``--keep FOLDER`` what the tests reach and what came of each change is kept, and ``--again`` tries only what was not
caught.
"""

from __future__ import annotations

import os

os.environ.setdefault("OMP_NUM_THREADS", "1")  # before numpy: threads do not outlive a fork

import argparse
import json
import random
import sys
import time
from pathlib import Path

import pytest

from .changes import Change
from .engine import Collected, Map, Outcome, outcomes, recorded, with_tests
from .record import alike, all_changes, table

# what looks at the outside of a result alone, or takes long for what it could tell of a formula or a limit
LEFT_OUT = (
    "benchmarks",
    "compare",
    "doubt",
    "drawing",
    "exports",
    "figures",
    "mutation",
    "order",
    "report",
    "rigfile",
    "sizing",
    "vary",
)


# holds each bound against itself: the one that is changed would be known by the one that was collected
SELF_CHECKS = ("test_range_is_watched_at_its_bound",)


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__.split("\n", 1)[0])
    parser.add_argument("modules", nargs="*", help="as formulas.shells; all when none is given")
    parser.add_argument("--jobs", type=int, default=2, help="processes at once (2)")
    parser.add_argument("--budget", type=float, default=20.0, help="seconds of tests for one change (20)")
    parser.add_argument("--sample", type=int, help="try so many, drawn by lot, the same each time")
    parser.add_argument("--keep", type=Path, help="folder for what is found, to go on from")
    parser.add_argument("--again", action="store_true", help="with --keep: try again what was not caught")
    parser.add_argument("--tests", nargs="*", help="tests to run; all that bear on it when not given")
    asked = parser.parse_args()
    os.nice(max(0, 10 - os.nice(0)))
    if asked.keep:
        asked.keep.mkdir(parents=True, exist_ok=True)
    paths = asked.tests or [
        str(p)
        for p in sorted(Path(__file__).resolve().parents[1].iterdir())
        if (p.is_dir() and p.name not in (*LEFT_OUT, "__pycache__")) or p.name.startswith("test_")
    ]

    def work(plugin: Collected, items: list[pytest.Item]) -> None:
        run(plugin, items, asked)

    return with_tests(paths, work)


def run(plugin: Collected, items: list[pytest.Item], asked: argparse.Namespace) -> None:
    items = [item for item in items if getattr(item, "originalname", "") not in SELF_CHECKS]
    where = Map()
    changes = all_changes(where)
    if asked.modules:
        wanted = tuple(f"rigcalc.{m}" for m in asked.modules)
        changes = [
            c for c in changes if c.module in wanted or c.module.startswith(tuple(f"{w}." for w in wanted))
        ]
    found: dict[str, Outcome] = {}
    file = asked.keep / "outcomes.json" if asked.keep else None
    if file and file.exists():
        found = {key: Outcome(key, *rest) for key, rest in json.loads(file.read_text()).items()}
    tried = changes
    if asked.again:
        tried = [c for c in changes if c.key in found and not found[c.key].caught and c.key not in alike()]
    if asked.sample:
        tried = sorted(
            random.Random(asked.sample).sample(tried, min(asked.sample, len(tried))), key=changes.index
        )
    started = time.monotonic()
    say(f"{len(items)} tests, {len(changes)} changes, {len(tried)} to try")
    reach = recorded(plugin, items, where, asked.jobs, asked.keep / "reach.pickle" if asked.keep else None)
    failing = [nodeid for nodeid, one in reach.items() if not one.passed]
    say(
        f"{sum(r.seconds for r in reach.values()):.0f} s of tests watched in {time.monotonic() - started:.0f} s"
    )
    for nodeid in failing:
        say(f"fails or takes too long without any change, and is left out: {nodeid}")
    started = time.monotonic()
    for done, outcome in enumerate(
        outcomes(plugin, items, reach, tried, where, jobs=asked.jobs, budget_s=asked.budget), 1
    ):
        found[outcome.key] = outcome
        if not outcome.caught and outcome.key not in alike():
            say(f"{outcome.how}: {outcome.key}")
        if done % 50 == 0:
            say(f"... {done} of {len(tried)} in {time.monotonic() - started:.0f} s")
            save(file, found)
    save(file, found)
    say(f"{len(tried)} changes tried in {time.monotonic() - started:.0f} s\n")
    say(table([c for c in changes if c.key in found], found))


def save(file: Path | None, found: dict[str, Outcome]) -> None:
    if file:
        file.write_text(json.dumps({k: (o.how, o.by, o.tests) for k, o in found.items()}, indent=0))


def say(text: str) -> None:
    print(text, file=sys.__stdout__, flush=True)


__all__ = ["Change", "main"]

if __name__ == "__main__":
    sys.exit(main())
