"""Formulas traced: one call with stand-ins in place of numbers gives the expression that is printed.

A stand-in answers Python's arithmetic and numpy's protocols (``__array_ufunc__``, ``__array_function__``) with a
sympy expression, built as written: sympy is kept from putting it in another order. The formula runs with a ``np``
whose constants are symbols too, so that 2 pi stays 2 pi. A formula that asks a stand-in which way to go raises
``TypeError``: it cannot be told in one line.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from collections.abc import Callable, Mapping
from fractions import Fraction
from functools import cache
from types import FunctionType
from typing import Any

import numpy as np

from ...formulas import Formula
from ...frozen import dataclass

Expression = Any
"""A sympy expression; sympy has no types for it."""

_PACKAGE = "rigcalc.formulas"
_SHORT = 10
"""Significant digits up to which a float is one that somebody wrote."""


@dataclass(frozen=True)
class Part:
    """One of the formula's own help values, in its arguments and the parts before it."""

    name: str
    expression: Expression


@dataclass(frozen=True)
class Trace:
    """A traced formula.

    Parameters
    ----------
    expression : sympy expression
        In the formula's arguments alone.
    parts : tuple of Part
        The help values that its author named, those that play a part.
    result : sympy expression
        In arguments and parts.
    """

    expression: Expression
    parts: tuple[Part, ...]
    result: Expression


class StandIn:
    """Something that stands where a number would, and keeps what is done with it."""

    __slots__ = ("node",)
    __hash__ = None  # type: ignore[assignment]  # compared into a condition, not with another

    def __init__(self, node: Expression) -> None:
        self.node = node

    def __array_ufunc__(self, ufunc: np.ufunc, method: str, *inputs: Any, **options: Any) -> StandIn:
        if method != "__call__" or options:
            raise TypeError(f"{ufunc.__name__}.{method} with {sorted(options)} has no traced form")
        return _apply(ufunc.__name__, *inputs)

    def __array_function__(
        self, func: Callable[..., Any], types: Any, args: tuple[Any, ...], kwargs: Mapping[str, Any]
    ) -> StandIn:
        if kwargs:
            raise TypeError(f"{func.__name__} with {sorted(kwargs)} has no traced form")
        return _apply(func.__name__, *args)

    def __bool__(self) -> bool:
        raise TypeError("a formula may not branch on a value: write np.where")

    def __add__(self, other: Any) -> StandIn:
        return _apply("add", self, other)

    def __radd__(self, other: Any) -> StandIn:
        return _apply("add", other, self)

    def __sub__(self, other: Any) -> StandIn:
        return _apply("subtract", self, other)

    def __rsub__(self, other: Any) -> StandIn:
        return _apply("subtract", other, self)

    def __mul__(self, other: Any) -> StandIn:
        return _apply("multiply", self, other)

    def __rmul__(self, other: Any) -> StandIn:
        return _apply("multiply", other, self)

    def __truediv__(self, other: Any) -> StandIn:
        return _apply("divide", self, other)

    def __rtruediv__(self, other: Any) -> StandIn:
        return _apply("divide", other, self)

    def __pow__(self, other: Any) -> StandIn:
        return _apply("power", self, other)

    def __rpow__(self, other: Any) -> StandIn:
        return _apply("power", other, self)

    def __neg__(self) -> StandIn:
        return _apply("negative", self)

    def __pos__(self) -> StandIn:
        return self

    def __abs__(self) -> StandIn:
        return _apply("absolute", self)

    def __lt__(self, other: Any) -> StandIn:
        return _apply("less", self, other)

    def __le__(self, other: Any) -> StandIn:
        return _apply("less_equal", self, other)

    def __gt__(self, other: Any) -> StandIn:
        return _apply("greater", self, other)

    def __ge__(self, other: Any) -> StandIn:
        return _apply("greater_equal", self, other)


class _SymbolicNumpy:
    """numpy as a formula sees it, its constants symbols."""

    @property
    def pi(self) -> StandIn:
        import sympy

        return StandIn(sympy.pi)

    def __getattr__(self, name: str) -> Callable[..., StandIn]:
        return lambda *inputs: _apply(name, *inputs)


@cache
def _operations() -> dict[str, Callable[..., Expression]]:
    """Return how each of numpy's functions is written in sympy, by numpy's name."""
    import sympy as sp

    def add(a: Expression, b: Expression) -> Expression:
        return sp.Add(a, b, evaluate=False)

    def multiply(a: Expression, b: Expression) -> Expression:
        return sp.Mul(a, b, evaluate=False)

    def negative(a: Expression) -> Expression:
        return -a if a.is_Number else multiply(sp.Integer(-1), a)

    def power(a: Expression, b: Expression) -> Expression:
        return sp.Pow(a, _as_exponent(b), evaluate=False)

    def root(a: Expression, n: int = 2) -> Expression:
        return sp.Pow(a, sp.Rational(1, n), evaluate=False)

    def divide(a: Expression, b: Expression) -> Expression:
        return multiply(a, sp.Pow(b, sp.Integer(-1), evaluate=False))

    def named(function: Any) -> Callable[..., Expression]:
        return lambda *inputs: function(*inputs, evaluate=False)

    def where(condition: Expression, yes: Expression, no: Expression) -> Expression:
        return sp.Piecewise((yes, condition), (no, True), evaluate=False)

    def square(a: Expression) -> Expression:
        return power(a, sp.Integer(2))

    lesser, greater = named(sp.Min), named(sp.Max)
    return {
        "add": add,
        "subtract": lambda a, b: add(a, negative(b)),
        "multiply": multiply,
        "divide": divide,
        "power": power,
        "negative": negative,
        "positive": lambda a: a,
        "absolute": named(sp.Abs),
        "abs": named(sp.Abs),
        "square": square,
        "sqrt": root,
        "cbrt": lambda a: root(a, 3),
        "hypot": lambda a, b: root(add(square(a), square(b))),
        "exp": named(sp.exp),
        "log": named(sp.log),
        "log10": lambda a: divide(named(sp.log)(a), named(sp.log)(sp.Integer(10))),
        "sin": named(sp.sin),
        "cos": named(sp.cos),
        "tan": named(sp.tan),
        "arcsin": named(sp.asin),
        "arccos": named(sp.acos),
        "arctan": named(sp.atan),
        "arctan2": named(sp.atan2),
        "sinh": named(sp.sinh),
        "cosh": named(sp.cosh),
        "tanh": named(sp.tanh),
        "arctanh": named(sp.atanh),
        "minimum": lesser,
        "fmin": lesser,
        "maximum": greater,
        "fmax": greater,
        "clip": lambda a, low, high: lesser(greater(a, low), high),
        "where": where,
        "less": named(sp.Lt),
        "less_equal": named(sp.Le),
        "greater": named(sp.Gt),
        "greater_equal": named(sp.Ge),
    }


def _apply(name: str, *inputs: Any) -> StandIn:
    known = _operations()
    if name not in known:
        raise TypeError(f"np.{name} has no traced form; add it to the operations of {__name__}")
    return StandIn(known[name](*(_node(given) for given in inputs)))


def _node(given: Any) -> Expression:
    """Return a stand-in's expression, or a number as its author wrote it."""
    import sympy as sp

    if isinstance(given, StandIn):
        return given.node
    value = float(given)
    if value == np.pi:
        return sp.pi
    if value.is_integer() and abs(value) < 10**_SHORT:
        return sp.Integer(int(value))
    if float(f"{value:.{_SHORT}g}") != value:
        # a third, and the like
        near = Fraction(value).limit_denominator(1000)
        if abs(float(near) - value) <= 2e-16 * abs(value):
            return sp.Rational(near.numerator, near.denominator)
    return sp.Float(value)


def _as_exponent(node: Expression) -> Expression:
    """Return an exponent as a fraction where it is a simple one: roots read better so."""
    import sympy as sp

    if not node.is_Float:
        return node
    near = Fraction(float(node)).limit_denominator(20)
    return sp.Rational(near.numerator, near.denominator) if float(near) == float(node) else node


def traced(formula: Formula) -> Expression:
    """Return a formula as a sympy expression in its arguments.

    Parameters
    ----------
    formula : Formula
        A record of the registry.

    Raises
    ------
    TypeError
        If the formula branches on a value, or uses a function without a traced form.
    """
    return trace(formula).expression


def trace(formula: Formula) -> Trace:
    """Return a formula as expressions, with the help values that its author named.

    Parameters
    ----------
    formula : Formula
        A record of the registry.

    Raises
    ------
    TypeError
        If the formula branches on a value, or uses a function without a traced form.
    """
    return _trace(formula.function, tuple(formula.arguments))


@cache
def _trace(original: Callable[..., Any], arguments: tuple[str, ...]) -> Trace:
    import sympy as sp

    stand_ins = {name: StandIn(sp.Symbol(name)) for name in arguments}
    result, kept = _telling(original)(**stand_ins)
    flat = _node(result)
    helps = {
        name: value.node
        for name, value in kept.items()
        if name not in stand_ins and isinstance(value, StandIn) and not value.node.is_Atom
    }
    parts: list[Part] = []
    nodes: dict[Expression, Expression] = {}
    for name, node in helps.items():
        parts.append(Part(name, _with(node, nodes)))
        nodes[node] = sp.Symbol(name)
    nodes.pop(flat, None)
    shown = _with(flat, nodes)
    return Trace(flat, _used(parts, shown), shown)


def _used(parts: list[Part], result: Expression) -> tuple[Part, ...]:
    wanted, found = {str(s) for s in result.free_symbols}, []
    for part in reversed(parts):
        if part.name in wanted:
            found.append(part)
            wanted |= {str(s) for s in part.expression.free_symbols}
    return tuple(reversed(found))


def _with(node: Expression, names: Mapping[Expression, Expression]) -> Expression:
    """Return an expression with some of its parts put as symbols."""
    if node in names:
        return names[node]
    if not names or not node.args:
        return node
    inner = [_with(argument, names) for argument in node.args]
    if all(new is old for new, old in zip(inner, node.args, strict=True)):
        return node
    return node.func(*inner, evaluate=False)


def _telling(function: Any) -> Callable[..., tuple[Any, dict[str, Any]]]:
    """Return a formula that gives its help values beside its result, and runs on symbols."""
    tree = ast.parse(textwrap.dedent(inspect.getsource(function)))
    (definition,) = tree.body
    assert isinstance(definition, ast.FunctionDef)
    returns = [node for node in ast.walk(definition) if isinstance(node, ast.Return)]
    if len(returns) != 1 or returns[0].value is None:
        raise TypeError(f"{function.__name__} returns in more than one place: write np.where")
    help_values = ast.Call(ast.Name("locals", ast.Load()), [], [])
    returns[0].value = ast.Tuple([returns[0].value, help_values], ast.Load())
    definition.decorator_list, definition.returns = [], None
    for argument in definition.args.args:
        argument.annotation = None
    space = dict(_symbolic(function).__globals__)
    exec(compile(ast.fix_missing_locations(tree), inspect.getfile(function), "exec"), space)
    telling: Callable[..., tuple[Any, dict[str, Any]]] = space[function.__name__]
    return telling


@cache
def _symbolic(function: Any) -> FunctionType:
    """Return a formula, and those that it calls, with the symbolic numpy in the place of numpy."""
    found = {
        name: _symbolic(value)
        for name in function.__code__.co_names
        if isinstance(value := function.__globals__.get(name), FunctionType)
        and value.__module__.startswith(_PACKAGE)
    }
    return FunctionType(
        function.__code__,
        {**function.__globals__, **found, "np": _SymbolicNumpy()},
        function.__name__,
        function.__defaults__,
        function.__closure__,
    )
