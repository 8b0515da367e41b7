"""Equilibrium of every case over random rigs: loads and forces of the bearings add up to nothing."""

from __future__ import annotations

import math

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st

from rigcalc.formulas import Working
from rigcalc.rigfile import read_rig
from rigcalc.verdict import Run, evaluate
from rigcalc.verdict.assumptions import cases_of
from rigcalc.verdict.model import ALONG, FORWARD, SIDE

from .test_loads import case_text, rig_text, some

POST = 'support = "post"\npost = {{diameter = "{0!r} m", wall = "5 mm", socket = "{1!r} m"}}'
SAIL = """
[[sail]]
name = "main"
luff = "{luff!r} m"
foot = "{foot!r} m"
tack_height = "{tack!r} m"
hold = "rolled"
cloth_mass = "230 g/m2"
cloth_thickness = "0.4 mm"
"""


@st.composite
def rigs(draw: st.DrawFn) -> str:
    """Return a rig of any size, on a post or through the deck, in all kinds of case."""
    length = draw(some(4.0, 9.0))
    bury = draw(some(0.6, 1.4))
    heel, tip = draw(some(0.09, 0.16)), draw(some(0.05, 0.09))
    stations = ((0.0, heel, 0.004), (bury, heel, 0.004), (length, tip, 0.003))
    tack = draw(some(bury + 0.2, bury + 0.6))
    sail = SAIL.format(
        luff=round(draw(some(0.6, 0.95)) * (length - tack), 6), foot=draw(some(1.0, 3.0)), tack=tack
    )
    mast = draw(st.sampled_from(["", 'shape = "ellipse"\nturns = ["20 deg", "75 deg"]', "post"]))
    if mast == "post":
        mast = POST.format(round(heel - 0.02, 6), draw(some(0.2, 0.8)))
    tall = round(length, 9)
    cases = [
        case_text("heel-limited", 'basis = "RM max"', name="gust"),
        case_text("wind-limited", "beaufort = 6", name="run"),
        case_text("bare", "beaufort = 10", f'force_angle = "{draw(some(0, 180))!r} deg"', name="storm"),
        case_text("motion", name="rolling"),
        case_text("knockdown", name="flat"),
        case_text(
            "given",
            f'point_load = [{{height = "{tall!r} m", side = "{draw(some(-500, 500))!r} N", '
            f'forward = "{draw(some(-500, 500))!r} N"}}]',
            f'axial = "{draw(some(-300, 300))!r} N"',
            'own_weight_heel = "30 deg"',
            name="given",
        ),
    ]
    return rig_text(stations=stations, bury_m=bury, mast=mast, more=sail + "".join(cases))


def sums(run: Run, case: int) -> tuple[np.ndarray, float]:
    """Return what is left of forces (two) and moments about the heel (two), and the largest single term."""
    model, small, mesh = run.model, run.solved.small, run.model.mesh
    left, largest = [], 0.0
    for plane in (SIDE, FORWARD):
        line, point = model.line_N_m[plane, case], model.point_N[plane, case]
        bearings = (
            (-small.partners_N[plane, case], model.supports.bury_m),
            (-small.heel_N[plane, case], 0.0),
        )
        forces = [mesh.total(line), *point, *(force for force, _ in bearings)]
        moments = [mesh.total(line * mesh.z_m), *(point * mesh.edges_m), *(f * z for f, z in bearings)]
        left += [sum(forces), sum(moments)]
        largest = max(largest, *map(abs, forces), *map(abs, moments))
    return np.array(left), float(largest)


@settings(max_examples=25, deadline=None)
@given(text=rigs())
def test_forces_and_moments_add_up_to_nothing(text: str) -> None:
    rig = read_rig(text)
    cases, _ = cases_of(rig, None)
    run = evaluate(rig, cases, Working())
    for case in range(run.model.point_N.shape[1]):
        left, largest = sums(run, case)
        assert np.all(np.abs(left) <= 1e-9 * largest + 1e-12)
        # along the mast the heel bears all of it
        down = run.model.mesh.total(run.model.line_N_m[ALONG, case]) + run.model.point_N[ALONG, case].sum()
        thrust = run.model.axial_N[case, 0, 0] - run.model.point_N[ALONG, case, 0]
        assert math.isclose(-down, thrust, rel_tol=1e-9, abs_tol=1e-9 * largest + 1e-12)
