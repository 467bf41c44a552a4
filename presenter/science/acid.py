"""Acid: how vinegar or lactic acid moves the pH of wort or beer.

In: amounts of acid, its constant, the drink's weak buffering. Out: millimoles, or a pH with a wide band.
"""

from __future__ import annotations

from scipy.optimize import brentq

from presenter.science.formula import formula

__all__ = [
    "ACETIC_CONSTANT",
    "LACTIC_CONSTANT",
    "acetic_acid_in_vinegar",
    "acid_in_a_litre",
    "lactic_acid_in_solution",
    "ph_after_acid",
    "wort_buffering",
]


ACETIC_MOLAR_MASS, LACTIC_MOLAR_MASS = 60.052, 90.078
ACETIC_CONSTANT, LACTIC_CONSTANT = 4.756, 3.857
"""pKa of the two acids at 25 and 22.5 degC."""


@formula(
    extract="degree_Plato",
    gives="millimole / litre / pH",
    valid={"extract": (0.5, 25.0)},
    relative_error=0.6,
    error_because="5 to 13 about 8: three published figures bracket it and none states it",
    rests_on="derived: titrated acidity of wort in 1917, mash acidification by Kolbach as quoted, phosphate in wort",
)
def wort_buffering(extract: float) -> float:
    r"""Acid that a litre of wort takes up for one step of pH.

    .. math:: \beta = 8\,P / 12

    Parameters
    ----------
    extract : degree_Plato, of the wort

    Returns
    -------
    millimole / litre / pH

    Raises
    ------
    WrongUnitError : the argument is no extract by mass.
    OutOfRangeError : the extract lies outside 0.5 to 25 degrees Plato.

    Notes
    -----
    Valid as an order of size for pale wort or beer, in proportion to extract. Measure the pH.

    Examples
    --------
    >>> round(wort_buffering(Q(12, "degPlato")).magnitude, 1)
    8.0

    References
    ----------
    Derived from three published figures that bracket it; no printed number for wort was seen.
    """
    return 8.0 * extract / 12


@formula(
    volume="millilitre",
    strength="gram / litre",
    gives="millimole",
    valid={"strength": (30.0, 100.0)},
    relative_error=0.002,
    error_because="molar mass and a measure at room temperature",
    rests_on="molar mass; the strength is the label's",
)
def acetic_acid_in_vinegar(volume: float, strength: float) -> float:
    r"""Acetic acid in a measure of vinegar.

    .. math:: n = V\,s / 60.052

    Parameters
    ----------
    volume : millilitre, of vinegar
    strength : gram / litre, of acetic acid; 50 is 5 g in 100 mL

    Returns
    -------
    millimole

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 30 to 100 g/L.

    Notes
    -----
    Valid for vinegar as labelled; 40 g/L is the least that United States policy calls vinegar.

    Examples
    --------
    >>> round(acetic_acid_in_vinegar(Q(10, "mL"), Q(50, "g/L")).magnitude, 2)
    8.33

    References
    ----------
    - `fda_cpg_525_825`
    """
    return volume * strength / ACETIC_MOLAR_MASS


@formula(
    mass="gram",
    strength="percent",
    gives="millimole",
    valid={"strength": (1.0, 100.0)},
    relative_error=0.05,
    error_because="strong lactic acid is partly joined to itself and frees the rest slowly",
    rests_on="molar mass; the strength is the label's",
)
def lactic_acid_in_solution(mass: float, strength: float) -> float:
    r"""Lactic acid in a weighed amount of its solution.

    .. math:: n = 1000\,m\,s / (100 \cdot 90.078)

    Parameters
    ----------
    mass : gram, of the solution, weighed
    strength : percent, by mass, as labelled

    Returns
    -------
    millimole

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the strength lies outside 1 to 100 percent.

    Notes
    -----
    Valid for food-grade acid, weighed: the density of strong solutions was not seen.

    Examples
    --------
    >>> round(lactic_acid_in_solution(Q(1, "g"), Q(80, "percent")).magnitude, 2)
    8.88

    References
    ----------
    Molar mass; holds no further constant.
    """
    return 1000 * mass * strength / 100 / LACTIC_MOLAR_MASS


@formula(
    acid="millimole",
    volume="litre",
    gives="millimole / litre",
    valid={"volume": (0.01, 10000.0)},
    rests_on="mole balance",
)
def acid_in_a_litre(acid: float, volume: float) -> float:
    r"""Acid added to each litre of a liquid.

    .. math:: c = n / V

    Parameters
    ----------
    acid : millimole
    volume : litre, of the liquid

    Returns
    -------
    millimole / litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the volume lies outside 0.01 to 10000 L.

    Notes
    -----
    Valid while the acid's own volume is little beside the liquid's.

    Examples
    --------
    >>> round(acid_in_a_litre(Q(83.3, "millimole"), Q(10, "L")).magnitude, 2)
    8.33

    References
    ----------
    Mole balance; holds no measured constant.
    """
    return acid / volume


@formula(
    start="pH",
    acid="millimole / litre",
    acid_constant="pH",
    buffering="millimole / litre / pH",
    gives="pH",
    valid={"start": (3.0, 8.0), "acid": (0.0, 60.0), "acid_constant": (2.0, 7.0), "buffering": (1.0, 40.0)},
    error=0.13,
    error_because="a pH meter differs by 0.13 from laboratory to laboratory; the buffering's own wide band comes on "
    "top, as an input",
)
def ph_after_acid(start: float, acid: float, acid_constant: float, buffering: float) -> float:
    r"""pH of wort or beer after a weak acid has been added.

    .. math:: \beta\,(\mathrm{pH}_0 - \mathrm{pH}) = \frac{c}{1 + 10^{\,\mathrm{p}K_a - \mathrm{pH}}}

    Parameters
    ----------
    start : pH
    acid : millimole / litre, of drink
    acid_constant : pH, the acid's pKa
    buffering : millimole / litre / pH

    Returns
    -------
    pH

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside its range.

    Notes
    -----
    Valid while buffering stays the same over the step, which it only roughly does. The direction is always right;
    the size is to be measured.

    Examples
    --------
    >>> vinegar, wort = Q(8.37, "mmol/L"), Q(8, "mmol/L/pH")
    >>> round(ph_after_acid(Q(5.3, "pH"), vinegar, Q(4.756, "pH"), wort).magnitude, 1)
    4.8

    References
    ----------
    - `libretexts_e1`
    - `echa_lactic`
    """

    def left_over(ph: float) -> float:
        return buffering * (start - ph) - acid / (1 + 10 ** (acid_constant - ph))

    return float(brentq(left_over, start - acid / buffering - 1.0, start + 1e-9, xtol=1e-12))
