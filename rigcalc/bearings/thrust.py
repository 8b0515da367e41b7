"""The weight on the step, its friction, and what draws the mast out."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from ..formulas import Value, Working
from ..formulas.thrust import (
    cone_friction_torque,
    cone_side_force,
    even_pressure_arm,
    even_thrust_pressure,
    even_wear_arm,
    face_friction_torque,
    hold_down_force,
    worn_thrust_pressure,
)
from ..limits import Check
from ..limits.about import BEARINGS, About, Cure
from ..limits.record import check_of
from ..rig import Bearings, Step, Thrust
from ..units import STANDARD_GRAVITY_M_S2
from .checks import told
from .record import ThrustResult
from .sideways import friction_of, material_of, standing_pressure

UPSIDE_DOWN_RAD = 3.141592653589793

LARGER_FACE = Cure(
    "give the face <{times:.2f} times its|more> area", "friction in turning, which grows with the radius"
)
HARDER_FACE = Cure("take a material that bears more", "money; often more friction")
HOLD_HARDER = Cure(
    "hold the heel down with <{force:.0f} N|more>", "a stronger pin, strap or collar, and what holds it"
)
THRUST = About(
    ("thrust-pressure",),
    BEARINGS,
    "The face under the heel is pressed too hard to last. What comes down the mast over the area of the "
    "face against the pressure that its material bears.",
    (even_thrust_pressure,),
    "Shocks from pitching, dirt, and a face that is not square to the mast.",
    (LARGER_FACE, HARDER_FACE),
    (worn_thrust_pressure,),
)
HOLD_DOWN = About(
    ("hold-down",),
    BEARINGS,
    "The mast could jump out of its step. What draws it up in any case, or its weight with the boat upside "
    "down, against what the file says that holds it.",
    (hold_down_force,),
    "The strength of whatever holds it: bearings.hold_down is taken as you give it.",
    (HOLD_HARDER,),
)


def thrust_torque(thrust: Thrust, *, force_N: Value, friction: float, working: Working) -> Value:
    """Return the friction torque of the face under a force, or under each of many.

    Parameters
    ----------
    thrust : Thrust
        The face.
    force_N : float or ndarray
        What comes down on it.
    friction : float
        Coefficient.
    working : Working
        Where steps are noted.
    """
    outer, inner = thrust.outer_m / 2, thrust.inner_m / 2
    arm_of = even_pressure_arm if thrust.wear == "uniform-pressure" else even_wear_arm
    arm = working.use(arm_of, R_2=outer, R_1=inner)
    if thrust.form == "cone":
        alpha = thrust.half_angle_rad
        return working.use(cone_friction_torque, mu=friction, N=force_N, R_m=arm, alpha=alpha)
    return working.use(face_friction_torque, mu=friction, N=force_N, R_m=arm)


def _pressure(thrust: Thrust, force_N: float, working: Working) -> float:
    """Greatest pressure on the face: worn in, that at the inner edge where there is one."""
    outer, inner = thrust.outer_m / 2, thrust.inner_m / 2
    if thrust.wear == "uniform-wear" and inner > 0.0:
        return float(working.use(worn_thrust_pressure, N=force_N, R_2=outer, R_1=inner))
    return float(working.use(even_thrust_pressure, N=force_N, R_2=outer, R_1=inner))


def thrust_result(
    step: Step, names: Sequence[str], down_N: Sequence[float], mass_kg: float, working: Working
) -> ThrustResult:
    """Return the weight on the step in the worst case, and what draws the mast out.

    Parameters
    ----------
    step : Bearing
        The heel bearing with its thrust face, where it has one.
    names, down_N : sequence
        Cases, and the compression that comes down in each.
    mass_kg : float
        Of mast, fittings and cloth.
    working : Working
        Where steps are noted.
    """
    most, least = (
        max(range(len(names)), key=lambda i: down_N[i]),
        min(range(len(names)), key=lambda i: down_N[i]),
    )
    down, friction = max(down_N[most], 0.0), friction_of(step)
    torques: tuple[float | None, float | None] = (None, None)
    pressure = None
    if step.thrust is not None:
        pressure = _pressure(step.thrust, down, working)
        if friction is not None:
            low, high = (
                thrust_torque(step.thrust, force_N=down, friction=mu, working=working) for mu in friction
            )
            torques = (low, high)
    cone = None
    if step.thrust is not None and step.thrust.form == "cone":
        least_down = max(down_N[least], 0.0)
        cone = float(working.use(cone_side_force, N=least_down, alpha=step.thrust.half_angle_rad))
    weight = mass_kg * STANDARD_GRAVITY_M_S2
    return ThrustResult(
        case=names[most],
        down_N=down,
        uplift_case=names[least] if down_N[least] < 0.0 else None,
        uplift_N=max(-down_N[least], 0.0),
        inverted_N=float(working.use(hold_down_force, W=weight, phi=UPSIDE_DOWN_RAD, P=0.0)),
        pressure_Pa=pressure,
        torque_low_N_m=torques[0],
        torque_high_N_m=torques[1],
        cone_holds_N=cone,
    )


def thrust_checks(
    bearings: Bearings, names: Sequence[str], down_N: Sequence[float], inverted_N: float, working: Working
) -> Iterator[Check]:
    """Yield the checks of the thrust face and of what holds the heel down."""
    step = bearings.step
    material, allowed = material_of(step), standing_pressure(step, material_of(step))
    for name, down in zip(names, down_N, strict=True):
        if step.thrust is not None and allowed is not None and down > 0.0:
            pressure = _pressure(step.thrust, down, working)
            source = "the user's own limit"
            if (
                step.standing_pressure_Pa is None
                and material is not None
                and material.standing_Pa is not None
            ):
                source = told(material)
            cure = f"{LARGER_FACE.said(times=pressure / allowed)}, or {HARDER_FACE.said()}"
            yield check_of(
                THRUST,
                case=name,
                height_m=0.0,
                demand=pressure,
                capacity=allowed,
                unit="Pa",
                formula=even_thrust_pressure,
                cure=cure,
                source=source,
            )
        if bearings.hold_down_N is not None:
            drawn = max(-down, 0.0, inverted_N)
            yield check_of(
                HOLD_DOWN,
                case=name,
                height_m=0.0,
                demand=drawn,
                capacity=bearings.hold_down_N,
                unit="N",
                formula=hold_down_force,
                cure=HOLD_HARDER.said(force=drawn),
            )
