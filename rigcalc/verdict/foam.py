"""What a reader must be told of foam in a mast."""

from __future__ import annotations

from collections.abc import Iterator

from ..materials import Foam
from ..structure.sections import Sections


def foam_warnings(sections: Sections) -> Iterator[str]:
    """Yield what is counted of a core, and what is not."""
    names = dict.fromkeys(layer.made_of.name for layer in sections.layers if isinstance(layer.made_of, Foam))
    for name in names:
        yield (
            f"{name}: a core of foam is counted as bonded all round, with its mass and its little stiffness; it is "
            "given no credit for keeping the wall from buckling or flattening, nor for keeping water out."
        )
