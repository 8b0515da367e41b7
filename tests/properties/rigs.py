"""Random rigs that a file may hold, as nested plain values that a test can change, and the text of the file.

A quantity is a ``Q`` with its unit, so that a test can scale all lengths, or all loads, and nothing else. Nearly every
rig drawn is valid; what the reader refuses all the same is left out by `read`.
"""

from __future__ import annotations

import copy
import math
from collections.abc import Callable, Iterator
from typing import Any, NamedTuple

from hypothesis import assume
from hypothesis import strategies as st

from rigcalc import CheckResult, RigInputError, check, read_rig
from rigcalc.rig import Rig

Table = dict[str, Any]
"""Keys of a rig file to values, quantities, tables and lists of them."""


class Q(NamedTuple):
    """A number with its unit."""

    value: float
    unit: str

    def __mul__(self, factor: object) -> Q:  # type: ignore[override]  # of a tuple it would repeat it
        assert isinstance(factor, int | float)
        return Q(self.value * factor, self.unit)


def _inline(value: object) -> str:
    match value:
        case Q():
            return f'"{value.value!r} {value.unit}"'
        case bool():
            return str(value).lower()
        case str():
            return f'"{value}"'
        case int() | float():
            return repr(value)
        case list():
            return f"[{', '.join(map(_inline, value))}]"
        case dict():
            return "{" + ", ".join(f'"{key}" = {_inline(item)}' for key, item in value.items()) + "}"
    raise TypeError(type(value))


def text_of(rig: Table) -> str:
    """Return the file: tables in their headings, all below them in one line each."""
    lines: list[str] = [f"title = {_inline(rig['title'])}"]
    for key, value in rig.items():
        if isinstance(value, dict):
            lines.append(f"[{key}]")
            lines += [f"{name} = {_inline(item)}" for name, item in value.items()]
        elif isinstance(value, list):
            for row in value:
                lines.append(f"[[{key}]]")
                lines += [f"{name} = {_inline(item)}" for name, item in row.items()]
    return "\n".join(lines) + "\n"


def read(rig: Table) -> Rig:
    """Return a rig drawn; leave the example out where the reader has its reasons against it."""
    try:
        return read_rig(text_of(rig))
    except RigInputError:
        assume(False)
        raise


def checked(rig: Table) -> CheckResult:
    """Return what `check` says of a rig drawn; leave out what it has no formula for."""
    try:
        return check(read(rig))
    except RigInputError:
        assume(False)
        raise


def changed(rig: Table, change: Callable[[Table], object]) -> Table:
    """Return a changed copy."""
    other = copy.deepcopy(rig)
    change(other)
    return other


def quantities(value: Any) -> Iterator[tuple[Any, Any, Q]]:
    """Yield every quantity with what holds it, so that it can be replaced."""
    if isinstance(value, dict | list):
        for key, item in list(value.items() if isinstance(value, dict) else enumerate(value)):
            if isinstance(item, Q):
                yield value, key, item
            else:
                yield from quantities(item)


def some(low: float, high: float, digits: int = 4) -> st.SearchStrategy[float]:
    """Return numbers as people write them, none next to nothing."""
    return st.floats(low, high).map(lambda value: round(value, digits))


def metres(value: float) -> Q:
    return Q(round(value, 6), "m")


ALLOY = {
    "name": "alloy",
    "family": "metal",
    "E": Q(69.5e9, "Pa"),
    "G": Q(26.1e9, "Pa"),
    "nu": 0.33,
    "density": Q(2710.0, "kg/m3"),
    "proof": Q(215e6, "Pa"),
    "ultimate": Q(245e6, "Pa"),
    "welded_proof": Q(105e6, "Pa"),
    "welded_ultimate": Q(155e6, "Pa"),
    "source": "invented",
}
GLASS = {
    "name": "glass",
    "plies": [
        {
            "material": "E-glass/epoxy UD 0.45",
            "angle": Q(45.0, "deg"),
            "thickness": Q(0.0003, "m"),
            "count": 1,
        },
        {
            "material": "E-glass/epoxy UD 0.45",
            "angle": Q(-45.0, "deg"),
            "thickness": Q(0.0003, "m"),
            "count": 1,
        },
        {
            "material": "E-glass/epoxy UD 0.45",
            "angle": Q(0.0, "deg"),
            "thickness": Q(0.0005, "m"),
            "count": 9,
        },
        {
            "material": "E-glass/epoxy woven 0.50",
            "angle": Q(45.0, "deg"),
            "thickness": Q(0.0003, "m"),
            "count": 2,
        },
    ],
}
SHEATH = {
    "name": "sheath",
    "plies": [
        {
            "material": "E-glass/epoxy UD 0.45",
            "angle": Q(0.0, "deg"),
            "thickness": Q(0.0004, "m"),
            "count": 2,
        },
        {"material": "E-glass/epoxy woven 0.50", "angle": Q(45.0, "deg"), "thickness": Q(0.0003, "m")},
    ],
}
MAKES = ("metal", "timber", "graded", "laminate")
MATERIALS = {"metal": "alloy", "timber": "Sitka spruce (US)", "graded": "C24", "laminate": "glass"}
KINDS = ("heel-limited", "wind-limited", "bare", "motion", "knockdown", "lift", "given")


@st.composite
def masts(draw: st.DrawFn, make: str) -> Table:
    """Masts of one make: round or not, tapered, hollow or solid, sleeved, plugged, sheathed, holed, welded."""
    length = draw(some(3.5, 9.0, 3))
    bury = round(length * draw(some(0.09, 0.22)), 3)
    metal, wood = make == "metal", make in ("timber", "graded")
    heel = round(length * draw(some(0.014, 0.024)), 4)
    mast: Table = {"length": metres(length), "bury": metres(bury), "material": MATERIALS[make]}
    if draw(st.booleans()):
        mast["fittings_mass"] = Q(draw(some(0.2, 3.0, 2)), "kg")
    shape = draw(
        st.sampled_from(
            {"metal": ("round", "box", "ellipse"), "laminate": ("round",)}.get(
                make, ("round", "staves", "box")
            )
        )
    )
    if shape != "round":
        mast["shape"] = shape
    if shape in ("box", "ellipse"):
        mast["turns"] = [Q(angle, "deg") for angle in draw(st.sampled_from([(0.0,), (0.0, 35.0), (90.0,)]))]
    if shape == "staves":
        mast["sides"] = draw(st.sampled_from([8, 12]))
        mast["outside"] = draw(st.sampled_from(["round", "flat"]))
    tip, waist = (
        round(heel * draw(some(0.45, 0.95)), 4),
        round(bury + (length - bury) * draw(some(0.1, 0.6)), 3),
    )
    share = draw(some(0.03, 0.07)) if metal else draw(some(0.17, 0.3))
    solid = wood and shape != "staves" and draw(st.booleans())
    breadth = draw(some(0.75, 1.0, 2)) if shape in ("box", "ellipse") else None

    def station(z: float, size: float) -> Table:
        row: Table = {"height": metres(z), "diameter": metres(size)}
        if breadth is not None:
            row["breadth"] = metres(size * breadth)
        if make != "laminate" and not solid:
            row["wall"] = metres(size * share * (breadth or 1.0))
        return row

    mast["stations"] = [station(0.0, heel), station(waist, heel), station(length, tip)]
    if metal and shape == "round" and draw(st.booleans()):
        # the upper length slides into the lower, and its tail goes on inside
        wall = heel * share
        upper = round(heel - 2 * wall - 1e-4, 6)
        low, high = (
            station(waist, heel),
            {"height": metres(waist), "diameter": metres(upper), "wall": metres(wall)},
        )
        mast["stations"] = [station(0.0, heel), low, high, high | {"height": metres(length)}]
        tail = {"start": metres(waist - 3.5 * upper), "end": metres(waist)}
        if waist - 3.5 * upper > 0.05:
            mast["sleeve"] = [tail | {"diameter": metres(upper), "wall": metres(wall)}]
    elif metal and shape == "round" and draw(st.integers(0, 3)) == 0:
        mast["support"] = "post"
        mast["post"] = {"diameter": metres(heel * (1 - 2 * share) * 0.85), "wall": metres(heel * share)}
        if draw(st.booleans()):
            mast["post"]["socket"] = metres(bury * 0.5)
    if metal and shape == "round" and draw(st.booleans()):
        mast["opening"] = [{"height": metres(draw(some(0.1, 0.95)) * length), "width": metres(tip * 0.15)}]
    if metal and draw(st.booleans()):
        mast["weld"] = [{"height": metres(draw(some(0.1, 0.9)) * length), "extent": Q(0.03, "m")}]
    if wood and not solid and draw(st.booleans()):
        mast["plug"] = [{"start": metres(0.0), "end": metres(bury * 1.4), "tail": metres(0.2)}]
    if wood and draw(st.booleans()):
        mast["sheath"] = [{"start": metres(0.0), "end": metres(waist), "laminate": "sheath"}]
    return mast


@st.composite
def sails(draw: st.DrawFn, mast: Table, name: str = "main") -> Table:
    length, bury = mast["length"].value, mast["bury"].value
    tack = round(bury + draw(some(0.15, 0.6)), 3)
    luff = round((length - tack) * draw(some(0.6, 0.97)), 3)
    sail: Table = {
        "name": name,
        "luff": metres(luff),
        "foot": metres(round(luff * draw(some(0.3, 0.6)), 3)),
        "tack_height": metres(tack),
        "hold": draw(st.sampled_from(["rolled", "luff", "sleeve", "battens"])),
        "cloth_mass": Q(draw(some(0.15, 0.35, 3)), "kg/m2"),
    }
    if draw(st.booleans()):
        sail["clew_rise"] = metres(luff * draw(some(0.0, 0.1)))
    sail["load_path"] = draw(st.sampled_from(["luff", "membrane", "corners"]))
    if sail["load_path"] == "membrane" and draw(st.booleans()):
        sail["clew_held"] = draw(st.sampled_from(["boom", "wishbone"]))
        sail["spar_height"] = metres(tack + luff * draw(some(0.0, 0.3)))
    if sail["hold"] == "battens":
        sail["panels"] = 4
    return sail


@st.composite
def boats(draw: st.DrawFn, length: float) -> Table:
    tonnes = draw(some(0.4, 1.6, 3)) * (length / 6) ** 3
    boat: Table = {
        "displacement": Q(round(1000 * tonnes, 1), "kg"),
        "waterline": Q(draw(some(0.1, 0.6, 3)), "m"),
        "lateral_centre": Q(draw(some(-0.3, 0.05, 3)), "m"),
        "beam": Q(round(length * draw(some(0.25, 0.33)), 3), "m"),
    }
    arm = draw(some(0.15, 0.35, 3))
    moment = 1000 * tonnes * 9.81 * arm
    boat["stability"] = draw(
        st.sampled_from(
            [
                {"moment_30": Q(round(0.8 * moment, 1), "N m"), "moment_max": Q(round(moment, 1), "N m")},
                {"gm": Q(round(1.8 * arm, 3), "m"), "bm": Q(0.9, "m")},
                {
                    "righting_arm": [
                        [Q(heel, "deg"), Q(round(arm * share, 4), "m")]
                        for heel, share in (
                            (0.0, 0.0),
                            (15.0, 0.5),
                            (30.0, 0.85),
                            (50.0, 1.0),
                            (75.0, 0.8),
                            (110.0, 0.0),
                        )
                    ]
                },
            ]
        )
    )
    return boat


@st.composite
def cases(draw: st.DrawFn, mast: Table, kind: str, *, name: str | None = None) -> Table:
    """Cases of one kind."""
    length, bury = mast["length"].value, mast["bury"].value
    case: Table = {"name": name or kind, "kind": kind}
    match kind:
        case "heel-limited":
            case["arm"] = draw(st.sampled_from(["lateral-centre", "partners"]))
        case "wind-limited":
            case["wind_speed"] = Q(draw(some(5, 12, 2)), "m/s")
            if draw(st.booleans()):
                case["true_wind_angle"] = Q(draw(some(90, 180, 1)), "deg")
        case "bare":
            case["wind_speed"] = Q(draw(some(15, 35, 2)), "m/s")
            case["force_angle"] = Q(draw(some(0, 180, 1)), "deg")
        case "motion":
            case["roll_amplitude"] = Q(draw(some(10, 35, 1)), "deg")
        case "lift":
            case["lower_height"] = metres(length * draw(some(0.05, 0.3)))
            case["upper_height"] = metres(length * draw(some(0.5, 0.9)))
        case "given":
            case |= draw(given_loads(length, bury))
    return case


@st.composite
def given_loads(draw: st.DrawFn, length: float, bury: float, *, along: bool = True) -> Table:
    """Loads as a reviewer gives them, of a size that suits the mast."""
    size = 900 * (length / 6) ** 2
    middle = round(bury + (length - bury) * draw(some(0.2, 0.7)), 3)
    loads: Table = {
        "line_load": [
            [metres(bury), Q(round(size / length * draw(some(0, 0.4)), 2), "N/m")],
            [metres(middle), Q(round(size / length * draw(some(0, 0.4)), 2), "N/m")],
            [metres(length), Q(round(size / length * draw(some(0, 0.2)), 2), "N/m")],
        ],
        "point_load": [
            {
                "height": metres(length),
                "side": Q(round(size * draw(some(-0.2, 0.3)), 2), "N"),
                "forward": Q(round(size * draw(some(-0.3, 0.3)), 2), "N"),
            }
        ],
    }
    if along and draw(st.booleans()):
        loads["axial"] = Q(round(size * draw(some(-0.3, 0.5)), 2), "N")
    if along and draw(st.booleans()):
        loads["torque"] = Q(round(size * length * draw(some(0, 0.02)), 3), "N m")
    return loads


def bush(**more: object) -> Table:
    return {
        "kind": "plain",
        "material": "acetal",
        "length": Q(0.06, "m"),
        "clearance": Q(0.0006, "m"),
        "wall": Q(0.008, "m"),
    } | more


@st.composite
def bearings(draw: st.DrawFn) -> Table | None:
    """Nothing said of them, springs, or bushes."""
    pick = draw(st.sampled_from(["none", "soft", "bushes"]))
    if pick == "none":
        return None
    if pick == "soft":
        return {
            "partners": {"stiffness": Q(draw(some(2e5, 5e6, 0)), "N/m")},
            "step": {"stiffness": Q(draw(some(2e5, 5e6, 0)), "N/m")},
        }
    return {"partners": bush(), "step": bush(thrust={"outer": Q(0.05, "m")})}


@st.composite
def rigs(
    draw: st.DrawFn,
    *,
    makes: tuple[str, ...] = MAKES,
    kinds: tuple[str, ...] = KINDS,
    least: int = 1,
    most: int = 3,
    geared: bool = True,
    fatigue: bool = True,
) -> Table:
    """Return rigs.

    Parameters
    ----------
    draw : callable
        Of hypothesis.
    makes : tuple of str
        What the mast may be made of.
    kinds : tuple of str
        Kinds of case to draw from.
    least, most : int
        How many cases.
    geared : bool
        Whether bearings, a deck and furling gear may be described, whose sizes and stiffness are no part of the mast.
    fatigue : bool
        Whether a life of loads may be described.
    """
    mast = draw(masts(draw(st.sampled_from(makes))))
    picked = draw(st.lists(st.sampled_from(kinds), min_size=least, max_size=most, unique=True))
    rig: Table = {"title": "drawn", "boat": draw(boats(mast["length"].value)), "mast": mast}
    rig["material"] = [copy.deepcopy(ALLOY)]
    laminates = [table for table in (GLASS, SHEATH) if used(table["name"], mast)]  # type: ignore[arg-type]
    if laminates:
        rig["laminate"] = copy.deepcopy(laminates)
    if mast["material"] != "alloy":
        del rig["material"]
    rig["sail"] = [draw(sails(mast))]
    if (of := draw(bearings())) is not None:
        rig["bearings"] = of
    if mast["material"] == "alloy" and fatigue and draw(st.booleans()):
        rig["fatigue"] = {"days_at_sea": 200, "time_per_day": Q(5.0, "h")}
    if geared and draw(st.booleans()):
        draw(gear(rig))
    rig["case"] = [draw(cases(mast, kind)) for kind in picked]
    return rig


@st.composite
def gear(draw: st.DrawFn, rig: Table) -> None:
    """Add a deck, and where it can be turned a line that turns the mast."""
    rig["deck"] = {
        "kind": "solid",
        "pad_length": Q(0.26, "m"),
        "pad_width": Q(0.22, "m"),
        "allowed_pressure": Q(6e6, "Pa"),
        "bolts": 8,
        "bolt_circle": Q(0.19, "m"),
        "bolt_diameter": Q(0.01, "m"),
        "bolt_allowed": Q(80e6, "Pa"),
        "thickness": Q(draw(some(0.012, 0.025)), "m"),
        "bearing_allowed": Q(40e6, "Pa"),
        "offset": Q(0.015, "m"),
    }
    rolled = any(sail["hold"] == "rolled" for sail in rig.get("sail", []))
    if rolled and "kind" in rig.get("bearings", {}).get("partners", {}):
        rig["furling"] = {
            "drum_diameter": Q(draw(some(0.15, 0.25)), "m"),
            "line_diameter": Q(0.006, "m"),
            "line_strength": Q(9000.0, "N"),
        }


def used(name: str, mast: Table) -> bool:
    return name == mast["material"] or any(s["laminate"] == name for s in mast.get("sheath", []))


def utilisations(result: CheckResult) -> dict[tuple[str, str, str, int], float]:
    """Return utilisation by limit, layer, case and number among those alike."""
    found: dict[tuple[str, str, str, int], float] = {}
    for one in result.checks:
        number = 0
        while (one.id, one.layer, one.case, number) in found:
            number += 1
        found[one.id, one.layer, one.case, number] = one.utilisation
    return found


def alike(one: float, other: float, *, rel: float, abs: float = 0.0) -> bool:
    """Whether two utilisations agree; what has no answer is like itself."""
    return one == other or math.isclose(one, other, rel_tol=rel, abs_tol=abs)
