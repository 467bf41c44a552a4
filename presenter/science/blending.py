"""Blending: what two worts are together, when each keeps its own.

In: the extract of each, and what share of it is of one kind. Out: that share of both together.
"""

from __future__ import annotations

from presenter.science.formula import formula

__all__ = ["mixed_share"]


@formula(
    extract="kilogram",
    share="percent",
    other_extract="kilogram",
    other_share="percent",
    gives="percent",
    rests_on="mass balance: each extract keeps its own make-up",
)
def mixed_share(extract: float, share: float, other_extract: float, other_share: float) -> float:
    r"""Share of one kind of sugar in the extract of two worts put together.

    .. math:: s = (m_1 s_1 + m_2 s_2) / (m_1 + m_2)

    Parameters
    ----------
    extract : kilogram, in the one
    share : percent of that extract
    other_extract : kilogram, in the other
    other_share : percent of that extract

    Returns
    -------
    percent, of the extract of both

    Raises
    ------
    WrongUnitError : an argument has another dimension.

    Notes
    -----
    Valid while both together hold some extract; where there is none, the first share is given back.

    Examples
    --------
    >>> round(mixed_share(Q(1, "kg"), Q(94, "percent"), Q(3, "kg"), Q(64, "percent")).magnitude, 1)
    71.5

    References
    ----------
    Mass balance; holds no measured constant.
    """
    whole = extract + other_extract
    return share if whole == 0.0 else (extract * share + other_extract * other_share) / whole
