"""What is said in docstrings: examples run, and what is described is what is there."""

from __future__ import annotations

import ast
import doctest
import inspect
import re
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import rigcalc

PACKAGE = Path(rigcalc.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
WITH_EXAMPLES = [path for path in MODULES if ">>> " in path.read_text(encoding="utf-8")]
SECTIONS = ("Parameters", "Returns", "Yields", "Raises", "Notes", "Examples")
PUBLIC = [name for name in rigcalc.__all__ if not name.startswith("__")]
FUNCTIONS = [name for name in PUBLIC if inspect.isfunction(getattr(rigcalc, name))]


SAYS_WHAT_COMES = re.compile(r"^(Return|Yield|Whether|Give|Tell|Say)", flags=re.MULTILINE)


def name_of(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def sections_of(text: str) -> dict[str, str]:
    """Return the sections of a numpydoc docstring by their heading, in the order in which they stand."""
    parts = re.split(r"^(\w+)\n-{3,}\n", inspect.cleandoc(text), flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def described(section: str) -> list[str]:
    """Return the names that a section describes, in order."""
    lines = re.findall(r"^(\S.*)$", section, flags=re.MULTILINE)
    return [name.strip().lstrip("*") for line in lines for name in line.split(" : ")[0].split(",")]


def arguments_of(function: ast.FunctionDef) -> list[str]:
    a = function.args
    given = [*a.posonlyargs, *a.args, *([a.vararg] if a.vararg else []), *a.kwonlyargs]
    return [one.arg for one in [*given, *([a.kwarg] if a.kwarg else [])]]


def _gives_nothing(function: ast.FunctionDef) -> bool:
    return isinstance(function.returns, ast.Constant) and function.returns.value is None


def public_functions(path: Path) -> Iterator[ast.FunctionDef]:
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if not isinstance(node, ast.FunctionDef) or node.name.startswith("_"):
            continue
        if not any(isinstance(d, ast.Name) and d.id == "overload" for d in node.decorator_list):
            yield node


@pytest.mark.parametrize("path", WITH_EXAMPLES, ids=name_of)
def test_examples_give_what_they_say(path: Path) -> None:
    module = import_module(name_of(path))
    result = doctest.testmod(module, optionflags=doctest.REPORT_NDIFF)
    assert result.attempted > 0
    assert result.failed == 0


@pytest.mark.parametrize("path", MODULES, ids=name_of)
def test_every_public_function_says_what_it_does(path: Path) -> None:
    for function in public_functions(path):
        text = ast.get_docstring(function)
        assert text, function.name
        summary = text.partition("\n\n")[0]
        assert re.match(r"[A-Z`0-9].*[.:]$", summary, flags=re.DOTALL), (function.name, text)
        sections = sections_of(text)
        assert list(sections) == [name for name in SECTIONS if name in sections], function.name
        if "Parameters" in sections:
            assert described(sections["Parameters"]) == arguments_of(function), function.name
            said = {"Returns", "Yields"} & set(sections) or re.search(SAYS_WHAT_COMES, summary)
            assert said or _gives_nothing(function), function.name


@pytest.mark.parametrize("name", FUNCTIONS)
def test_the_public_api_is_described_in_full(name: str) -> None:
    function = getattr(rigcalc, name)
    signature = inspect.signature(function)
    sections = sections_of(function.__doc__)
    needed = {"Returns", "Examples"} | ({"Parameters"} if signature.parameters else set())
    assert needed <= set(sections)
    assert ">>> " in sections["Examples"]
    # a name raised in the function itself, or that its rig may make any of them raise
    if "rig" in signature.parameters or "rig" in name:
        assert name == "starter_text" or "Error" in sections["Raises"]
    first, *others = signature.parameters.values() or [None]
    assert all(one.kind is inspect.Parameter.KEYWORD_ONLY for one in others), "all but the first go by name"
    for one in [first, *others]:
        assert one is None or one.annotation is not inspect.Parameter.empty
    assert signature.return_annotation is not inspect.Signature.empty


@pytest.mark.parametrize("name", [name for name in PUBLIC if inspect.isclass(getattr(rigcalc, name))])
def test_every_public_class_is_described(name: str) -> None:
    cls = getattr(rigcalc, name)
    text = inspect.cleandoc(cls.__doc__)
    assert text.splitlines()[0].endswith(".")
    fields = getattr(cls, "__dataclass_fields__", {})
    if name == "Rig":  # every field of it is described where it stands, for reader and schema
        return
    if fields:
        assert sorted(described(sections_of(text)["Parameters"])) == sorted(fields)


def test_the_reading_of_docstrings_sees_what_is_wrong() -> None:
    text = "Do.\n\nParameters\n----------\none, two : float\n    Of it.\n*rest\n    More.\n\nReturns\n-------\nint\n"
    assert described(sections_of(text)["Parameters"]) == ["one", "two", "rest"]
    assert list(sections_of(text)) == ["Parameters", "Returns"]
    tree = ast.parse("def f(a, /, b, *rest, c=1, **more): ...").body[0]
    assert isinstance(tree, ast.FunctionDef)
    assert arguments_of(tree) == ["a", "b", "rest", "c", "more"]
    assert len(WITH_EXAMPLES) >= 10 and len(FUNCTIONS) >= 12
