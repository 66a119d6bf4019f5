"""What is typed comes back as typed, and what can be read two ways is asked about."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
from hatchbook.trade.units import (
    STORED_UNIT,
    NumberError,
    NumberFault,
    Typed,
    Unit,
    celsius_from_fahrenheit,
    fahrenheit_from_celsius,
    from_stored,
    grams_from_ounces,
    ounces_from_grams,
    parse_number,
    parse_typed,
    parse_vent,
    to_stored,
    vent_fraction,
)
from hypothesis import given
from hypothesis import strategies as st

hundredths = st.integers(-99_999, 99_999).map(lambda number: number / 100)


@pytest.mark.parametrize(
    ("fahrenheit", "celsius"),
    [
        (32.0, 0.0),  # ice point, by definition
        (212.0, 100.0),  # boiling point, by definition
        (-40.0, -40.0),  # where both scales meet
        (99.5, 37.5),  # the pair of the psychrometric check table
        (98.6, 37.0),
    ],
)
def test_temperatures_agree_with_their_definition(fahrenheit: float, celsius: float) -> None:
    assert celsius_from_fahrenheit(fahrenheit) == pytest.approx(celsius, abs=1e-12)
    assert fahrenheit_from_celsius(celsius) == pytest.approx(fahrenheit, abs=1e-12)


def test_an_ounce_is_a_sixteenth_of_the_pound_of_1959() -> None:
    """NIST SP 811, appendix B: one avoirdupois pound is exactly 0.45359237 kg."""
    assert grams_from_ounces(16.0) == pytest.approx(453.59237, rel=1e-15)
    assert ounces_from_grams(453.59237) == pytest.approx(16.0, rel=1e-15)


@given(hundredths, st.sampled_from(Unit))
def test_two_decimals_in_any_unit_survive_being_stored(value: float, unit: Unit) -> None:
    assert round(from_stored(to_stored(value, unit), unit), 2) == value


@given(st.floats(-1e6, 1e6), st.sampled_from(Unit))
def test_storing_and_showing_undo_each_other(value: float, unit: Unit) -> None:
    assert math.isclose(from_stored(to_stored(value, unit), unit), value, rel_tol=1e-12, abs_tol=1e-9)


@given(hundredths, st.sampled_from(Unit), st.sampled_from([".", ","]), st.sampled_from(["", " "]))
def test_what_was_typed_comes_back_as_typed(value: float, unit: Unit, mark: str, blank: str) -> None:
    text = f"{blank}{value:.2f}{blank}".replace(".", mark)
    typed = parse_typed(text, unit)
    assert (typed.text, typed.unit, typed.value) == (text, unit, value)
    assert Typed.from_json(typed.to_json()) == typed
    assert typed.stored == to_stored(value, unit)


@pytest.mark.parametrize(
    ("text", "unit", "value", "understood"),
    [
        ("99.5 °F", Unit.CELSIUS, 99.5, Unit.FAHRENHEIT),
        ("99,5f", Unit.CELSIUS, 99.5, Unit.FAHRENHEIT),
        ("37.6 ℃", Unit.FAHRENHEIT, 37.6, Unit.CELSIUS),
        ("58,4 g", Unit.OUNCE, 58.4, Unit.GRAM),
        ("2.06 oz", Unit.GRAM, 2.06, Unit.OUNCE),
        ("45 %", Unit.PERCENT, 45.0, Unit.PERCENT),
        ("45 % RH", Unit.PERCENT, 45.0, Unit.PERCENT),
        ("100", Unit.FAHRENHEIT, 100.0, Unit.FAHRENHEIT),
    ],
)
def test_a_written_unit_goes_before_the_one_asked_for(
    text: str, unit: Unit, value: float, understood: Unit
) -> None:
    assert parse_typed(text, unit) == Typed(value, understood, text)


def test_a_unit_of_another_quantity_is_refused() -> None:
    with pytest.raises(NumberError) as caught:
        parse_typed("58 g", Unit.CELSIUS)
    assert caught.value.fault is NumberFault.OTHER_QUANTITY
    assert str(caught.value) == '"58 g" is in another unit than is asked for here.'


@pytest.mark.parametrize("text", ["abc", "egg", "half f"])
def test_a_word_that_ends_like_a_unit_is_no_number(text: str) -> None:
    with pytest.raises(NumberError) as caught:
        parse_typed(text, Unit.OUNCE)
    assert caught.value.fault is NumberFault.NOT_A_NUMBER


def test_every_unit_is_stored_in_one_that_is_stored_as_itself() -> None:
    assert all(STORED_UNIT[STORED_UNIT[unit]] is STORED_UNIT[unit] for unit in Unit)


@pytest.mark.parametrize("text", ["{}", "[]", "null", '{"value": 1, "unit": "stone", "text": "1"}', "no"])
def test_what_is_no_record_of_a_typed_value_is_refused(text: str) -> None:
    with pytest.raises(ValueError, match=r".+"):
        Typed.from_json(text)


def test_a_typed_value_may_lie_among_other_entries() -> None:
    text = '{"value": 85.0, "unit": "fahrenheit", "text": "85", "wick": "still_air"}'
    assert Typed.from_json(text).stored == pytest.approx(29.4444, abs=1e-4)


@pytest.mark.parametrize(
    ("text", "number"),
    [
        ("37,6", 37.6),
        ("37.6", 37.6),
        (" 37.6\t", 37.6),
        ("\u00a037,6\u00a0", 37.6),
        ("37", 37.0),
        ("37.", 37.0),
        (".5", 0.5),
        (",5", 0.5),
        ("+4", 4.0),
        ("-3,5", -3.5),
        ("\u22123.5", -3.5),
        ("0.123", 0.123),
        ("0,125", 0.125),
        ("1234", 1234.0),
        ("1234,567", 1234.567),
        ("37.6250", 37.625),
        ("1.0000", 1.0),
    ],
)
def test_a_point_and_a_comma_both_mark_decimals(text: str, number: float) -> None:
    assert parse_number(text) == number


@pytest.mark.parametrize("text", ["1,234", "1.234", "12.345", "999,999", "-1,234", "37.625"])
def test_what_could_be_a_thousand_or_a_fraction_is_asked_about(text: str) -> None:
    with pytest.raises(NumberError) as caught:
        parse_number(text)
    assert caught.value.fault is NumberFault.AMBIGUOUS_THOUSANDS
    assert caught.value.text == text
    whole = text.replace(",", "").replace(".", "")
    assert str(caught.value) == (
        f'"{text}" can mean a thousand or a fraction. Write {whole} for the thousand, or {text}0 for the fraction.'
    )
    # Both ways out that the sentence names work.
    assert parse_number(whole) == float(whole)
    assert parse_number(f"{text}0") == float(text.replace(",", "."))


def test_no_thousand_is_suspected_where_none_can_be() -> None:
    assert parse_number("37.625", below=1000) == 37.625
    assert parse_typed("58,412 g", Unit.GRAM, below=3000).value == 58.412
    with pytest.raises(NumberError):
        parse_number("1,412", below=3000)


@pytest.mark.parametrize(
    ("text", "fault", "sentence"),
    [
        ("", NumberFault.EMPTY, "There is no number here."),
        ("  ", NumberFault.EMPTY, "There is no number here."),
        ("abc", NumberFault.NOT_A_NUMBER, '"abc" is not a number.'),
        (".", NumberFault.NOT_A_NUMBER, '"." is not a number.'),
        ("-", NumberFault.NOT_A_NUMBER, '"-" is not a number.'),
        ("nan", NumberFault.NOT_A_NUMBER, '"nan" is not a number.'),
        ("inf", NumberFault.NOT_A_NUMBER, '"inf" is not a number.'),
        ("1e3", NumberFault.NOT_A_NUMBER, '"1e3" is not a number.'),
        ("3_7", NumberFault.NOT_A_NUMBER, '"3_7" is not a number.'),
        ("37.6 °C", NumberFault.UNIT_NOT_EXPECTED, 'Write the number alone, without "°C".'),
    ],
)
def test_what_is_no_number_gets_a_plain_sentence(text: str, fault: NumberFault, sentence: str) -> None:
    with pytest.raises(NumberError) as caught:
        parse_number(text)
    assert (caught.value.fault, str(caught.value)) == (fault, sentence)


@pytest.mark.parametrize("text", ["1,234.5", "1.234,5", "1 234", "1'234", "3 7.6", "1.2.3", "37,,6"])
def test_signs_between_thousands_are_refused(text: str) -> None:
    with pytest.raises(NumberError) as caught:
        parse_number(text)
    assert caught.value.fault is NumberFault.TWO_MARKS
    assert text in str(caught.value)


def test_a_number_too_large_to_hold_is_none() -> None:
    with pytest.raises(NumberError):
        parse_number("9" * 400)


@given(st.text(max_size=12))
def test_any_text_is_a_number_or_gets_a_sentence(text: str) -> None:
    try:
        assert math.isfinite(parse_number(text))
    except NumberError as error:
        assert str(error).endswith(".")  # noqa: PT017  # either is right, and only a NumberError may come


@pytest.mark.parametrize(
    ("text", "opening"),
    [
        ("1/2", 0.5),
        (" 3 / 4 ", 0.75),
        ("1/3", 1 / 3),
        ("½", 0.5),
        ("0.5", 0.5),
        ("0,25", 0.25),
        ("50 %", 0.5),
        ("12,5%", 0.125),
        ("0", 0.0),
        ("1", 1.0),
        ("4/4", 1.0),
    ],
)
def test_a_vent_is_open_by_a_fraction(text: str, opening: float) -> None:
    assert parse_vent(text) == opening


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("3/2", NumberFault.OUTSIDE_VENT),
        ("1.5", NumberFault.OUTSIDE_VENT),
        ("150 %", NumberFault.OUTSIDE_VENT),
        ("-0.5", NumberFault.OUTSIDE_VENT),
        ("1/0", NumberFault.NOT_A_NUMBER),
        ("1/2/3", NumberFault.NOT_A_NUMBER),
        ("half", NumberFault.NOT_A_NUMBER),
        ("", NumberFault.EMPTY),
    ],
)
def test_no_other_opening_is_taken(text: str, fault: NumberFault) -> None:
    with pytest.raises(NumberError) as caught:
        parse_vent(text)
    assert caught.value.fault is fault


@given(st.integers(1, 12).flatmap(lambda whole: st.tuples(st.integers(0, whole), st.just(whole))))
def test_a_plain_fraction_of_a_vent_comes_back(parts: tuple[int, int]) -> None:
    assert vent_fraction(parse_vent(f"{parts[0]}/{parts[1]}")) == Fraction(*parts)


@pytest.mark.parametrize("opening", [0.45, 0.333, 0.05])
def test_an_opening_that_is_no_plain_fraction_has_none(opening: float) -> None:
    assert vent_fraction(opening) is None
