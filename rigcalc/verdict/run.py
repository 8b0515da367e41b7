"""The one path from a rig to its verdict: loads, structure, limits, result."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from .. import __version__, units
from ..formulas import Working
from ..limits import Check, Internal, Limit, axial_stability_check, metal_limits, tip_deflection_check
from ..loads import CaseLoad, case_loads, standard_cases
from ..rig import Case, Rig
from ..rig.fields import Quantity, is_read, key_of, spec_of
from ..structure.beam import BeamResult, solve
from ..structure.large import LargeDeflection, solve_large
from ..structure.modes import critical_axial_load, natural_frequencies
from .cautions import CAUTIONS, NOT_CHECKED
from .model import ALONG, FORWARD, SIDE, Model, build_model
from .result import SCHEMA_VERSION, Assumption, CaseResult, CheckResult, MastResult, Stations

Floats = NDArray[np.float64]

LARGE_SHARE = 0.1
"""Tip deflection over length above the partners from which small-deflection figures are doubted."""


SHORT_BURY_SHARE = 0.08


class NoSuchCaseError(LookupError):
    """A case was asked for that the rig does not have."""


def check(rig: Rig, *, case: str | None = None) -> CheckResult:
    """Check a rig in all its cases.

    Parameters
    ----------
    rig : Rig
        As read from a rig file.
    case : str, optional
        Name of the only case to run.

    Returns
    -------
    CheckResult

    Raises
    ------
    NoSuchCaseError
        If there is no case of that name.
    """
    working = Working()
    cases, assumed = _cases_of(rig, case)
    loads = case_loads(rig, cases, working)
    model = build_model(rig, loads)
    small = solve(model.mesh, model.sections.EI_N_m2, model.across, model.supports)
    large = solve_large(model.mesh, model.sections.EI_N_m2, model.line_N_m, model.point_N, model.supports)
    stability = _axial_load_factors(model)
    names = tuple(load.name for load in loads)
    local = metal_limits(rig.mast, model.sections, _internal(model, small, large), rig.limits, working)
    checks: list[Check] = [found for limit in local for found in limit.checks(names, model.mesh.z_m)]
    for i, name in enumerate(names):
        checks.append(_deflection_check(rig, name, _tip(small, i), _tip_large(large, i)))
        if np.isfinite(stability[i]) or np.isnan(stability[i]):
            thrust = float(np.max(model.axial_N[i]))
            factor = float(stability[i])
            checks.append(axial_stability_check(name, axial_N=thrust, factor=factor, limits=rig.limits))
    results = tuple(
        _case_result(load, model, small, large, i, float(stability[i])) for i, load in enumerate(loads)
    )
    return CheckResult(
        schema_version=SCHEMA_VERSION,
        rigcalc_version=__version__,
        title=rig.title,
        cautions=(*CAUTIONS, NOT_CHECKED),
        warnings=(*working.warnings, *_warnings(rig, model, small, large, results)),
        assumptions=assumed,
        mast=_mast_result(rig, model),
        cases=results,
        checks=tuple(checks),
        stations=_stations(model, names, small, local),
    )


def _cases_of(rig: Rig, only: str | None) -> tuple[tuple[Case, ...], tuple[Assumption, ...]]:
    """Return the cases to run, and everything taken for granted on the way."""
    assumed = [_assumption(*found) for found in _defaults(rig, "", set(rig.defaults))]
    cases = rig.cases
    if not cases:
        standard = standard_cases(rig)
        cases = tuple(case for case, _ in standard)
        for case, reason in standard:
            assumed.append(Assumption(f"case {case.name!r}", f"standard case: {case.kind}", True, reason))
        shared = [found for case in cases for found in _defaults(case, "case[*]", None)]
        assumed += [_assumption(*found) for found in dict.fromkeys(shared)]
    if only is not None:
        cases = tuple(case for case in cases if case.name == only)
        if not cases:
            raise NoSuchCaseError(only)
    return cases, tuple(assumed)


def _defaults(table: Any, path: str, left_out: set[str] | None) -> Iterator[tuple[str, str, str]]:
    """Yield path, value and source of every default that plays a part; all of them without a set."""
    for entry in fields(table):
        if "spec" not in entry.metadata or not is_read(entry, table):
            continue
        spec, value = spec_of(entry), getattr(table, entry.name)
        here = f"{path}.{key_of(entry)}" if path else key_of(entry)
        if is_dataclass(value):
            yield from _defaults(value, here, left_out)
        elif isinstance(value, tuple) and value and is_dataclass(value[0]):
            for i, item in enumerate(value):
                yield from _defaults(item, f"{here}[{i}]", left_out)
        elif spec.default_from and (left_out is None or here in left_out) and value == entry.default:
            yield here, _said(spec, value), spec.default_from


def _assumption(path: str, value: str, source: str) -> Assumption:
    return Assumption(path, value, True, source)


def _said(spec: Any, value: Any) -> str:
    """Return a default as a reader would write it."""
    if value is None:
        return "as in the case's note"
    if isinstance(spec, Quantity):
        if spec.unit == "rad":
            return f"{np.degrees(value):.4g} deg"
        return units.show(value, spec.unit)
    return str(value)


def _axial_load_factors(model: Model) -> Floats:
    """Return, for each case, the factor on its axial load at which the mast becomes unstable.

    Infinite where nothing presses on the mast, NaN where the search did not settle.
    """
    axial = model.axial_N
    factors = np.full(axial.shape[0], np.inf)
    pressed = np.max(axial, axis=(-2, -1)) > 1e-9
    if np.any(pressed):
        found = critical_axial_load(
            model.mesh,
            np.broadcast_to(model.sections.EI_N_m2, axial[pressed].shape),
            axial[pressed],
            np.zeros_like(axial[pressed]),
            model.supports,
        )
        factors[pressed] = np.where(found.converged, found.values[..., 0], np.nan)
    return factors


def _internal(model: Model, small: BeamResult, large: LargeDeflection) -> Internal:
    """Internal forces, both planes together; the moment is the larger of straight and bent mast."""
    straight = np.hypot(small.moment_N_m[SIDE], small.moment_N_m[FORWARD])
    bent = np.hypot(large.moment_N_m[SIDE], large.moment_N_m[FORWARD])
    settled = large.converged[..., None, None] & np.isfinite(bent)
    return Internal(
        moment_N_m=np.maximum(straight, np.where(settled, bent, 0.0)),
        shear_N=np.hypot(small.shear_N[SIDE], small.shear_N[FORWARD]),
        axial_N=model.axial_N,
        torque_N_m=np.broadcast_to(np.abs(model.torque_N_m)[:, None, None], straight.shape),
    )


def _tip(small: BeamResult, i: int) -> float:
    return float(np.hypot(small.deflection_m[SIDE, i, -1, -1], small.deflection_m[FORWARD, i, -1, -1]))


def _tip_large(large: LargeDeflection, i: int) -> float | None:
    """Tip deflection of the bent mast; None where no equilibrium was found."""
    tip = float(np.hypot(large.position_m[SIDE, i, -1, -1], large.position_m[FORWARD, i, -1, -1]))
    return tip if large.converged[i] and np.isfinite(tip) else None


def _deflection_check(rig: Rig, case: str, tip_m: float, large_m: float | None) -> Check:
    above = rig.mast.length_m - rig.mast.bury_m
    return tip_deflection_check(
        case,
        # without an equilibrium there is no deflection to compare, and the check fails
        tip_m=float("nan") if large_m is None else max(tip_m, large_m),
        above_m=above,
        height_m=rig.mast.length_m,
        limits=rig.limits,
    )


def _case_result(
    load: CaseLoad, model: Model, small: BeamResult, large: LargeDeflection, i: int, axial_factor: float
) -> CaseResult:
    bury = model.mesh.edge_index(model.supports.bury_m)
    moment = np.hypot(small.moment_N_m[SIDE, i], small.moment_N_m[FORWARD, i])
    shear = np.hypot(small.shear_N[SIDE, i], small.shear_N[FORWARD, i])
    at = np.unravel_index(int(np.argmax(moment)), moment.shape)
    # the engine counts the bearings' forces against the load; here they are the forces on the mast
    partners, heel = -small.partners_N[:, i], -small.heel_N[:, i]
    return CaseResult(
        name=load.name,
        kind=load.kind,
        state=load.state,
        wind_speed_m_s=load.wind_speed_m_s,
        heel_deg=None if load.heel_rad is None else float(np.degrees(load.heel_rad)),
        partners_force_N=float(np.hypot(*partners)),
        partners_side_N=float(partners[SIDE]),
        partners_forward_N=float(partners[FORWARD]),
        step_force_N=float(np.hypot(*heel)),
        step_side_N=float(heel[SIDE]),
        step_forward_N=float(heel[FORWARD]),
        step_thrust_N=float(model.axial_N[i, 0, 0] - model.point_N[ALONG, i, 0]),
        partners_moment_N_m=float(moment[bury, 0]),
        max_moment_N_m=float(moment[at]),
        max_moment_height_m=float(model.mesh.z_m[at]),
        bury_shear_N=float(np.max(shear[:bury])),
        torque_N_m=float(model.torque_N_m[i]),
        tip_deflection_m=_tip(small, i),
        tip_deflection_large_m=_tip_large(large, i),
        partners_slope_rad=float(
            np.hypot(small.slope_rad[SIDE, i, bury, 0], small.slope_rad[FORWARD, i, bury, 0])
        ),
        axial_load_factor=axial_factor if np.isfinite(axial_factor) else None,
        notes=load.notes,
    )


def _mast_result(rig: Rig, model: Model) -> MastResult:
    mesh, EI, mass = model.mesh, model.sections.EI_N_m2, model.sections.mass_kg_m
    total = float(mesh.total(mass) + np.sum(model.fittings_kg))
    moment = float(mesh.total(mass * mesh.z_m) + np.sum(model.fittings_kg * mesh.edges_m))
    modes = natural_frequencies(mesh, EI, mass, model.fittings_kg, model.supports)
    critical = critical_axial_load(mesh, EI, np.ones_like(EI), np.zeros_like(EI), model.supports)
    return MastResult(
        length_m=rig.mast.length_m,
        mass_kg=total,
        centre_of_gravity_m=moment / total,
        natural_frequencies_Hz=(float(modes.values[0]), float(modes.values[1])),
        axial_stability_N=float(critical.values[0]),
    )


def _warnings(
    rig: Rig, model: Model, small: BeamResult, large: LargeDeflection, cases: tuple[CaseResult, ...]
) -> Iterator[str]:
    above = rig.mast.length_m - rig.mast.bury_m
    for case in cases:
        if case.tip_deflection_large_m is None:
            yield (
                f"{case.name}: no equilibrium was found on the bent mast; it is far too weak, "
                "and this case cannot pass."
            )
        elif case.tip_deflection_m > LARGE_SHARE * above:
            yield (
                f"{case.name}: the tip moves {case.tip_deflection_m / above:.0%} of the length above the partners; "
                f"on the bent mast it is {case.tip_deflection_large_m:.3f} m against {case.tip_deflection_m:.3f} m "
                "straight, and sails no longer set as designed."
            )
    metals = dict.fromkeys(m for layer in model.sections.layers for m in layer.metals)
    for name, standard in {m.name: m.standard for m in metals if m.strength_provenance == "memory"}.items():
        yield f"The strengths of {name} are from memory; check them against {standard}."
    for name, standard in {m.name: m.standard for m in metals if m.buckling_class is None}.items():
        yield f"{standard} gives {name} no buckling class; class B, the lower, is used."
    for i, sleeve in enumerate(rig.mast.sleeve, start=1):
        yield from _sleeve_warning(model, i, sleeve.diameter_m)
    if _bury_share(rig) < SHORT_BURY_SHARE:
        yield (
            f"The bury is {_bury_share(rig):.0%} of the mast; below about {SHORT_BURY_SHARE:.0%} the bearing "
            "forces grow fast (common practice, from memory)."
        )


def _bury_share(rig: Rig) -> float:
    return rig.mast.bury_m / rig.mast.length_m


def _sleeve_warning(model: Model, number: int, outer_m: float) -> Iterator[str]:
    """Sharing by stiffness needs contact: say how far apart the tubes may lie."""
    tube, sleeve = model.sections.layers[0], model.sections.layers[number]
    inside = outer_m <= float(np.max(np.where(sleeve.present, tube.inner_m, 0.0))) * (1 + 1e-9)
    gap = tube.inner_m - sleeve.outer_m if inside else sleeve.inner_m - tube.outer_m
    most = float(np.max(np.where(sleeve.present, gap, 0.0)))
    where = "inside" if inside else "over"
    yield (
        f"sleeve {number} lies {where} the tube with up to {most * 1e3:.2g} mm of play; it is counted as sharing the "
        "bending along its whole length, which holds only where the tubes touch. Its joint is not checked."
    )


def _stations(model: Model, names: tuple[str, ...], small: BeamResult, limits: list[Limit]) -> Stations:
    def flat(field: Floats) -> Floats:
        return field.reshape(*field.shape[:-2], -1)

    used = np.max([limit.utilisation for limit in limits], axis=0)
    return Stations(
        height_m=flat(model.mesh.z_m),
        diameter_m=flat(model.sections.outer_m),
        wall_m=flat(model.sections.layers[0].wall_m),
        EI_N_m2=flat(model.sections.EI_N_m2),
        cases=names,
        shear_side_N=flat(small.shear_N[SIDE]),
        shear_forward_N=flat(small.shear_N[FORWARD]),
        moment_side_N_m=flat(small.moment_N_m[SIDE]),
        moment_forward_N_m=flat(small.moment_N_m[FORWARD]),
        slope_side_rad=flat(small.slope_rad[SIDE]),
        slope_forward_rad=flat(small.slope_rad[FORWARD]),
        deflection_side_m=flat(small.deflection_m[SIDE]),
        deflection_forward_m=flat(small.deflection_m[FORWARD]),
        utilisation=flat(used),
    )
