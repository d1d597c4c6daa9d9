"""The methods of a frozen value, shared by all tables.

dataclasses would write and compile each of them anew for each of some fifty tables, which costs
more at every start than reading the whole project. What dataclasses offers (fields, replace,
asdict) works on these values as on its own.
"""

from __future__ import annotations

import dataclasses
from operator import attrgetter, itemgetter
from typing import Any, TypeVar, dataclass_transform

T = TypeVar("T")


@dataclass_transform(frozen_default=True)
def value(cls: type[T]) -> type[T]:
    """Make a class with fields a frozen value, as dataclass(frozen=True, slots=True) does, in a
    tenth of its time.
    """
    return frozen(cls)


def frozen(cls: type[T]) -> type[T]:
    """Make a class with fields a frozen value with slots: equal by its cells, and of use as
    a key.
    """
    fields = [_field(cls, name, told) for name, told in cls.__annotations__.items()]
    names = tuple(field.name for field in fields)
    own = {
        name: cell
        for name, cell in vars(cls).items()
        if name not in names and name not in ("__dict__", "__weakref__")
    }
    known = {
        "__slots__": names,
        "__match_args__": names,
        "__dataclass_fields__": dict(zip(names, fields, strict=True)),
    }
    made: Any = type(cls.__name__, cls.__bases__, {**own, **METHODS, **known})
    made._DEFAULTS = {field.name: field.default for field in fields}
    made._NEEDED = tuple(f.name for f in fields if f.default is dataclasses.MISSING)
    made._SETTERS = tuple(vars(made)[name].__set__ for name in names)
    made._IN_ORDER = (
        itemgetter(*names) if len(names) > 1 else staticmethod(lambda named: (named[names[0]],))
    )
    made._CELLS = attrgetter(*names) if len(names) > 1 else staticmethod(_only_cell)
    return made  # type: ignore[no-any-return]


def _field(cls: type[Any], name: str, told: Any) -> Any:
    """One field as dataclasses describes it; told: its annotation.

    A field without a default must be given.
    """
    given = vars(cls).get(name, dataclasses.MISSING)
    field: Any = given if isinstance(given, dataclasses.Field) else dataclasses.field(default=given)
    if field.default_factory is not dataclasses.MISSING:
        raise TypeError(
            f"{cls.__name__}.{name}: a default that is made anew each time is no frozen value"
        )
    field.name, field.type = name, told
    field._field_type = dataclasses._FIELD  # type: ignore[attr-defined]
    return field


def _init(self: Any, /, *cells: Any, **named: Any) -> None:
    """Cells in the order of the columns, or by name; what is not given is empty."""
    setters = self._SETTERS
    if not cells and named.keys() == self._DEFAULTS.keys():
        cells = self._IN_ORDER(named)
    elif named or len(cells) != len(setters):
        cells = _all_cells(self, cells, named)
    for put, cell in zip(setters, cells, strict=True):
        put(self, cell)


def _all_cells(self: Any, cells: tuple[Any, ...], named: dict[str, Any]) -> tuple[Any, ...]:
    """Every cell of a row of which only some are given."""
    defaults: dict[str, Any] = self._DEFAULTS
    if len(cells) > len(defaults):
        raise TypeError(f"{type(self).__name__} has {len(defaults)} cells, not {len(cells)}")
    made = {**defaults, **dict(zip(defaults, cells, strict=False)), **named}
    if len(made) > len(defaults):
        raise TypeError(
            f"{type(self).__name__} has no cell {', '.join(sorted(made.keys() - defaults.keys()))}"
        )
    if twice := [name for name in list(defaults)[: len(cells)] if name in named]:
        raise TypeError(f"{type(self).__name__} was given {', '.join(twice)} twice")
    if lacking := [name for name in self._NEEDED if made[name] is dataclasses.MISSING]:
        raise TypeError(f"{type(self).__name__} needs {', '.join(lacking)}")
    return tuple(made.values())


def _only_cell(value: Any) -> tuple[Any, ...]:
    """The cells of a row that has one."""
    (name,) = value._DEFAULTS
    return (getattr(value, name),)


def _repr(self: Any) -> str:
    told = ", ".join(f"{name}={getattr(self, name)!r}" for name in self._DEFAULTS)
    return f"{type(self).__qualname__}({told})"


def _eq(self: Any, other: Any) -> Any:
    if other.__class__ is not self.__class__:
        return NotImplemented
    return self is other or self._CELLS(self) == self._CELLS(other)


def _hash(self: Any) -> int:
    return hash(self._CELLS(self))


def _set(self: Any, name: str, _: Any) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot assign to field {name!r}")


def _delete(self: Any, name: str) -> None:
    raise dataclasses.FrozenInstanceError(f"cannot delete field {name!r}")


def _reduce(self: Any) -> tuple[Any, ...]:
    return type(self), self._CELLS(self)


METHODS = {
    "__init__": _init,
    "__repr__": _repr,
    "__eq__": _eq,
    "__hash__": _hash,
    "__setattr__": _set,
    "__delattr__": _delete,
    "__reduce__": _reduce,
}
