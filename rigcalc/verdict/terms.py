"""Words of the answer, told to whoever meets them for the first time."""

from __future__ import annotations

from types import MappingProxyType

TERMS = MappingProxyType(
    {
        "verdict": (
            "PASS where every check passes in every case, FAIL where one does not. It is an aid to judgement:"
            " a mast that passes is still preliminary, and has to be reviewed before it is built."
        ),
        "utilisation": (
            "How much of what the mast can bear is used: demand over capacity. At most 1.00 passes, exactly 1"
            " included. In tables it stands under 'used' and 'most used'."
        ),
        "used": "The utilisation: demand over capacity. At most 1.00 passes.",
        "demand": (
            "What is asked of the mast at one place: a stress, a moment, a force, a deflection, or a sum of "
            "shares."
        ),
        "capacity": (
            "What the mast can bear there of the same, with every safety factor taken off already. Where the "
            "check is a sum of shares it is 1."
        ),
        "governing": (
            "The check that is used most, in whichever case and at whichever height: the first to fail if the"
            " mast were made weaker all over. Of two that are equal it is the first."
        ),
        "factor": (
            "A safety factor divides what a material bears, or multiplies a load. Factors on strength stand "
            "in [limits], [timber] and each [[laminate]], the dynamic factor on the load in each [[case]], "
            "and the answer names every one that was left to its default."
        ),
        "case": (
            "One loading of the mast: a kind (heel-limited, wind-limited, bare, motion, knockdown, lift, "
            "given), a state of the sails, and the wind or moment that sets it. Every check is made in every "
            "case. Without a [[case]] in the file a standard set is run; `rigcalc cases FILE` lists it."
        ),
        "state": (
            "A setting of the sails, such as all sail, one reef, or sail rolled away: [[state]] in the file."
        ),
        "advice": (
            "What to change to make a failing check pass, and by about how much: the cure. One change at a "
            "time is told, and other checks may then govern."
        ),
        "cure": (
            "What to change to make a failing check pass, and by about how much; `rigcalc explain CHECK` "
            "tells what each costs."
        ),
        "layer": (
            "A part of the wall with a material of its own: the tube, a sleeve, a sheath, a plug, the post."
        ),
        "z": (
            "Height up the mast from its heel bearing, where z = 0: the one datum a spar is marked out from "
            "on the bench."
        ),
        "heel": "The foot of the mast, z = 0; or the angle that the boat leans at.",
        "step": "The lower bearing, in which the heel of the mast stands and turns: z = 0.",
        "partners": (
            "The upper bearing, where the mast comes through the deck, or the top of the post it turns on."
        ),
        "bury": (
            "From the step to the partners, between the middles of the bearings: mast.bury. A short bury "
            "multiplies the forces on both."
        ),
        "tip": (
            "How far the top of the mast moves, on the bent mast where that is solved. `tip-deflection` "
            "checks it."
        ),
        "moment": "The largest bending moment in the mast, which is mostly at the partners: force times arm.",
        "dynamic factor": "What gusts and the jerk of a load add to it: it multiplies the load of a case.",
        "cautions": (
            "What every answer must be read with: what a falling mast does, and what was not checked."
        ),
        "warnings": (
            "What in this rig makes the numbers less sure, such as a formula used near the end of its range."
        ),
        "assumptions": (
            "What the file did not say and was taken: every default with its source, in the JSON of `check`."
        ),
        "turned": (
            "How a mast that is not round is turned where it is used most, from fore and aft towards leeward."
        ),
        "no answer": "The numbers did not settle, or a formula has no value there. It counts as a failure.",
        "axial factor": (
            "How many times the compression could grow before the mast becomes unstable; `axial-stability` "
            "checks it."
        ),
        "stations": (
            "Values along the mast, with `--json --stations` or `rigcalc export`; also the sizes in the file,"
            " mast.stations[]."
        ),
        "front": "Of varied masts, those that pass and are not beaten in mass and in tip deflection at once.",
    }
)
"""Word -> what it means."""
