"""Frozen dataclasses that cost next to nothing to define.

``dataclasses.dataclass(frozen=True)`` writes and compiles six methods for every class when its module is loaded. For
the two hundred records behind one check that took longer than importing numpy, and numpy is what a check may cost
to start. So the standard library still makes the fields here, but not before they are looked up, and writes nothing:
one method of each kind serves all records, and ``__init__`` is written when the first record of a class is made. What
comes out is a dataclass like any other: `fields`, `replace`, `asdict`, comparison, hash, text and the refusal to
change are those of the standard library, and `tests/test_frozen.py` holds them to it.

A record may derive from a record, not from a frozen dataclass of the standard library. That, or a field that cannot
be, is refused when the first record is made, not when the class is.
"""

from __future__ import annotations

import dataclasses
from typing import TYPE_CHECKING, Any, Final, NoReturn

__all__ = ["dataclass"]


class _Init:
    """Stands for the ``__init__`` of a record until it is first looked up."""

    def __init__(self, owner: type[Any]) -> None:
        self.owner = owner

    def __get__(self, record: object, kind: type[Any] | None = None) -> Any:
        written = _written_init(self.owner)
        self.owner.__init__ = written
        return written if record is None else written.__get__(record, kind)


_ABSENT: Final = object()


def _judge(cls: type[Any]) -> None:
    """Refuse fields that a record cannot have."""
    before = None
    for entry in dataclasses.fields(cls):
        if not entry.kw_only:
            if entry.default is not dataclasses.MISSING or entry.default_factory is not dataclasses.MISSING:
                before = entry.name
            elif before is not None:
                raise TypeError(
                    f"{cls.__name__}: {entry.name!r} without a default follows {before!r} with one"
                )
        if not entry.init or entry.hash is not None:
            raise TypeError(
                f"{cls.__name__}.{entry.name}: a field here is given when the record is made, and counts"
            )


def _written_init(owner: type[Any]) -> Any:
    """Write and compile ``__init__`` from the fields of a record."""
    _judge(owner)
    names: dict[str, Any] = {"_absent": _ABSENT}
    plain: list[str] = []
    named: list[str] = []
    kept: list[str] = []
    for entry in dataclasses.fields(owner):
        word, value = entry.name, entry.name
        if entry.default is not dataclasses.MISSING:
            names[f"_default_{word}"] = entry.default
            given = f"{word}=_default_{word}"
        elif entry.default_factory is not dataclasses.MISSING:
            names[f"_make_{word}"] = entry.default_factory
            given, value = f"{word}=_absent", f"_make_{word}() if {word} is _absent else {word}"
        else:
            given = word
        (named if entry.kw_only else plain).append(given)
        kept.append(f"{word}={value}")
    words = ", ".join(["self", *plain, *(["*", *named] if named else [])])
    # straight into the dictionary of the record, past the refusal to change it
    text = f"def __init__({words}):\n self.__dict__.update({', '.join(kept)})"
    if hasattr(owner, "__post_init__"):
        text += "\n self.__post_init__()"
    made: dict[str, Any] = {}
    exec(text, names, made)
    init = made["__init__"]
    init.__annotations__ = {entry.name: entry.type for entry in dataclasses.fields(owner)} | {"return": None}
    init.__qualname__, init.__module__ = f"{owner.__qualname__}.__init__", owner.__module__
    return init


def _shown(self: Any) -> str:
    told = ", ".join(
        f"{entry.name}={getattr(self, entry.name)!r}" for entry in dataclasses.fields(self) if entry.repr
    )
    return f"{type(self).__qualname__}({told})"


def _compared(record: Any) -> tuple[Any, ...]:
    return tuple(getattr(record, entry.name) for entry in dataclasses.fields(record) if entry.compare)


def _alike(self: Any, other: object) -> bool:
    return _compared(self) == _compared(other) if other.__class__ is self.__class__ else NotImplemented


def _hashed(self: Any) -> int:
    return hash(_compared(self))


def _not_set(self: Any, name: str, value: Any) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _not_deleted(self: Any, name: str) -> NoReturn:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


class _Later:
    """Stands for what the standard library files on a record until any of it is first looked up."""

    def __init__(self, owner: type[Any], name: str, kw_only: bool) -> None:
        self.owner, self.name, self.kw_only = owner, name, kw_only

    def __get__(self, record: object, kind: type[Any] | None = None) -> Any:
        _complete(self.owner, kw_only=self.kw_only)
        return getattr(self.owner, self.name)


_FILED: Final = ("__dataclass_fields__", "__dataclass_params__", "__match_args__")
"""What the standard library files on a dataclass, beside its methods."""


def _complete(cls: type[Any], *, kw_only: bool) -> None:
    """Let the standard library make the fields of a record."""
    for name in _FILED:
        delattr(cls, name)
    dataclasses.dataclass(init=False, repr=False, eq=False, kw_only=kw_only)(cls)


def _frozen(cls: type[Any], *, eq: bool, kw_only: bool) -> type[Any]:
    methods = {"__repr__": _shown, "__setattr__": _not_set, "__delattr__": _not_deleted}
    if eq:
        methods |= {"__eq__": _alike, "__hash__": _hashed}
    own = vars(cls)
    for name, method in methods.items():
        # Python itself sets __hash__ to None beside an __eq__ of the class's own
        if name not in own or (name == "__hash__" and own[name] is None):
            setattr(cls, name, method)
    for name in _FILED:
        setattr(cls, name, _Later(cls, name, kw_only))
    if "__init__" not in own:
        cls.__init__ = _Init(cls)
    return cls


if TYPE_CHECKING:
    from dataclasses import dataclass
else:

    def dataclass(*, frozen: bool, eq: bool = True, kw_only: bool = False) -> Any:
        """Make a class a frozen dataclass, as that of the standard library does.

        Parameters
        ----------
        frozen : bool
            Always true: what may change takes `dataclass` from ``dataclasses``.
        eq : bool
            Whether two records are alike where their fields are; otherwise where they are one.
        kw_only : bool
            Whether the fields are given by name only.
        """
        if not frozen:
            raise TypeError("a record of rigcalc.frozen is frozen; take dataclass from dataclasses")
        return lambda cls: _frozen(cls, eq=eq, kw_only=kw_only)
