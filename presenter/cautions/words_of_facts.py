"""From an author's own words to the words that cautions know: heat, water, who brews, what a vessel is of.

In: a line of a lesson ("gas ring", "our own well", "stainless steel"). Out: the words of ``facts.yaml``. What
cannot be placed with confidence, and every line that holds a denial ("not oak"), is UNKNOWN, and so raises.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from typing import Literal

from presenter.cautions.facts import UNKNOWN, Absent

__all__ = [
    "chemicals_in",
    "container_of",
    "heat_sources_of",
    "is_plain_water",
    "materials_of",
    "origin_of",
    "tasting_of",
    "things_shown",
    "water_source_of",
    "who_brews_of",
]

_DENIAL = re.compile(r"\b(no|not|never|without|nor|neither|unless|isn't|instead of|rather than|free of)\b")

_HEAT = {
    "gas": r"\b(gas|propane|butane|camping stove)\b",
    "electric": r"\b(electric\w*|induction|immersion heater|hot ?plate|microwave)\b",
    "open fire": r"\b(\w*fires?|fireplace|hearth|brazier|wood\w*|charcoal|coal|peat|logs?|embers|hot stones?)\b",
    "hot stones": r"\b(stones?|rocks?)\b",
}
_WATER = {  # the most doubtful first: a tap that a spring feeds is a private supply
    "surface": r"\b(surface|rivers?|streams?|brooks?|ponds?|lakes?|ditch\w*|rain\w*|becks?|burns?|canal)\b",
    "private": r"\b(private|wells?|springs?|boreholes?|cisterns?|pumps?)\b",
    "mains": r"\b(mains?|taps?|town|city|municipal|public supply|bottled)\b",
}
_WHO = {
    "organisation serving the public": (
        r"\b(museums?|organisations?|organizations?|societ\w+|guilds?|charit\w+|trusts?|compan\w+|clubs?"
        r"|heritage|abbey|castle|festivals?|pubs?|brewer(?:y|ies)|public)\b"
    ),
    "school": r"\b(schools?|colleges?|universit\w+|pupils|class(?:room)?)\b",
    "household": r"\b(households?|home|family|families|at home|ourselves)\b",
}
_MATERIAL = {
    "stainless": r"\bstainless\b",
    "aluminium": r"\balumini?um\b",
    "copper": r"\bcopper\b",
    "brass": r"\bbrass\b",
    "pewter": r"\bpewter\b",
    "lead-glazed": r"\blead\b(?![- ]free)",
    "unglazed": r"\b(unglazed|(?<!glazed )(earthenware|pottery|clay|terracotta))\b",
    "galvanised": r"\b(galvani[sz]ed|zinc)\b",
    "food wood": r"\b(oak|beech|maple)\b",
    "wood": (
        r"\b(wood\w*|ash|pine|elm|birch|alder|willow|poplar|sycamore|chestnut|cedar|larch|spruce|fir"
        r"|yew|laburnum|walnut|bamboo)\b"
    ),
    "glass": r"\bglass\b",
    "plastic": r"\b(plastics?|polypropylene|polyethylene|polythene|hdpe|nylon)\b",
}
_DOUBTFUL_MATERIAL = r"\b(bronze|iron|horn|gourd|leather|tin|tinned|enamel\w*|lined|coated|painted|glazed|old)\b"
_HOOPS = re.compile(r"\b(iron|brass|copper)[- ](?:hoop|band|bound)\w*")  # outside the vessel, off the drink
_CLOTH = r"\b(linen|cotton|muslin|cheesecloth|cloth|hop bag)\b"
_CONTAINER = {
    "glass bottle": r"\bglass(?: \w+)* bottles?\b",
    "plastic pressure bottle": r"\b(plastic|pet)(?: \w+)* bottles?\b",
    "cask": r"\b(casks?|barrels?|firkins?|pins?|kegs?)\b",
    "open": r"\b(open|jugs?|cups?|mugs?|bowls?|buckets?|pitchers?|ladles?|glasses)\b",
}
_CHEMICAL = {
    "sulfite": r"\b(\w*sul(?:f|ph)ites?|campden\w*)\b",
    "thiosulfate": r"\bthiosul(?:f|ph)ates?\b",
    "iodine": r"\b(iodine|iodophors?)\b",
    "strong acid": r"\b(strong acids?|(?:hydrochloric|sul(?:f|ph)uric|nitric|phosphoric|muriatic) acid)\b",
    "caustic": r"\b(caustic\w*|lye|(?:sodium|potassium) hydroxide)\b",
}
_SHOWN = {
    "old pewter": r"\bpewter\b",
    "lead-glazed pot": r"\blead\b(?![- ]free)",
    "decorated pot": r"\b(decorated|painted)\b",
    "still": r"\b(stills?|pot still)\b",
    "alembic": r"\balembics?\b",
}
_PLAIN_WATER = re.compile(r"(?:(?:plain|clean|cold|warm|hot|very hot|boiling|boiled)\s+)*(?:water|steam)")


def _plain(text: str) -> str:
    return " ".join(text.casefold().replace("’", "'").split())


def _found(text: str, words: Mapping[str, str]) -> tuple[str, ...]:
    """The words whose pattern stands in ``text``; none where the line denies anything."""
    plain = _plain(text)
    if _DENIAL.search(plain):
        return ()
    return tuple(word for word, pattern in words.items() if re.search(pattern, plain))


def _one(text: str | None, words: Mapping[str, str]) -> str | Absent:
    found = _found(text, words) if text else ()
    return found[0] if len(found) == 1 else UNKNOWN


def heat_sources_of(text: str | None) -> tuple[str, ...] | Literal[Absent.UNKNOWN]:
    """What heats: gas, electric, open fire, hot stones; several where several are named.

    >>> heat_sources_of("gas ring")
    ('gas',)
    """
    return (_found(text, _HEAT) if text else ()) or UNKNOWN


def water_source_of(text: str | None) -> str | Absent:
    """mains, private or surface; where two are named, the more doubtful one.

    >>> water_source_of("the tap, from our own well")
    'private'
    """
    found = _found(text, _WATER) if text else ()
    return found[0] if found else UNKNOWN


def who_brews_of(text: str | None) -> str | Absent:
    """household, school or organisation serving the public; UNKNOWN where it could be two of them."""
    return _one(text, _WHO)


def tasting_of(text: str | None) -> str | Absent:
    """none, or adults of legal age; anything else is UNKNOWN."""
    plain = _plain(text) if text else ""
    if plain in {"none", "no", "nobody", "no one", "no tasting", "nobody tastes"}:
        return "none"
    if plain in {"adults of legal age", "adults", "adults only", "yes"}:
        return "adults of legal age"
    return UNKNOWN


def materials_of(text: str | None) -> tuple[str | Absent, ...]:
    """What a vessel is made of; nothing for a cloth, which is no vessel.

    >>> materials_of("oak"), materials_of("bronze")
    (('food wood',), (<Absent.UNKNOWN: 'unknown'>,))

    Earthenware is unglazed unless it is said to be glazed; a glaze, a lining, anything old and every
    material off the list is UNKNOWN, beside what is known of it.
    """
    if not text:
        return (UNKNOWN,)
    plain = _HOOPS.sub("", _plain(text))
    found = _found(plain, _MATERIAL)
    if not found and re.search(_CLOTH, plain) and not _DENIAL.search(plain):
        return ()
    known = "lead-glazed" in found or "pewter" in found  # these warn of the worst that can be said already
    doubtful = re.search(_DOUBTFUL_MATERIAL, plain) and not known
    return (*found, UNKNOWN) if doubtful or not found else found


def container_of(text: str | None) -> str | Absent:
    """What a drink is served or packed from; a bottle of unstated kind is UNKNOWN.

    >>> container_of("open")
    'open'
    """
    return _one(text, _CONTAINER)


def chemicals_in(text: str) -> tuple[str, ...]:
    """The chemicals of the closed list that ``text`` names, whatever else it says of them."""
    plain = _plain(text)
    return tuple(word for word, pattern in _CHEMICAL.items() if re.search(pattern, plain))


def is_plain_water(text: str) -> bool:
    """Whether a cleaner is nothing but water, which nobody can mix wrongly.

    >>> is_plain_water("hot water")
    True
    """
    return _PLAIN_WATER.fullmatch(_plain(text)) is not None


def origin_of(text: str | None) -> Literal["foraged", "bought"] | Literal[Absent.UNKNOWN]:
    """Whether a plant was bought as food; what was picked anywhere, a garden too, counts as foraged."""
    plain = _plain(text) if text else ""
    if re.search(r"\b(foraged?|gathered|picked|wild\w*|hedge\w*|gardens?|woods?|meadows?|grown|found)\b", plain):
        return "foraged"
    if re.search(r"\b(bought|shops?|suppliers?|markets?|grocer\w*|merchants?)\b", plain) and not _DENIAL.search(plain):
        return "bought"
    return UNKNOWN


def things_shown(text: str) -> tuple[str, ...]:
    """The things shown that a caution knows by name: old pewter, a still and so on."""
    plain = _plain(text)
    return tuple(word for word, pattern in _SHOWN.items() if re.search(pattern, plain))
