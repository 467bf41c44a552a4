"""Numbers of one passage that cannot all hold: gravities against strength, parts against their total, and the like.

In: a sentence, the quantities heard in it and in the sentences before. Out: for each quantity that the others
contradict, the reason in words. Only laws of arithmetic and generous bounds are used, so that no lesson is needed.
"""

from __future__ import annotations

import re

from presenter.speech.agreement import line_between
from presenter.speech.hearing import Heard

__all__ = ["contradictions"]

_TOTAL = re.compile(r"\b(?:all told|in all|altogether|in total|total\w*|all together|makes|adds up to|comes to|sum)\b")
_STRONG = re.compile(r"\b(?:all told|in all|altogether|in total|total\w*|all together|adds? up)\b")
_LEAVES = re.compile(r"\b(?:leaves?|left|leaving|remain\w*|is|makes)\b")
_LOST = re.compile(
    r"\b(?:boil\w* (?:away|off)|evaporat\w*|lost|lose|took|take|soak\w* up|drank|gone|spilt|minus|less|take away)\b"
)
_WATER = re.compile(r"\b(?:water|let down|dilut\w*|top\w* up)\b")
_HIGHEST_YIELD = (
    330.0  # points of gravity in a litre from a kilogram of malt; pure sugar gives 384, and malt is not all sugar
)


def _in(quantity: Heard, unit: str) -> float | None:
    if quantity.unit == "year" or quantity.value is None or "degree_bare" in quantity.unit:
        return None
    line = line_between(quantity.unit, unit)
    return None if line is None else line[0] + line[1] * quantity.value


def contradictions(text: str, found: list[Heard], earlier: list[list[Heard]], texts: list[str]) -> dict[int, str]:
    """The quantities of ``text`` that others of the passage contradict, by their index in ``found``."""
    against: dict[int, str] = {}
    lower = text.lower()
    recent = [one for group in earlier[-2:] for one in group]
    _strength(lower, found, recent, " ".join(texts[-1:]).lower(), against)
    for unit in ("minute", "gram", "litre"):
        _sums(lower, found, unit, against)
        if not against and len(found) == 1 and _STRONG.search(lower) and len(recent) >= 2:
            _total_of_before(found, recent, unit, against)
    _rate(lower, found, against)
    _mixture(lower, found, against)
    return against


def _strength(lower: str, found: list[Heard], recent: list[Heard], before: str, against: dict[int, str]) -> None:
    for index, quantity in enumerate(found):
        if quantity.unit != "percent" or quantity.value is None:
            continue
        gravities = [one.value for one in [*recent, *found[:index]] if one.unit == "gravity" and one.value is not None][
            -2:
        ]
        if len(gravities) < 2 or not gravities[0] > gravities[1]:
            continue
        start, finish = gravities
        if start > 1.2 or finish < 0.98 or (recent and not any(one.unit == "gravity" for one in found)):
            continue
        words = lower[max(0, quantity.start - 45) : quantity.end + 30]
        if "attenuat" in words:
            share = (start - finish) / (start - 1) * 100
            if abs(share - quantity.value) > 5 + quantity.place:
                against[index] = f"from those gravities the attenuation is about {share:.0f} percent"
            continue
        strength = (start - finish) * 131.25
        if abs(strength - quantity.value) > max(0.5, 0.15 * strength) + quantity.place * 0.5:
            against[index] = f"from those gravities the strength is about {strength:.1f} percent"


def _sums(lower: str, found: list[Heard], unit: str, against: dict[int, str]) -> None:
    """Parts against their total, and what is left against what there was."""
    parts = [(index, one, _in(one, unit)) for index, one in enumerate(found)]
    alike = [(index, one, value) for index, one, value in parts if value is not None]
    if len(alike) < 3:
        return
    index, last, total = alike[-1]
    between = lower[alike[-2][1].end : last.start]
    around = between + " " + lower[last.end : last.end + 40]
    slack = 0.04 * total + (_in(Heard("", 0, 0, last.unit, last.place), unit) or 0.0)
    values = [value for _, _, value in alike[:-1]]
    if _LEAVES.search(around) and _LOST.search(lower[alike[0][1].end : last.start]):
        left = values[-2] - values[-1]
        if abs(left - total) > slack:
            against[index] = f"{values[-2]:g} less {values[-1]:g} leaves {left:g} {unit}s"
    elif _STRONG.search(around) or (_TOTAL.search(between) and re.search(r"\b(?:so|that's|which|that)\b", between)):
        whole = sum(values)
        if abs(whole - total) > slack and not any(word in lower for word in ("of which", "including")):
            against[index] = f"the parts add up to {whole:g} {unit}s"


def _total_of_before(found: list[Heard], recent: list[Heard], unit: str, against: dict[int, str]) -> None:
    """A total said in a sentence of its own, against the parts said just before."""
    total = _in(found[0], unit)
    parts = [value for value in (_in(one, unit) for one in recent) if value is not None]
    if total is not None and len(parts) >= 2 and abs(sum(parts) - total) > 0.06 * total:
        against[0] = f"the parts add up to {sum(parts):g} {unit}s"


def _rate(lower: str, found: list[Heard], against: dict[int, str]) -> None:
    for index, quantity in enumerate(found):
        rate = _in(quantity, "gram / litre") if "/" in quantity.unit else None
        if rate is None or index < 2:
            continue
        masses = [value for value in (_in(one, "gram") for one in found[:index]) if value is not None]
        volumes = [value for value in (_in(one, "litre") for one in found[:index]) if value is not None]
        if len(masses) == 1 and len(volumes) == 1 and volumes[0] > 0:
            worked = masses[0] / volumes[0]
            if abs(worked - rate) > 0.08 * worked + quantity.place:
                against[index] = f"that is about {worked:.0f} grams a litre"


def _mixture(lower: str, found: list[Heard], against: dict[int, str]) -> None:
    """Dilution, boiling down, and more extract than the malt can give."""
    gravities = [
        (index, one.value) for index, one in enumerate(found) if one.unit == "gravity" and one.value is not None
    ]
    shares = [one.value for one in found if one.unit == "percent" and one.value is not None]
    if len(gravities) == 2 and len(shares) == 1 and "attenuat" in lower and found[-1].unit == "gravity":
        expected = 1 + (gravities[0][1] - 1) * (1 - shares[0] / 100)
        if abs(expected - gravities[1][1]) > 0.004:
            against[gravities[1][0]] = f"that attenuation leaves about {expected:.3f}"
        return
    litres = [(index, _in(one, "litre")) for index, one in enumerate(found)]
    volumes = [(index, value) for index, value in litres if value is not None]
    masses = [value for value in (_in(one, "kilogram") for one in found) if value is not None]
    if len(gravities) == 2 and len(volumes) >= 2:
        (_, first), (index, last) = gravities
        amounts = [value for _, value in volumes]
        if _WATER.search(lower):
            whole = amounts[2] if len(amounts) > 2 else amounts[0] + amounts[1]
            expected = 1 + (first - 1) * amounts[0] / whole
        elif re.search(r"\bboil\w*|down to\b", lower) and len(amounts) == 2 and amounts[1] < amounts[0]:
            expected = 1 + (first - 1) * amounts[0] / amounts[1]
        else:
            return
        if abs(expected - last) > 0.003 + 0.06 * abs(expected - 1):
            against[index] = f"the sugar of {first:.3f} spread over that gives about {expected:.3f}"
        return
    if len(gravities) == 1 and len(volumes) == 1 and masses and re.search(r"malt|grain|barley|grist", lower):
        index, gravity = gravities[0]
        points = (gravity - 1) * 1000 * volumes[0][1]
        if points > _HIGHEST_YIELD * sum(masses) and gravity < 1.2:
            most = 1 + _HIGHEST_YIELD * sum(masses) / volumes[0][1] / 1000
            against[index] = f"so much malt can give no more than about {most:.3f} in that volume"
