"""Water: density, mass by volume, specific heat, and what warming does to a volume.

In: temperatures, volumes. Out: one property each. Air-free pure water at ordinary pressure.
"""

from __future__ import annotations

from presenter.science.formula import formula
from presenter.science.published_tables import between_rows, published_table

__all__ = [
    "mass_of_water",
    "volume_after_temperature_change",
    "water_density",
    "water_density_kell_1975",
    "water_density_tanaka_2001",
    "water_specific_heat",
]


@formula(
    temperature="degree_Celsius",
    gives="kilogram / litre",
    valid={"temperature": (0.0, 40.0)},
    error=4e-6,
    error_because="worst miss against the published list, 0.0034 kg/m3 at 0 degC",
)
def water_density_tanaka_2001(temperature: float) -> float:
    r"""Density of water between freezing and 40 degC.

    .. math:: \rho = a_5 \left(1 - \frac{(t + a_1)^2 (t + a_2)}{a_3 (t + a_4)}\right)

    Parameters
    ----------
    temperature : degree_Celsius

    Returns
    -------
    kilogram / litre

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 0 to 40 degC.

    Notes
    -----
    Valid for air-free water at 101.325 kPa. The coefficients were read in transcriptions that name the paper.

    Examples
    --------
    >>> round(water_density_tanaka_2001(Q(20, "degC")).magnitude, 6)
    0.998207

    References
    ----------
    - `tanaka2001`
    """
    t = temperature
    return 0.999974950 * (1 - (t - 3.983035) ** 2 * (t + 301.797) / (522528.9 * (t + 69.34881)))


@formula(
    temperature="degree_Celsius",
    gives="kilogram / litre",
    valid={"temperature": (0.0, 150.0)},
    error=6e-5,
    error_because="agrees with the one-decimal published rows from 40 degC up within 0.06 kg/m3",
)
def water_density_kell_1975(temperature: float) -> float:
    r"""Density of water between freezing and 150 degC.

    .. math:: \rho = \frac{\sum_{k=0}^{5} a_k t^k}{1 + b t}

    Parameters
    ----------
    temperature : degree_Celsius

    Returns
    -------
    kilogram / litre

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 0 to 150 degC.

    Notes
    -----
    Valid on the temperature scale of 1968. A much-read paper of 1992 prints b as 16.897850e-3, two digits
    swapped; that gives 997.936 kg/m3 at 20 degC and is wrong.

    Examples
    --------
    >>> round(water_density_kell_1975(Q(80, "degC")).magnitude, 6)
    0.971798

    References
    ----------
    - `kell1975`
    """
    t = temperature
    above = (
        999.83952
        + 16.945176 * t
        - 7.9870401e-3 * t**2
        - 46.170461e-6 * t**3
        + 105.56302e-9 * t**4
        - 280.54253e-12 * t**5
    )
    return above / (1 + 16.879850e-3 * t) / 1000


@formula(
    temperature="degree_Celsius",
    gives="kilogram / litre",
    valid={"temperature": (0.0, 100.0)},
    error=6e-5,
    error_because="the wider of the two formulas that it chooses between",
)
def water_density(temperature: float) -> float:
    r"""Density of water, by the formula that holds at its temperature.

    .. math:: \rho = \rho_{2001}(t) \text{ to } 40\,^\circ\mathrm{C}, \quad \rho_{1975}(t) \text{ above}

    Parameters
    ----------
    temperature : degree_Celsius

    Returns
    -------
    kilogram / litre

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 0 to 100 degC.

    Notes
    -----
    Valid while the water is liquid at ordinary pressure. At 40 degC the two formulas differ by less than 0.001 kg/m3.

    Examples
    --------
    >>> round(water_density(Q(66, "degC")).magnitude, 4)
    0.98

    References
    ----------
    - `tanaka2001`
    - `kell1975`
    """
    if temperature <= 40:
        return float(water_density_tanaka_2001.plain(temperature))
    return float(water_density_kell_1975.plain(temperature))


@formula(
    temperature="degree_Celsius",
    gives="kilojoule / kilogram / delta_degree_Celsius",
    valid={"temperature": (10.0, 100.0)},
    error=0.004,
    error_because="a private page's table; it lies 0.0033 kJ/(kg degC) from an independent library at 10 degC",
)
def water_specific_heat(temperature: float) -> float:
    r"""Heat that warms one kilogram of water by one degree.

    .. math:: c = c_i + (c_{i+1} - c_i) \frac{T - T_i}{T_{i+1} - T_i}

    Parameters
    ----------
    temperature : degree_Celsius

    Returns
    -------
    kilojoule / kilogram / delta_degree_Celsius

    Raises
    ------
    WrongUnitError : the argument is no temperature.
    OutOfRangeError : the temperature lies outside 10 to 100 degC.

    Notes
    -----
    Valid at ordinary pressure; straight lines between the ten rows. The table's standing is weak, so its error
    is taken from its distance to an independent library.

    Examples
    --------
    >>> round(water_specific_heat(Q(65, "degC")).magnitude, 4)
    4.1869

    References
    ----------
    - `water_data_page`
    """
    table = published_table("water_specific_heat")
    return between_rows(temperature, table.column("temperature"), table.column("specific_heat"))


@formula(
    volume="litre",
    temperature="degree_Celsius",
    new_temperature="degree_Celsius",
    gives="litre",
    valid={"temperature": (0.0, 100.0), "new_temperature": (0.0, 100.0)},
    relative_error=0.002,
    error_because="sugar changes how wort swells: at 15 degC the sucrose table differs from water by 0.0003 of the"
    " volume at 15 percent; hot wort was not seen in print, so several times that is allowed",
)
def volume_after_temperature_change(volume: float, temperature: float, new_temperature: float) -> float:
    r"""Volume of water or wort after it has been warmed or cooled.

    .. math:: V_2 = V_1 \frac{\rho(T_1)}{\rho(T_2)}

    Parameters
    ----------
    volume : litre
    temperature : degree_Celsius, at which the volume was taken
    new_temperature : degree_Celsius

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : a temperature lies outside 0 to 100 degC.

    Notes
    -----
    Valid for water, and for wort as far as it swells like water. Boiling wort loses 4 percent on cooling.

    Examples
    --------
    >>> round(volume_after_temperature_change(Q(8, "L"), Q(99, "degC"), Q(20, "degC")).magnitude, 2)
    7.69

    References
    ----------
    - `tanaka2001`
    - `kell1975`
    """
    return float(volume * water_density.plain(temperature) / water_density.plain(new_temperature))


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
