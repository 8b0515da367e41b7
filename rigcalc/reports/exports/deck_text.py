"""The beam elements of a mast written as an input deck of keywords, as open finite-element programs read it.

Units, axes and cautions stand in comment lines; behind every case stand the forces and the deflection that
the check has for it, to compare.
"""

from __future__ import annotations

import textwrap
from collections.abc import Iterator

import numpy as np

from ...verdict import CAUTIONS, NOT_CHECKED
from ...version import __version__
from .deck import Deck, Step, Stretch

WIDTH = 100
PER_LINE = 8
FORWARD_DOF, SIDE_DOF, ALONG_DOF, TWIST_DOF = 1, 2, 3, 6

_METHOD = (
    "Units: m, N, Pa. Axes: x forward, y to leeward, z up the mast from the heel bearing, the mast straight. "
    "Linear statics, as the straight mast of the check: the check bends the mast far besides, and holds the "
    "worse of the two against its limits.",
    "Section and material of this deck STAND IN for those of the mast: a slim rectangle of one area from heel to "
    "tip, and for every stretch the modulus with which E I is that of the true section, all its layers "
    "together, both ways. Read forces, moments, slopes and deflections; read no stresses, no shortening and no "
    "twist. The true figures of each stretch stand below.",
    "Poisson's ratio is zero, and the outline is not that of the mast, for a reason. Some programs make solids of "
    "beam elements and tie the end faces of neighbours of different size to rigid plates. These hold back the "
    "swelling that goes with bending where Poisson's ratio is above zero: a finely stepped taper then comes out "
    "stiffer by a tenth and more, however fine. If you put in true sections and a true Poisson's ratio, take "
    "few long stretches, or elements that stay lines, or shells.",
    "Loads: those of each case along the mast, its own weight among them, as forces at the nodes with the same "
    "force and the same moment.",
)


def deck_text(deck: Deck) -> str:
    """Return the whole input deck."""
    return "\n".join([*_head(deck), *_beam(deck), *_bearings(deck), *_steps(deck)]) + "\n"


def _number(value: float) -> str:
    # nothing has no minus before it; programs read twenty places at the most
    return f"{value + 0.0:.12E}"


def _comment(text: str) -> list[str]:
    plain = "".join(c if c.isprintable() else " " for c in text).encode("ascii", "backslashreplace").decode()
    return textwrap.wrap(plain, WIDTH, initial_indent="** ", subsequent_indent="** ")


def _head(deck: Deck) -> Iterator[str]:
    yield "*HEADING"
    yield f"rigcalc {__version__}: mast as beam elements"
    yield from _comment(f"Title: {deck.title}")
    for text in (*CAUTIONS, NOT_CHECKED):
        yield from _comment(f"CAUTION: {text}")
    for text in _METHOD:
        yield "**"
        yield from _comment(text)
    if not deck.round:
        yield "**"
        yield from _comment(
            "The mast is not round. The axes of this deck are its own, x forward when it stands fore and aft, and "
            "every case is given at the turn t at which its tip goes farthest. In the boat's axes a vector (x, y) of "
            "this deck is: to leeward y cos t + x sin t, forward x cos t - y sin t."
        )
    yield "**"
    yield from _comment("True figures, outside size in m, EI and GJ in N m2, EA in N, mass in kg/m:")
    yield "** stretch    from z      to z    outside   EI to side    EI forward    GJ            EA            mass"
    for number, s in enumerate(deck.stretches, start=1):
        yield (
            f"** S{number:04d}  {s.low_m:9.4f} {s.high_m:9.4f}  {s.outer_m:9.5f}   {s.EI_side_N_m2:.6E}  "
            f"{s.EI_forward_N_m2:.6E}  {s.GJ_N_m2:.6E}  {s.EA_N:.6E}  {s.mass_kg_m:.4f}"
        )


def _beam(deck: Deck) -> Iterator[str]:
    yield "*NODE, NSET=MAST"
    for number, z in enumerate(deck.z_m.tolist(), start=1):
        yield f"{number}, 0., 0., {_number(z)}"
    for number, s in enumerate(deck.stretches, start=1):
        yield f"*ELEMENT, TYPE=B31, ELSET=S{number:04d}"
        for piece in range(s.first + 1, s.last + 2):
            yield f"{piece}, {piece}, {piece + 1}"
    for number, s in enumerate(deck.stretches, start=1):
        name = f"S{number:04d}"
        along_x, along_y, E = _stand_in(s, deck.side_m)
        yield f"*MATERIAL, NAME=M{number:04d}"
        yield "*ELASTIC"
        yield f"{_number(E)}, 0."
        yield f"*BEAM SECTION, ELSET={name}, MATERIAL=M{number:04d}, SECTION=RECT"
        yield f"{_number(along_x)}, {_number(along_y)}"
        yield "1., 0., 0."


def _stand_in(s: Stretch, side_m: float) -> tuple[float, float, float]:
    """Return the sides along x and y of a rectangle, and the modulus that gives the stretch its EI both ways."""
    ratio = (s.EI_forward_N_m2 / s.EI_side_N_m2) ** 0.25
    # b h^3 E/12 both ways, and b h the same everywhere
    return side_m * ratio, side_m / ratio, 12 * float(np.sqrt(s.EI_side_N_m2 * s.EI_forward_N_m2)) / side_m**4


def _bearings(deck: Deck) -> Iterator[str]:
    """Yield what holds the mast sideways, springs where a bearing gives way, and the sets of nodes to read."""
    nodes, elements = deck.z_m.size, deck.z_m.size - 1
    grounds = _grounds(deck)
    for i, (name, ground) in enumerate(grounds.items()):
        at, stiffness = _bearing(deck, name)
        yield "**"
        post = (
            ", with the give of the post that the mast turns on"
            if name == "PARTNERS" and deck.on_post
            else ""
        )
        yield from _comment(
            f"The bearing at the {name.lower()} gives way{post}: springs sideways to a node of the hull."
        )
        yield f"*NODE, NSET=HULL_{name}"
        yield f"{ground}, 0., 0., {_number(float(deck.z_m[at - 1]))}"
        for j, (axis, dof) in enumerate((("X", FORWARD_DOF), ("Y", SIDE_DOF))):
            yield f"*ELEMENT, TYPE=SPRING2, ELSET={name}_{axis}"
            yield f"{elements + 2 * i + j + 1}, {at}, {ground}"
            yield f"*SPRING, ELSET={name}_{axis}"
            yield f"{dof}, {dof}"
            yield _number(stiffness)
    for name in ("STEP", "PARTNERS"):
        yield f"*NSET, NSET={name}"
        yield str(_bearing(deck, name)[0])
    yield "*NSET, NSET=TIP"
    yield str(nodes)
    ways = {step.held_at_m for step in deck.steps}
    held = sorted({node for way in ways for node in (*_held(deck, way), _held_along(deck, way))})
    yield "*NSET, NSET=HELD"
    for i in range(0, len(held), PER_LINE):
        yield ", ".join(map(str, held[i : i + PER_LINE]))
    yield "**"
    yield from _comment(
        "Forces printed for the set HELD are those of the supports on the mast together with any load that is put "
        "on the same node: subtract what stands under *CLOAD for it."
    )


def _bearing(deck: Deck, name: str) -> tuple[int, float]:
    """Return node and stiffness of a bearing."""
    s = deck.supports
    if name == "STEP":
        return deck.node_at(float(s.lower_m)), s.heel_stiffness_N_m
    return deck.node_at(float(s.bury_m)), s.partners_stiffness_N_m


def _grounds(deck: Deck) -> dict[str, int]:
    """Return the nodes of the hull behind bearings that give way."""
    names = [name for name in ("STEP", "PARTNERS") if np.isfinite(_bearing(deck, name)[1])]
    return {name: deck.z_m.size + i for i, name in enumerate(names, start=1)}


def _held(deck: Deck, held_at_m: tuple[float, float] | None) -> tuple[int, ...]:
    """Return the nodes whose forces tell what holds the mast sideways, the lower one first."""
    if held_at_m is not None:
        return tuple(deck.node_at(z) for z in held_at_m)
    grounds = _grounds(deck)
    return tuple(grounds.get(name, _bearing(deck, name)[0]) for name in ("STEP", "PARTNERS"))


def _held_along(deck: Deck, held_at_m: tuple[float, float] | None) -> int:
    """Return the node that carries the thrust."""
    return deck.node_at(float(deck.supports.lower_m) if held_at_m is None else held_at_m[0])


def _boundary(deck: Deck, held_at_m: tuple[float, float] | None, twist_node: int) -> Iterator[str]:
    for node in _held(deck, held_at_m):
        yield f"{node}, {FORWARD_DOF}, {SIDE_DOF}"
    grounds = _grounds(deck)
    for node in (_held_along(deck, held_at_m), *grounds.values()):
        yield f"{node}, {ALONG_DOF}, {ALONG_DOF}"
    yield f"{twist_node}, {TWIST_DOF}, {TWIST_DOF}"


def _steps(deck: Deck) -> Iterator[str]:
    ways = list(dict.fromkeys(step.held_at_m for step in deck.steps))
    yield (
        "** Step held along and against twist; step and partners held sideways." if ways[0] is None else "**"
    )
    yield "*BOUNDARY"
    yield from _boundary(deck, ways[0], deck.twist_nodes[0])
    last = ways[0]
    for step in deck.steps:
        yield from _case_comments(deck, step)
        yield "*STEP"
        yield "*STATIC"
        if step.held_at_m != last:
            last = step.held_at_m
            yield "*BOUNDARY, OP=NEW"
            # slung it feels no torque, and any node may hold the twist: programs that make solids of beams take
            # no turn held, let go and held again at one node, nor one held where a torque acts in another step
            yield from _boundary(deck, last, deck.twist_nodes[ways.index(last)])
        yield "*CLOAD, OP=NEW"
        yield from _loads(step)
        yield from ("*NODE PRINT, NSET=HELD", "RF", "*NODE PRINT, NSET=TIP", "U")
        yield from ("*NODE FILE", "U", "*END STEP")


def _loads(step: Step) -> Iterator[str]:
    rows = zip((FORWARD_DOF, SIDE_DOF, ALONG_DOF, TWIST_DOF), (*step.force_N, step.torque_N_m), strict=True)
    for dof, row in rows:
        for node, value in enumerate(row.tolist(), start=1):
            if value != 0.0:
                yield f"{node}, {dof}, {_number(value)}"


def _case_comments(deck: Deck, step: Step) -> Iterator[str]:
    yield "**"
    turned = "" if deck.round else f", mast turned by t = {np.degrees(step.turn_rad) + 0.0:g} deg"
    yield from _comment(f"CASE: {step.case}{turned}")
    lower, upper = ("step", "partners")
    if step.held_at_m is not None:
        lower, upper = (f"support at z = {z:g} m" for z in step.held_at_m)
    size = float(np.hypot(*step.tip_m))
    share = f" ({100 * step.shear_tip_m / size:.2f} %)" if size > 0.0 else ""
    for name, (x, y) in ((lower, step.lower_N), (upper, step.upper_N)):
        yield f"** Check, force of the {name} on the mast: x {_number(x)} N, y {_number(y)} N"
    x, y = step.tip_m
    yield f"** Check, deflection of the tip: x {_number(x)} m, y {_number(y)} m"
    yield from _comment(
        f"The give of shear, which neither the check nor this deck has, would add about {step.shear_tip_m:.3E} m"
        f"{share} at the tip, half of the area taking it; where a modulus comes from a bending test, as of timber, "
        "part of it is in already."
    )
