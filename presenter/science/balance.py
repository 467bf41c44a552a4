"""Balances: what is poured together adds up, what is drawn off is missing from the rest.

In: masses, volumes and shares. Out: the same. No measured constant stands here but the density of water.
"""

from __future__ import annotations

from presenter.science.formula import formula
from presenter.science.water import water_density

__all__ = [
    "difference_of_masses",
    "difference_of_volumes",
    "mass_of_water",
    "part_of_mass",
    "share_drawn",
    "sum_of_masses",
    "sum_of_volumes",
    "water_in_ingredient",
    "weighted_attenuation",
    "wort_held_by_grain",
]  # fmt: skip


@formula(
    volume="litre", temperature="degree_Celsius", gives="kilogram", valid={"volume": (0, 1e6), "temperature": (0, 100)}
)
def mass_of_water(volume: float, temperature: float) -> float:
    r"""Mass of water measured by volume at a temperature.

    .. math:: m = V \, \rho(T)

    Parameters
    ----------
    volume : litre, as measured at that temperature
    temperature : degree_Celsius, of the water when it was measured

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the temperature lies outside 0 to 100 degrees Celsius, or the volume is below nothing.

    Notes
    -----
    Valid for air-free water near sea-level pressure.

    Examples
    --------
    >>> round(mass_of_water(Q(10, "litre"), Q(20, "degC")).magnitude, 3)
    9.982

    References
    ----------
    - `tanaka2001`
    - `kell1975`
    """
    return volume * float(water_density.plain(temperature))


@formula(mass="kilogram", other_mass="kilogram", gives="kilogram", rests_on="mass balance")
def sum_of_masses(mass: float, other_mass: float) -> float:
    r"""Mass of two portions put together.

    .. math:: m = m_1 + m_2

    Parameters
    ----------
    mass : kilogram
    other_mass : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> sum_of_masses(Q(3, "kg"), Q(500, "g")).magnitude
    3.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass + other_mass


@formula(mass="kilogram", taken="kilogram", gives="kilogram", rests_on="mass balance")
def difference_of_masses(mass: float, taken: float) -> float:
    r"""Mass left after some was taken away.

    .. math:: m = m_1 - m_2

    Parameters
    ----------
    mass : kilogram
    taken : kilogram

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always; a result below nothing means that more was taken than was there.

    Examples
    --------
    >>> difference_of_masses(Q(3, "kg"), Q(500, "g")).magnitude
    2.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass - taken


@formula(volume="litre", other_volume="litre", gives="litre", rests_on="volumes of like liquids add")
def sum_of_volumes(volume: float, other_volume: float) -> float:
    r"""Volume of two portions of like liquid poured together.

    .. math:: V = V_1 + V_2

    Parameters
    ----------
    volume : litre
    other_volume : litre

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid for liquids of like make at one temperature.

    Examples
    --------
    >>> sum_of_volumes(Q(3, "litre"), Q(2, "litre")).magnitude
    5.0

    References
    ----------
    Volume balance; holds no measured constant.
    """
    return volume + other_volume


@formula(volume="litre", taken="litre", gives="litre", rests_on="volume balance")
def difference_of_volumes(volume: float, taken: float) -> float:
    r"""Volume left after some was taken away.

    .. math:: V = V_1 - V_2

    Parameters
    ----------
    volume : litre
    taken : litre

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid at one temperature.

    Examples
    --------
    >>> difference_of_volumes(Q(3, "litre"), Q(2, "litre")).magnitude
    1.0

    References
    ----------
    Volume balance; holds no measured constant.
    """
    return volume - taken


@formula(volume="litre", whole="litre", gives="percent", rests_on="the wort is stirred, so each litre is like the next")
def share_drawn(volume: float, whole: float) -> float:
    r"""Share of a well-mixed liquid that a drawn volume takes with it.

    .. math:: s = 100 \, V / V_0

    Parameters
    ----------
    volume : litre, drawn
    whole : litre, from which it is drawn

    Returns
    -------
    percent

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while the liquid is mixed; a bed that is rinsed in layers gives the strongest wort first.

    Examples
    --------
    >>> share_drawn(Q(8, "litre"), Q(16, "litre")).magnitude
    50.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return 100.0 * volume / whole


@formula(mass="kilogram", share="percent", gives="kilogram", rests_on="mass balance")
def part_of_mass(mass: float, share: float) -> float:
    r"""Mass of a share of something.

    .. math:: m = m_0 \, s / 100

    Parameters
    ----------
    mass : kilogram
    share : percent

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> part_of_mass(Q(4, "kg"), Q(25, "percent")).magnitude
    1.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass * share / 100.0


@formula(mass="kilogram", moisture="percent", gives="kilogram", rests_on="mass balance")
def water_in_ingredient(mass: float, moisture: float) -> float:
    r"""Water that an ingredient brings with it.

    .. math:: m_W = m \, w / 100

    Parameters
    ----------
    mass : kilogram, as weighed
    moisture : percent of that mass

    Returns
    -------
    kilogram

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> round(water_in_ingredient(Q(3, "kg"), Q(4, "percent")).magnitude, 3)
    0.12

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return mass * moisture / 100.0


@formula(
    grain="kilogram",
    kept="litre / kilogram",
    gives="litre",
    valid={"grain": (0, 1e5), "kept": (0, 3)},
)
def wort_held_by_grain(grain: float, kept: float) -> float:
    r"""Volume of wort that the drained grain keeps.

    .. math:: V = m_G \, k

    Parameters
    ----------
    grain : kilogram, as weighed dry
    kept : litre / kilogram, wort kept by each kilogram of dry grain

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the grain keeps more than 3 litres a kilogram, or less than nothing.

    Notes
    -----
    Wet spent grain of 100 to 130 kg from 100 kg of grist, at 75 to 80 percent water, holds 0.75 to 1.04 litres a
    kilogram.

    Examples
    --------
    >>> wort_held_by_grain(Q(3.5, "kg"), Q(1, "L/kg")).magnitude
    3.5

    References
    ----------
    - `oxford_companion_spent_grain`
    """
    return grain * kept


@formula(
    extract="kilogram",
    attenuation="attenuation_percent",
    other_extract="kilogram",
    other_attenuation="attenuation_percent",
    gives="attenuation_percent",
    rests_on="each extract keeps its own fermentable share",
)
def weighted_attenuation(extract: float, attenuation: float, other_extract: float, other_attenuation: float) -> float:
    r"""Attenuation limit of two worts poured together.

    .. math:: A = (m_1 A_1 + m_2 A_2) / (m_1 + m_2)

    Parameters
    ----------
    extract : kilogram, in the one
    attenuation : attenuation_percent, of the one
    other_extract : kilogram, in the other
    other_attenuation : attenuation_percent, of the other

    Returns
    -------
    attenuation_percent

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while both hold some extract and neither has begun to ferment.

    Examples
    --------
    >>> high, low = Q(80, "attenuation_percent"), Q(70, "attenuation_percent")
    >>> weighted_attenuation(Q(1, "kg"), high, Q(1, "kg"), low).magnitude
    75.0

    References
    ----------
    Mass balance; holds no measured constant.
    """
    return (extract * attenuation + other_extract * other_attenuation) / (extract + other_extract)
