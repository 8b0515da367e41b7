"""What is wrong with what came of a file: nothing, or a fault of rigcalc's own."""

from __future__ import annotations

import json
import math
import re
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field, fields, is_dataclass
from typing import Any, TypeVar

import numpy as np

from rigcalc import CheckResult, RigInputError, check
from rigcalc.reports import as_json, screen
from rigcalc.rig import Rig
from rigcalc.rigfile import rig_of_bytes

T = TypeVar("T")

HANG_S = 20.0
"""Processor time after which a file counts as hung. The limit asked for is 2 s on an idle machine; what is past it
is told, but only what no slow machine explains fails a test."""
SLOW_S = 2.0

NOT_A_NUMBER = re.compile(r"(?<![A-Za-z0-9_.'\"\[-])[-+]?(?:nan|inf|infinity|NaN|Infinity)(?![A-Za-z])")
"""A number that is none, as Python and JSON would print it; not the same letters within a word or a name."""


class FaultError(AssertionError):
    """What came of a file is a fault of rigcalc's own."""


class HungError(FaultError):
    """A file that took so long that no slow machine explains it."""


@dataclass
class Tally:
    """What came of many files."""

    files: int = 0
    refused: int = 0
    refused_late: int = 0
    """Read, and refused by the check."""
    read: int = 0
    passed: int = 0
    failed: int = 0
    slowest_s: float = 0.0
    slowest: str = ""
    late: dict[str, int] = field(default_factory=dict)

    def __str__(self) -> str:
        return (
            f"{self.files} files: {self.refused} refused, {self.read} read; of those checked {self.passed} pass, "
            f"{self.failed} fail, {self.refused_late} refused; slowest {self.slowest_s:.2f} s ({self.slowest})"
        )

    @contextmanager
    def timed(self, name: str) -> Iterator[None]:
        """Take the time of a file, and stop it where it hangs."""
        start = time.process_time()
        with no_hang():
            yield
        spent = time.process_time() - start
        if spent > self.slowest_s:
            self.slowest_s, self.slowest = spent, name


@contextmanager
def no_hang(limit_s: float = HANG_S) -> Iterator[None]:
    """Raise where the work within takes more processor time than any machine needs; waiting does not count."""

    def hung(*_: object) -> None:
        raise HungError(f"more than {limit_s} s of processor time")

    before = signal.signal(signal.SIGPROF, hung)
    signal.setitimer(signal.ITIMER_PROF, limit_s)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        signal.signal(signal.SIGPROF, before)


def read_or_refused(data: bytes) -> Rig | None:
    """Read a file; None where it is refused as it should be. Any other exception is a fault and passes through."""
    try:
        return rig_of_bytes(data)
    except RigInputError as error:
        sound_refusal(error)
        return None


def answered(work: Callable[[], T]) -> T | None:
    """Return what some work gives; None where it refuses the input as it should."""
    try:
        return work()
    except RigInputError as error:
        sound_refusal(error)
        return None


def sound_refusal(error: RigInputError) -> None:
    """Hold a refusal to what its reader needs: path, limit and remedy, printable, one line to each, and no flood."""
    if not error.problems:
        raise FaultError("refused without a problem")
    for problem in error.problems:
        said = str(problem)
        if not (problem.path or said.startswith(":")) or not problem.allowed.strip():
            raise FaultError(f"a problem without path or limit: {said!r}")
        if not problem.remedy.strip() or problem.remedy.rstrip()[-1] not in ".?)":
            raise FaultError(f"a problem without a remedy, or one that is no sentence: {said!r}")
        if not said.isprintable():
            raise FaultError(f"a problem that does not print: {said!r}")
        if len(said) > 3000:
            raise FaultError(f"a problem of {len(said)} letters: {said[:300]!r}...")
    if len(str(error)) > 3_000_000:
        raise FaultError(f"a refusal of {len(str(error))} letters")


def checked(rig: Rig, *, case: str | None = None) -> CheckResult | None:
    """Check a rig and hold the result to `sound_result`; None where the check refuses it as it should."""
    result = answered(lambda: check(rig, case=case))
    if result is not None:
        sound_result(result)
    return result


def sound_result(result: CheckResult) -> None:
    """Hold a result to what a reader may believe.

    A pass means: every check has a finite demand of zero or more, a capacity above zero, and a utilisation of at most
    1; every mast found its equilibrium. Pass or fail, no number is NaN or infinite but where the check it belongs to
    says that there is no answer, and neither text nor JSON shows one.
    """
    if not result.checks or not result.cases:
        raise FaultError("a result without a check or a case")
    for one in result.checks:
        sound = (
            math.isfinite(one.demand) and math.isfinite(one.capacity) and one.capacity > 0 and one.demand >= 0
        )
        if one.passed and not (sound and 0.0 <= one.utilisation <= 1.0):
            raise FaultError(f"passes by nonsense: {one}")
        if one.demand < 0 or one.capacity < 0:
            raise FaultError(f"below zero: {one}")
        if not one.passed and not one.advice:
            raise FaultError(f"fails without advice: {one}")
    no_answer = any(not math.isfinite(one.utilisation) for one in result.checks)
    for path, value in numbers(result):
        if not math.isfinite(value) and not _explained(path, no_answer):
            raise FaultError(f"{path} is {value}, verdict {result.verdict}")
    if result.passed and any("not converge" in w or "cannot pass" in w for w in result.warnings):
        raise FaultError(f"passes, and warns: {result.warnings}")
    if result.passed and any(case.tip_deflection_large_m is None for case in result.cases):
        raise FaultError("passes without the bent shape of every case")
    if result.mast.mass_kg <= 0 or min(result.mast.natural_frequencies_Hz) <= 0:
        raise FaultError(f"a mast without mass or stiffness: {result.mast}")
    if (sum(one.passed for one in result.checks) == len(result.checks)) != (result.verdict == "pass"):
        raise FaultError("the verdict is not that of its checks")
    sound_json(as_json(result, stations=True))
    sound_text(screen(result))


def _explained(path: str, no_answer: bool) -> bool:
    """Whether a number may be none: a check says why by its reason, and what hangs on it stands beside it."""
    return no_answer and bool(
        re.fullmatch(r"(checks|load_paths)\[\d+\]\.(demand|capacity|utilisation)|stations\.utilisation", path)
    )


def numbers(value: Any, path: str = "") -> Iterator[tuple[str, float]]:
    """Yield path and value of every float in a result; of an array the least sound one."""
    if isinstance(value, np.ndarray):
        if value.dtype.kind == "f" and value.size:
            bad = value[~np.isfinite(value)]
            yield path, float(bad[0] if bad.size else value.flat[0])
    elif is_dataclass(value) and not isinstance(value, type):
        for entry in fields(value):
            yield from numbers(getattr(value, entry.name), f"{path}.{entry.name}".removeprefix("."))
    elif isinstance(value, dict):
        for key, item in value.items():
            yield from numbers(item, f"{path}.{key}".removeprefix("."))
    elif isinstance(value, list | tuple):
        for i, item in enumerate(value):
            yield from numbers(item, f"{path}[{i}]")
    elif isinstance(value, float | np.floating):
        yield path, float(value)


def sound_json(text: str) -> Any:
    """Return what JSON holds; NaN and infinity, which it does not know, are a fault."""

    def refuse(name: str) -> None:
        raise FaultError(f"{name} in JSON")

    found = json.loads(text, parse_constant=refuse)
    for path, value in numbers(found):
        if not math.isfinite(value):
            raise FaultError(f"{path} is {value} in JSON")
    return found


def sound_text(text: str) -> None:
    """Refuse a text that shows a number which is none."""
    for line in text.splitlines():
        if NOT_A_NUMBER.search(line):
            raise FaultError(f"a number that is none: {line!r}")
