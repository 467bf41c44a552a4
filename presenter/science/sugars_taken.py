"""Sugars taken: how much of a wort's extract one yeast uses up, by what it leaves of maltose and maltotriose.

In: shares of the extract, and the shares of two sugars that the yeast takes. Out: the share it ferments.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["fermented_share"]


@formula(
    fermentable="percent",
    maltose="percent",
    maltose_taken="percent",
    maltotriose="percent",
    maltotriose_taken="percent",
    gives="percent",
    valid={
        "fermentable": (0, 100),
        "maltose": (0, 100),
        "maltose_taken": (0, 100),
        "maltotriose": (0, 100),
        "maltotriose_taken": (0, 100),
    },
    rests_on="mass balance; what each yeast takes is in the table of yeasts",
)
def fermented_share(
    fermentable: float, maltose: float, maltose_taken: float, maltotriose: float, maltotriose_taken: float
) -> float:
    r"""Share of the extract that one yeast ferments in the end.

    .. math:: F = f - m (1 - u_m / 100) - t (1 - u_t / 100)

    Parameters
    ----------
    fermentable : percent of the extract that is sugar some brewing yeast can use
    maltose : percent of the extract
    maltose_taken : percent of the maltose that this yeast uses
    maltotriose : percent of the extract
    maltotriose_taken : percent of the maltotriose that this yeast uses

    Returns
    -------
    percent, of the extract: the real attenuation

    Raises
    ------
    WrongUnitError : an argument is no share.
    OutOfRangeError : a share lies outside 0 to 100 percent.

    Notes
    -----
    Holds while the yeast has food enough and alcohol does not stop it. Glucose, fructose and sucrose are always taken.

    Examples
    --------
    >>> shares = [Q(value, "percent") for value in (66, 45, 98, 12, 80)]
    >>> round(fermented_share(*shares).magnitude, 1)
    62.7

    References
    ----------
    Mass balance; holds no measured constant.
    """
    left = maltose * (1 - maltose_taken / 100) + maltotriose * (1 - maltotriose_taken / 100)
    return fermentable - left
