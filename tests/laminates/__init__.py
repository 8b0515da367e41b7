"""Tests of masts and sheaths of laminate: one small rig with loads of its own, put together piece by piece."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from typing import Any

import pytest

from rigcalc import CheckResult, check
from rigcalc.limits import Check
from rigcalc.materials.laminates import PlyMaterial, ply_materials, tables
from rigcalc.rig import Rig
from rigcalc.rigfile import read_rig
from tests.rigfile import toml_of

GLASS, CARBON, CLOTH = "E-glass/epoxy UD 0.45", "carbon/epoxy UD 0.60", "E-glass/epoxy woven 0.50"

LOAD: dict[str, Any] = {
    "name": "given",
    "kind": "given",
    "line_load": [["0.8 m", "90 N/m"], ["5 m", "20 N/m"]],
    "point_load": [{"height": "4 m", "side": "60 N", "forward": "25 N"}],
    "axial": "400 N",
    "torque": "20 N m",
    "own_weight_heel": "25 deg",
}


def plies(*lots: tuple[Any, ...], material: str = GLASS) -> list[dict[str, Any]]:
    """Return plies from (angle in degrees, thickness in mm) and whatever keys more."""
    return [
        {"material": material, "angle": f"{lot[0]!r} deg", "thickness": f"{lot[1]!r} mm"}
        | (lot[2] if len(lot) > 2 else {})
        for lot in lots
    ]


WALL = plies((45, 0.7), (-45, 0.7), (0, 3.0), (-45, 0.7), (45, 0.7))


def rig_of(
    laminate: Sequence[Mapping[str, Any]] = WALL,
    *,
    bores: Sequence[float] = (84, 84, 46),
    mast: Mapping[str, Any] | None = None,
    case: Mapping[str, Any] | None = None,
    more: Sequence[Mapping[str, Any]] = (),
    materials: Sequence[Mapping[str, Any]] = (),
    bearings: Mapping[str, Any] | None = None,
    limits: Mapping[str, Any] | None = None,
    **keys: Any,
) -> Rig:
    """Return a rig with a mast of 5 m on a bury of 0.6 m, of a laminate unless the mast says otherwise."""
    heights = (0.0, 0.9, 5.0)
    spar = {
        "length": "5 m",
        "bury": "0.6 m",
        "material": "wall",
        "stations": [
            {"height": f"{z} m", "bore": f"{bore!r} mm"} for z, bore in zip(heights, bores, strict=True)
        ],
        **(mast or {}),
    }
    table: dict[str, Any] = {
        "title": "Rig of the tests of laminates",
        "boat": {
            "displacement": "300 kg",
            "waterline": "0.25 m",
            "lateral_centre": "0 m",
            "stability": {"moment_max": "760 N m"},
        },
        "mast": spar,
        "laminate": [{"name": "wall", "plies": list(laminate), **keys}, *more],
        "case": [{**LOAD, **(case or {})}],
        "limits": dict(limits or {}),
    }
    if materials:
        table["material"] = list(materials)
    if bearings:
        table["bearings"] = dict(bearings)
    return read_rig(toml_of(table))


def checked(*args: Any, **keys: Any) -> CheckResult:
    return check(rig_of(*args, **keys))


def worst(result: CheckResult, id: str, layer: str | None = None) -> Check:
    """Return the check of an id that is used most."""
    found = [c for c in result.checks if c.id == id and layer in (None, c.layer)]
    assert found, f"there is no check {id!r}; there are {sorted({c.id for c in result.checks})}"
    return max(found, key=lambda c: c.utilisation)


def with_ply(monkeypatch: pytest.MonkeyPatch, **values: Any) -> PlyMaterial:
    """Add a ply to the tables for one test."""
    known = ply_materials()
    added = PlyMaterial(
        **{
            "name": "added",
            "fibres": ((0.0, 1 / 3), (math.pi / 3, 1 / 3), (-math.pi / 3, 1 / 3)),
            "fibre_fraction": 0.5,
            "fibre_density_kg_m3": 2500.0,
            "provenance": "computed",
            "source": "test",
            **values,
        }
    )
    monkeypatch.setattr(tables, "ply_materials", lambda: (*known, added))
    return added
