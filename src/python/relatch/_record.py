"""Records as attributes, lists of numbers as arrays."""

from __future__ import annotations

import difflib
from collections.abc import Iterator
from typing import Any

import numpy as np


def _made(value: Any) -> Any:
    if isinstance(value, dict):
        return Record({key: _made(of) for key, of in value.items()})
    if isinstance(value, list):
        is_number = all(isinstance(x, (int, float)) and not isinstance(x, bool) or x is None for x in value)
        if value and is_number and any(x is not None for x in value):
            return np.array([np.nan if x is None else x for x in value], dtype=float)
        return Rows(_made(x) for x in value)
    return value


class Rows(list):
    """Records one below the other."""

    def column(self, name: str) -> np.ndarray:
        """One number of each, NaN where there is none: ``"trip_point.current_a"`` goes inside."""
        return np.array([_inside(row, name) for row in self], dtype=float)


def _inside(row: Any, name: str) -> float:
    for key in name.split("."):
        row = vars(row).get(key) if isinstance(row, Record) else None
    return np.nan if row is None or isinstance(row, (str, Record)) else row


class Record:
    """What was answered: the keys of the program's JSON as attributes, units in their names.

    It does not change, compares by value, and shows itself in a notebook as the program's page does.
    """

    def __init__(self, fields: dict[str, Any], html: str = "") -> None:
        self.__dict__.update(fields)
        object.__setattr__(self, "_html", html) if html else None

    @classmethod
    def of(cls, value: dict[str, Any], html: str = "") -> Record:
        """From JSON that was read."""
        return cls({key: _made(of) for key, of in value.items()}, html)

    def __setattr__(self, name: str, value: Any) -> None:
        raise AttributeError("a record does not change")

    def __getattr__(self, name: str) -> Any:
        near = difflib.get_close_matches(name, self, 1)
        hint = f"; did you mean {near[0]}?" if near else f"; it has {', '.join(self)}"
        raise AttributeError(f"this record has no {name}{hint}")

    def __iter__(self) -> Iterator[str]:
        return (key for key in self.__dict__ if key != "_html")

    def __getitem__(self, name: str) -> Any:
        """For keys that are words of Python."""
        return getattr(self, name)

    def __contains__(self, name: object) -> bool:
        return name in self.__dict__

    def to_dict(self) -> dict[str, Any]:
        """Plain dictionaries and lists of it."""
        return {key: _plain(self.__dict__[key]) for key in self}

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Record) and _same(self.to_dict(), other.to_dict())

    __hash__ = None  # type: ignore[assignment]

    def __repr__(self) -> str:
        return f"Record({', '.join(f'{key}={_brief(self.__dict__[key])}' for key in self)})"

    def _repr_html_(self) -> str:
        html = self.__dict__.get("_html")
        return f'<div class="relatch">{html}</div>' if html else f"<pre>{_escaped(repr(self))}</pre>"


def _plain(value: Any) -> Any:
    if isinstance(value, Record):
        return value.to_dict()
    if isinstance(value, dict):
        return {key: _plain(of) for key, of in value.items()}
    if isinstance(value, (list, np.ndarray)):
        return [_plain(x) for x in value]
    return value.item() if isinstance(value, np.generic) else value


def _same(a: Any, b: Any) -> bool:
    if isinstance(a, dict) and isinstance(b, dict):
        return a.keys() == b.keys() and all(_same(a[key], b[key]) for key in a)
    if isinstance(a, list) and isinstance(b, list):
        return len(a) == len(b) and all(map(_same, a, b))
    return a == b or a != a and b != b


def _brief(value: Any) -> str:
    if isinstance(value, np.ndarray):
        return f"<{value.size} numbers>"
    if isinstance(value, Rows):
        return f"<{len(value)} rows>"
    if isinstance(value, Record):
        return "Record(...)"
    return repr(value)


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;").replace(">", "&gt;")
