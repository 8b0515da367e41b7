"""What can be changed in a module, one place at a time: constants, operators, calls, and what is left out.

A change is made in the syntax tree of the module itself; whoever applies one does so in a process that ends with it.
Left alone: strings (but for what a range does where it is left), annotations, literal text and format of f-strings,
imports.
"""

from __future__ import annotations

import ast
import inspect
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from functools import reduce
from types import ModuleType
from typing import Any

SWAPPED_OPERATORS: dict[type, tuple[type, ...]] = {
    ast.Add: (ast.Sub,),
    ast.Sub: (ast.Add,),
    ast.Mult: (ast.Div,),
    ast.Div: (ast.Mult,),
    ast.FloorDiv: (ast.Mult,),
    ast.Mod: (ast.Mult,),
    ast.Pow: (ast.Mult,),
    ast.BitAnd: (ast.BitOr,),
    ast.BitOr: (ast.BitAnd,),
    ast.Lt: (ast.LtE, ast.Gt),
    ast.LtE: (ast.Lt, ast.GtE),
    ast.Gt: (ast.GtE, ast.Lt),
    ast.GtE: (ast.Gt, ast.LtE),
    ast.Eq: (ast.NotEq,),
    ast.NotEq: (ast.Eq,),
    ast.Is: (ast.IsNot,),
    ast.IsNot: (ast.Is,),
    ast.In: (ast.NotIn,),
    ast.NotIn: (ast.In,),
    ast.And: (ast.Or,),
    ast.Or: (ast.And,),
}
PAIRS = (
    ("min", "max"),
    ("minimum", "maximum"),
    ("fmin", "fmax"),
    ("nanmin", "nanmax"),
    ("argmin", "argmax"),
    ("sin", "cos"),
    ("sinh", "cosh"),
    ("arcsin", "arccos"),
    ("any", "all"),
    ("floor", "ceil"),
)
SWAPPED_NAMES = {a: b for one, other in PAIRS for a, b in ((one, other), (other, one))} | {"tan": "sin"}
REMOVED = {"abs", "absolute", "fabs", "sqrt", "square", "atleast_1d"}
CHOOSERS = {"min", "max", "minimum", "maximum", "fmin", "fmax"}
WORDS = {"Range", "About", "Cure"}
"""What has defaults only for what is told in words."""
TINY = 1e-6
SWAPPED_WORDS = {"refuse": "warn", "warn": "refuse"}


@dataclass(frozen=True)
class Change:
    """One change of one place.

    Parameters
    ----------
    module : str
        Dotted name.
    scope : str
        Function or class it stands in; empty at the level of the module.
    before, after : str
        The place as it is and as it becomes.
    number : int
        Which of those that read alike in this scope.
    lines : tuple of int
        First and last line of the statement, or of the head of a compound one.
    top : ast.stmt
        The statement of the module it stands in.
    at_import : bool
        Whether the place is worked out when the module is imported.
    in_body : bool
        Whether it lies in the body of a function.
    make : callable
        Makes it in the tree and returns what takes it back.
    """

    module: str
    scope: str
    before: str
    after: str
    number: int
    lines: tuple[int, int]
    top: ast.stmt
    at_import: bool
    in_body: bool
    make: Callable[[], Callable[[], None]]

    @property
    def key(self) -> str:
        """A name that holds while lines move."""
        again = f" #{self.number}" if self.number > 1 else ""
        place = f"{self.module.removeprefix('rigcalc.')}:{self.scope or '(module)'}"
        return f"{place}: {self.before} -> {self.after}{again}"


@dataclass(frozen=True)
class _Place:
    """A node with where it hangs."""

    node: ast.AST
    above: tuple[tuple[ast.AST, str, int | None], ...]
    """Every node above it from the module down, with the field and index that lead on."""

    @property
    def parent(self) -> ast.AST:
        return self.above[-1][0]

    @property
    def field(self) -> str:
        return self.above[-1][1]

    def put(self, new: ast.AST) -> Callable[[], None]:
        parent, name, index = self.above[-1]
        ast.copy_location(new, self.node)
        ast.fix_missing_locations(new)
        if index is None:
            return _set(parent, name, new)
        return _set(parent, name, [new if i == index else n for i, n in enumerate(getattr(parent, name))])


def _set(node: ast.AST, name: str, value: object) -> Callable[[], None]:
    """Set a field of a node and return what sets it back."""
    before = getattr(node, name)
    setattr(node, name, value)
    return lambda: setattr(node, name, before)


def changes_of(module: ModuleType, tree: ast.Module) -> list[Change]:
    """Return every change of a module that is loaded, in the order of its lines; ``tree`` is what they are made in."""
    seen: Counter[tuple[str, str, str]] = Counter()
    found = []
    for place in _places(tree):
        scopes = [n for n, _, _ in place.above if isinstance(n, ast.FunctionDef | ast.ClassDef)]
        if isinstance(place.node, ast.FunctionDef | ast.ClassDef):
            scopes.append(place.node)
        scope = ".".join(n.name for n in scopes)
        for whole, becomes, make in _made(place, vars(module)):
            before, after = _short(whole), _short(becomes)
            seen[scope, before, after] += 1
            found.append(
                Change(
                    module=module.__name__,
                    scope=scope,
                    before=before,
                    after=after,
                    number=seen[scope, before, after],
                    lines=_lines(place),
                    top=_top(place),
                    at_import=_at_import(place),
                    in_body=_in_body(place),
                    make=make,
                )
            )
    return found


def _short(text: str) -> str:
    """Return a text with its middle left out where it is long; both ends tell more than the first lines."""
    return text if len(text) <= 90 else f"{text[:55]} ... {text[-30:]}"


def _places(tree: ast.Module) -> Iterator[_Place]:
    """Go down the tree, past what is never changed."""

    def below(node: ast.AST, above: tuple[tuple[ast.AST, str, int | None], ...]) -> Iterator[_Place]:
        yield _Place(node, above) if above else _Place(node, ((node, "", None),))
        for name, value in ast.iter_fields(node):
            if name in ("annotation", "returns", "format_spec", "bases", "ops", "op", "ctx"):
                continue
            for index, child in enumerate(value) if isinstance(value, list) else ((None, value),):
                if not isinstance(child, ast.AST) or isinstance(child, ast.Import | ast.ImportFrom):
                    continue
                if isinstance(node, ast.JoinedStr) and isinstance(child, ast.Constant):
                    continue
                if isinstance(node, ast.Module) and _is_presentation(child):
                    continue
                if name == "decorator_list" and ast.unparse(child).startswith("dataclass"):
                    continue
                yield from below(child, (*above, (node, name, index)))

    yield from below(tree, ())


def _is_presentation(statement: ast.AST) -> bool:
    """Whether a statement of the module names types or lists names."""
    if isinstance(statement, ast.Assign) and isinstance(statement.targets[0], ast.Name):
        value = statement.value
        named = isinstance(value, ast.Subscript) and isinstance(value.value, ast.Name)
        typed = (
            isinstance(value, ast.Call) and isinstance(value.func, ast.Name) and value.func.id == "TypeVar"
        )
        listed = statement.targets[0].id == "__all__"
        return listed or typed or (named and value.value.id in ("Annotated", "NDArray"))
    return False


def _top(place: _Place) -> ast.stmt:
    found = place.above[1][0] if len(place.above) > 1 else place.node
    assert isinstance(found, ast.stmt | ast.Module), ast.dump(found)
    return found  # type: ignore[return-value]  # the module itself is never changed


def _lines(place: _Place) -> tuple[int, int]:
    """Return the lines of the innermost statement, of its head alone where it has a body."""
    chain = [n for n, _, _ in place.above] + [place.node]
    lambdas = [n for n in chain if isinstance(n, ast.Lambda)]
    statement = next((n for n in reversed(chain) if isinstance(n, ast.stmt | ast.match_case)), None)
    if statement is None:
        return 0, 0
    if lambdas and isinstance(statement, ast.FunctionDef | ast.ClassDef | ast.Assign):
        return lambdas[0].lineno, lambdas[0].end_lineno or lambdas[0].lineno
    if isinstance(statement, ast.FunctionDef | ast.ClassDef):
        first = min([statement.lineno, *(d.lineno for d in statement.decorator_list)])
        return first, statement.end_lineno or first
    first = statement.pattern.lineno if isinstance(statement, ast.match_case) else statement.lineno
    body = getattr(statement, "body", None)
    if body:
        return first, max(first, body[0].lineno - 1)
    return first, statement.end_lineno or first  # type: ignore[union-attr]  # a match_case has a body


def _at_import(place: _Place) -> bool:
    """Whether the place lies in no body of a function and in no lambda."""
    return not _in_body(place) and not any(isinstance(node, ast.Lambda) for node, _, _ in place.above)


def _in_body(place: _Place) -> bool:
    return any(isinstance(node, ast.FunctionDef) and name == "body" for node, name, _ in place.above)


Made = tuple[str, str, Callable[[], Callable[[], None]]]


def _made(place: _Place, names: dict[str, Any]) -> Iterator[Made]:
    node = place.node
    if isinstance(node, ast.Constant):
        yield from _constants(place, node)
    elif isinstance(node, ast.BinOp | ast.BoolOp | ast.AugAssign):
        yield from _operators(place, node)
    elif isinstance(node, ast.Compare):
        yield from _comparisons(place, node)
    elif isinstance(node, ast.UnaryOp):
        if isinstance(node.op, ast.Not | ast.Invert | ast.USub) and not _signed_number(node):
            yield from _replaced(place, node.operand)
    elif isinstance(node, ast.Call):
        yield from _calls(place, node, names)
    elif isinstance(node, ast.List):
        yield from _elements(node)
    if isinstance(node, ast.If | ast.IfExp | ast.While) and not isinstance(
        node.test, ast.Compare | ast.BoolOp | ast.UnaryOp
    ):
        yield from _replaced(
            _Place(node.test, (*place.above, (node, "test", None))), ast.UnaryOp(ast.Not(), node.test)
        )
    if isinstance(node, ast.Return) and isinstance(node.value, ast.BinOp):
        yield from _replaced(_Place(node.value, (*place.above, (node, "value", None))), node.value.left)
    if _dropped(node):
        text = ast.unparse(node)
        yield text, "(left out)", lambda: place.put(ast.Pass())


def _replaced(place: _Place, new: ast.expr) -> Iterator[Made]:
    yield ast.unparse(place.node), ast.unparse(new), lambda: place.put(new)


def _signed_number(node: ast.UnaryOp) -> bool:
    return isinstance(node.op, ast.USub) and isinstance(node.operand, ast.Constant)


def _constants(place: _Place, node: ast.Constant) -> Iterator[Made]:
    value = node.value
    call = next((n for n, _, _ in reversed(place.above) if isinstance(n, ast.Call)), None)
    if isinstance(value, str):
        if value in SWAPPED_WORDS and isinstance(call, ast.Call) and getattr(call.func, "id", "") == "Range":
            yield from _replaced(place, ast.Constant(SWAPPED_WORDS[value]))
    elif isinstance(value, bool):
        yield from _replaced(place, ast.Constant(not value))
    elif isinstance(value, int | float):
        larger: float = value + 1
        if isinstance(value, float) and value != 0.0:
            # a number that stands for next to nothing has no tenth part that matters
            larger = float(f"{value * (1.1 if abs(value) > TINY else 1e6):.12g}")
        yield from _replaced(place, ast.Constant(larger))
        if value != 0 and not _squared(place):
            parent = place.parent
            if isinstance(parent, ast.UnaryOp) and isinstance(parent.op, ast.USub):
                yield from _replaced(_Place(parent, place.above[:-1]), node)
            else:
                yield from _replaced(place, ast.UnaryOp(ast.USub(), node))


def _squared(place: _Place) -> bool:
    """Whether a number is a factor of what is raised to an even power, where its sign is nothing."""
    for node, name, _ in reversed(place.above):
        if isinstance(node, ast.BinOp) and isinstance(node.op, ast.Pow):
            power = node.right
            return name == "left" and isinstance(power, ast.Constant) and power.value % 2 == 0
        if not (isinstance(node, ast.BinOp) and isinstance(node.op, ast.Mult | ast.Div)):
            return False
    return False


def _operators(place: _Place, node: ast.BinOp | ast.BoolOp | ast.AugAssign) -> Iterator[Made]:
    if isinstance(node, ast.AugAssign) and isinstance(node.value, ast.List | ast.ListComp | ast.Constant):
        return
    for other in SWAPPED_OPERATORS.get(type(node.op), ()):
        # made in place, so that a change within it and a change of it cannot undo one another
        yield ast.unparse(node), _with(node, "op", other()), lambda other=other: _set(node, "op", other())  # type: ignore[misc]


def _with(node: ast.AST, name: str, value: object) -> str:
    before = getattr(node, name)
    setattr(node, name, value)
    text = ast.unparse(node)
    setattr(node, name, before)
    return text


def _comparisons(place: _Place, node: ast.Compare) -> Iterator[Made]:
    for i, op in enumerate(node.ops):
        for other in SWAPPED_OPERATORS.get(type(op), ()):
            ops = [*node.ops[:i], other(), *node.ops[i + 1 :]]
            yield ast.unparse(node), _with(node, "ops", ops), lambda ops=ops: _set(node, "ops", ops)  # type: ignore[misc]
    if not isinstance(node.ops[0], ast.Is | ast.IsNot | ast.In | ast.NotIn):
        # "or true" keeps the shape of an array
        yield from _replaced(place, ast.BinOp(node, ast.BitOr(), ast.Constant(True)))


def _calls(place: _Place, node: ast.Call, names: dict[str, Any]) -> Iterator[Made]:
    name = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
    if name in SWAPPED_NAMES:
        what = "attr" if isinstance(node.func, ast.Attribute) else "id"
        func, other = node.func, SWAPPED_NAMES[name]
        before = ast.unparse(node)
        after = before.replace(ast.unparse(func), ast.unparse(func)[: -len(name)] + other, 1)
        yield before, after, lambda: _set(func, what, other)
    if name in REMOVED and node.args:
        yield from _replaced(place, node.args[0])
    if name in CHOOSERS and len(node.args) == 2:
        for kept in node.args:
            if not isinstance(kept, ast.Constant):
                yield from _replaced(place, kept)
    if name == "where" and len(node.args) == 3:
        condition, yes, no = node.args
        yield (
            ast.unparse(node),
            _with(node, "args", [condition, no, yes]),
            lambda: _set(node, "args", [condition, no, yes]),
        )
    yield from _arguments(node, names)


def _arguments(node: ast.Call, names: dict[str, Any]) -> Iterator[Made]:
    """Leave out an argument that has a default, where the function is known."""
    called = _looked_up(node.func, names)
    if getattr(called, "__name__", "") in WORDS:
        return
    try:
        signature = inspect.signature(called)
    except (TypeError, ValueError):
        return
    for keyword in node.keywords:
        if keyword.arg is None or isinstance(keyword.value, ast.Constant | ast.JoinedStr):
            continue
        kept = [k for k in node.keywords if k is not keyword]
        if _binds(signature, node.args, kept):
            yield (
                ast.unparse(node),
                _with(node, "keywords", kept),
                lambda kept=kept: _set(node, "keywords", kept),  # type: ignore[misc]
            )
    if node.args and not isinstance(node.args[-1], ast.Constant | ast.JoinedStr):
        fewer = node.args[:-1]
        if _binds(signature, fewer, node.keywords):
            yield ast.unparse(node), _with(node, "args", fewer), lambda: _set(node, "args", fewer)


def _looked_up(func: ast.expr, names: dict[str, Any]) -> Any:
    parts = ast.unparse(func).split(".")
    try:
        found = reduce(getattr, parts[1:], names[parts[0]])
    except (KeyError, AttributeError):
        return None
    return found if inspect.isfunction(found) or inspect.isclass(found) else None


def _binds(signature: inspect.Signature, args: list[ast.expr], keywords: list[ast.keyword]) -> bool:
    if any(isinstance(a, ast.Starred) for a in args) or any(k.arg is None for k in keywords):
        return False
    try:
        signature.bind(*args, **{k.arg: k for k in keywords if k.arg})
    except TypeError:
        return False
    return True


def _elements(node: ast.List) -> Iterator[Made]:
    """Leave out one of several things that are made, as a limit from a list of limits."""
    for i, element in enumerate(node.elts):
        if isinstance(element, ast.Call | ast.Starred):
            rest = [*node.elts[:i], *node.elts[i + 1 :]]
            yield ast.unparse(element), "(left out)", lambda rest=rest: _set(node, "elts", rest)  # type: ignore[misc]


def _dropped(node: ast.AST) -> bool:
    """Whether a statement can be left out and the rest still runs."""
    if isinstance(node, ast.Assign):
        return all(isinstance(t, ast.Subscript) for t in node.targets)
    if isinstance(node, ast.Expr):
        return isinstance(node.value, ast.Call)
    return isinstance(node, ast.AugAssign)
