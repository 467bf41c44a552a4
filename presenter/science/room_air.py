"""Room air: how much of a room's air a gas would be.

In: litres of gas, cubic metres of room. Out: a share.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["share_of_room"]


@formula(gas="litre", room="cubic_metre", gives="ppm", valid={"room": (0.1, 1e6)}, rests_on="volume balance")
def share_of_room(gas: float, room: float) -> float:
    r"""Share of a room's air that so much gas is.

    .. math:: s = 10^6 \, \frac{V_g}{1000 \, V}

    Parameters
    ----------
    gas : litre, at the temperature of the room
    room : cubic_metre, of air

    Returns
    -------
    ppm, parts in a million by volume

    Raises
    ------
    WrongUnitError : an argument has another dimension.
    OutOfRangeError : the room holds less than 0.1 or more than a million cubic metres.

    Notes
    -----
    As if all the gas came at once, spread evenly and stayed. A fermentation takes days and rooms leak, so the room's
    mean is less; carbon dioxide is heavier than air and gathers low, so a pit or a tub can hold far more.

    Examples
    --------
    >>> round(share_of_room(Q(400, "litre"), Q(40, "cubic_metre")).magnitude)
    10000

    References
    ----------
    Volume balance; holds no measured constant.
    """
    return 1e6 * gas / (1000.0 * room)
