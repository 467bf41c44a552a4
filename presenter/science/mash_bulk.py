"""The room a mash takes in its tub, and what a rest loses in warmth.

In: grain, water, temperatures. Out: litres, degrees.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["mash_volume", "temperature_after_loss"]

LITRES_PER_KILOGRAM = 0.67  # room that a kilogram of crushed grain takes up under water


@formula(
    grain="kilogram",
    water="litre",
    gives="litre",
    valid={"grain": (0, 1e5), "water": (0, 1e6)},
    relative_error=0.02,
    error_because="grain displaces 0.6 to 0.75 litres a kilogram",
    rests_on="common practice: a kilogram of crushed grain takes up two thirds of a litre under water",
)
def mash_volume(grain: float, water: float) -> float:
    r"""Room that a mash takes in its tub.

    .. math:: V = V_w + 0.67 \, m_G

    Parameters
    ----------
    grain : kilogram, as weighed dry
    water : litre

    Returns
    -------
    litre

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : there is less than nothing of either.

    Notes
    -----
    Leaves no room for stirring; a tub should stand a tenth empty.

    Examples
    --------
    >>> round(mash_volume(Q(3, "kg"), Q(12, "litre")).magnitude, 1)
    14.0

    References
    ----------
    Common practice; no source.
    """
    return water + LITRES_PER_KILOGRAM * grain


@formula(temperature="degree_Celsius", loss="delta_degree_Celsius", gives="degree_Celsius", rests_on="a difference")
def temperature_after_loss(temperature: float, loss: float) -> float:
    r"""Temperature after so many degrees were lost.

    .. math:: T_2 = T_1 - \Delta T

    Parameters
    ----------
    temperature : degree_Celsius
    loss : delta_degree_Celsius

    Returns
    -------
    degree_Celsius

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid always.

    Examples
    --------
    >>> temperature_after_loss(Q(66, "degC"), Q(3, "delta_degC")).magnitude
    63.0

    References
    ----------
    A difference; holds no measured constant.
    """
    return temperature - loss
