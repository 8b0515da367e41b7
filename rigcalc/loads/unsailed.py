"""Cases without a sail drawing: bare in a storm, swung about, knocked flat, lifted, or loaded as given."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from ..formulas import Value, Working
from ..formulas.motion import swing_acceleration
from ..formulas.stability import roll_period
from ..formulas.wind import drag_per_length, reynolds_number, wind_pressure
from ..rig import UNEVEN, Case, Rig, dynamic_factor_of
from ..units import STANDARD_GRAVITY_M_S2
from .case import CaseLoad, Lay, Varied, cloth_on_mast, force_direction, tells, winds
from .coefficients import spar_drag
from .line import Applied, LineLoad, PointLoad, Profile, from_curve, plain
from .righting import metacentric_height, roll_gyration
from .sailing import is_on_this_mast
from .spar import exposed, rolled_line
from .states import SetSail, set_sail
from .wind import WindAtMast

DRAG_CRISIS_REYNOLDS = 2.0e5
ROLL_PERIOD_S = 2.5
SEA_WATER_KG_M3 = 1025.0


def sails_taken_in(rig: Rig) -> tuple[SetSail, ...]:
    """Return what stays on this mast when no sail is set: the rolls."""
    taken = (set_sail(sail, 0.0) for sail in rig.sails)
    return tuple(s for s in taken if s.rolled is not None and is_on_this_mast(rig, s))


def bare(rig: Rig, case: Case, working: Working) -> Lay:
    """Wind on the spar and the rolls on it, above the partners and the water."""
    blowing = winds(case)
    assert blowing is not None
    mean, factor, gust = blowing
    wind = WindAtMast(rig.wind, rig.boat.waterline_m)
    rolls = sails_taken_in(rig)
    crisis = case.drag_crisis == "table"
    extra, heel = dynamic_factor_of(case), case.heel_rad or 0.0
    side, forward = force_direction(case)
    # only the wind across the leaning mast counts: heel takes nothing off a wind from ahead or astern
    across = 1 - (side * np.sin(heel)) ** 2 if case.inclined_flow == "cosine-squared" else 1.0

    def lay(outside: LineLoad, varied: Varied) -> CaseLoad:
        rolled, speed = rolled_line(outside, rolls), gust * varied.wind
        widest = _widest(rolled)
        reynolds = working.use(reynolds_number, v=speed, D=widest, nu=rig.wind.air_viscosity_m2_s)
        coefficient = case.force_coefficient or spar_drag(rig.mast, reynolds, crisis=crisis)
        reference = np.full(np.shape(speed), rig.boat.waterline_m + rig.wind.reference_height_m)
        pressure = plain(wind.pressure_Pa(speed, reference, working)) * extra
        per_metre = plain(working.use(drag_per_length, C_D=coefficient, q=pressure, D=1.0)) * across
        notes: list[str] = []
        if tells(outside, varied):
            notes.append(
                f"wind {mean:.1f} m/s x gust {factor:.2f}, load x {extra:g}, drag coefficient {coefficient:.3g}"
            )
            if rolls:
                named = " and ".join(s.sail.name for s in rolls)
                notes.append(f"with {named} rolled on it, up to {widest * 1e3:.0f} mm thick")
            if case.force_coefficient is None:
                notes += _of_drag(rig, reynolds, crisis=crisis)
        lines = exposed(rig, rolled, wind, ())
        return CaseLoad(
            name=case.name,
            kind=case.kind,
            state="no sail",
            applied=Applied(tuple(line.scaled(per_metre).along(side, forward) for line in lines)),
            weight_heel_rad=heel,
            weight_factor=extra,
            hung_kg_m=cloth_on_mast(rolls),
            wind_speed_m_s=mean,
            heel_rad=heel,
            notes=tuple(notes),
        )

    return lay


def _of_drag(rig: Rig, reynolds: float, *, crisis: bool) -> Iterator[str]:
    """Say what a drag coefficient that was worked out leaves aside."""
    if rig.mast.shape in UNEVEN:
        yield "the mast is taken across the wind, whichever way it is turned"
    if rig.mast.shape == "round" and not crisis and reynolds > DRAG_CRISIS_REYNOLDS:
        yield (
            f"Reynolds number {reynolds:.2g} lies in or past the drag crisis of a smooth cylinder; no credit is taken"
        )


def motion(rig: Rig, case: Case, working: Working) -> Lay:
    """Mast and rolls thrown about by roll and pitch, at the ends of both swings at once.

    At the end of a swing the boat leans furthest and turns back hardest, so weight and inertia pull
    the same way. Both swings turn about the waterline.
    """
    period = case.roll_period_s or own_roll_period(rig, working)
    roll = float(working.use(swing_acceleration, phi=case.roll_amplitude_rad, T=period))
    pitch = float(working.use(swing_acceleration, phi=case.pitch_amplitude_rad, T=case.pitch_period_s))
    rolls, extra = sails_taken_in(rig), dynamic_factor_of(case)

    def lay(outside: LineLoad, varied: Varied) -> CaseLoad:
        return CaseLoad(
            name=case.name,
            kind=case.kind,
            state="no sail",
            weight_heel_rad=case.roll_amplitude_rad,
            weight_factor=extra,
            pitch_rad=case.pitch_amplitude_rad,
            swing_rad_s2=(roll * varied.swing, pitch * varied.swing),
            swing_about_m=rig.boat.waterline_m,
            hung_kg_m=cloth_on_mast(rolls),
            heel_rad=case.roll_amplitude_rad,
            notes=(
                f"roll {np.degrees(case.roll_amplitude_rad):.0f} deg in {period:.1f} s with pitch "
                f"{np.degrees(case.pitch_amplitude_rad):.0f} deg in {case.pitch_period_s:.1f} s, x {extra:g}",
            ),
        )

    return lay


def own_roll_period(rig: Rig, working: Working) -> float:
    """Return the boat's period of roll, or one that small boats have where her data do not give it."""
    k, gm = roll_gyration(rig.boat), metacentric_height(rig.boat)
    if k is None or gm is None or gm <= 0.0:
        return ROLL_PERIOD_S
    return float(working.use(roll_period, k=k, g=STANDARD_GRAVITY_M_S2, GM=gm))


def knockdown(rig: Rig, case: Case, working: Working) -> Lay:
    """The mast level: its own weight across it, and the drag of the water where it goes in."""
    rolls, extra = sails_taken_in(rig), dynamic_factor_of(case)
    notes = [f"own weight level x {extra:g}"]
    drag = 0.0
    tip, wet, about = rig.mast.length_m, case.wet_length_m, rig.boat.waterline_m
    if case.tip_speed_m_s is None or wet is None:
        wet = None
        notes.append(
            "drag of the mast in the water is left out: no tip_speed is given, and no published value was read"
        )
    else:
        speed = case.tip_speed_m_s
        # the coefficient of the water is that of air before the drag crisis
        coefficient = spar_drag(rig.mast, 1e5, crisis=False)
        at_tip = float(working.use(wind_pressure, rho=SEA_WATER_KG_M3, v=speed)) * coefficient
        drag = at_tip / (tip - about) ** 2 * extra
        notes.append(f"drawn up through the water, {wet:.2f} m of it wet, at a tip speed of {speed:.1f} m/s")
        if case.sealed == "yes":
            notes.append("buoyancy of the sealed mast counted with them, which is the safe side")

    def lay(outside: LineLoad, varied: Varied) -> CaseLoad:
        lines: list[LineLoad] = []
        if wet is not None:
            # as the boat rights herself she draws the mast up through the water: drag and weight pull alike
            wide = rolled_line(outside, rolls).between(tip - wet, tip)
            lines.append(_shaped(wide, lambda z: drag * wide.at(z) * (z - about) ** 2))
            if case.sealed == "yes":
                # going in, buoyancy works with the drag and weight against them; drawn out, the other way
                # round. Which is worse hangs on the mast: taking all three together is the safe side
                filled = 1.0 if rig.mast.shape in ("box", "staves") else np.pi / 4
                lift = SEA_WATER_KG_M3 * STANDARD_GRAVITY_M_S2 * filled
                spar = outside.between(tip - wet, tip)
                lines.append(_shaped(spar, lambda z: lift * spar.at(z) ** 2))
        return CaseLoad(
            name=case.name,
            kind=case.kind,
            state="no sail",
            applied=Applied(tuple(lines)),
            weight_heel_rad=np.pi / 2,
            weight_factor=extra,
            hung_kg_m=cloth_on_mast(rolls),
            heel_rad=np.pi / 2,
            notes=tuple(notes),
        )

    return lay


def _shaped(outside: LineLoad, profile: Profile) -> LineLoad:
    """Return a load with the breaks of an outside."""
    even = np.ones_like(outside.lower)
    return LineLoad(outside.breaks_m, even, even, profile)


def lift(rig: Rig, case: Case, working: Working) -> Lay:
    """The mast level on two slings or props."""
    low, high = case.lower_height_m, case.upper_height_m
    if low is None or high is None:
        raise ValueError(f"case {case.name!r} names no two heights")
    return _as_it_is(
        CaseLoad(
            name=case.name,
            kind=case.kind,
            state="no sail",
            weight_heel_rad=np.pi / 2,
            weight_factor=dynamic_factor_of(case),
            hung_kg_m=cloth_on_mast(sails_taken_in(rig)),
            held_at_m=(low, high),
            heel_rad=np.pi / 2,
            notes=(
                f"own weight level x {dynamic_factor_of(case):g}, held at z = {low:.2f} m (in the column of the step) "
                f"and {high:.2f} m (in that of the partners)",
            ),
        )
    )


def given(rig: Rig, case: Case, working: Working) -> Lay:
    """A reviewer's own loads."""
    lines = (
        from_curve(case.line_load, side=1.0, forward=0.0) if case.line_load else None,
        from_curve(case.line_load_forward, side=0.0, forward=1.0) if case.line_load_forward else None,
    )
    points = (
        *(PointLoad(p.height_m, p.side_N, p.forward_N) for p in case.point_load),
        PointLoad(rig.mast.length_m, axial_N=case.axial_N),
    )
    return _as_it_is(
        CaseLoad(
            name=case.name,
            kind=case.kind,
            state="as given",
            applied=Applied(tuple(line for line in lines if line is not None), points),
            torque_N_m=case.torque_N_m,
            weight_heel_rad=case.own_weight_heel_rad,
            heel_rad=case.own_weight_heel_rad,
            notes=("loads taken as given, without a factor of ours",),
        )
    )


def _as_it_is(load: CaseLoad) -> Lay:
    """Return a load that no outside of the mast has a part in."""
    return lambda outside, varied: load


def _widest(outside: LineLoad) -> Value:
    nodes = np.linspace(0.0, 1.0, 9)
    z = outside.breaks_m[..., :-1, None] + np.diff(outside.breaks_m)[..., None] * nodes
    return plain(np.max(outside.at(z), axis=(-2, -1)))
