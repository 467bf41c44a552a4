"""Attenuation from the mash: how far yeast takes a wort, from the rest that made it.

In: the temperature of one rest, or the sugars of a wort. Out: apparent attenuation in percent.
"""

from __future__ import annotations

from functools import cache
from importlib.resources import files

import yaml

from presenter.science.formula import formula

__all__ = ["apparent_attenuation_from_fermentable", "attenuation_from_rest_table"]


@cache
def _rest_table() -> tuple[tuple[float, float], ...]:
    """The pairs (temperature in degC, apparent attenuation in percent) of the repeated table, coldest first."""
    text = files("presenter.science").joinpath("tables", "attenuation_by_rest.yaml").read_text(encoding="utf-8")
    rows = yaml.load(text, Loader=yaml.CSafeLoader)["rows"]
    return tuple(sorted((float(row["temperature"]), float(row["attenuation"])) for row in rows))


@formula(
    temperature="degree_Celsius",
    gives="attenuation_percent",
    valid={"temperature": (65.0, 80.0)},
    error=4.0,
    error_because="the band of the points themselves; the study behind them could not be identified",
)
def attenuation_from_rest_table(temperature: float) -> float:
    r"""Apparent attenuation to expect after one rest at one temperature.

    .. math:: A = A_i + (A_{i+1} - A_i) \frac{T - T_i}{T_{i+1} - T_i}

    Parameters
    ----------
    temperature : degree_Celsius, of a single rest of about 60 minutes

    Returns
    -------
    attenuation_percent

    Raises
    ------
    WrongUnit : the argument is no temperature.
    OutOfRange : the temperature lies outside 65 to 80 degC.

    Notes
    -----
    Straight lines between the points 65 degC 82 percent, 70 degC 70, 75 degC 50 and 80 degC 30. The points are
    secondary and the study behind them is not identified, so the answer is never printed as published. They were
    measured on pale barley malt with a tenth of dextrin malt, a lager yeast, and 3 litres of water to a kilogram;
    thickness, grist, length of the rest and yeast all move the answer and none of them is in the formula. Above
    75 degC it shows the direction only.

    Examples
    --------
    >>> attenuation_from_rest_table(Q(66, "degC")).magnitude
    79.6

    References
    ----------
    - `chandrasekhar`
    """
    points = _rest_table()
    after = next((index for index, (warm, _) in enumerate(points) if temperature <= warm), len(points) - 1)
    (cold, high), (warm, low) = points[max(after, 1) - 1], points[max(after, 1)]
    return high + (low - high) * (temperature - cold) / (warm - cold)


@formula(
    fermentable="percent",
    original_extract="degree_Plato",
    gives="attenuation_percent",
    valid={"fermentable": (0.0, 100.0), "original_extract": (0.0, 25.0)},
    error=0.8,
    error_because="Balling's quotient is up to 0.09 degrees Plato of real extract off on the means of five modern sets",
)
def apparent_attenuation_from_fermentable(fermentable: float, original_extract: float) -> float:
    r"""Apparent attenuation of a wort of which the yeast takes a known share.

    .. math:: A = q F, \qquad q = 1.220 + 0.001 P

    Parameters
    ----------
    fermentable : percent, share of the extract by mass that the yeast ferments: the real attenuation
    original_extract : degree_Plato

    Returns
    -------
    attenuation_percent

    Raises
    ------
    WrongUnit : an argument has another dimension.
    OutOfRange : the share lies outside 0 to 100 percent, or the extract outside 0 to 25 degrees Plato.

    Notes
    -----
    q is Balling's attenuation quotient, the apparent over the real attenuation; his table gives it from 9 to 16 degrees
    Plato. Beyond 9 to 16 the straight line is carried on: at 0 and at 25 degrees Plato that moves the answer by less
    than a point. The answer can pass 100 percent, as it does in honey drinks.

    Examples
    --------
    >>> round(apparent_attenuation_from_fermentable(Q(66, "percent"), Q(12, "degPlato")).magnitude, 2)
    81.31

    References
    ----------
    - `balling_gaerungschemie`
    """
    return (1.220 + 0.001 * original_extract) * fermentable
