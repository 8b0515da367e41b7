"""Look farther than the tests do: ``python -m tests.fuzz.hunt --files 100000 --seed 1 --ways damage,grammar,walk``.

What is found is told with the seed that makes it again, and its file is kept where ``--keep`` says.
"""

from __future__ import annotations

import argparse
import sys
import time
import tomllib
import traceback
from collections import Counter
from collections.abc import Sequence
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory

from tests.rigfile import GOOD, VARIANTS, edited, toml_of

from . import good_texts
from .damage import damaged
from .grammar import hurt, random_table
from .judge import SLOW_S, Tally, answered, checked, read_or_refused
from .outputs import QUICK, hold, some
from .walk import walked

WAYS = ("damage", "grammar", "walk", "hurt")


def file_of(way: str, seed: str) -> bytes:
    """Return the file that a seed makes in one of the ways."""
    rng = Random(f"{way} {seed}")
    if way == "damage":
        texts = (*good_texts(), good_texts()[0], good_texts()[0])
        return damaged(rng.choice(texts), rng, rng.choice(texts))
    if way == "full":
        name = rng.choice((None, *VARIANTS))
        text = GOOD if name is None else edited(*VARIANTS[name])
        return damaged(text, rng, GOOD)
    if way in ("hurt", "hurt full"):
        name = rng.choice((None, *VARIANTS))
        full = GOOD if name is None else edited(*VARIANTS[name])
        start = tomllib.loads(full if way == "hurt full" else rng.choice(good_texts()))
        return toml_of(hurt(start, rng, blows=rng.choice((1, 2, 3, 6, 12)))).encode("utf-8", "replace")
    if way == "grammar":
        return toml_of(random_table(rng)).encode("utf-8", "replace")
    if way == "walk full":
        name = rng.choice((None, *VARIANTS))
        start = tomllib.loads(GOOD if name is None else edited(*VARIANTS[name]))
        return toml_of(walked(rng, steps=30, start=start)).encode("utf-8", "replace")
    return toml_of(walked(rng, steps=rng.choice((3, 10, 30)))).encode("utf-8", "replace")


def main() -> None:
    words = argparse.ArgumentParser(description=__doc__)
    words.add_argument("--files", type=int, default=10_000)
    words.add_argument("--seed", default="0")
    words.add_argument("--ways", default=",".join(WAYS))
    words.add_argument("--commands", choices=("none", "quick", "some", "slow"), default="none")
    words.add_argument("--keep", type=Path)
    options = words.parse_args()
    tally, found, start = Tally(), Counter[str](), time.time()
    ways = options.ways.split(",")
    for i in range(options.files):
        way, seed = ways[i % len(ways)], f"{options.seed}:{i}"
        data = b""
        before = time.process_time()
        try:
            with tally.timed(f"{way} {seed}"):
                data = file_of(way, seed)
                one(data, tally, _commands(options.commands, Random(f"commands {seed}")))
        except BaseException as error:
            if isinstance(error, KeyboardInterrupt):
                break
            where = traceback.extract_tb(error.__traceback__)[-1]
            what = f"{type(error).__name__} at {Path(where.filename).name}:{where.lineno}"
            if isinstance(error, AssertionError):
                what = f"{type(error).__name__} {' '.join(str(error).split())[:60]}"
            found[what] += 1
            if found[what] <= 2:
                print(f"--- {way} {seed}: {what}")
                traceback.print_exc(file=sys.stdout)
                if options.keep:
                    (options.keep / f"{way}_{seed.replace(':', '_')}.toml").write_bytes(data)
        if time.process_time() - before > SLOW_S:
            print(f"slow: {way} {seed} took {time.process_time() - before:.1f} s")
        if i % 5000 == 4999:
            print(f"{time.time() - start:.0f} s: {tally}", flush=True)
    print(tally)
    for what, count in found.most_common():
        print(f"{count} x {what}")
    for what, count in sorted(tally.late.items(), key=lambda pair: -pair[1]):
        print(f"refused by the check {count} x {what}")


def _commands(which: str, rng: Random) -> Sequence[str]:
    if which == "none":
        return ()
    if which == "quick":
        return QUICK
    return (
        some(rng, quick=3, slow=1, searches=0) if which == "some" else some(rng, quick=0, slow=4, searches=1)
    )


def one(data: bytes, tally: Tally, commands: Sequence[str] = ()) -> None:
    """Judge one file, and what some commands make of it where it can be read."""
    tally.files += 1
    rig = read_or_refused(data)
    if rig is None:
        tally.refused += 1
        return
    tally.read += 1
    with TemporaryDirectory() as folder:
        file = Path(folder, "rig.toml")
        if commands:
            file.write_bytes(data)
        for command in commands:
            hold(command, file, Path(folder, "out"))
            for written in Path(folder).glob("out*"):
                if written.is_file():
                    written.unlink()
    result = answered(lambda: checked(rig))
    if result is None:
        tally.refused_late += 1
    elif result.passed:
        tally.passed += 1
    else:
        tally.failed += 1


if __name__ == "__main__":
    main()
