"""Runs the tests that reach a change against that change, without starting anew for each.

The tests are collected once. A change within a function is compiled with it, and its code put in place of the old, so
that whoever imported the function has the changed one; then it is taken back. What is worked out when a module is
imported (constants, ranges) is changed in a process of its own: the module is run again in an empty namespace,
and what came of it is put in place of the old wherever that was imported. Tests run in order of cost, those
first that caught a change close by.
"""

from __future__ import annotations
import __future__

import ast
import builtins
import copy
import functools
import gc
import hashlib
import json
import os
import pickle
import re
import resource
import select
import signal
import sys
import time
import traceback
from array import array
from collections import Counter, defaultdict
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from types import CodeType, FunctionType, ModuleType
from typing import Any, TypeVar

import pytest
from hypothesis import HealthCheck, Phase, settings

from rigcalc.formulas import Range

from .changes import Change

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = str(ROOT / "rigcalc") + os.sep
WATCHED = (PACKAGE + "formulas" + os.sep, PACKAGE + "limits" + os.sep)
T = TypeVar("T")
FUTURE = __future__.annotations.compiler_flag

MEMORY = 6 * 2**30
LONGEST_S = 12.0
"""A test that takes longer while it is watched is left out."""


class TooLong(BaseException):
    """A test takes longer than it could be worth."""


@cache
def numbers() -> dict[str, int]:
    """Return the number of the first line of every file, as if all stood in one."""
    return {str(path): 100_000 * i for i, path in enumerate(sorted(Path(PACKAGE).rglob("*.py")))}


@dataclass
class Reach:
    """What one test runs through, and how long it takes."""

    seconds: float
    passed: bool
    lines: array[int]
    """Numbers of the lines of the watched modules at which a statement or a lambda begins."""


@dataclass(frozen=True)
class Outcome:
    """What came of one change."""

    key: str
    how: str
    """caught, hung, import (the module does not load any more), unreached, survived, unfinished."""
    by: str = ""
    tests: int = 0

    @property
    def caught(self) -> bool:
        return self.how in ("caught", "hung", "import")


class Collected:
    """A pytest plug-in that hands the collected tests to whoever asked, inside the session."""

    def __init__(self, work: Callable[[list[pytest.Item]], None]) -> None:
        self.work = work
        self.failed = False

    def pytest_configure(self, config: pytest.Config) -> None:
        config.option.tbstyle = "no"
        # how a test failed is not asked, and telling it takes longer than most tests
        pytest.Function.repr_failure = lambda self, excinfo: "failed"  # type: ignore[method-assign]

    def pytest_collection(self) -> None:
        # after conftest.py, before the modules of the tests: a failure needs not be made small
        settings.register_profile(
            "changes",
            deadline=None,
            derandomize=True,
            database=None,
            phases=(Phase.explicit, Phase.generate),
            suppress_health_check=list(HealthCheck),
        )
        settings.load_profile("changes")

    def pytest_runtestloop(self, session: pytest.Session) -> bool:
        self.work(session.items)
        return True

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        self.failed |= report.failed

    def passes(self, item: pytest.Item) -> bool:
        self.failed = False
        item.config.hook.pytest_runtest_protocol(item=item, nextitem=None)
        return not self.failed


def with_tests(paths: Sequence[str], work: Callable[[Collected, list[pytest.Item]], None]) -> int:
    """Collect the tests below ``paths`` and do ``work`` with them."""
    plugin = Collected(lambda items: work(plugin, items))
    quiet = ["-p", "no:terminal", "-p", "no:cacheprovider", "-p", "no:xdist", "-p", "no:faulthandler", "-s"]
    return int(pytest.main([*quiet, "--assert=plain", "-o", "addopts=", *paths], [plugin]))


# ---------------------------------------------------------------- what reaches what


def recorded(
    plugin: Collected, items: list[pytest.Item], where: Map, jobs: int, kept: Path | None
) -> dict[str, Reach]:
    """Run every test once, in processes apart, and return what each reaches; ``kept`` holds what is known already."""
    known: dict[tuple[str, str], Reach] = {}
    if kept is not None and kept.exists():
        known = {key: one for key, one in pickle.loads(kept.read_bytes()).items() if one.passed}
    product = _digest(sorted((ROOT / "rigcalc").rglob("*.py")))
    shared = _digest(
        sorted({*ROOT.glob("tests/**/__init__.py"), *ROOT.glob("tests/**/*.py")} - _test_modules())
    )
    stamps: dict[str, str] = {}
    for item in items:
        path = str(item.path)
        if path not in stamps:
            stamps[path] = product + shared + _digest([item.path])
    missing = [item for item in items if (item.nodeid, stamps[str(item.path)]) not in known]
    stamp_of = {item.nodeid: stamps[str(item.path)] for item in items}

    def worker(piece: list[pytest.Item], into: int) -> None:
        watch(where)
        with os.fdopen(into, "wb") as stream:
            pickle.dump({item.nodeid: _reach(plugin, item) for item in piece}, stream)

    for data in _pooled(worker, [missing[i : i + 100] for i in range(0, len(missing), 100)], jobs):
        for nodeid, reach in pickle.loads(data).items():
            known[nodeid, stamp_of[nodeid]] = reach
        if kept is not None:
            kept.write_bytes(pickle.dumps(known))
    return {item.nodeid: known[item.nodeid, stamp_of[item.nodeid]] for item in items}


def _test_modules() -> set[Path]:
    return set(ROOT.glob("tests/**/test_*.py")) | set((ROOT / "tests" / "mutation").glob("*.py"))


def _digest(paths: list[Path]) -> str:
    return hashlib.sha256(b"\0".join(path.read_bytes() for path in paths)).hexdigest()


def _reach(plugin: Collected, item: pytest.Item) -> Reach:
    def stop(*_: object) -> None:
        raise TooLong

    _forget()
    signal.signal(signal.SIGPROF, stop)
    HIT.clear()
    before = time.process_time()
    signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
    try:
        passed = plugin.passes(item)
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0.0)
    return Reach(time.process_time() - before, passed, array("I", sorted(HIT)))


HIT: set[int] = set()
"""Numbers of the lines run through since it was emptied; only in the processes that watch."""


def watch(where: Map) -> None:
    """Let every statement of the watched modules put down that it was run, in this process."""
    vars(builtins)["__hit__"] = HIT.add
    for path, first in numbers().items():
        name = ".".join(Path(path).relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        if not path.startswith(WATCHED) or name not in sys.modules:
            continue
        module = sys.modules[name]
        tree = Marking(first).visit(where.tree(name))
        _replace(module, compile(ast.fix_missing_locations(tree), path, "exec"))


class Marking(ast.NodeTransformer):
    """Puts a mark before every statement within a function, and into every lambda."""

    def __init__(self, first: int) -> None:
        self.first = first
        self.inside = False

    def _mark(self, node: ast.AST, line: int) -> ast.Call:
        call = ast.Call(ast.Name("__hit__", ast.Load()), [ast.Constant(self.first + line)], [])
        return ast.copy_location(call, node)

    def visit_FunctionDef(self, node: ast.FunctionDef) -> ast.AST:
        before, self.inside = self.inside, True
        self.generic_visit(node)
        self.inside = before
        return node

    def visit_Lambda(self, node: ast.Lambda) -> ast.AST:
        self.generic_visit(node)
        marked = ast.Tuple([self._mark(node.body, node.lineno), node.body], ast.Load())
        node.body = ast.copy_location(ast.Subscript(marked, ast.Constant(1), ast.Load()), node.body)
        return node

    def generic_visit(self, node: ast.AST) -> ast.AST:
        super().generic_visit(node)
        for name in ("body", "orelse", "finalbody"):
            statements = getattr(node, name, None)
            if self.inside and isinstance(statements, list):
                marked: list[ast.stmt] = []
                for statement in statements:
                    marked += [
                        ast.copy_location(ast.Expr(self._mark(statement, statement.lineno)), statement),
                        statement,
                    ]
                setattr(node, name, marked)
        return node


def _forget() -> None:
    """Empty what the package and the tests have remembered of earlier calls."""
    for wrapper in _remembering():
        wrapper.cache_clear()


@functools.lru_cache(maxsize=1)
def _remembering() -> list[Any]:
    kind = type(_remembering)
    return [
        o
        for o in gc.get_objects()
        if isinstance(o, kind)
        and o.__module__.split(".")[0] in ("rigcalc", "tests")
        and o is not _remembering
        and o.__module__ != __name__
    ]


def _pooled(work: Callable[[T, int], None], pieces: list[T], jobs: int) -> Iterator[bytes]:
    """Do ``work`` on every piece in a child of its own, ``jobs`` at a time; yield what each wrote when it is done."""
    waiting = pieces[::-1]
    running: dict[int, tuple[int, bytearray]] = {}
    while waiting or running:
        while waiting and len(running) < jobs:
            pid, pipe = _forked(work, waiting.pop())
            running[pipe] = (pid, bytearray())
        ready, _, _ = select.select(list(running), [], [])
        for pipe in ready:
            pid, data = running[pipe]
            more = os.read(pipe, 1 << 20)
            data += more
            if not more:
                del running[pipe]
                os.close(pipe)
                os.waitpid(pid, 0)
                yield bytes(data)


def _forked(work: Callable[[T, int], None], argument: T) -> tuple[int, int]:
    """Do ``work`` in a child, which writes to the pipe whose other end is returned with its id."""
    out, into = os.pipe()
    pid = os.fork()
    if pid:
        os.close(into)
        return pid, out
    os.close(out)
    status, complain = 1, os.dup(2)
    try:
        nothing = os.open(os.devnull, os.O_RDWR)
        for stream in (0, 1, 2):
            os.dup2(nothing, stream)
        work(argument, into)
        status = 0
    except BaseException:
        os.write(complain, traceback.format_exc().encode())
    finally:
        os._exit(status)


# ---------------------------------------------------------------- which tests can notice a change


@dataclass
class Map:
    """The package's modules as trees, and which lines depend on a statement that is worked out at import."""

    trees: dict[str, ast.Module] = field(default_factory=dict)
    early: dict[tuple[str, str], list[ast.stmt]] = field(default_factory=dict)

    def tree(self, module: str) -> ast.Module:
        if module not in self.trees:
            file = sys.modules[module].__file__
            assert file is not None
            self.trees[module] = ast.parse(Path(file).read_text(encoding="utf-8"))
        return self.trees[module]

    def spans(self, change: Change) -> Iterator[tuple[str, int, int]]:
        """File, first and last line of what a change can make itself felt through."""
        file = str(sys.modules[change.module].__file__)
        if not change.at_import:
            yield file, *change.lines
            if isinstance(change.top, ast.FunctionDef):
                # it may have had its part when the module was imported
                for statement in self.used_at_import(change.module, change.top.name):
                    yield from self._felt(change.module, statement, set(), change.module)
        else:
            yield from self._felt(change.module, change.top, set(), change.module)

    def used_at_import(self, module: str, name: str) -> list[ast.stmt]:
        """Return the statements of a module that call a function of it while they are imported."""
        if (module, name) not in self.early:
            self.early[module, name] = [
                s
                for s in self.tree(module).body
                if not isinstance(s, ast.ClassDef)
                and any(_uses(n, name) for n in getattr(s, "decorator_list", [s]))
            ]
        return self.early[module, name]

    def _felt(
        self, module: str, top: ast.stmt, seen: set[tuple[str, int]], origin: str
    ) -> Iterator[tuple[str, int, int]]:
        if (module, top.lineno) in seen:
            return
        seen.add((module, top.lineno))
        if not str(sys.modules[module].__file__).startswith(WATCHED):
            # what uses it is not watched: any test that runs through the module that defines it may notice
            yield str(sys.modules[origin].__file__), 1, 9_999
            return
        first = min([top.lineno, *(d.lineno for d in getattr(top, "decorator_list", ()))])
        yield str(sys.modules[module].__file__), first, top.end_lineno or first
        if isinstance(top, ast.FunctionDef | ast.ClassDef):
            return
        for name in names_of(top):
            for user, statement in self._users(module, name):
                yield from self._felt(user, statement, seen, origin)

    def _users(self, module: str, name: str) -> Iterator[tuple[str, ast.stmt]]:
        value = vars(sys.modules[module]).get(name)
        for other in list(sys.modules):
            if other.split(".")[0] != "rigcalc" or not getattr(sys.modules[other], "__file__", None):
                continue
            here = vars(sys.modules[other])
            if here.get(name) is not value or (other != module and not self._imports(other, name)):
                continue
            for statement in self.tree(other).body:
                if not isinstance(statement, ast.Import | ast.ImportFrom) and _uses(statement, name):
                    yield other, statement

    def _imports(self, module: str, name: str) -> bool:
        return any(
            isinstance(s, ast.ImportFrom) and any((a.asname or a.name) == name for a in s.names)
            for s in self.tree(module).body
        )


def _uses(node: ast.AST, name: str) -> bool:
    return any(
        isinstance(n, ast.Name) and n.id == name and isinstance(n.ctx, ast.Load) for n in ast.walk(node)
    )


def names_of(statement: ast.stmt) -> list[str]:
    """Return the names that a statement of a module defines."""
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        return [statement.name]
    return [n.id for n in ast.walk(statement) if isinstance(n, ast.Name) and isinstance(n.ctx, ast.Store)]


# ---------------------------------------------------------------- making a change felt


def function_of(change: Change, where: Map) -> FunctionType | None:
    """Return the function whose code alone a change alters; None where it alters more."""
    if not change.in_body or change.at_import:
        return None
    path = change.scope.split(".")
    found: Any = vars(sys.modules[change.module])
    for name in path[:2] if isinstance(change.top, ast.ClassDef) else path[:1]:
        found = (found if isinstance(found, dict) else vars(found)).get(name)
    found = (
        getattr(found, "fget", None) or getattr(found, "func", None) or getattr(found, "__wrapped__", found)
    )
    if not isinstance(found, FunctionType):
        return None
    if isinstance(change.top, ast.FunctionDef) and where.used_at_import(change.module, change.top.name):
        return None
    return found


def put_in(change: Change, function: FunctionType) -> Callable[[], None]:
    """Give a function the code that a change makes of it; return what takes it back."""
    restore = change.make()
    top = copy.copy(change.top)
    assert isinstance(top, ast.FunctionDef | ast.ClassDef)
    top.decorator_list = []
    before = function.__code__
    code = compile(ast.Module([top], []), before.co_filename, "exec", FUTURE, dont_inherit=True)
    for name in function.__qualname__.split("."):
        code = next(c for c in code.co_consts if isinstance(c, CodeType) and c.co_name == name)
    function.__code__ = code
    _forget()

    def take_back() -> None:
        function.__code__ = before
        restore()

    return take_back


def applied(change: Change, tree: ast.Module) -> None:
    """Make a change in the module that is loaded."""
    module = sys.modules[change.module]
    change.make()
    new = _replace(module, compile(tree, str(module.__file__), "exec"))
    altered = names_of(change.top) if change.at_import else []
    for name in _following(tree, altered):
        old, fresh = vars(module).get(name), vars(new).get(name)
        if not isinstance(fresh, type | FunctionType | ModuleType | Range) and not hasattr(
            fresh, "cache_clear"
        ):
            _set_everywhere(name, old, fresh)
    _forget()


def _replace(module: ModuleType, code: CodeType) -> ModuleType:
    """Run the code of a module in a namespace of its own and put what it defines into the module that is loaded."""
    new = ModuleType(module.__name__)
    new.__file__, new.__package__ = module.__file__, module.__package__
    if hasattr(module, "__path__"):
        new.__path__ = module.__path__
    exec(code, new.__dict__)
    for name, fresh in vars(new).items():
        if getattr(fresh, "__module__", None) == module.__name__ or isinstance(fresh, Range):
            _put(vars(module).get(name), fresh)
    return new


def _following(tree: ast.Module, names: list[str]) -> list[str]:
    """Return the names that are worked out at import from those given, and these themselves."""
    found = list(names)
    for statement in tree.body:
        if isinstance(statement, ast.Assign | ast.AnnAssign) and any(
            isinstance(n, ast.Name) and n.id in found for n in ast.walk(statement)
        ):
            found += names_of(statement)
    return list(dict.fromkeys(found))


def _set_everywhere(name: str, old: object, new: object) -> None:
    for title, module in list(sys.modules.items()):
        if title.split(".")[0] in ("rigcalc", "tests") and vars(module).get(name) is old:
            setattr(module, name, new)


def _put(old: Any, new: Any) -> None:
    """Put what is in ``new`` into ``old``, which others hold."""
    if old is new or type(old) is not type(new):
        return
    if isinstance(old, FunctionType):
        _put_function(old, new)
    elif isinstance(old, property):
        _put(old.fget, new.fget)
    elif isinstance(old, functools.cached_property):
        _put(old.func, new.func)
    elif isinstance(old, staticmethod | classmethod):
        _put(old.__func__, new.__func__)
    elif isinstance(old, Range):
        for name in ("low", "high", "outside"):
            object.__setattr__(old, name, getattr(new, name))
        _put(old.of, new.of)
    elif hasattr(old, "cache_clear"):
        _put(old.__wrapped__, new.__wrapped__)
    elif isinstance(old, type):
        for name, value in vars(new).items():
            mine = vars(old).get(name)
            if (
                isinstance(value, int | float | str | tuple)
                and name.isidentifier()
                and not name.startswith("__")
            ):
                if mine != value:
                    setattr(old, name, value)
            else:
                _put(mine, value)


def _put_function(old: FunctionType, new: FunctionType) -> None:
    if old.__code__ != new.__code__:
        old.__code__ = new.__code__
    if repr(old.__defaults__) != repr(new.__defaults__):
        old.__defaults__ = new.__defaults__
    if repr(old.__kwdefaults__) != repr(new.__kwdefaults__):
        old.__kwdefaults__ = new.__kwdefaults__
    mine, fresh = getattr(old, "record", None), getattr(new, "record", None)
    if mine is not None and fresh is not None:
        if len(mine.ranges) == len(fresh.ranges):
            for a, b in zip(mine.ranges, fresh.ranges, strict=True):
                _put(a, b)
        else:
            object.__setattr__(mine, "ranges", fresh.ranges)


# ---------------------------------------------------------------- one change after another


@cache
def words_of(name: str) -> frozenset[str]:
    """Return the beginnings of the words in a name: advise and advice, plugs and plug are one."""
    return frozenset(word[:4] for word in re.split(r"[\W_]+", name.lower()) if len(word) > 3) - {"test"}


def outcomes(
    plugin: Collected,
    items: list[pytest.Item],
    reach: dict[str, Reach],
    changes: list[Change],
    where: Map,
    *,
    jobs: int,
    budget_s: float,
) -> Iterator[Outcome]:
    """Try every change, ``jobs`` at a time, with tests of at most ``budget_s`` of processor time each."""
    item_of = {item.nodeid: item for item in items}
    by_line: dict[int, list[str]] = defaultdict(list)
    for nodeid, one in reach.items():
        for line in one.lines if one.passed else ():
            by_line[line].append(nodeid)

    def bearing_on(change: Change) -> list[str]:
        lines = (numbers()[f] + n for f, a, b in where.spans(change) for n in range(a, b + 1))
        return sorted({t for line in lines for t in by_line.get(line, ())}, key=lambda t: reach[t].seconds)

    def tried(change: Change, near: Counter[str]) -> Outcome:
        tests = bearing_on(change)
        if not tests:
            return Outcome(change.key, "unreached")
        # those that caught a neighbour first, then those that are called alike
        about = words_of(change.module.removeprefix("rigcalc.limits.") + "." + change.scope)
        tests.sort(key=lambda t: (-near[t], -len(about & words_of(t))))
        chosen = [(item_of[t], reach[t].seconds) for t in tests]
        outcome = _tried(plugin, change, where, chosen, budget_s)
        if outcome.how == "caught":
            near[outcome.by] += 1
        return outcome

    def worker(mine: list[Change], into: int) -> None:
        resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
        proven: dict[str, Counter[str]] = defaultdict(Counter)
        for change in mine:
            outcome = tried(change, proven[change.module + change.scope.split(".")[0]])
            os.write(
                into, (json.dumps((outcome.key, outcome.how, outcome.by, outcome.tests)) + "\n").encode()
            )

    _remembering()
    gc.collect()
    gc.freeze()
    # neighbours stay together: what caught one is tried first on the next
    size = max(1, min(100, len(changes) // (2 * jobs)))
    waiting = [changes[i : i + size] for i in range(0, len(changes), size)][::-1]
    running: dict[int, tuple[int, list[Change], bytes]] = {}
    while waiting or running:
        while waiting and len(running) < jobs:
            batch = waiting.pop()
            pid, pipe = _forked(worker, batch)
            running[pipe] = (pid, batch, b"")
        ready, _, _ = select.select(list(running), [], [])
        for pipe in ready:
            pid, batch, half = running[pipe]
            data = os.read(pipe, 1 << 16)
            *whole, half = (half + data).split(b"\n")
            yield from (Outcome(*json.loads(line)) for line in whole)
            batch = batch[len(whole) :]
            running[pipe] = (pid, batch, half)
            if data:
                continue
            del running[pipe]
            os.close(pipe)
            _, status = os.waitpid(pid, 0)
            if not os.WIFSIGNALED(status) and status:
                raise RuntimeError(f"the process for {batch[0].key} ended with {status}")
            if os.WIFSIGNALED(status):
                yield Outcome(batch[0].key, "hung", signal.Signals(os.WTERMSIG(status)).name)
                if batch[1:]:
                    waiting.append(batch[1:])


def _tried(
    plugin: Collected, change: Change, where: Map, tests: list[tuple[pytest.Item, float]], budget_s: float
) -> Outcome:
    place = function_of(change, where)
    if place is not None:
        take_back = put_in(change, place)
        try:
            return _run(plugin, change, tests, budget_s)
        finally:
            take_back()
            _forget()

    def apart(_: None, into: int) -> None:
        try:
            applied(change, where.tree(change.module))
        except Exception as error:
            outcome = Outcome(change.key, "import", repr(error)[:200])
        else:
            outcome = _run(plugin, change, tests, budget_s)
        os.write(into, pickle.dumps(outcome))

    pid, pipe = _forked(apart, None)
    with os.fdopen(pipe, "rb") as stream:
        data = stream.read()
    _, status = os.waitpid(pid, 0)
    if os.WIFSIGNALED(status):
        return Outcome(change.key, "hung", signal.Signals(os.WTERMSIG(status)).name)
    found = pickle.loads(data)
    assert isinstance(found, Outcome)
    return found


def _run(
    plugin: Collected, change: Change, tests: list[tuple[pytest.Item, float]], budget_s: float
) -> Outcome:
    started = time.process_time()
    # a test that takes far longer than it did hangs: the signal ends the process
    signal.signal(signal.SIGPROF, signal.SIG_DFL)
    for count, (item, seconds) in enumerate(tests):
        if time.process_time() - started > budget_s:
            return Outcome(change.key, "unfinished", "", count)
        signal.setitimer(signal.ITIMER_PROF, 10 * seconds + 10)
        passed = plugin.passes(item)
        signal.setitimer(signal.ITIMER_PROF, 0.0)
        if not passed:
            return Outcome(change.key, "caught", item.nodeid, count + 1)
    return Outcome(change.key, "survived", "", len(tests))
