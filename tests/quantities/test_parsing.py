"""Text into quantities: what people write is read, and nothing whatever traces."""

from __future__ import annotations

import math

import pytest
from hypothesis import assume, example, given, settings
from hypothesis import strategies as st

from presenter.quantities import KINDS, Q, UnreadableQuantityError, in_words, quantity_from_text, unit_named

# The kinds whose printed form an author may write back, and the spread of values printed in that form.
ROUND_TRIPS = {
    "mass": ("kilogram", 1, 500), "volume": ("litre", 1, 500), "temperature": ("degree_Celsius", -20, 110),
    "temperature difference": ("delta_degree_Celsius", 0.1, 50),
    "time": ("minute", 1, 170), "length": ("metre", 0, 3000), "thickness": ("millimetre", 1, 900),
    "cooling rate": ("delta_degree_Celsius / hour", 0.1, 30), "boil-off rate": ("litre / hour", 0.1, 9),
    "gravity": ("gravity", 0.99, 1.15), "strength": ("percent_by_volume", 0, 20), "share": ("percent", 0, 100),
    "attenuation": ("attenuation_percent", 0, 100), "degrees Plato": ("degree_Plato", 0, 30),
    "Brix reading": ("degree_Plato", 0, 30), "pH": ("pH", 2, 9),
    "room volume": ("metre ** 3", 1, 900), "energy": ("kilojoule", 1, 900), "power": ("watt", 1, 900),
    "water per mass": ("litre / kilogram", 0.1, 9), "mass per volume": ("gram / litre", 0.1, 99),
    "carbonation": ("volume_co2", 0, 5), "pressure": ("bar", 0, 9), "pieces": ("piece", 0, 99),
    "heat capacity": ("kilojoule / kilogram / delta_degree_Celsius", 0.1, 9),
}  # fmt: skip


@pytest.mark.parametrize("kind", ROUND_TRIPS)
@settings(max_examples=60, deadline=None)
@given(share=st.floats(0, 1))
def test_printed_words_read_back(kind: str, share: float) -> None:
    """This test ensures that a quantity as it is printed reads back as the same quantity, printed the same."""
    unit, low, high = ROUND_TRIPS[kind]
    printed = in_words(Q(low + share * (high - low), unit))
    read = quantity_from_text(printed, KINDS[kind])
    assert in_words(read.to(unit)) == printed


@settings(max_examples=80, deadline=None)
@given(grams=st.floats(1, 50000), measures=st.sampled_from(["us", "imperial"]))
def test_printed_words_read_back_in_other_measures(grams: float, measures: str) -> None:
    """This test ensures that pounds and ounces as they are printed read back to within the digit printed."""
    mass = Q(grams / 1000, "kilogram")
    read = quantity_from_text(in_words(mass, measures=measures), KINDS["mass"])
    assert read.to("kilogram").magnitude == pytest.approx(mass.magnitude, abs=0.005 * 0.4536 + 0.05 * 0.02835)


def test_there_is_a_round_trip_for_every_kind() -> None:
    """This test ensures that no kind is forgotten; a difference of gravities prints as a gravity does."""
    assert set(KINDS) - set(ROUND_TRIPS) == {"gravity difference"}


@pytest.mark.parametrize(
    ("text", "kind", "value", "unit"),
    [
        ("66 degC", "temperature", 66, "degC"),
        ("66°C", "temperature", 66, "degC"),
        ("66 ℃", "temperature", 66, "degC"),
        ("150 F", "temperature", 65.5556, "degC"),
        ("\u22123 degC", "temperature", -3, "degC"),
        ("1 h 15 min", "time", 75, "minute"),
        ("1h15min", "time", 75, "minute"),
        ("1:15", "time", 75, "minute"),
        ("an hour", "time", None, ""),
        ("1 lb 4 oz", "mass", 1.25, "pound"),
        ("2 1/2 L", "volume", 2.5, "litre"),
        ("3½ kg", "mass", 3.5, "kilogram"),
        ("1,500 g", "mass", 1.5, "kilogram"),
        ("2,5 kg", "mass", None, ""),
        ("3 degC per hour", "cooling rate", 3, "delta_degC / hour"),
        ("9 degF per hour", "cooling rate", 5, "delta_degC / hour"),
        ("2.4 L per hour", "boil-off rate", 2.4, "litre / hour"),
        ("120 m3", "room volume", 120, "metre ** 3"),
        ("0.84 kJ/kg/K", "heat capacity", 0.84, "kilojoule / kilogram / delta_degC"),
        ("48 points", "gravity", 1.048, "gravity"),
        ("1.048", "gravity", 1.048, "gravity"),
        ("5.2 % vol", "strength", 5.2, "percent_by_volume"),
        ("60-70 degC", "temperature", None, ""),
        ("60 to 70 degC", "temperature", None, ""),
        ("66", "temperature", None, ""),
        ("3 delta_degC", "temperature", None, ""),
        ("1e400 kg", "mass", None, ""),
        ("nan kg", "mass", None, ""),
        ("inf kg", "mass", None, ""),
        ("9" * 70 + " kg", "mass", None, ""),
        ("1/0 kg", "mass", None, ""),
        ("5 kg 3 degC", "mass", None, ""),
    ],
)
def test_what_people_write(text: str, kind: str, value: float | None, unit: str) -> None:
    """This test ensures that usual ways to write a quantity are read, and that unclear ones are refused."""
    if value is None:
        with pytest.raises(UnreadableQuantityError):
            quantity_from_text(text, KINDS[kind])
    else:
        assert quantity_from_text(text, KINDS[kind]).to(unit).magnitude == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    ("text", "kind", "sentence"),
    [
        (
            "66 kg",
            "temperature",
            "66 kg is a mass; a temperature is wanted here. Write a temperature, such as 66 degC.",
        ),
        (
            "5 kJ",
            "temperature",
            "5 kJ is an energy; a temperature is wanted here. Write a temperature, such as 66 degC.",
        ),
        (
            "5 L",
            "attenuation",
            "5 L is a volume; an attenuation is wanted here. Write an attenuation, such as 78 percent.",
        ),
        ("3", "mass", "3 has no unit. Write a mass with its unit, such as 3 kg."),
        ("3 kgg", "mass", "kgg in 3 kgg is no unit that this toolkit knows. Did you mean kg?"),
        ("60-70 degC", "temperature", "60-70 degC is a range; one value is wanted here. Write one, as in 66 degC."),
        ("2,5 kg", "mass", "2,5 kg has a comma that could be a decimal sign. Write decimals with a point, as in 2.5."),
        (
            "two",
            "pieces",
            "two is not a number of pieces: it does not begin with a number. Write a number of pieces, such as 2.",
        ),
        ("2 gallons", "volume", "gallons in 2 gallons could be of two sizes. Write imperial gallon or US gallon."),
        ("", "mass", "No mass is written here. Write a mass, such as 3 kg."),
    ],
)
def test_refusals_are_whole_sentences(text: str, kind: str, sentence: str) -> None:
    """This test ensures that a refusal says what is wrong and what would do, with its articles right."""
    with pytest.raises(UnreadableQuantityError) as caught:
        quantity_from_text(text, KINDS[kind])
    assert str(caught.value) == sentence


PIECES = st.sampled_from(
    ["1", "12", ".5", "1,000", " ", "/", "1/2", "½", "kg", "degC", "per", "hour", "a", "%", "°C", "-", "+", "e5", "min",
     "h", "L", "3", "_", "delta_", "(", ")", "**", "nan", "inf", "\u00a0", "to", "m3", ":", "30", "\u2212", "²", "١"]
)  # fmt: skip


@settings(max_examples=600, deadline=None)
@given(
    text=st.one_of(st.text(max_size=40), st.lists(PIECES, max_size=10).map("".join)),
    kind=st.sampled_from(sorted(KINDS)),
)
@example(text="1 " + "/a" * 30, kind="mass")
@example(text="1 (", kind="mass")
@example(text="5 ", kind="mass")
def test_any_text_is_read_or_refused(text: str, kind: str) -> None:
    """This test ensures that any text gives a finite quantity of the kind wanted, or UnreadableQuantityError alone."""
    try:
        read = quantity_from_text(text, KINDS[kind])
    except UnreadableQuantityError as error:
        refused = error
    else:
        assert math.isfinite(read.magnitude)
        assert read.dimensionality == unit_named(KINDS[kind].unit).dimensionality
        assert math.isfinite(read.to(KINDS[kind].unit).magnitude)
        return
    assert refused.wrong.endswith(".")
    assert refused.remedy == "" or refused.remedy.endswith((".", "?")) or refused.remedy[-1].isdigit()


@settings(max_examples=100, deadline=None)
@given(hours=st.integers(0, 99), minutes=st.integers(0, 59))
def test_clock_times_and_worded_times_agree(hours: int, minutes: int) -> None:
    """This test ensures that 1:30 and "1 h 30 min" are one time."""
    assume(hours + minutes > 0)
    clock = quantity_from_text(f"{hours}:{minutes:02d}", KINDS["time"]).to("minute").magnitude
    worded = quantity_from_text(f"{hours} h {minutes} min", KINDS["time"]).to("minute").magnitude
    assert clock == pytest.approx(worded, abs=1e-9)
