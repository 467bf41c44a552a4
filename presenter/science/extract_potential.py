"""Extract potential: how far one kilogram of an ingredient raises the gravity of one litre.

In: the share of the ingredient that becomes extract. Out: litre-degrees per kilogram.
"""

from __future__ import annotations

from scipy.optimize import brentq

from presenter.science.formula import formula
from presenter.science.gravity import degrees_plato_from_gravity

__all__ = ["extract_potential"]

# Water at 20 degC, kilograms per litre; the gravity of a wort at 20/20 degC is reckoned against it.
_WATER = 0.998207


@formula(
    extract_share="percent",
    extract_in_wort="gram / litre",
    gives="litre_degree / kilogram",
    valid={"extract_share": (0, 100), "extract_in_wort": (10, 420)},
    relative_error=0.001,
    error_because="the two published fits differ by 0.1 percent",
)
def extract_potential(extract_share: float, extract_in_wort: float = 100.0) -> float:
    r"""Litre-degrees per kilogram: points of gravity times litres, for each kilogram as it is weighed.

    .. math:: e = \frac{E}{100} \; \frac{1000\,(S - 1)}{c/1000}, \qquad c = 10\,P(S)\,S\,\rho_w

    Parameters
    ----------
    extract_share : percent of the mass that becomes extract
    extract_in_wort : gram / litre, the strength of the wort at which it is reckoned; 100 as the trade does

    Returns
    -------
    litre_degree / kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the share lies outside 0 to 100 percent, or the strength outside 10 to 420 grams per litre.

    Notes
    -----
    For sucrose it falls from 389 in a wort of 1 percent to 384 at 20 percent, so the strength must be stated. Extract
    is reckoned as sucrose, as every hydrometer does. In the other direction of the trade, 8.3454 litre-degrees per
    kilogram are one point per pound and US gallon.

    Examples
    --------
    >>> round(extract_potential(Q(100, "percent"), Q(100, "gram / litre")).magnitude, 1)
    385.6

    References
    ----------
    - `asbc_fit`
    - `nbs_c440_fit`
    """

    def strength(gravity: float) -> float:
        return 10 * float(degrees_plato_from_gravity.plain(gravity)) * gravity * _WATER - extract_in_wort

    gravity = float(brentq(strength, 1.0, 1.17, xtol=1e-13))
    return extract_share / 100 * 1000 * (gravity - 1) / (extract_in_wort / 1000)
