"""The constants of the mash model, as fitted by this project to published points.

In: ``tables/mash_model.yaml``, written by ``tests/calibration/fit_mash_model.py``. Out: :class:`MashModel`, plain
numbers in minutes, degrees Celsius and kilojoules per mole. A teaching model: the reaction scheme is published
(brandam2003), its rate constants are not, and these are ours.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from typing import Any

import yaml

__all__ = ["COLDEST", "HOTTEST", "QUALITATIVE_ABOVE", "MashModel", "mash_model", "mash_model_record"]

GAS = 8.314462618e-3  # kJ/(mol K), the molar gas constant (exact by the definitions of 2019)
REFERENCE = 338.15  # K: rates are stated at 65 degC
COLDEST = 30.0  # degC: the enzymes' activities were measured from 25 degC, and little happens below
HOTTEST = 80.0  # degC: the warmest point that the fit knows
QUALITATIVE_ABOVE = 75.0  # degC


@dataclass(frozen=True)
class MashModel:
    """Every constant of the model. Rates are per minute at 65 degC unless the name says otherwise; energies kJ/mol."""

    gelatinisation_switch: float  # degC, for barley at the reference thickness
    gelatinisation_rate: float  # per minute at the switch
    gelatinisation_energy_below: float
    gelatinisation_energy_above: float
    alpha_thins: float  # alpha-amylase on gelatinised starch
    alpha_releases: float  # alpha-amylase on dextrin
    beta_releases: float  # beta-amylase on gelatinised starch and on dextrin
    alpha_energy: float
    beta_energy: float
    alpha_direct: float  # share of what can become sugar that alpha-amylase frees as it thins the starch
    alpha_glucose: float  # shares of the sugar that alpha-amylase frees; they add up to 1
    alpha_maltose: float
    alpha_maltotriose: float
    limit_dextrin: float  # share of the starch that neither enzyme can turn to sugar
    alpha_decay: float
    alpha_decay_energy: float
    beta_fast_share: float  # share of beta-amylase that dies fast
    beta_fast_decay: float
    beta_slow_decay: float
    beta_decay_energy: float
    sugars_brought: float  # kg of sugars present before mashing, for each kg of starch of pale malt
    other_extract: float  # kg of extract that is neither starch nor sugar, for each kg of starch of pale malt
    band: float  # points of apparent attenuation (k = 2), for rests from 65 to 75 degC

    def widening(self, temperature: float) -> float:
        """By how much the band widens for sugar made at a temperature: 1 inside the fitted rests of 65 to 75 degC.

        Twice at 60 degC and below, since no published attenuation was at hand there; three times at 80 degC, where the
        one checked point is missed by about that much; straight lines between.
        """
        if temperature < 65.0:
            return 1.0 + min(65.0 - temperature, 5.0) / 5.0
        return 1.0 + 2.0 * max(temperature - QUALITATIVE_ABOVE, 0.0) / (HOTTEST - QUALITATIVE_ABOVE)


def arrhenius(rate: float, energy: float, temperature: float) -> float:
    """A rate given at 65 degC, at another temperature in degC."""
    return rate * math.exp(energy / GAS * (1.0 / REFERENCE - 1.0 / (temperature + 273.15)))


@cache
def mash_model_record() -> Mapping[str, Any]:
    """The whole of the table: constants, fitted points, misses, arguments, and what the model does not cover."""
    text = files("presenter.science").joinpath("tables", "mash_model.yaml").read_text(encoding="utf-8")
    record: Mapping[str, Any] = yaml.load(text, Loader=yaml.CSafeLoader)
    return record


@cache
def mash_model() -> MashModel:
    """The fitted model."""
    return MashModel(**{name: float(value) for name, value in mash_model_record()["constants"].items()})
