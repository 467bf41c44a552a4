"""Numbers of one passage that cannot all hold: gravities against strength, parts against their total, and the like.

In: a sentence, the quantities heard in it and in the sentences before. Out: the quantities that the others contradict,
with the reason in words, and those that the others bear out. Only laws of arithmetic and generous bounds are used, so
that no lesson is needed.
"""

from __future__ import annotations

import re

from presenter.speech.hearing import Heard
from presenter.speech.sums_said import Checked, check_sums, in_unit, sums_words, without_units

__all__ = ["contradictions"]

_WATER = re.compile(r"\b(?:water|let down|dilut\w*|top\w* up)\b")
_OF_WATER = re.compile(r"\s*(?:(?:more|extra) )?(?:of )?(?:\w+ )?(?:\w+ )?(?:water|liquor)\b")
_MADE_UP_TO = re.compile(r"\b(?:to|up to|to make|makes|making|becomes|until (?:you|we) have)\s*$")
_BOIL = re.compile(r"\b(?:boil\w*|simmer\w*|evaporat\w*|concentrat\w*|reduc\w+|cook\w* down)\b|\bdown to\b")
_TOGETHER = re.compile(r"\b(?:mix\w*|blend\w*|together|into|add(?:ed|ing)?|combin\w+|tip\w*|stir\w*)\b")
_IS = re.compile(r"\W*(?:is|are|would be)\W*$")
_THEN = re.compile(r"\b(?:so|that's|that is|makes?|mak(?:e|ing)|com(?:e|es) to|needs?|means|total|which is|gives?)\b")
_HIGHEST_YIELD = (
    330.0  # points of gravity in a litre from a kilogram of malt; pure sugar gives 384, and malt is not all sugar
)


def contradictions(text: str, found: list[Heard], earlier: list[list[Heard]], texts: list[str]) -> Checked:
    """The quantities of ``text`` that others of the passage contradict, and those that follow from them."""
    lower = text.lower()
    recent = [one for group in earlier[-2:] for one in group]
    checked = check_sums(lower, found, recent, earlier[-1] if earlier else [])
    _strength(lower, found, recent, checked)
    _rate(lower, found, earlier[-1] if earlier else [], checked)
    _blend(lower, found, checked)
    _mixture(lower, found, recent, checked)
    return checked


def _pair(quantity: Heard, found: list[Heard], recent: list[Heard]) -> tuple[float, float] | None:
    """The start and the finish that a share is said of: the two before it, else the two after it in its sentence."""
    ahead = [one for one in found if one.start < quantity.start]
    gravities = [one.value for one in [*recent, *ahead] if one.unit == "gravity" and one.value is not None][-2:]
    here = any(one.unit == "gravity" for one in found)
    if not any(one.unit == "gravity" for one in ahead):
        after = [one.value for one in found if one.unit == "gravity" and one.value is not None]
        gravities = after if len(after) == 2 else [] if after else gravities
    if len(gravities) < 2 or not gravities[0] > gravities[1] or (recent and not here):
        return None
    return (gravities[0], gravities[1]) if gravities[0] <= 1.2 and gravities[1] >= 0.98 else None


def _strength(lower: str, found: list[Heard], recent: list[Heard], checked: Checked) -> None:
    for quantity in found:
        if quantity.unit != "percent" or quantity.value is None:
            continue
        pair = _pair(quantity, found, recent)
        if pair is None:
            continue
        start, finish = pair
        words = lower[max(0, quantity.start - 45) : quantity.end + 30]
        if "attenuat" in words:
            share = (start - finish) / (start - 1) * 100
            if abs(share - quantity.value) > 5 + quantity.place:
                checked.against[quantity] = f"from those gravities the attenuation is about {share:.0f} percent"
            continue
        strength = (start - finish) * 131.25
        if abs(strength - quantity.value) > max(0.5, 0.15 * strength) + quantity.place * 0.5:
            checked.against[quantity] = f"from those gravities the strength is about {strength:.1f} percent"


def _rate(lower: str, found: list[Heard], just_before: list[Heard], checked: Checked) -> None:
    """So much to the litre, so many litres, so much in all: the last said of the three against the others.

    The litres may have been said in the sentence before.
    """
    rates = [(one, value) for one in found if "/" in one.unit and (value := in_unit(one, "gram / litre")) is not None]
    masses = [(one, value) for one in found if (value := in_unit(one, "gram")) is not None]
    volumes = [(one, value) for one in found if (value := in_unit(one, "litre")) is not None]
    here = len(volumes) == 1
    if not volumes:
        volumes = [(one, value) for one in just_before if (value := in_unit(one, "litre")) is not None]
    if len(rates) != 1 or len(masses) != 1 or len(volumes) != 1 or min(volumes[0][1], masses[0][1]) <= 0:
        return
    (rate, each), (mass, whole), (volume, litres) = rates[0], masses[0], volumes[0]
    last = max((rate, mass, volume) if here else (rate, mass), key=lambda one: one.start)
    if last is rate:
        worked, said, unit = whole / litres, each, "grams a litre"
    elif last is mass and (_THEN.search(lower, rate.end, mass.start) or _IS.match(lower[rate.end : mass.start])):
        worked, said, unit = each * litres, whole, "grams"
    else:
        return
    if abs(worked - said) > 0.08 * worked + last.place:
        checked.against[last] = f"that is about {worked:.0f} {unit}"


def _blend(lower: str, found: list[Heard], checked: Checked) -> None:
    """Two worts poured together: their points are shared by their volumes."""
    gravities = [(one, one.value) for one in found if one.unit == "gravity" and one.value is not None]
    volumes = [value for one in found if (value := in_unit(one, "litre")) is not None]
    if len(gravities) != 3 or len(volumes) not in {2, 3} or min(volumes) <= 0 or not _TOGETHER.search(lower):
        return
    (_, first), (_, second), (mixed, said) = gravities
    one, other = volumes[:2]
    if len(volumes) == 3 and abs(one + other - volumes[2]) > 0.1 * volumes[2]:
        return
    expected = (first * one + second * other) / (one + other)
    checked.settle(mixed, abs(expected - said) <= 0.004, f"those two worts together have about {expected:.3f}")


def _mixture(lower: str, found: list[Heard], recent: list[Heard], checked: Checked) -> None:
    """Dilution, boiling down, and more extract than the malt can give."""
    gravities = [(one, one.value) for one in found if one.unit == "gravity" and one.value is not None]
    shares = [one.value for one in found if one.unit == "percent" and one.value is not None]
    if len(gravities) == 2 and len(shares) == 1 and "attenuat" in lower and found[-1].unit == "gravity":
        expected = 1 + (gravities[0][1] - 1) * (1 - shares[0] / 100)
        if abs(expected - gravities[1][1]) > 0.004:
            checked.against[gravities[1][0]] = f"that attenuation leaves about {expected:.3f}"
        return
    shared = without_units(lower, found) if len(gravities) == 2 else []  # "eight litres become four"
    heard_all = sorted([*found, *shared], key=lambda one: one.start)
    volumes = [(one, value) for one in heard_all if (value := in_unit(one, "litre")) is not None]
    if len(gravities) == 1 and len(volumes) >= 2:
        before = [one for one in recent if one.unit == "gravity" and one.value is not None]
        if before and gravities[0][0].start > volumes[0][0].start:  # "ten thirty before the boil. ..."
            gravities = [(before[-1], before[-1].value or 1.0), gravities[0]]
    if len(gravities) == 2 and len(volumes) >= 2:
        (_, first), (changed, last) = gravities
        spread = _spread(lower, volumes)
        if spread is None or changed in checked.against:
            return
        expected = 1 + (first - 1) * spread
        if abs(expected - last) > 0.003 + 0.06 * abs(expected - 1):
            checked.against[changed] = f"the sugar of {first:.3f} spread over that gives about {expected:.3f}"
        else:
            checked.upheld |= {changed, *(one for one, _ in volumes[1:])}
        return
    masses = [value for value in (in_unit(one, "kilogram") for one in found) if value is not None]
    if len(gravities) == 1 and len(volumes) == 1 and masses and re.search(r"malt|grain|barley|grist", lower):
        quantity, gravity = gravities[0]
        points = (gravity - 1) * 1000 * volumes[0][1]
        if points > _HIGHEST_YIELD * sum(masses) and gravity < 1.2:
            most = 1 + _HIGHEST_YIELD * sum(masses) / volumes[0][1] / 1000
            checked.against[quantity] = f"so much malt can give no more than about {most:.3f} in that volume"


def _spread(lower: str, volumes: list[tuple[Heard, float]]) -> float | None:
    """By how much the points of a wort are multiplied when it is let down with water or boiled down; or nothing."""
    amounts = [value for _, value in volumes]
    (one, first), (other, second) = volumes[:2]
    if min(amounts) <= 0:
        return None
    between = lower[one.end : other.start]
    if _WATER.search(lower):
        if len(amounts) > 2 and amounts[2] >= max(first, second):
            whole = amounts[2]
        elif _MADE_UP_TO.search(between) and second > first and not _OF_WATER.match(lower, other.end):
            whole = second
        else:
            whole = first + second
        wort = second if _OF_WATER.match(lower, one.end) and not _OF_WATER.match(lower, other.end) else first
        return wort / whole
    if not _BOIL.search(lower) or len(amounts) > 3:
        return None
    most, least = max(amounts), min(amounts)
    if len(amounts) == 3:  # what there was, what went, what is left
        middle = sorted(amounts)[1]
        return most / middle if abs(most - least - middle) < 0.1 * most else None
    smaller = other if second <= first else one
    around = lower[max(0, smaller.start - 22) : smaller.end + 22]
    went = sums_words("gone").search(around) and not re.search(r"\b(?:to|left)\b", around)
    left = most - least if went else least
    return most / left if left > 0 and most > least else None
