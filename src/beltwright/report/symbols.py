"""A document's symbols as typst mathematics: Greek letters, subscripts and primes; everything else upright words."""

from __future__ import annotations

import re

from beltwright.drawing.backends.typesetter import quoted

_GREEK = {
    "alpha", "beta", "gamma", "delta", "epsilon", "zeta", "eta", "theta", "kappa", "lambda", "mu", "nu", "xi", "pi",
    "rho", "sigma", "tau", "phi", "chi", "psi", "omega", "Gamma", "Delta", "Theta", "Lambda", "Sigma", "Phi", "Psi",
    "Omega",
}  # fmt: skip
_PARTS = re.compile(r"^([^_']+)('*)(?:_(.+))?$")


_LETTERS = {
    "alpha": "α", "beta": "β", "gamma": "γ", "delta": "δ", "epsilon": "ε", "eta": "η", "theta": "θ", "kappa": "κ",
    "lambda": "λ", "mu": "μ", "nu": "ν", "pi": "π", "rho": "ρ", "sigma": "σ", "tau": "τ", "phi": "φ", "psi": "ψ",
    "omega": "ω", "Delta": "Δ", "Sigma": "Σ", "Phi": "Φ", "Omega": "Ω",
}  # fmt: skip
_SIGNS = {">=": "≥", "<=": "≤", "!=": "≠", "'": "′"}
_NAMED = re.compile(r"(?<![A-Za-z])(" + "|".join(_LETTERS) + r")(?![A-Za-z])")


def printed(text: str) -> str:
    """Return plain formula text with Greek letters and signs as they are printed.

    >>> printed("Omega >= 70 and beta'_1 < sigma_y")
    'Ω ≥ 70 and β′_1 < σ_y'
    """
    for written, sign in _SIGNS.items():
        text = text.replace(written, sign)
    return _NAMED.sub(lambda found: _LETTERS[found.group(1)], text)


def typst_word(text: str) -> str:
    """Return words as upright text inside typst mathematics."""
    return quoted(text)


def typst_name(name: str) -> str:
    """Return an intermediate name of a clause's source as upright words."""
    return typst_word(name.replace("_", " "))


def typst_symbol(symbol: str) -> str:
    """Return a symbol as typst mathematics.

    >>> typst_symbol("sigma_y"), typst_symbol("t_net"), typst_symbol("AF"), typst_symbol("beta'")
    ('sigma_(y)', 't_("net")', '"AF"', "beta'")
    """
    found = _PARTS.match(symbol)
    if found is None:
        return typst_word(symbol)
    base, primes, subscript = found.groups()
    tail = "" if subscript is None else "_(" + ", ".join(_piece(part) for part in subscript.split(",")) + ")"
    return f"{_piece(base)}{primes}{tail}"


def _piece(text: str) -> str:
    """One letter or Greek name as a variable, the rest as upright words."""
    text = text.strip()
    if text in _GREEK or (len(text) == 1 and text.isascii() and text.isalpha()):
        return text
    return typst_word(text.replace("_", " "))
