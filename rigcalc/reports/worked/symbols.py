"""Symbols as a source prints them: ``sigma_b`` is a Greek letter with an index, ``GM`` stands upright."""

from __future__ import annotations

from ...frozen import dataclass

GREEK = {
    "alpha": "α",
    "beta": "β",
    "gamma": "γ",
    "delta": "δ",
    "epsilon": "ε",
    "zeta": "ζ",
    "eta": "η",
    "theta": "θ",
    "kappa": "κ",
    "lambda": "λ",
    "mu": "μ",
    "nu": "ν",
    "xi": "ξ",
    "pi": "π",
    "rho": "ρ",
    "sigma": "σ",
    "tau": "τ",
    "phi": "φ",
    "psi": "ψ",
    "Delta": "Δ",
    "Gamma": "Γ",
    "Phi": "Φ",
}


@dataclass(frozen=True)
class Symbol:
    """One symbol in its parts.

    Parameters
    ----------
    prefix : str
        A Delta before it, or nothing.
    letter : str
        Greek letters are Greek.
    index : str
        What stands lower.
    mark : str
        Strokes or a star.
    """

    prefix: str
    letter: str
    index: str
    mark: str


def symbol(name: str) -> Symbol:
    """Return the parts of a symbol like ``M_p``, ``Delta_sigma_N``, ``GZ'`` or ``E*``."""
    prefix = ""
    if name.startswith("Delta_"):
        prefix, name = GREEK["Delta"], name.removeprefix("Delta_")
    bare = name.rstrip("'*")
    mark = name[len(bare) :].replace("''", "″").replace("'", "′")
    letter, _, index = bare.partition("_")
    return Symbol(prefix, GREEK.get(letter, letter), GREEK.get(index, index), mark)
