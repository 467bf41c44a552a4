"""A loaf's masses and size: dough shared out, weight lost in the oven, how thick a ball of so much bread is.

In: masses, pieces, the share of gas in the crumb. Out: masses, shares, a density, a half thickness.
"""

from __future__ import annotations

import math

from presenter.science.formula import formula

__all__ = [
    "ball_half_thickness",
    "crumb_density",
    "half_of_thickness",
    "mass_of_one_piece",
    "mass_of_pieces",
    "sugars_in_moist_bread",
]


@formula(
    porosity="percent",
    gives="gram / litre",
    valid={"porosity": (30.0, 70.0)},
    relative_error=0.1,
    error_because="a fit quoted from an abstract, its scatter not seen",
)
def crumb_density(porosity: float) -> float:
    r"""How heavy a litre of bread crumb is.

    .. math:: \rho = 979 - 9.90\,\varepsilon

    Parameters
    ----------
    porosity : percent, share of the crumb that is gas

    Returns
    -------
    gram / litre

    Raises
    ------
    WrongUnitError : the argument is no share.
    OutOfRangeError : the porosity lies outside 30 to 70 percent.

    Notes
    -----
    Valid for crumb, with its gas; the crust is lighter. The abstract gives the line, not its range: the range is that
    of the three porosities at which it prints the crumb's diffusivity.

    Examples
    --------
    >>> round(crumb_density(Q(50, "percent")).magnitude)
    484

    References
    ----------
    - `bread_diffusivity1995`
    """
    return 979.0 - 9.90 * porosity


@formula(
    mass="kilogram",
    density="gram / litre",
    gives="millimetre",
    valid={"mass": (0.001, 100.0), "density": (100.0, 1500.0)},
    rests_on="geometry",
)
def ball_half_thickness(mass: float, density: float) -> float:
    r"""Half of the thickness of a ball of bread: its radius.

    .. math:: R = \left( \frac{3 m}{4 \pi \rho} \right)^{1/3}

    Parameters
    ----------
    mass : kilogram, of the loaf
    density : gram / litre, of the loaf, gas and all

    Returns
    -------
    millimetre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the mass lies outside 0.001 to 100 kg, or the density outside 100 to 1500 g/L.

    Notes
    -----
    Valid for a loaf as high as wide; a loaf that spread on the oven floor is thinner and warms sooner.

    Examples
    --------
    >>> round(ball_half_thickness(Q(1, "kg"), Q(484, "gram / litre")).magnitude)
    79

    References
    ----------
    Geometry; holds no measured constant.
    """
    return 100.0 * math.pow(3.0 * 1000.0 * mass / density / (4.0 * math.pi), 1.0 / 3.0)


@formula(
    thickness="millimetre",
    gives="millimetre",
    valid={"thickness": (2.0, 1000.0)},
    rests_on="geometry",
)
def half_of_thickness(thickness: float) -> float:
    r"""From the crust to the middle of a loaf: half of its thickness.

    .. math:: R = d / 2

    Parameters
    ----------
    thickness : millimetre, of the baked loaf; the diameter of a round one

    Returns
    -------
    millimetre

    Raises
    ------
    WrongUnitError : the argument is no length.
    OutOfRangeError : the loaf is thinner than 2 mm or thicker than a metre.

    Notes
    -----
    Valid for a loaf that is warmed from all sides alike.

    Examples
    --------
    >>> half_of_thickness(Q(90, "millimetre")).magnitude
    45.0

    References
    ----------
    Geometry; holds no measured constant.
    """
    return thickness / 2.0


@formula(
    mass="kilogram",
    pieces="piece",
    gives="kilogram",
    valid={"mass": (0.0, 1e6), "pieces": (1.0, 1e4)},
    rests_on="mass balance",
)
def mass_of_one_piece(mass: float, pieces: float) -> float:
    r"""Mass of one of several equal pieces.

    .. math:: m_1 = m / n

    Parameters
    ----------
    mass : kilogram, of all of them
    pieces : piece

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : there is no piece, or more than 10000.

    Notes
    -----
    Valid for dough that is weighed out evenly.

    Examples
    --------
    >>> mass_of_one_piece(Q(3, "kg"), Q(3, "piece")).magnitude
    1.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass / pieces


@formula(
    pieces="piece",
    piece_mass="kilogram",
    gives="kilogram",
    valid={"pieces": (0.0, 1e4), "piece_mass": (0.0, 1e4)},
    rests_on="mass balance",
)
def mass_of_pieces(pieces: float, piece_mass: float) -> float:
    r"""Mass of some pieces of one size.

    .. math:: m = n\,m_1

    Parameters
    ----------
    pieces : piece
    piece_mass : kilogram, of one

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : an argument lies outside 0 to 10000.

    Notes
    -----
    Valid for loaves of one baking.

    Examples
    --------
    >>> mass_of_pieces(Q(2, "piece"), Q(0.7, "kg")).magnitude
    1.4

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return pieces * piece_mass


@formula(
    dry_sugars="percent",
    moisture="percent",
    gives="percent",
    valid={"dry_sugars": (0.0, 100.0), "moisture": (0.0, 80.0)},
    rests_on="mass balance",
)
def sugars_in_moist_bread(dry_sugars: float, moisture: float) -> float:
    r"""Sugars in bread as it is weighed, from those of its dry matter.

    .. math:: s = s_\text{dry}\,(1 - w)

    Parameters
    ----------
    dry_sugars : percent, of the dry matter
    moisture : percent, of the bread

    Returns
    -------
    percent, of the mass as weighed

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : a share lies outside 0 to 100 percent, or the moisture above 80.

    Notes
    -----
    Valid for bread of any moisture: drying takes away water alone.

    Examples
    --------
    >>> sugars_in_moist_bread(Q(5, "percent"), Q(40, "percent")).magnitude
    3.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return dry_sugars * (1.0 - moisture / 100.0)
