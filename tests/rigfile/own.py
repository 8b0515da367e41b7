"""Good materials of the user's own, one for each family, basis and form, to be broken in one place at a time."""

from __future__ import annotations

import json

Table = dict[str, str | float]

OWN: dict[str, Table] = {
    "own spruce": {
        "family": "timber",
        "basis": "clear-wood",
        "density": "420 kg/m3",
        "E": "10.5 GPa",
        "E_is": "apparent",
        "G": "0.66 GPa",
        "bending": "68 MPa",
        "compression": "37 MPa",
        "compression_perp": "3.8 MPa",
        "shear": "7.6 MPa",
        "tension_perp": "2.4 MPa",
        "E_green": "8.3 GPa",
        "bending_green": "38 MPa",
        "compression_green": "18 MPa",
        "compression_perp_green": "1.9 MPa",
        "shear_green": "5.1 MPa",
        "tension_perp_green": "1.6 MPa",
        "green_limit": "27 %",
    },
    "own glulam": {
        "family": "timber",
        "basis": "characteristic",
        "density": "430 kg/m3",
        "E": "12 GPa",
        "E_low": "9.9 GPa",
        "G": "0.7 GPa",
        "bending": "26 MPa",
        "tension": "20 MPa",
        "compression": "25 MPa",
        "compression_perp": "2.6 MPa",
        "shear": "3.4 MPa",
        "tension_perp": "0.45 MPa",
    },
    "own ply": {
        "family": "ply",
        "form": "ud",
        "density": "1890 kg/m3",
        "fibre_fraction": "52 %",
        "fibre_density": "2550 kg/m3",
        "E1": "39.5 GPa",
        "E2": "9.1 GPa",
        "G12": "3.9 GPa",
        "nu12": 0.27,
        "Xt": "880 MPa",
        "Xc": "590 MPa",
        "Yt": "36 MPa",
        "Yc": "115 MPa",
        "S12": "55 MPa",
        "strain_1t": "2.3 %",
        "strain_1c": "1.5 %",
        "strain_2t": "0.41 %",
        "strain_2c": "1.4 %",
        "strain_12": "2.4 %",
    },
    "own foam": {
        "family": "foam",
        "density": "78 kg/m3",
        "E": "88 MPa",
        "G": "28 MPa",
        "compression": "1.35 MPa",
        "shear": "1.1 MPa",
        "safety_factor": 1.8,
    },
    "own tube": {
        "family": "metal",
        "density": "2690 kg/m3",
        "E": "69 GPa",
        "G": "26 GPa",
        "nu": 0.32,
        "proof": "190 MPa",
        "ultimate": "230 MPa",
        "welded_proof": "90 MPa",
        "welded_ultimate": "140 MPa",
        "buckling_class": "A",
    },
}
"""Name -> all it may give but its source."""


def own_table(which: str, /, **changes: str | float | None) -> Table:
    """Return a material with some values changed, or taken out where None stands for them."""
    table: dict[str, str | float | None] = {
        "name": which,
        "source": "sheet of the maker",
        **OWN[which],
        **changes,
    }
    return {key: value for key, value in table.items() if value is not None}


def text_of(table: Table) -> str:
    """Return a material as it stands in a file."""
    return "".join(["[[material]]\n", *(f"{key} = {json.dumps(value)}\n" for key, value in table.items())])


def own_text(which: str, /, **changes: str | float | None) -> str:
    """Return `own_table` as it stands in a file."""
    return text_of(own_table(which, **changes))


ALL = "\n".join(own_text(name) for name in OWN)
