"""Twenty thousand files: refused with a remedy, or read, and what is read has an answer that can be believed.

They are shared out in chunks with seeds of their own, so that workers can take them side by side. What a seed makes
is the same everywhere. Every file is read; of those that can be read a few of each chunk are checked, as a check costs
as much as thirty refusals: `hunt` checks them all.
"""

from __future__ import annotations

from random import Random

import pytest

from rigcalc.rig import Rig

from .hunt import file_of
from .judge import SLOW_S, FaultError, Tally, checked, read_or_refused

CHUNKS = 16
EACH = {"grammar": 860, "damage": 300, "hurt": 100}
"""Files of a chunk by the way they are made: more than 20,000 in all."""
MOST_CHECKED = 4


def test_there_are_twenty_thousand() -> None:
    assert CHUNKS * sum(EACH.values()) >= 20_000


@pytest.mark.parametrize("chunk", range(CHUNKS))
@pytest.mark.parametrize("way", EACH)
def test_files(way: str, chunk: int) -> None:
    tally, rigs = Tally(), list[tuple[str, Rig]]()
    for i in range(EACH[way]):
        seed = f"ci {chunk} {i}"
        with tally.timed(seed):
            rig = read_or_refused(file_of(way, seed))
        if rig is not None:
            rigs.append((seed, rig))
    for seed, rig in Random(chunk).sample(rigs, min(MOST_CHECKED, len(rigs))):
        with tally.timed(f"{seed}, checked"):
            checked(rig)
    assert len(rigs) < EACH[way], "no file was refused"
    print(
        f"{way} {chunk}: {len(rigs)} of {EACH[way]} read; slowest {tally.slowest_s:.2f} s ({tally.slowest})"
    )
    if tally.slowest_s > SLOW_S:
        print(f"slower than {SLOW_S} s here: look whether the machine or the file is slow")


def test_damage_leaves_some_files_whole() -> None:
    # were all refused, nothing behind the reader would have been tried
    read = sum(read_or_refused(file_of("damage", f"whole {i}")) is not None for i in range(60))
    assert 5 <= read <= 55


@pytest.mark.parametrize("way", EACH)
def test_a_seed_makes_the_same_file_again(way: str) -> None:
    assert file_of(way, "again 1") == file_of(way, "again 1") != file_of(way, "again 2")


def test_a_fault_is_a_failure() -> None:
    # the judge itself must not be blind
    from .judge import no_hang, sound_json, sound_text

    with pytest.raises(FaultError):
        sound_json('{"a": NaN}')
    with pytest.raises(FaultError):
        sound_json('{"a": 1e999}')
    for text in ("tip nan m", "used inf", "a  -inf  b", "NaN", "is Infinity."):
        with pytest.raises(FaultError):
            sound_text(text)
    sound_text("information, banana, Nancy, infinite, 1.2e3, 'inf', nantucket")
    with pytest.raises(FaultError), no_hang(0.05):
        while True:
            pass
