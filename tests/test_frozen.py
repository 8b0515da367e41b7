"""Records of `rigcalc.frozen` beside those of the standard library: whatever one does, the other does."""

from __future__ import annotations

import copy
import dataclasses
import importlib
import inspect
import pickle
import pkgutil
from typing import Any, ClassVar

import pytest

import rigcalc
from rigcalc import frozen
from rigcalc.rig import Mast
from rigcalc.rig.fields import Quantity


def twins(make: Any) -> tuple[Any, Any]:
    """Return one class made a record here, and another by the standard library."""
    return make(frozen.dataclass), make(dataclasses.dataclass)


def plain(dataclass: Any) -> Any:
    @dataclass(frozen=True)
    class Spar:
        """A spar."""

        length: float
        name: str = "main"
        parts: list[int] = dataclasses.field(default_factory=list)
        told: str = dataclasses.field(default="", compare=False, repr=False)
        kind: ClassVar[str] = "spar"

        @property
        def half(self) -> float:
            return self.length / 2

    return Spar


def named(dataclass: Any) -> Any:
    @dataclass(frozen=True)
    class Base:
        """Something."""

        a: int
        b: int = 2

    @dataclass(frozen=True, kw_only=True)
    class Derived(Base):
        """More of it."""

        c: int
        a: int = 7

        def __post_init__(self) -> None:
            if self.c < 0:
                raise ValueError("c is below nothing")

    return Derived


def bare(dataclass: Any) -> Any:
    @dataclass(frozen=True, eq=False)
    class Alone:
        """One is never another."""

        a: float = 1.0

    return Alone


@pytest.mark.parametrize("make", [plain, named, bare])
def test_fields_and_signature_are_those_of_the_standard_library(make: Any) -> None:
    ours, theirs = twins(make)
    assert [(f.name, f.type, f.kw_only, f.compare, f.repr) for f in dataclasses.fields(ours)] == [
        (f.name, f.type, f.kw_only, f.compare, f.repr) for f in dataclasses.fields(theirs)
    ]
    assert dataclasses.is_dataclass(ours)
    signatures = [inspect.signature(one) for one in (ours, theirs)]
    assert list(signatures[0].parameters) == list(signatures[1].parameters)
    for name, parameter in signatures[0].parameters.items():
        other = signatures[1].parameters[name]
        assert parameter.kind == other.kind
        assert (parameter.default is parameter.empty) == (other.default is other.empty)
        assert parameter.annotation == other.annotation
    assert ours.__match_args__ == theirs.__match_args__
    assert ours.__doc__ == theirs.__doc__


CALLS: list[tuple[Any, tuple[Any, ...], dict[str, Any]]] = [
    (plain, (6.0,), {}),
    (plain, (6.0, "mizzen"), {"parts": [1, 2]}),
    (plain, (6.0,), {"told": "x", "name": "y"}),
    (named, (), {"c": 3}),
    (named, (5,), {"c": 3, "a": 4}),
    (named, (5,), {"c": 3}),
    (bare, (), {}),
    (bare, (2.0,), {}),
    # what neither takes
    (plain, (), {}),
    (plain, (6.0, "a", [], "b", 5), {}),
    (plain, (6.0,), {"length": 5.0}),
    (plain, (6.0,), {"beam": 5.0}),
    (named, (1, 2, 3), {}),
    (named, (), {"c": -1}),
]


@pytest.mark.parametrize("often", [False, True])
@pytest.mark.parametrize(("make", "values", "given"), CALLS)
def test_a_record_is_made_and_read_as_by_the_standard_library(
    make: Any, values: tuple[Any, ...], given: dict[str, Any], often: bool
) -> None:
    """Whether few of a class have been made yet, or so many that it has an ``__init__`` of its own."""
    ours, theirs = twins(make)
    if often:
        inspect.signature(ours)
        assert not isinstance(vars(ours)["__init__"], frozen._Init)
    try:
        expected = theirs(*values, **given)
    except (TypeError, ValueError) as fault:
        with pytest.raises(type(fault)):
            ours(*values, **given)
        return
    found = ours(*values, **given)
    assert repr(found) == repr(expected)
    assert vars(found) == vars(expected)
    assert list(vars(found)) == list(vars(expected))
    assert dataclasses.asdict(found) == dataclasses.asdict(expected)
    assert vars(copy.deepcopy(found)) == vars(expected)


@pytest.mark.parametrize("dataclass", [frozen.dataclass, dataclasses.dataclass])
def test_records_alike_are_equal_and_hash_alike(dataclass: Any) -> None:
    Derived, Alone, Spar = named(dataclass), bare(dataclass), plain(dataclass)
    one, two = Derived(c=1), Derived(c=1)
    assert one == two and hash(one) == hash(two) and one != Derived(c=2) and one != (7, 2, 1)
    assert one.__eq__(7) is NotImplemented
    assert Alone() != Alone()
    assert len({Alone(), Alone()}) == 2
    # what is left out of the comparison does not count, and lists made anew are not shared
    assert Spar(1.0, told="a") == Spar(1.0, told="b")
    assert Spar(1.0).parts is not Spar(1.0).parts
    with pytest.raises(TypeError):
        hash(Spar(1.0))


@pytest.mark.parametrize("dataclass", [frozen.dataclass, dataclasses.dataclass])
def test_a_record_does_not_change(dataclass: Any) -> None:
    spar = plain(dataclass)(6.0)
    with pytest.raises(dataclasses.FrozenInstanceError, match="cannot assign to field 'length'"):
        spar.length = 7.0
    with pytest.raises(dataclasses.FrozenInstanceError, match="cannot delete field 'length'"):
        del spar.length
    longer = dataclasses.replace(spar, length=7.0)
    assert (spar.length, longer.length, longer.half) == (6.0, 7.0, 3.5)
    match longer:
        case type(length=length):
            assert length == 7.0


def test_records_of_the_package_travel_between_processes() -> None:
    assert Mast.__init__ is Mast.__init__
    said = Quantity(help="how long", unit="m", above=0.0)
    assert pickle.loads(pickle.dumps(said)) == said
    assert said.unit == "m" and Quantity.unit == "1"


def test_what_a_record_cannot_be_is_refused() -> None:
    with pytest.raises(TypeError, match="take dataclass from dataclasses"):

        @frozen.dataclass(frozen=False)
        class Changes:
            a: int

    @frozen.dataclass(frozen=True)
    class Late:
        a: int = dataclasses.field(init=False, default=1)

    @frozen.dataclass(frozen=True)
    class Disordered:
        a: int = 1
        b: int  # type: ignore[misc]  # the fault under test

    # again and again, not the first time only
    for _ in range(2):
        with pytest.raises(TypeError, match="given when the record is made"):
            Late()
        with pytest.raises(TypeError, match="'b' without a default follows 'a'"):
            Disordered(b=1)


@pytest.mark.parametrize("asked", ["__dataclass_fields__", "__dataclass_params__", "__match_args__"])
def test_what_is_filed_is_made_when_it_is_first_looked_up(asked: str) -> None:
    ours, theirs = twins(named)
    assert isinstance(vars(ours)[asked], frozen._Later)
    if asked == "__match_args__":
        assert ours.__match_args__ == theirs.__match_args__
    else:
        assert list(ours.__dataclass_fields__) == list(theirs.__dataclass_fields__)
        assert ours.__dataclass_params__.order == theirs.__dataclass_params__.order
    assert not isinstance(vars(ours)[asked], frozen._Later)


def test_every_record_of_the_package_can_be() -> None:
    """A record with a fault would show it only when the first is made."""
    for module in pkgutil.walk_packages(rigcalc.__path__, "rigcalc."):
        for name, one in vars(importlib.import_module(module.name)).items():
            if isinstance(one, type) and one.__module__ == module.name and dataclasses.is_dataclass(one):
                layout = one.__record__.layout if "__record__" in vars(one) else None
                entries = dataclasses.fields(one)
                assert inspect.signature(one.__init__), name
                if layout is not None:
                    assert [(f.name, f.default, f.default_factory, f.kw_only) for f in entries] == [
                        (word, *entry) for word, entry in layout.entries.items()
                    ]


@pytest.mark.parametrize("dataclass", [frozen.dataclass, dataclasses.dataclass])
def test_a_class_has_the_defaults_of_its_fields(dataclass: Any) -> None:
    Spar = plain(dataclass)
    for _ in range(2):
        assert (Spar.name, Spar.told, Spar.kind) == ("main", "", "spar")
        assert not hasattr(Spar, "parts") and not hasattr(Spar, "length")
        dataclasses.fields(Spar)
