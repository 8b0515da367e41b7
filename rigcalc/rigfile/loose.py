"""A table of the rig file between reading and building: whatever could be read of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any


class Loose(dict[str, Any]):
    """The fields of one table as read: by field name, broken ones left out.

    Checks between fields run on this, so that one bad value does not hide what else is wrong.
    """

    def __init__(self, table: type[Any], path: str, values: Mapping[str, Any]) -> None:
        super().__init__(values)
        self.table, self.path = table, path

    def __getattr__(self, name: str) -> Any:
        try:
            return self[name]
        except KeyError:
            raise AttributeError(name) from None

    def has(self, *names: str) -> bool:
        """Whether all fields were read without a problem."""
        return all(name in self for name in names)
