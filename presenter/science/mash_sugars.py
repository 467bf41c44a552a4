"""What a mash has made: starch dissolved and converted, sugars by kind, fermentability, apparent attenuation.

In: a :class:`MashState`. Out: percentages and kilograms per kilogram of starch, weighed with the water that the sugars
took up, and apparent attenuation with its band.
"""

from __future__ import annotations

from dataclasses import dataclass

from presenter.science.attenuation import apparent_attenuation_from_fermentable
from presenter.science.mash_model import MashModel, mash_model
from presenter.science.mash_state import MashInputError, MashState

__all__ = [
    "MashAttenuation",
    "MashSugars",
    "mash_attenuation",
    "mash_sugars",
    "starch_converted",
    "starch_dissolved",
]

# mass of sugar from one mass of starch: molar masses over anhydroglucose units (derived)
GLUCOSE_WEIGHS = 180.156 / 162.141
MALTOSE_WEIGHS = 342.297 / 324.282
MALTOTRIOSE_WEIGHS = 504.438 / 486.423


@dataclass(frozen=True)
class MashSugars:
    """Kilograms for each kilogram of starch at the start: sugars with the water they took up, and dextrin.

    ``dextrin`` counts gelatinised starch that is still whole as well; the water that dextrin took up is neglected.
    """

    glucose: float
    maltose: float
    maltotriose: float
    dextrin: float

    @property
    def total(self) -> float:
        """Everything from the starch that is dissolved."""
        return self.glucose + self.maltose + self.maltotriose + self.dextrin

    @property
    def by_kind(self) -> dict[str, float]:
        """Percent by mass of what is dissolved from the starch, by kind; all zero where nothing is."""
        total = self.total or 1.0
        kinds = {"glucose": self.glucose, "maltose": self.maltose, "maltotriose": self.maltotriose}
        return {kind: 100.0 * mass / total for kind, mass in (kinds | {"dextrin": self.dextrin}).items()}


@dataclass(frozen=True)
class MashAttenuation:
    """Apparent attenuation in percent, with its band in points (k = 2).

    ``qualitative`` where more than a hundredth of the sugar was made above 75 degC: then only the direction holds.
    """

    percent: float
    band: float
    fermentable_percent: float
    qualitative: bool


def starch_dissolved(state: MashState) -> float:
    r"""Yield: starch no longer in granules.

    .. math:: Y = 100 (1 - G)

    Parameters
    ----------
    state : MashState, shares

    Returns
    -------
    float, percent

    Raises
    ------
    Nothing.

    Notes
    -----
    Show it beside the attenuation of any rest below about 60 degC, where a wort ferments far but little starch is won.

    Examples
    --------
    >>> starch_dissolved(fresh([MashPart("barley", 1.0, 1.0)]))
    0.0

    References
    ----------
    - `rittenauer2021`
    """
    return 100.0 * (1.0 - state.in_granules)


def starch_converted(state: MashState) -> float:
    r"""Starch that has become dextrin or sugar.

    .. math:: C = 100 (D + g + m + t)

    Parameters
    ----------
    state : MashState, shares

    Returns
    -------
    float, percent

    Raises
    ------
    Nothing.

    Notes
    -----
    Minutes to full conversion are not to be quoted from the model: how fast starch thins is held, not fitted.

    Examples
    --------
    >>> mash = mash_end(fresh([MashPart("barley", 1.0, 1.0)]), [(0, 66), (60, 66)])
    >>> round(starch_converted(mash))
    100

    References
    ----------
    - `brandam2003`
    """
    return 100.0 * (state.dextrin + state.sugars)


def mash_sugars(state: MashState) -> MashSugars:
    r"""Sugars by kind, weighed with the water they took up.

    .. math:: m_{glucose} = \frac{180.156}{162.141} g, \quad m_{maltose} = \frac{342.297}{324.282} m, \quad
        m_{maltotriose} = \frac{504.438}{486.423} t

    Parameters
    ----------
    state : MashState, shares

    Returns
    -------
    MashSugars, kilogram per kilogram of starch

    Raises
    ------
    Nothing.

    Notes
    -----
    Sugars that the grain brought (sucrose, fructose) are not in it.

    Examples
    --------
    >>> mash = mash_end(fresh([MashPart("barley", 1.0, 1.0)]), [(0, 65), (60, 65)])
    >>> max(mash_sugars(mash).by_kind, key=mash_sugars(mash).by_kind.get)
    'maltose'

    References
    ----------
    - `trommer2018`
    - `starch_degradation_abstract`
    """
    return MashSugars(
        glucose=GLUCOSE_WEIGHS * state.glucose,
        maltose=MALTOSE_WEIGHS * state.maltose,
        maltotriose=MALTOTRIOSE_WEIGHS * state.maltotriose,
        dextrin=state.dextrin + state.gelatinised,
    )


def mash_attenuation(
    state: MashState,
    *,
    original_extract: float = 12.0,
    maltotriose_used: float = 1.0,
    sugars_brought: float | None = None,
    other_extract: float | None = None,
    model: MashModel | None = None,
) -> MashAttenuation:
    r"""How far a healthy yeast takes the wort of a mash.

    .. math:: F = 100 \frac{g + m + u t + b}{g + m + t + d + b + o}, \qquad A = (1.220 + 0.001 P) F

    Parameters
    ----------
    state : MashState, shares
    original_extract : float, degree_Plato, 0 to 25
    maltotriose_used : float, share of the maltotriose that the yeast uses, from 0 to 1; 1 for a lager yeast (less for
        ale yeasts, by how much is not published in what this project could read)
    sugars_brought, other_extract : float, kilogram per kilogram of starch: sugars that were in the grist before
        mashing, and extract that is neither starch nor sugar; those of pale malt if not given

    Returns
    -------
    MashAttenuation, percent and points

    Raises
    ------
    MashInputError : nothing is dissolved yet, or the maltotriose used lies outside 0 to 1.

    Notes
    -----
    Real attenuation is the fermentable share of the extract; Balling's quotient makes it apparent. The band is that of
    the fitted points (65, 70, 75 degC) with the worst residual; it widens to twice for sugar made at 60 degC or below
    and to three times at 80 degC, where nothing was fitted. It holds for pale barley malt.

    Examples
    --------
    >>> mash = mash_end(fresh([MashPart("barley", 1.0, 1.0)]), [(0, 65), (60, 65)])
    >>> 79 < mash_attenuation(mash).percent < 85
    True

    References
    ----------
    - `chandrasekhar`
    - `trommer2018`
    - `balling_gaerungschemie`
    - `usda_sr28`
    """
    model = model or mash_model()
    if not 0.0 <= maltotriose_used <= 1.0:
        raise MashInputError(f"a share of {maltotriose_used:.6g} of the maltotriose was given; it runs from 0 to 1")
    made = mash_sugars(state)
    brought = model.sugars_brought if sugars_brought is None else sugars_brought
    other = model.other_extract if other_extract is None else other_extract
    if not made.total > 0.0:
        raise MashInputError("no starch is dissolved yet, so there is no wort to ferment")
    fermented = made.glucose + made.maltose + maltotriose_used * made.maltotriose + brought
    fermentable = 100.0 * fermented / (made.total + brought + other)
    apparent_attenuation_from_fermentable.check(original_extract=original_extract)
    sugars = state.sugars
    wide = state.widened / sugars if sugars > 0.0 else model.widening(60.0)
    return MashAttenuation(
        percent=apparent_attenuation_from_fermentable.plain(fermentable, original_extract),
        band=model.band * wide,
        fermentable_percent=fermentable,
        qualitative=sugars > 0.0 and state.made_hot > 0.01 * sugars,
    )
