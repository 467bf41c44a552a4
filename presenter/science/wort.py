"""Wort: its density, volume, mass and extract, and what becomes of them when worts are poured together.

In: volumes at 20 degC, masses, apparent gravities 20/20 degC. Out: one quantity each.
"""

from __future__ import annotations

from presenter.science.formula import OutOfRangeError, formula
from presenter.science.gravity import degrees_plato_from_gravity, gravity_from_degrees_plato
from presenter.science.water import water_density_tanaka_2001

__all__ = [
    "blended_gravity",
    "extract_in_volume",
    "gravity_from_extract_and_water",
    "mass_of_wort",
    "volume_of_wort",
    "wort_density",
]

AIR_DENSITY = 0.0012
"""Density of air in kg/L, as the published conversion from apparent gravity takes it."""
STRONGEST = 40.0
"""Degrees Plato at which the cubics end."""


@formula(
    gravity="gravity",
    gives="kilogram / litre",
    valid={"gravity": (0.98, 1.17874)},
    error=3e-5,
    error_because="the sucrose table stands on water 0.023 kg/m3 heavier than today's",
)
def wort_density(gravity: float) -> float:
    r"""True density of a wort at 20 degC from its apparent gravity.

    .. math:: \rho = \rho_\text{air} + S (\rho_\text{water} - \rho_\text{air})

    Parameters
    ----------
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    kilogram / litre

    Raises
    ------
    WrongUnitError : the argument is no gravity.
    OutOfRangeError : the gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid at 20 degC with air of 1.2 kg/m3.

    Examples
    --------
    >>> round(wort_density(Q(1.048, "gravity")).magnitude, 4)
    1.0461

    References
    ----------
    - `tanaka2001`
    - `asbc_cubic`
    """
    return float(AIR_DENSITY + gravity * (water_density_tanaka_2001.plain(20.0) - AIR_DENSITY))


@formula(
    mass="kilogram",
    gravity="gravity",
    gives="litre",
    valid={"gravity": (0.98, 1.17874)},
    relative_error=3e-5,
    error_because="that of the density",
)
def volume_of_wort(mass: float, gravity: float) -> float:
    r"""Volume of a mass of wort at 20 degC.

    .. math:: V = m / \rho(S)

    Parameters
    ----------
    mass : kilogram
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid at 20 degC; see ``volume_after_temperature_change`` for hot wort.

    Examples
    --------
    >>> round(volume_of_wort(Q(10.461, "kg"), Q(1.048, "gravity")).magnitude, 3)
    10.0

    References
    ----------
    - `tanaka2001`
    - `asbc_cubic`
    """
    return float(mass / wort_density.plain(gravity))


@formula(
    volume="litre",
    gravity="gravity",
    gives="kilogram",
    valid={"gravity": (0.98, 1.17874)},
    relative_error=3e-5,
    error_because="that of the density",
)
def mass_of_wort(volume: float, gravity: float) -> float:
    r"""Mass of a volume of wort at 20 degC.

    .. math:: m = V \rho(S)

    Parameters
    ----------
    volume : litre, at 20 degC
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid at 20 degC.

    Examples
    --------
    >>> round(mass_of_wort(Q(10, "L"), Q(1.048, "gravity")).magnitude, 3)
    10.461

    References
    ----------
    - `tanaka2001`
    - `asbc_cubic`
    """
    return float(volume * wort_density.plain(gravity))


@formula(
    volume="litre",
    gravity="gravity",
    gives="kilogram",
    valid={"gravity": (0.98, 1.17874)},
    relative_error=0.001,
    error_because="0.01 degrees Plato in ten",
)
def extract_in_volume(volume: float, gravity: float) -> float:
    r"""Mass of extract in a volume of wort at 20 degC.

    .. math:: E = V \rho(S) P(S) / 100

    Parameters
    ----------
    volume : litre, at 20 degC
    gravity : gravity, apparent, 20/20 degC

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid for wort before fermentation; in a drink that holds alcohol the gravity hides part of the extract.

    Examples
    --------
    >>> round(extract_in_volume(Q(10, "L"), Q(1.0484, "gravity")).magnitude, 3)
    1.257

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    - `tanaka2001`
    """
    return float(volume * wort_density.plain(gravity) * degrees_plato_from_gravity.plain(gravity) / 100)


@formula(
    extract="kilogram",
    water="kilogram",
    gives="gravity",
    valid={"extract": (0.0, 1e5), "water": (0.001, 1e6)},
    error=0.00004,
    error_because="0.01 degrees Plato, the error of the cubics",
)
def gravity_from_extract_and_water(extract: float, water: float) -> float:
    r"""Gravity of a wort from the extract and the water that it is made of.

    .. math:: P = \frac{100\,E}{E + W}, \quad S = S(P)

    Parameters
    ----------
    extract : kilogram, all of it dissolved
    water : kilogram

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument is no mass.
    OutOfRangeError : the extract is over 40 percent of the whole, or there is no water.

    Notes
    -----
    Valid up to 40 percent by mass.

    Examples
    --------
    >>> round(gravity_from_extract_and_water(Q(1.2, "kg"), Q(8.8, "kg")).magnitude, 4)
    1.0484

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    share = 100 * extract / (extract + water)
    if share > STRONGEST:
        raise OutOfRangeError("gravity_from_extract_and_water", "extract", share, "degree_Plato", 0.0, STRONGEST)
    return float(gravity_from_degrees_plato.plain(share))


@formula(
    volume="litre",
    gravity="gravity",
    other_volume="litre",
    other_gravity="gravity",
    gives="gravity",
    valid={"gravity": (0.98, 1.17874), "other_gravity": (0.98, 1.17874)},
    error=0.00004,
    error_because="0.01 degrees Plato, the error of the cubics",
    rests_on="mass balance of extract and of the whole",
)
def blended_gravity(volume: float, gravity: float, other_volume: float, other_gravity: float) -> float:
    r"""Gravity of two worts poured together, or of one wort let down with water.

    .. math:: P = \frac{E_1 + E_2}{m_1 + m_2} \cdot 100, \quad S = S(P)

    Parameters
    ----------
    volume : litre, at 20 degC
    gravity : gravity, apparent, 20/20 degC
    other_volume : litre, at 20 degC
    other_gravity : gravity, apparent, 20/20 degC; 1.000 for water

    Returns
    -------
    gravity

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : a gravity lies outside 0.98 to 1.17874.

    Notes
    -----
    Valid before fermentation. Extract and mass are kept, so the two volumes need not add up exactly.

    Examples
    --------
    >>> round(blended_gravity(Q(4, "L"), Q(1.080, "gravity"), Q(4, "L"), Q(1.000, "gravity")).magnitude, 4)
    1.0402

    References
    ----------
    - `asbc_cubic`
    - `nbs_cubic`
    """
    extract = extract_in_volume.plain(volume, gravity) + extract_in_volume.plain(other_volume, other_gravity)
    mass = mass_of_wort.plain(volume, gravity) + mass_of_wort.plain(other_volume, other_gravity)
    return float(gravity_from_degrees_plato.plain(100 * extract / mass))
