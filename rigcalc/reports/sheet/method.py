"""How the numbers come about, and where they stop holding, in the words of the report."""

from __future__ import annotations

from typing import Final

METHOD: Final = (
    "Loads. Wind, righting moment, motion or weight set each case. Where the boat heels, the side force is what her "
    "righting moment can hold over the arm from the centre of lateral resistance; on a run, in a storm and at rest the "
    "wind itself sets it, with its gust and dynamic factor. A sail's force reaches the mast along the luff, through "
    "the leech as a shallow cable, or at the corners, as the file has it.",
    "Structure. The mast is a beam on two bearings, or turning on a post, bent in both planes at once. It is solved "
    "exactly between its steps for the straight mast, and again as a large bent shape in balance, with leech and "
    "weight turning with it. What is not round is solved at every angle to which it can turn. Frequencies and "
    "instability come from the same beam.",
    "Sections. Layers bend to one curvature; each takes its share of moment, thrust, torque and shear by stiffness.",
    "Limits. At every height, in every case, each layer is held against the limits of its own material: yield and "
    "rupture of metal, its holes, welds, joints and fatigue; strength of timber along and across the grain; every "
    "ply of a laminate; buckling and flattening of thin walls. The mast as a whole is held against tip deflection and "
    "axial instability, the bearings against pressure, edges and what holds them. The place used most is reported.",
    "Conservative where unsure: the larger of the straight and the bent mast is taken, worst signs go together, and "
    "no credit is taken for what the data do not show.",
)

LIMITS: Final = (
    "Static loads with dynamic factors; no wave slam, no collision, no rigging that catches.",
    "Flat water and steady wind profile below the gust; righting moment as the file gives it.",
    "A wall that is dented, corroded beyond mast.wall_loss, rotten, cracked or badly glued is not what was worked out.",
    "Motion takes both swings at their worst at once; rolling water is left out of roll inertia.",
    "A gaff's or lug's peak loads the mast at its own height.",
    "Of hull and deck only the fastening of the partners is looked at, and only where the file describes it.",
    "Every formula is printed below with the range in which it holds; where it was used outside, a warning says so.",
)

WORDS: Final = (
    "utilisation",
    "demand",
    "capacity",
    "governing",
    "dynamic factor",
    "case",
    "state",
    "layer",
    "z",
    "heel",
    "step",
    "partners",
    "bury",
    "tip",
    "turned",
    "no answer",
)
"""Words of the answer that a reader may meet here for the first time."""

ABBREVIATIONS: Final = {
    "RM, RM30, RM max": "Righting moment: what turns the heeled boat upright; at 30 degrees of heel; the most.",
    "GM": "Metacentric height: righting moment at a small heel, over weight and angle. The more, the stiffer the boat.",
    "GZ": "Righting arm: righting moment over weight.",
    "E, I, G, J, A": "Moduli of the material, stretched and sheared; second moment of area and torsion constant of the "
    "section; its area. EI is the stiffness of the mast in bending.",
    "kn, deg": "Knots, nautical miles an hour: 1 kn is 0.514 m/s. Degrees of angle.",
    "leech, luff, clew": "Free edge of a sail abaft, edge of it at the mast, and its lower corner away from the mast.",
}
