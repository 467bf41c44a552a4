"""What is in a mash at one moment: starch by form, sugars, enzymes left; and what can be done to it without a rest.

In: the starch of each part of the grist, its enzymes, and what was cooked before. Out: :class:`MashState`, shares of
the starch it stands for, which :func:`presenter.science.mash.mash_course` carries through a rest. States are mixed by
their shares of the starch, boiled, and drawn off.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from presenter.problems import BrewingPresenterError
from presenter.science.gelatinisation import gelatinisation_shift
from presenter.science.mash_model import MashModel, mash_model

__all__ = ["MashInputError", "MashPart", "MashState", "UnknownEnzymesError", "boiled", "drawn_off", "fresh", "mixed"]


class MashInputError(BrewingPresenterError):
    """What was given cannot be a mash; the message says which part and what is allowed."""


class UnknownEnzymesError(BrewingPresenterError):
    """The enzyme strength of a sprouted grain is unpublished, and the caller gave no figure of their own."""


@dataclass(frozen=True)
class MashPart:
    """One part of the grist.

    ``starch`` is its starch in any mass unit, the same for all parts. ``strength`` is its enzymes for each kilogram of
    starch against pale barley malt: 1 for pale barley malt, 0 for what was never malted or was roasted, None where it
    is unknown. ``cooked`` is the share of its starch that was gelatinised beforehand (1 for boiled or baked grain).
    ``alive`` are the shares of alpha-amylase and of beta-amylase's fast and slow fractions that it still has.
    """

    grain: str
    starch: float
    strength: float | None
    cooked: float = 0.0
    alive: tuple[float, float, float] = (1.0, 1.0, 1.0)


@dataclass(frozen=True)
class MashState:
    """Starch by form and sugars, as shares of the starch that the state stands for (dry: without water taken up).

    ``granules`` has the starch still in granules by grain; all shares add up to 1. ``alpha``, ``beta_fast`` and
    ``beta_slow`` are the enzymes now, and ``strength`` the enzymes at the start, against pale barley malt = 1 per
    starch. ``widened`` and ``made_hot`` carry how much of the sugar was made away from the fitted rests.
    """

    granules: Mapping[str, float]
    gelatinised: float
    dextrin: float
    glucose: float
    maltose: float
    maltotriose: float
    alpha: float
    beta_fast: float
    beta_slow: float
    strength: float
    widened: float = 0.0
    made_hot: float = 0.0

    @property
    def in_granules(self) -> float:
        """Starch still in granules, all grains, as a share."""
        return sum(self.granules.values())

    @property
    def sugars(self) -> float:
        """Glucose, maltose and maltotriose, as a share of the starch."""
        return self.glucose + self.maltose + self.maltotriose

    @property
    def alpha_left(self) -> float:
        """Alpha-amylase left, as a share of the start; 0 where there never was any."""
        return self.alpha / self.strength if self.strength else 0.0

    @property
    def beta_left(self) -> float:
        """Beta-amylase left, as a share of the start; 0 where there never was any."""
        return (self.beta_fast + self.beta_slow) / self.strength if self.strength else 0.0


def _state(granules: Mapping[str, float], numbers: Mapping[str, float]) -> MashState:
    return MashState(granules=MappingProxyType(dict(granules)), **numbers)


def fresh(parts: Iterable[MashPart], model: MashModel | None = None) -> MashState:
    r"""The mash at the moment the grist meets the water.

    .. math:: e = \frac{\sum_i m_i e_i}{\sum_i m_i}

    Parameters
    ----------
    parts : iterable of MashPart; starch masses in one unit, strengths against pale barley malt per starch, cooked
        shares from 0 to 1
    model : MashModel, the fitted model if not given

    Returns
    -------
    MashState, shares of the whole starch

    Raises
    ------
    MashInputError : there is no starch, or a part is negative, or its cooked share lies outside 0 to 1.
    UnknownGrainError : no identified source gives the grain's gelatinisation.
    UnknownEnzymesError : a part's strength is None.

    Notes
    -----
    Unmalted grain dilutes the malt's enzymes. Enzyme strengths of sprouted grains other than barley are unpublished in
    what this project could read; the caller gives a figure or is refused.

    Examples
    --------
    >>> mash = fresh([MashPart("barley", 1.5, 1.0), MashPart("oats", 0.5, 0.0)])
    >>> mash.strength, dict(mash.granules)
    (0.75, {'barley': 0.75, 'oats': 0.25})

    References
    ----------
    - `brandam2003`
    """
    model = model or mash_model()
    parts = tuple(parts)
    total = sum(part.starch for part in parts)
    if not total > 0.0:
        raise MashInputError("there is no starch in this mash")
    granules: dict[str, float] = {}
    strength = cooked = alpha = fast = slow = 0.0
    for part in parts:
        if part.strength is None:
            raise UnknownEnzymesError(
                f"the enzymes of sprouted {part.grain} are unpublished;"
                " give a figure of your own, against pale barley malt"
            )
        if part.starch < 0.0 or part.strength < 0.0 or not 0.0 <= part.cooked <= 1.0:
            raise MashInputError(f"the {part.grain} of this mash has a negative amount, or more cooked than there is")
        gelatinisation_shift(part.grain)
        share = part.starch / total
        granules[part.grain] = granules.get(part.grain, 0.0) + share * (1.0 - part.cooked)
        cooked += share * part.cooked
        strength += share * part.strength
        alpha, fast, slow = (
            so_far + share * part.strength * left for so_far, left in zip((alpha, fast, slow), part.alive, strict=True)
        )
    quick = model.beta_fast_share
    return _state(
        granules,
        dict.fromkeys(_NUMBERS, 0.0)
        | {"gelatinised": cooked, "alpha": alpha, "strength": strength}
        | {"beta_fast": fast * quick, "beta_slow": slow * (1.0 - quick)},
    )


_NUMBERS = (
    *("gelatinised", "dextrin", "glucose", "maltose", "maltotriose", "alpha", "beta_fast", "beta_slow", "strength"),
    *("widened", "made_hot"),
)


def mixed(first: MashState, second: MashState, share_of_first: float) -> MashState:
    r"""Two mashes poured together.

    .. math:: x = w x_1 + (1 - w) x_2

    Parameters
    ----------
    first, second : MashState
    share_of_first : float, share of the whole starch that comes with the first, from 0 to 1

    Returns
    -------
    MashState, shares of the starch of both

    Raises
    ------
    MashInputError : the share lies outside 0 to 1.

    Notes
    -----
    A balance; holds no measured constant. The heat of mixing is no part of it.

    Examples
    --------
    >>> mash = fresh([MashPart("barley", 1.0, 1.0)])
    >>> mixed(mash, boiled(mash), 0.75).alpha_left
    0.75

    References
    ----------
    Mass balance.
    """
    if not 0.0 <= share_of_first <= 1.0:
        raise MashInputError(f"a share of {share_of_first:.6g} was given for the first mash; it runs from 0 to 1")
    rest = 1.0 - share_of_first
    grains = [*first.granules, *(grain for grain in second.granules if grain not in first.granules)]
    granules = {g: share_of_first * first.granules.get(g, 0.0) + rest * second.granules.get(g, 0.0) for g in grains}
    numbers = {n: share_of_first * getattr(first, n) + rest * getattr(second, n) for n in _NUMBERS}
    return _state(granules, numbers)


def boiled(state: MashState) -> MashState:
    r"""A mash, or the part drawn from it, after a boil.

    .. math:: x_{granules} = 0, \quad \alpha = \beta = 0

    Parameters
    ----------
    state : MashState

    Returns
    -------
    MashState, all starch gelatinised, no enzyme left

    Raises
    ------
    Nothing.

    Notes
    -----
    Valid for a real boil of some minutes. What the enzymes still do on the way up belongs to a course up to 80 degC
    given before; nothing is counted between 80 degC and the boil. Highest published end of gelatinisation: 90 degC;
    alpha-amylase in rye flour is gone at 85 degC.

    Examples
    --------
    >>> boiled(fresh([MashPart("maize", 1.0, 0.0)])).gelatinised
    1.0

    References
    ----------
    - `mebak_gelatinisation`
    - `chizhova_handbook`
    """
    return replace(
        state,
        granules=MappingProxyType(dict.fromkeys(state.granules, 0.0)),
        gelatinised=state.gelatinised + state.in_granules,
        alpha=0.0,
        beta_fast=0.0,
        beta_slow=0.0,
    )


def drawn_off(state: MashState, share: float) -> tuple[MashState, float]:
    r"""What stays in the grain bed after a share of the wort was drawn off.

    .. math:: x' = \frac{(1 - s) x}{g + (1 - s)(1 - g)}

    Parameters
    ----------
    state : MashState
    share : float, share of the wort that leaves, from 0 to 1

    Returns
    -------
    (MashState, float) : the bed, as shares of the starch it still stands for, and that starch as a share of before

    Raises
    ------
    MashInputError : the share lies outside 0 to 1, or nothing at all would stay.

    Notes
    -----
    Everything dissolved leaves in one proportion, the enzymes too; granules, g, stay in the bed. The wort drawn has the
    spectrum of the state before.

    Examples
    --------
    >>> bed, stays = drawn_off(boiled(fresh([MashPart("oats", 1.0, 0.0)])), 0.75)
    >>> stays, bed.gelatinised
    (0.25, 1.0)

    References
    ----------
    Mass balance.
    """
    if not 0.0 <= share <= 1.0:
        raise MashInputError(f"a share of {share:.6g} of the wort was to be drawn off; it runs from 0 to 1")
    granules = state.in_granules
    stays = granules + (1.0 - share) * (1.0 - granules)
    if not stays > 0.0:
        raise MashInputError("all of the mash was drawn off; nothing stays in the bed")
    kept = (1.0 - share) / stays
    numbers = {name: getattr(state, name) * kept for name in _NUMBERS}
    return _state({grain: x / stays for grain, x in state.granules.items()}, numbers), stays
