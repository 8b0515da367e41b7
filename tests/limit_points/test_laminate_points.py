"""Laminate point by point: faces between plies, ends of plies, walls that buckle, bearings, and what is told."""

from __future__ import annotations

import math
import re
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from numpy.typing import NDArray

from rigcalc.formulas import Working
from rigcalc.formulas.laminate_tubes import (
    bearing_hoop_moment,
    face_transfer_shear_stress,
    knocked_down_strength,
    long_orthotropic_torsion_load,
    orthotropic_axial_knockdown,
    orthotropic_bending_knockdown,
    orthotropic_slenderness,
    ovalising_wave,
    tube_radial_shear_stress,
)
from rigcalc.limits.laminate import Skin, first_ply, skin_of
from rigcalc.limits.laminate_bearings import bearing_limits, bent_round, pressed_at
from rigcalc.limits.stresses import Internal
from rigcalc.materials.laminates import cylinder_buckling, find_ply_material, long_cylinder_load
from rigcalc.rig import Rig
from rigcalc.verdict.evaluate import Run
from tests.laminates import CARBON, CLOTH, GLASS, LOAD, WALL, plies, rig_of
from tests.laminates.test_masts import wall_alone

from . import USES, least, limit_of, solved, told

EVEN = (84, 84, 84)
LEFT = 0.8 * 100**-0.1 / 1.5
"""Water, cycles and safety factor of the lay-up's defaults on what the resin bears."""
COAT = [{"name": "coat", "plies": plies((0, 1.0), (90, 0.5))}]


def skins(rig: Rig, layer: int = 0) -> tuple[Run, Internal, Skin]:
    run, internal = solved(rig)
    sections = run.model.sections
    return run, internal, skin_of(sections, sections.layers[layer], internal, Working())


def sheathed(D: float = 80.0, B: float | None = None, start: float = 0.3, end: float = 1.5) -> Rig:
    mast: dict[str, Any] = {
        "material": "Sitka spruce (US)",
        "shape": "box" if B else "round",
        "stations": [
            {"height": f"{z} m", "diameter": f"{D} mm", "wall": "18 mm"}
            | ({"breadth": f"{B} mm"} if B else {})
            for z in (0, 5)
        ],
        "sheath": [{"start": f"{start} m", "end": f"{end} m", "laminate": "coat"}],
    }
    return rig_of(mast=mast, more=COAT)


# --- faces between plies ---------------------------------------------------------------------------


def apart(skin: Skin) -> NDArray[np.float64]:
    """How far the shares of E and of G inside any face differ, ply by ply; by element."""
    E, G = skin.laid.ply_moduli
    t = skin.laid.walls.stack.thickness_m
    found = []
    for number in skin.laid.index:
        shares = []
        for modulus in (E, G):
            parts = [
                float(m * th)
                for m, th in zip(modulus[number], np.broadcast_to(t, E.shape)[number], strict=True)
            ]
            shares.append([sum(parts[: k + 1]) / sum(parts) for k in range(len(parts))])
        found.append(max(abs(e - g) for e, g in zip(*shares, strict=True)))
    return np.array(found)[:, None]


def test_shear_between_plies_where_none_ends() -> None:
    """Through the wall, and what plies that share bending otherwise than twist hand on."""
    run, internal, skin = skins(rig_of(WALL, bores=EVEN))
    found = limit_of(run, "interlaminar")
    V = internal.shear_N
    D, d = 0.0956, 0.084
    by_hand = tube_radial_shear_stress(V=V, D=D, d=d) + face_transfer_shear_stress(
        V=V, f=apart(skin), r=(D + d) / 4
    )
    assert found.demand == pytest.approx(by_hand, rel=1e-9)
    assert np.all(apart(skin) > 0.02)


def test_plies_hand_over_where_they_begin_and_where_they_end() -> None:
    """Stress in the stiffest that ends there, over 20: at the upper end of the element below, or the lower above."""
    lots = [*WALL, *plies((0, 1.0, {"start": "1.2 m", "end": "2.6 m"}), (60, 0.4, {"end": "3.3 m"}))]
    run, internal, skin = skins(rig_of(lots, bores=EVEN))
    found, z = limit_of(run, "interlaminar").demand, run.model.sections.z_m
    V = internal.shear_N
    outer, inner = skin.layer.outer_m, skin.layer.inner_m
    rest = tube_radial_shear_stress(V=V, D=outer, d=inner) + face_transfer_shear_stress(
        V=V, f=apart(skin), r=(outer + inner) / 4
    )
    ends = found - rest
    handed = np.argwhere(ends[0] > 1e-6 * np.max(ends))
    assert sorted((round(float(z[tuple(i)]), 6), int(i[1])) for i in handed) == [(1.2, 0), (2.6, 7), (3.3, 7)]
    E = skin.laid.ply_moduli[0][skin.laid.index]
    for i, j in handed:
        ply = 5 if z[i, j] < 3.0 else 6
        strain = (skin.bent + skin.pressed)[0, i, j]
        assert ends[0, i, j] == pytest.approx(E[i, ply] * strain / 20, rel=1e-6)


@pytest.mark.parametrize(("D", "B"), [(110.0, 80.0), (80.0, 110.0)])
def test_a_sheath_on_a_box_counts_by_its_narrower_side(D: float, B: float) -> None:
    """Over its bond goes what it takes of moment or torque, whichever is more, or what its own plies hand on."""
    run, internal, skin = skins(sheathed(D, B), 1)
    r = (min(D, B) + 3 + min(D, B)) / 4 * 1e-3
    here = np.broadcast_to(skin.layer.present, skin.here.shape)
    assert np.any(here)
    assert not np.all(here)
    assert skin.radius_m[here] == pytest.approx(r)
    assert skin.radius_m[~here] == pytest.approx(1.0)
    # a tube lies inside it, and no bore of its own: the round formula has its greater sizes
    sections, layer = run.model.sections, skin.layer
    share = np.max(layer.EI_N_m2 / sections.planes_N_m2, axis=0)
    twist = layer.elastic.G_Pa * layer.shape.torsion_constant_m4 / sections.GJ_N_m2
    V = internal.shear_N
    own = face_transfer_shear_stress(V=V * share, f=apart(skin), r=r)
    bond = face_transfer_shear_stress(V=V, f=np.maximum(share, twist), r=r)
    through = tube_radial_shear_stress(
        V=V * share, D=np.where(here, layer.outer_m, 2.0), d=np.where(here, layer.inner_m, 1.0)
    )
    found = limit_of(run, "interlaminar", "sheath 1").demand
    inside = here.copy()
    inside[:, [0, -1]] = False
    assert found[:, inside] == pytest.approx((through + np.maximum(own, bond))[:, inside], rel=1e-9)
    assert not np.any(found[:, ~here])
    at_ends = np.zeros_like(here)
    at_ends[1:, 0] = here[1:, 0] & ~here[:-1, 0]
    at_ends[:-1, -1] = here[:-1, 0] & ~here[1:, 0]
    assert np.sum(at_ends) == 2
    assert np.all(found[:, at_ends] > (through + np.maximum(own, bond))[:, at_ends] * 1.01)


# --- walls that buckle ---------------------------------------------------------------------------------


def test_thrust_bending_and_twist_of_a_wall_at_every_point() -> None:
    """Each share by the formula of its kind, of the wall laid by itself."""
    times = 0.25
    lots = [{**lot, "thickness": f"{float(lot['thickness'].split()[0]) * times!r} mm"} for lot in WALL]
    run, _, skin = skins(rig_of(lots, bores=EVEN, case={"torque": "400 N m"}))
    wall = wall_alone(times)
    r = 0.042 + float(wall.wall_m) / 2
    A, D = wall.A_N_m, wall.D_N_m
    phi = orthotropic_slenderness(r=r, A_11=A[0, 0], A_22=A[1, 1], D_11=D[0, 0], D_22=D[1, 1])
    perfect = float(long_cylinder_load(skin.laid.walls)[0]) / r
    # the least over all waves of one wall by itself, of which many at once have the closed form
    assert perfect == pytest.approx(float(cylinder_buckling(wall, radius_m=r).line_load_N_m), rel=0.02)
    twist = long_orthotropic_torsion_load(A_11=A[0, 0], A_12=A[0, 1], A_22=A[1, 1], D_22=D[1, 1], r=r)
    membrane = (A[0, 0] - A[0, 1] ** 2 / A[1, 1], A[2, 2])
    R_c = 1.5 * skin.pressed * membrane[0] / (orthotropic_axial_knockdown(phi=phi) * perfect)
    R_b = 1.5 * skin.bent * membrane[0] / (orthotropic_bending_knockdown(phi=phi) * perfect)
    R_t = 1.5 * (skin.twisted + skin.sheared) * membrane[1] / twist
    found = limit_of(run, "wall-buckling")
    assert found.demand == pytest.approx(R_c + R_b + R_t**2, rel=1e-9)
    assert np.max(R_t) ** 2 > 0.05 * np.max(R_b)
    assert np.max(R_c) > 0.01 * np.max(R_b)


# --- what is told ------------------------------------------------------------------------------------


LAY = r"lay (\S+) times as much of every ply there \(wall from (\S+) to about (\S+) mm"


def thick(used: float, D: float, t: float) -> float | None:
    """Wall of used times the section modulus at one outside diameter, a fiftieth more for its own weight."""
    bore = 1 - 1.02 * used * (1 - (1 - 2 * t / D) ** 4)
    return None if bore <= 0 else D / 2 * (1 - bore**0.25)


@pytest.mark.parametrize("id", ["ply tsai-wu", "interlaminar"])
def test_plies_that_break(id: str) -> None:
    run, _ = solved(rig_of(WALL, bores=EVEN))
    advise, D, t = limit_of(run, id).advise, 95.6, 5.8
    kinds = set()
    for used in USES:
        said = advise(used, (3, 2))
        now, wide = told(r"raise the diameter from (\d+) to about (\d+) mm", said)
        assert (now, wide) == (96.0, pytest.approx(least(D * math.sqrt(used), 1.0)))
        wanted = thick(used, D, t)
        kinds.add(wanted is None)
        if wanted is None:
            assert said.endswith("; thicker plies alone do not help enough")
            continue
        times, wall, thicker = told(LAY, said)
        assert times == pytest.approx(least(wanted / t, 0.01))
        assert (wall, thicker) == (5.8, pytest.approx(least(wanted, 0.1)))
    assert kinds == {True, False}


@pytest.mark.parametrize(
    ("id", "best"),
    [
        ("wall-buckling", "more plies round the mast and at 45 deg above all"),
        ("flattening", "more plies round the mast above all, on both faces of the wall"),
    ],
)
def test_walls_that_buckle_or_flatten(id: str, best: str) -> None:
    """Both go by the square of the wall."""
    run, _ = solved(rig_of(WALL, bores=EVEN))
    advise = limit_of(run, id).advise
    for used in USES:
        said = advise(used, (3, 2))
        times, wall, thicker = told(LAY, said)
        assert times == pytest.approx(least(math.sqrt(used), 0.01))
        assert (wall, thicker) == (5.8, pytest.approx(least(5.8 * math.sqrt(used), 0.1)))
        assert said.endswith(f", or {best}")


def test_a_sheath_is_strained_with_what_it_covers() -> None:
    run, _ = solved(sheathed())
    advise = limit_of(run, "ply max-strain", "sheath 1").advise
    for used in USES:
        (times,) = told(r"; stiffen the mast (\S+) times there", advise(used, (6, 2)))
        assert times == pytest.approx(least(used, 0.01))


def test_ends_of_plies_are_told_of_where_they_make_the_most_of_it() -> None:
    lots = [*WALL, *plies((0, 2.0, {"end": "2.6 m"}))]
    run, _ = solved(rig_of(lots, bores=EVEN))
    one, z = limit_of(run, "interlaminar"), run.model.sections.z_m
    i, j = np.argwhere(np.isclose(z, 2.6))[0]
    for used in USES:
        share, taper = told(
            r"at most (\d+)% of that here, or in a taper of (\d+) times their thickness",
            one.advise(used, (i, j)),
        )
        assert share == pytest.approx(100 / used, abs=0.501)
        assert taper == pytest.approx(least(20 * used, 1.0))
        assert "end" not in one.advise(used, (i, j - 1))


CASES = {
    "bent": {"line_load": [["0.8 m", "190 N/m"], ["5 m", "9 N/m"]], "torque": "0 N m", "axial": "0 N"},
    "twisted": {
        "line_load": [["0.8 m", "0.1 N/m"], ["5 m", "0.1 N/m"]],
        "point_load": [],
        "torque": "2500 N m",
        "axial": "0 N",
    },
}


def test_the_ply_named_is_that_of_the_case_that_is_told_of() -> None:
    """Bent, the ply round the mast cracks; twisted, plies shear: each is told as if it stood alone."""
    thin = plies((0, 0.8), (90, 0.4))

    def said(*names: str) -> dict[str, str]:
        first, *others = ({**LOAD, **CASES[name], "name": name} for name in names)
        rig = rig_of(thin, bores=(60, 60, 40), criterion="max-stress", case=first)
        if others:
            other = rig_of(thin, bores=(60, 60, 40), criterion="max-stress", case=others[0])
            rig = replace(rig, cases=rig.cases + other.cases)
        run, _ = solved(rig)
        return {c.case: c.advice for c in run.checks if c.id == "ply max-stress"}

    together = said("bent", "twisted")
    assert together == said("bent") | said("twisted")
    named = {name: re.match(r"(.*) fails first, in (.*?)[;,]", text) for name, text in together.items()}
    assert all(named.values()), together
    assert named["bent"][0] != named["twisted"][0]  # type: ignore[index]  # both were found


def test_ends_of_plies_are_told_of_in_the_case_in_which_they_count() -> None:
    """Pushed far above the end of a ply it is bent there; pushed just above it is sheared."""
    lots = [*WALL, *plies((0, 2.0, {"end": "2.6 m"}))]
    still = {
        "line_load": [["0.8 m", "0 N/m"], ["5 m", "0 N/m"]],
        "torque": "0 N m",
        "own_weight_heel": "0 deg",
        "axial": "0 N",
    }

    def push(name: str, height: float, force: float) -> Rig:
        load = [{"height": f"{height} m", "side": f"{force} N", "forward": "0 N"}]
        return rig_of(lots, bores=EVEN, case={**LOAD, **still, "name": name, "point_load": load})

    far, near = push("far", 5.0, 100.0), push("near", 2.61, 9000.0)
    run, _ = solved(replace(far, cases=far.cases + near.cases))
    one, z = limit_of(run, "interlaminar"), run.model.sections.z_m
    i, j = np.argwhere(np.isclose(z, 2.6))[0]
    used = one.utilisation[:, i, j]
    assert abs(used[0] - used[1]) > 0.1 * max(used)
    assert one.advise(float(used[0]), (i, j)).startswith("let the plies that end here end where")
    assert "end" not in one.advise(float(used[1]), (i, j))


# --- bearings ----------------------------------------------------------------------------------------

LENGTHS = {"partners": {"length": "70 mm"}, "step": {"length": "50 mm"}}


@pytest.mark.parametrize("given", [True, False])
def test_where_bearings_press_and_how_hard(given: bool) -> None:
    rig = rig_of(WALL, bores=EVEN, bearings=LENGTHS if given else None)
    run, internal, skin = skins(rig)
    under = pressed_at(rig, skin, internal)
    z = run.model.sections.z_m
    spots = {(int(i), int(j)): float(z[i, j]) for i, j in np.argwhere(under.where)}
    assert sorted(spots.values()) == pytest.approx([0.0, 0.6, 0.6])
    assert sorted(j for (_, j), height in spots.items() if height > 0.5) == [0, 7]
    (case,) = run.loads
    assert case.name == "given"
    shear = internal.straight_shear_N[:, 0]
    below, above = ((i, j) for (i, j), height in sorted(spots.items()) if height > 0.5)
    # on the straight mast a bearing is where the shear jumps
    jump = math.hypot(*(shear[:, *above] - shear[:, *below]))
    foot = math.hypot(*shear[:, 0, 0])
    assert math.hypot(*run.solved.small.partners_N[:, 0]) == pytest.approx(jump)
    assert math.hypot(*run.solved.small.heel_N[:, 0]) == pytest.approx(foot)
    partners, step = (math.hypot(*of[:, 0]) for of in (run.solved.bent_partners_N, run.solved.bent_heel_N))
    for (i, j), height in spots.items():
        assert under.force_N[0, i, j] == pytest.approx(
            max(jump, partners) if height > 0.5 else max(foot, step)
        )
        assert under.across_m[i, j] == pytest.approx(0.0956)
        length = (0.07 if height > 0.5 else 0.05) if given else 0.0478
        assert under.length_m[i, j] == pytest.approx(length)
    assert not np.any(under.force_N[:, ~under.where])
    assert np.all(under.across_m[~under.where] == 1.0)
    assert np.all(under.length_m[~under.where] == 1.0)


def test_bearings_too_short_and_walls_too_thin_for_them() -> None:
    rig = rig_of(WALL, bores=EVEN, bearings=LENGTHS)
    _, internal, skin = skins(rig)
    found = {one.id: one for one in bearing_limits(rig, skin, internal, Working())}
    assert set(found) == {"bearing", "crushing", "ring"}
    for used in USES:
        for id in ("bearing", "crushing"):
            times, now = told(
                r"the bearing (\S+) times as long \(it is taken as (\d+) mm\), or fit a sleeve",
                found[id].advise(used, (0, 0)),
            )
            assert (now, times) == (50.0, pytest.approx(least(used, 0.01)))
        wall, now = told(r"a wall of about (\S+) mm for (\S+) would do", found["ring"].advise(used, (0, 0)))
        assert (now, wall) == (5.8, pytest.approx(least(5.8 * used, 0.1)))
    for one in found.values():
        assert one.where is not None
        assert np.all(one.demand[0][one.where] > 0.0)
        assert float(np.max(one.utilisation[:, ~one.where])) == 0.0


@pytest.mark.parametrize(
    ("materials", "bears"),
    [
        # across a cloth lie fibres; across the fibres of one direction the resin, which bears less than is stated
        ((CLOTH,), 500e6),
        ((GLASS,), 118e6),
        ((CLOTH, GLASS), 118e6),
        ((CARBON, CLOTH), None),
    ],
)
def test_what_a_wall_bears_through_its_thickness(materials: tuple[str, ...], bears: float | None) -> None:
    lots = [lot for name in materials for lot in plies((0, 1.5), (90, 1.5), material=name)]
    rig = rig_of(lots, bores=EVEN, criterion="max-strain", crushing="500 MPa")
    run, _ = solved(rig)
    wanted = find_ply_material(CARBON).Yc_Pa if bears is None else bears
    assert wanted is not None
    expected = float(knocked_down_strength(f=wanted, k=0.8 * 100**-0.1, gamma=1.5))
    assert expected == pytest.approx(wanted * LEFT)
    assert limit_of(run, "crushing").capacity == pytest.approx(expected)


def test_a_point_that_fails_is_named_by_itself() -> None:
    """One place at a time, and many at once, in whatever order they are asked for."""
    lots = [*plies((0, 0.8), (90, 0.4)), *plies((30, 0.3, {"end": "2 m"}), (-30, 0.3, {"end": "2 m"}))]
    _, _, skin = skins(rig_of(lots, bores=EVEN, criterion="max-stress", case={"torque": "300 N m"}))
    first = first_ply(skin, "max-stress")
    shape = first.use.shape
    everywhere = np.indices(shape).reshape(3, -1)[:, ::-17]
    failing, modes = first.fails(tuple(everywhere))
    for place, lot, mode in zip(everywhere.T, failing, modes, strict=True):
        (one,), (how,) = first.fails(tuple(place))
        assert (one, how) == (lot, mode)
    assert len(set(zip(failing.tolist(), modes.tolist(), strict=True))) > 1


@pytest.mark.parametrize(("angle", "steep"), [(75.0, True), (-75.0, True), (59.0, True), (55.0, False)])
def test_a_steep_ply_that_cracks_is_told_to_lie_nearer_to_45(angle: float, steep: bool) -> None:
    """Of two that mirror each other the first is named; 1 rad, 57.3 degrees, is what counts as steep."""
    lots = plies((angle, 0.5), (-angle, 0.5), (0, 1.5))
    run, _ = solved(rig_of(lots, bores=(60, 60, 40), criterion="max-strain"))
    said = limit_of(run, "ply max-strain").advise(1.3, (3, 2))
    assert f"at {angle:g} deg fails first, in transverse tension" in said
    assert ("would bear more if laid nearer to 45 deg" in said) is steep


def test_the_wall_under_a_bearing_is_bent_as_a_ring_of_its_plies() -> None:
    """Curvature of the moment round the mast, by the stiffnesses of the wall laid by itself."""
    rig = rig_of(WALL, bores=EVEN, bearings=LENGTHS)
    _, internal, skin = skins(rig)
    ring = next(one for one in bearing_limits(rig, skin, internal, Working()) if one.id == "ring")
    under, wall, r = pressed_at(rig, skin, internal), wall_alone(), 0.0449
    A, D_22 = wall.A_N_m, wall.D_N_m[1, 1]
    wave = ovalising_wave(A_11=A[0, 0], A_12=A[0, 1], A_22=A[1, 1], D_22=D_22, r=r)
    moment = bearing_hoop_moment(F=under.force_N, w=under.length_m, r=r, k_o=wave)
    by_hand = bent_round(skin, under.where, (moment / D_22)[:, under.where]) * 1.5
    assert ring.demand[:, under.where] == pytest.approx(by_hand, rel=1e-9)


def test_what_breaks_a_ply_names_the_factors_on_it() -> None:
    run, _ = solved(rig_of(WALL, bores=EVEN))
    plies_of = [c for c in run.checks if c.id.startswith("ply ")]
    assert len(plies_of) > 1
    assert all("factor 1.5" in c.source for c in plies_of)


def test_a_steep_ply_that_shears_is_not_told_to_turn() -> None:
    """At 45 degrees it would be strained along its fibres; but it is cracks across them that the advice is for."""
    lots = plies((90, 0.8), (0, 0.4))
    run, _ = solved(rig_of(lots, bores=(60, 60, 40), criterion="max-stress", case=CASES["twisted"]))
    said = limit_of(run, "ply max-stress").advise(1.3, (3, 2))
    assert "at 90 deg fails first, in shear;" in said
    assert "nearer to 45 deg" not in said
