"""What may import what, and what a command costs."""

from __future__ import annotations

import ast
import os
import subprocess
import sys
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path

import pytest

import rigcalc
from rigcalc.rigfile import starter_text

from .test_cli import COMMANDS

PACKAGE = Path(rigcalc.__file__).parent
MODULES = sorted(PACKAGE.rglob("*.py"))
LAYERS = (
    "version",
    "frozen",
    "errors",
    "notebook",
    "roots",
    "quadrature",
    "formulas",
    "units",
    "stretches",
    "rig",
    "materials",
    "loads",
    "rigfile",  # needs the outline of a sail to judge it
    "structure",
    "limits",
    "bearings",
    "verdict",
    "design",
    "reports",
    "cli",
)
"""From the ground up: a module may import from its own layer and those before it."""
HEAVY = {"numpy", "scipy", "sympy", "matplotlib"}
EXAMPLES = sorted((PACKAGE.parent / "examples").glob("*.toml"))
NAMES = [str(module.relative_to(PACKAGE)) for module in MODULES]


def layer_of(module: Path) -> str:
    """Return the layer a module stands in; empty for the package's own ``__init__`` and ``__main__``."""
    first = module.relative_to(PACKAGE).parts[0].removesuffix(".py")
    return "" if first.startswith("__") else first


def imports_of(module: Path) -> Iterator[tuple[str, bool]]:
    """Yield the full name of everything a module imports, and whether it does so when it is loaded."""
    home = ["rigcalc", *module.relative_to(PACKAGE).parts[:-1]]
    tree = ast.parse(module.read_text(encoding="utf-8"))
    late = {
        id(inner)
        for outer in ast.walk(tree)
        if isinstance(outer, ast.FunctionDef | ast.Lambda) or _is_for_types_only(outer)
        for inner in ast.walk(outer)
    }
    for node in ast.walk(tree):
        at_once = id(node) not in late
        if isinstance(node, ast.Import):
            for alias in node.names:
                yield alias.name, at_once
        elif isinstance(node, ast.ImportFrom):
            base = home[: len(home) - node.level + 1] if node.level else []
            stem = ".".join([*base, *([node.module] if node.module else [])])
            for alias in node.names:
                yield f"{stem}.{alias.name}", at_once


def _is_for_types_only(node: ast.AST) -> bool:
    return isinstance(node, ast.If) and isinstance(node.test, ast.Name) and node.test.id == "TYPE_CHECKING"


def test_every_module_stands_in_a_layer() -> None:
    assert {layer_of(module) for module in MODULES} <= {"", *LAYERS}
    assert len(MODULES) > 60


@pytest.mark.parametrize("module", MODULES, ids=NAMES)
def test_imports_point_down(module: Path) -> None:
    layer = layer_of(module)
    if not layer:  # the package's own doors open on every layer
        return
    for name, _ in imports_of(module):
        if not name.startswith("rigcalc."):
            continue
        first = name.split(".")[1]
        assert first in LAYERS, name
        assert LAYERS.index(first) <= LAYERS.index(layer), f"{layer} imports {name}"


def test_the_walk_over_imports_sees_them() -> None:
    names = {name for name, _ in imports_of(PACKAGE / "verdict" / "run.py")}
    assert {
        "rigcalc.version.__version__",
        "rigcalc.loads.case.name_by",
        "rigcalc.verdict.evaluate.Run",
        "numpy",
    } <= names
    # a package's own __init__ and a module two levels down
    assert ("rigcalc.verdict.run.check", True) in set(imports_of(PACKAGE / "verdict" / "__init__.py"))
    assert ("rigcalc.rigfile.loose.Loose", True) in set(imports_of(PACKAGE / "rigfile" / "agree" / "boat.py"))
    assert ("rigcalc.loads.corners_of", True) in set(imports_of(PACKAGE / "rigfile" / "agree" / "sails.py"))
    assert ("rigcalc.verdict.check", False) in set(imports_of(PACKAGE / "cli" / "answers.py"))


def test_the_package_itself_loads_nothing() -> None:
    at_once = {name for name, now in imports_of(PACKAGE / "__init__.py") if now}
    own = {name for name in at_once if name.startswith("rigcalc")}
    assert own == {"rigcalc.version.__version__", "rigcalc.notebook.InNotebook"}
    assert {name.split(".")[0] for name in at_once - own} <= {"__future__", "typing"}
    assert not list(imports_of(PACKAGE / "version.py"))
    assert not [name for name, _ in imports_of(PACKAGE / "notebook.py") if name.startswith("rigcalc")]


@pytest.mark.parametrize("module", MODULES, ids=NAMES)
def test_sympy_scipy_and_matplotlib_wait_until_they_are_needed(module: Path) -> None:
    at_once = {name.split(".")[0] for name, now in imports_of(module) if now}
    assert not at_once & (HEAVY - {"numpy"})


@pytest.mark.parametrize("module", MODULES, ids=NAMES)
def test_every_module_can_be_imported_and_read(module: Path) -> None:
    parts = module.relative_to(PACKAGE.parent).with_suffix("").parts
    import_module(".".join(part for part in parts if part != "__init__"))
    text = module.read_text(encoding="utf-8")
    assert len(text.splitlines()) <= 600
    assert ast.get_docstring(ast.parse(text))


def test_every_public_name_is_there() -> None:
    for name in rigcalc.__all__:
        assert getattr(rigcalc, name) is not None
    assert rigcalc.check.__name__ == "check"
    with pytest.raises(AttributeError, match="has no attribute 'nothing'"):
        rigcalc.nothing  # noqa: B018  # asking is the test


def modules_of(*words: str, text: str = "") -> set[str]:
    """Return all modules that a command loads, in a process of its own."""
    code = (
        "import sys; from rigcalc.cli import main; code = main(sys.argv[1:]); "
        "print(code, *sorted(sys.modules), file=sys.stderr)"
    )
    ran = subprocess.run(
        [sys.executable, "-c", code, *words], input=text.encode(), capture_output=True, check=True
    )
    code_word, *names = ran.stderr.decode().splitlines()[-1].split()
    assert code_word == "0", ran.stderr.decode()
    return set(names)


def loaded_by(*words: str, text: str = "") -> set[str]:
    """Return which heavy packages a command loads."""
    return {name.split(".")[0] for name in modules_of(*words, text=text)} & HEAVY


@pytest.mark.parametrize(
    "words",
    [
        ("--help",),
        ("--version",),
        *((command, "--help") for command in COMMANDS),
    ],
    ids=" ".join,
)
def test_help_loads_nothing_heavy(words: tuple[str, ...]) -> None:
    assert loaded_by(*words) == set()


def test_help_as_a_module_loads_nothing_heavy() -> None:
    ran = subprocess.run(
        [sys.executable, "-X", "importtime", "-m", "rigcalc", "--help"], capture_output=True, check=True
    )
    told = {line.rsplit("|", 1)[-1].strip().split(".")[0] for line in ran.stderr.decode().splitlines()}
    assert "rigcalc" in told and "argparse" in told
    assert not told & HEAVY


SLOW = {"numpy.ma", "numpy.polynomial", "numpy.testing", "importlib.resources", "multiprocessing", "asyncio"}
"""What numpy and Python load late, if at all: a check has no need of it, and each takes its time."""


@pytest.mark.parametrize("example", EXAMPLES, ids=[example.stem for example in EXAMPLES])
def test_a_check_of_an_example_loads_numpy_alone(example: Path) -> None:
    modules = modules_of("check", str(example))
    assert {name.split(".")[0] for name in modules} & HEAVY == {"numpy"}
    assert not modules & SLOW
    # what writes, varies, sizes or draws is no part of it
    assert not {name for name in modules if name.startswith(("rigcalc.design", "rigcalc.rigfile.write"))}


def test_numpy_itself_loads_nothing_of_what_is_slow() -> None:
    code = "import sys, numpy; print(*sys.modules)"
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert not set(ran.stdout.decode().split()) & SLOW
    for name in SLOW:
        import_module(name)  # they are there to be kept out


THREADS = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS")


def threads_after(code: str, said: dict[str, str]) -> list[str]:
    """Return how many threads the environment asks for after some code, by each of its words."""
    environment = {key: value for key, value in os.environ.items() if key not in THREADS} | said
    code += f"; import os; print(*[os.environ.get(name) for name in {THREADS}], file=sys.stderr)"
    ran = subprocess.run(
        [sys.executable, "-c", "import sys; " + code], capture_output=True, check=True, env=environment
    )
    return ran.stderr.decode().split()


@pytest.mark.parametrize(
    ("said", "left"),
    [
        ({}, ["1", "None"]),
        ({"OPENBLAS_NUM_THREADS": "3"}, ["3", "None"]),
        ({"OMP_NUM_THREADS": "3"}, ["None", "3"]),
    ],
    ids=["nothing said", "OpenBLAS", "OpenMP"],
)
def test_a_command_starts_no_threads_unless_told_to(said: dict[str, str], left: list[str]) -> None:
    code = f"from rigcalc.cli import main; main(['check', {str(EXAMPLES[0])!r}])"
    assert threads_after(code, said) == left


def test_the_package_leaves_the_threads_of_others_alone() -> None:
    assert threads_after("import rigcalc; rigcalc.check", {}) == ["None", "None"]


@pytest.mark.parametrize(
    "words", [("--json",), ("--units", "metric"), ("--units", "both"), ("--limits",)], ids=" ".join
)
def test_a_check_loads_numpy_alone(words: tuple[str, ...]) -> None:
    assert loaded_by("check", "-", *words, text=starter_text()) == {"numpy"}


def test_a_varied_rig_loads_numpy_alone() -> None:
    words = ("check", "-", "--vary", "mast.bury=0.7 m:0.75 m:2")
    for form in ("--json", "--csv", "--units=metric"):
        assert loaded_by(*words, form, text=starter_text()) == {"numpy"}


def test_a_list_of_cases_loads_numpy_alone() -> None:
    assert loaded_by("cases", "-", text=starter_text()) == {"numpy"}
    assert loaded_by("cases", "-", "--json", text=starter_text()) == {"numpy"}


@pytest.mark.parametrize("to", ["csv", "json", "inp"])
def test_an_export_in_si_loads_numpy_alone(to: str) -> None:
    assert loaded_by("export", "-", "--to", to, text=starter_text()) == {"numpy"}


@pytest.mark.parametrize("name", [(), ("6061-T6 drawn",), ("C24",), ("E-glass/epoxy UD 0.55",)], ids=str)
def test_materials_load_numpy_alone(name: tuple[str, ...]) -> None:
    assert loaded_by("materials", *name) == {"numpy"}


def test_names_and_families_of_materials_load_nothing_heavy() -> None:
    code = (
        "import sys; from rigcalc.materials import family_of; "
        "print(family_of('E-glass/epoxy UD 0.55'), family_of('C24'), family_of('6061-T6 drawn'), "
        "*sys.modules)"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    families = ran.stdout.decode().split()
    assert families[:3] == ["ply", "timber", "metal"]
    assert not {name.split(".")[0] for name in families[3:]} & HEAVY


def test_a_sheet_of_laminates_loads_numpy_alone() -> None:
    text = (PACKAGE.parent / "examples" / "glass_tube_5m.toml").read_text(encoding="utf-8")
    assert loaded_by("laminate", "-", text=text) == {"numpy"}


def test_a_reefing_table_has_no_need_of_plots_or_symbols() -> None:
    # the roll in a gust is integrated by scipy
    assert loaded_by("reef", "-", "--json", text=starter_text()) == {"numpy", "scipy"}


def test_an_order_has_no_need_of_plots_or_symbols() -> None:
    # the plan of the bars is an integer programme of scipy's
    text = (PACKAGE.parent / "examples" / "trailer_sailer_4m6.toml").read_text(encoding="utf-8")
    assert loaded_by("order", "-", "--csv", text=text) == {"numpy", "scipy"}


def test_a_rig_in_feet_loads_numpy_alone() -> None:
    text = starter_text().replace('foot = "2.10 m"', 'foot = "6 ft 11 in"')
    assert text != starter_text()
    assert loaded_by("check", "-", "--json", text=text) == {"numpy"}


def test_only_the_doors_of_the_package_open_on_what_stands_above_by_name() -> None:
    # what is imported by a string is not seen by the walk over imports
    by_name = {
        str(module.relative_to(PACKAGE))
        for module in MODULES
        if "import_module" in module.read_text(encoding="utf-8")
        or "__import__" in module.read_text(encoding="utf-8")
    }
    # three load what stands in their own folders or below: modules, and every module of the limits and bearings
    doors = {
        "__init__.py",
        "formulas/__init__.py",
        "rigfile/__init__.py",
        "reports/explain.py",
    }
    assert by_name == doors


def test_a_result_shows_itself_without_plots_or_symbols() -> None:
    code = (
        "import sys; from rigcalc import check, read_rig, starter_text; "
        "check(read_rig(starter_text()))._repr_html_(); "
        "print(*{name.split('.')[0] for name in sys.modules})"
    )
    ran = subprocess.run([sys.executable, "-c", code], capture_output=True, check=True)
    assert set(ran.stdout.decode().split()) & HEAVY <= {"numpy"}
