"""Changes of a drawn rig, and the comparison of what is said of both."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from .rigs import Table, changed, quantities

Key = tuple[str, str, str, int]
Used = Mapping[Key, float]

LENGTH_POWERS = {"m": 1, "N": 2, "N/m": 1, "N m": 3, "kg": 3, "kg/m2": 1}
"""Powers of length by which quantities grow when a mast grows and its stresses stay."""


def grown(rig: Table, k: float) -> Table:
    """Return the rig with its lengths k times as long and its loads k squared as great."""

    def change(table: Table) -> None:
        for holder, key, q in list(quantities(table)):
            if q.unit in LENGTH_POWERS:
                holder[key] = q * k ** LENGTH_POWERS[q.unit]

    return changed(rig, change)


def loaded(rig: Table, by: float) -> Table:
    """Return the rig with its given loads some times as great."""

    def change(table: Table) -> None:
        for case in table["case"]:
            for name in ("line_load", "point_load", "axial", "torque"):
                for holder, key, q in list(quantities({name: case[name]} if name in case else {})):
                    if q.unit in ("N", "N/m", "N m"):
                        (case if key == name else holder)[key] = q * by

    return changed(rig, change)


def mirrored(rig: Table) -> Table:
    """Return the rig in a mirror: loads to the other side, the mast turned the other way, plies laid as its image."""

    def change(table: Table) -> None:
        for case in table["case"]:
            for row in case.get("line_load", []):
                row[1] = row[1] * -1.0
            for point in case.get("point_load", []):
                point["side"] = point["side"] * -1.0
            if "force_angle" in case:
                case["force_angle"] = case["force_angle"] * -1.0
        if "turns" in table["mast"]:
            table["mast"]["turns"] = [angle * -1.0 for angle in table["mast"]["turns"]]
        for laminate in table.get("laminate", []):
            for plies in laminate["plies"]:
                plies["angle"] = plies["angle"] * -1.0

    return changed(rig, change)


def thicker(rig: Table, by: float, *, density: float = 1.0) -> Table:
    """Return the rig with a wall some times as thick, inward, and its own metal some times as dense."""

    def change(table: Table) -> None:
        for station in table["mast"]["stations"]:
            if "wall" in station:
                station["wall"] = station["wall"] * by
        for laminate in table.get("laminate", []):
            if laminate["name"] == "glass":
                for plies in laminate["plies"]:
                    plies["thickness"] = plies["thickness"] * by
        for material in table.get("material", []):
            material["density"] = material["density"] * density

    return changed(rig, change)


def coated(rig: Table, by: float) -> Table:
    """Return the rig with its sleeves thicker inward, and its sheaths outward."""

    def change(table: Table) -> None:
        mast = table["mast"]
        for sleeve in mast.get("sleeve", []):
            sleeve["wall"] = sleeve["wall"] * by
        if "sleeve" in mast:
            # the sleeve is the tail of the upper length
            for station in mast["stations"][2:]:
                station["wall"] = station["wall"] * by
        for laminate in table.get("laminate", []):
            if laminate["name"] == "sheath":
                for plies in laminate["plies"]:
                    plies["thickness"] = plies["thickness"] * by

    return changed(rig, change)


def with_cases(rig: Table, change: Callable[[Table], object]) -> Table:
    """Return the rig with every case changed."""

    def every(table: Table) -> None:
        for case in table["case"]:
            change(case)

    return changed(rig, every)


def without_thrust(rig: Table) -> Table:
    return with_cases(rig, lambda case: case.pop("axial", None))


TINY = 1e-9
"""Utilisation that is none: of a load that is nothing but rounding."""


def differing(one: Used, other: Used, *, by: float = 1.0, rel: float, leave: Callable[[Key], bool]) -> list:
    """Return what is not ``by`` times as much in the other."""
    assert one.keys() == other.keys()
    return [
        (key, used * by, other[key])
        for key, used in one.items()
        if not leave(key)
        and not (other[key] == used * by or abs(other[key] - used * by) <= rel * used * by + TINY)
    ]


def greater(one: Used, other: Used, *, rel: float, leave: Callable[[Key], bool] = lambda _: False) -> list:
    """Return what uses more in the other, of what is in both."""
    return [
        (key, used, other[key])
        for key, used in one.items()
        if key in other and not leave(key) and not other[key] <= used * (1 + rel) + TINY
    ]


def nothing(_: Key) -> bool:
    return False
