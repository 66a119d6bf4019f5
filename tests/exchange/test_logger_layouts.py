"""Layouts of logger files: separators, decimals, headers, encodings, units."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hatchbook.exchange.logger_file import (
    Basis,
    ColumnRole,
    DecimalSign,
    Encoding,
    LayoutField,
    LayoutHints,
    NoDateColumn,
    NoValueColumn,
    Separator,
    TemperatureUnit,
)

from .conftest import ReadText

# 2026-05-03 09:00:00 UTC is 1777798800 s (date -u -d ... +%s).
NINE = 1_777_798_800
VALUED = (ColumnRole.TEMPERATURE, ColumnRole.HUMIDITY)
PLAIN = "2026-05-03 09:00:00,37.6,52.1\n2026-05-03 09:10:00,37.7,52.4\n"


@pytest.mark.parametrize("separator", list(Separator))
@pytest.mark.parametrize("decimal", list(DecimalSign))
def test_every_separator_goes_with_every_decimal_sign_it_can_be_told_from(
    read_text: ReadText, separator: Separator, decimal: DecimalSign
) -> None:
    quote = '"' if separator.value == decimal.value else ""
    lines = [
        separator.value.join(
            (f'"{when}"', *(quote + value.replace(".", decimal.value) + quote for value in values))
        )
        for when, values in (
            ("2026-05-03 09:00:00", ("37.6", "52.1")),
            ("2026-05-03 09:10:00", ("37.7", "-0.5")),
            ("2026-05-03 09:20:00", ("37.8", "53")),
        )
    ]
    table = read_text("\n".join(lines) + "\n")
    assert table.layout.separator is separator
    assert table.layout.decimal is decimal
    assert table.at.tolist() == [NINE, NINE + 1200]
    assert table.temperature_c.tolist() == [37.6, 37.8]
    assert table.humidity.tolist() == [52.1, 53.0]
    assert [line.number for line in table.rejected] == [2]


def test_readings_come_as_utc_seconds_and_floats(read_text: ReadText) -> None:
    table = read_text(PLAIN)
    assert table.at.dtype == np.int64
    assert table.at.tolist() == [NINE, NINE + 600]
    assert table.temperature_c.dtype == table.humidity.dtype == np.float64
    assert table.line_numbers.tolist() == [1, 2]
    assert table.rejected == table.partial == ()
    with pytest.raises(ValueError, match="read-only"):
        table.at[0] = 0


@pytest.mark.parametrize(
    ("encoding", "expected"),
    [
        ("utf-8", Encoding.UTF_8),
        ("utf-8-sig", Encoding.UTF_8),
        ("utf-16", Encoding.UTF_16_LE),
        ("utf-16-le", Encoding.UTF_16_LE),
        ("utf-16-be", Encoding.UTF_16_BE),
        ("latin-1", Encoding.LATIN_1),
        ("cp1252", Encoding.LATIN_1),
    ],
)
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_encodings_and_line_ends_are_told(
    read_text: ReadText, encoding: str, expected: Encoding, line_end: str
) -> None:
    text = line_end.join(("Zeit;Wärme °F;Luftfeuchte %", "03.05.2026 09:00;99,5;52,1", ""))
    table = read_text(text, encoding=encoding)
    assert table.layout.encoding is expected
    assert table.column_names == ("Zeit", "Wärme °F", "Luftfeuchte %")
    assert table.lines == 2
    assert table.temperature_c[0] == pytest.approx(37.5)


def test_one_broken_byte_does_not_turn_a_utf_8_file_into_latin_1(read_text: ReadText) -> None:
    data = "Zeit;T °C;H %;Ort\n03.05.2026 09:00;37,6;52;Süd\n03.05.2026 09:10;37,6;52;S".encode()
    table = read_text(data + b"\xfcd\n03.05.2026 09:20;37,6;52;" + "Süd\n".encode())
    assert table.layout.encoding is Encoding.UTF_8
    assert table.column_names[1] == "T °C"
    assert table.stored == 3


def test_a_header_one_short_names_all_columns_but_the_first(read_text: ReadText) -> None:
    table = read_text(
        '"when","temp","hum"\n"1","2026-05-03 09:00",37.6,52.1\n"2","2026-05-03 09:10",37.7,52\n'
    )
    assert table.column_names == ("", "when", "temp", "hum")
    assert table.layout.columns == (ColumnRole.LEAVE_OUT, ColumnRole.DATE_TIME, *VALUED)
    assert table.humidity.tolist() == [52.1, 52.0]


def test_lines_closed_by_a_separator_do_not_shift_the_names(read_text: ReadText) -> None:
    table = read_text("when;temp;hum\n2026-05-03 09:00;37.6;52.1;\n2026-05-03 09:10;37.7;52;\n")
    assert table.column_names == ("when", "temp", "hum", "")
    assert table.humidity.tolist() == [52.1, 52.0]


def test_an_unnamed_first_column_is_told_from_lines_closed_by_a_separator(read_text: ReadText) -> None:
    unnamed = read_text("date;temp;hum;remark\n1;2026-05-03 09:00;37.6;52.1;\n2;2026-05-03 09:10;37.7;52;\n")
    assert unnamed.column_names == ("", "date", "temp", "hum", "remark")
    closed = read_text("no.;date;temp;hum\n1;2026-05-03 09:00;37.6;52.1;\n2;2026-05-03 09:10;37.7;52;\n")
    assert closed.column_names == ("no.", "date", "temp", "hum", "")
    assert unnamed.humidity.tolist() == closed.humidity.tolist() == [52.1, 52.0]


def test_preamble_header_and_a_line_of_units_are_told_apart(read_text: ReadText) -> None:
    table = read_text(
        "Shelf logger 3\nSerial;4711\nInterval;600 s\n\n"
        "Datum;Zeit;Temperatur;Luftfeuchte;Taupunkt\n;;°F;%;°F\n"
        "13.05.2026;09:00;99,5;52,1;70\n13.05.2026;09:10;99,5;52,0;70\n"
    )
    assert (table.preamble, table.header, table.blank, table.stored) == (3, 2, 1, 2)
    assert (table.layout.header_line, table.layout.data_line) == (5, 7)
    assert table.layout.temperature_unit is TemperatureUnit.FAHRENHEIT
    assert table.layout.columns == (ColumnRole.DATE, ColumnRole.TIME, *VALUED, ColumnRole.LEAVE_OUT)
    assert table.temperature_c.tolist() == pytest.approx([37.5, 37.5])


def test_bad_lines_before_the_first_good_one_are_rejected_not_taken_for_a_preamble(
    read_text: ReadText,
) -> None:
    table = read_text("when;temp;hum\n0000-00-00 00:00;37.6;52.1\n\n2026-05-03 09:00;37.6;52.1\n")
    assert table.layout.data_line == 2
    assert (table.header, table.preamble, table.blank, table.stored) == (1, 0, 1, 1)
    assert [line.number for line in table.rejected] == [2]


def test_a_separator_named_in_the_first_line_is_believed(read_text: ReadText) -> None:
    table = read_text("sep=;\nwhen;temp\n2026-05-03 09:00;37,6\n")
    assert table.layout.separator is Separator.SEMICOLON
    assert table.guess(LayoutField.SEPARATOR).basis is Basis.STATED
    assert (table.preamble, table.header, table.stored) == (1, 1, 1)


def test_the_header_repeated_by_a_restart_is_no_rejected_line(read_text: ReadText) -> None:
    table = read_text("when,temp\n2026-05-03 09:00,37.6\nwhen,temp\n2026-05-03 09:10,37.6\n")
    assert (table.header, table.stored, table.rejected) == (2, 2, ())


@pytest.mark.parametrize(
    ("header", "roles"),
    [
        ("Time,Humidity(%RH),Temperature(C),Dew Point(C)", "-HT-"),
        ("when,dew_point,rh_in,t_in", "--HT"),
        ("Fecha,Temp. exterior,Humedad,Lux", "-TH-"),
        ("date,HumidityRatio,Humidity,Temperature", "--HT"),
        ("Zeit,rF [%],T [°C],Batterie [%]", "-HT-"),
        ("time,battery %,Temp,set point temp", "--T-"),
        ("time,max temp,temp,min temp", "--T-"),
        ("Date,RH1,T1,P1", "-HT-"),
    ],
)
def test_columns_are_found_by_their_names(read_text: ReadText, header: str, roles: str) -> None:
    table = read_text(header + "\n2026-05-03 09:00,20.5,20.6,20.7\n2026-05-03 09:10,20.5,20.6,20.7\n")
    signs = {ColumnRole.TEMPERATURE: "T", ColumnRole.HUMIDITY: "H"}
    assert "".join(signs.get(role, "-") for role in table.layout.columns) == roles
    assert LayoutField.COLUMNS not in table.undecided


def test_two_temperature_columns_are_asked_about(read_text: ReadText) -> None:
    table = read_text("time,temp top,temp bottom\n2026-05-03 09:00,37.6,37.1\n2026-05-03 09:10,37.6,37.1\n")
    assert table.layout.columns[1] is ColumnRole.TEMPERATURE
    assert LayoutField.COLUMNS in table.undecided
    assert table.guess(LayoutField.COLUMNS).others == ("2",)


def test_without_names_the_values_tell_temperature_from_humidity(read_text: ReadText) -> None:
    table = read_text(
        "1,52.1,37.6,2026-05-03 09:00\n2,52.2,37.6,2026-05-03 09:10\n3,52,37.6,2026-05-03 09:20\n"
    )
    assert table.layout.columns == (
        ColumnRole.LEAVE_OUT,
        ColumnRole.HUMIDITY,
        ColumnRole.TEMPERATURE,
        ColumnRole.DATE_TIME,
    )
    assert table.guess(LayoutField.COLUMNS).basis is Basis.VALUES


@pytest.mark.parametrize(
    ("name", "cell", "celsius", "basis"),
    [
        ("Temp (°F)", "99.5", 37.5, Basis.STATED),
        ("temp_f", "99.5", 37.5, Basis.STATED),
        ("Temp deg C", "37.5", 37.5, Basis.STATED),
        ("temp", "99.5", 37.5, Basis.VALUES),
        ("temp", "37.5", 37.5, Basis.USUAL),
        ("temp", "99.5 °F", 37.5, Basis.STATED),
        ("temp", "99.5F", 37.5, Basis.STATED),
        ("temp", "37.5 °C", 37.5, Basis.STATED),
        ("temp", "37.5℃", 37.5, Basis.STATED),
    ],
)
def test_units_come_from_the_header_the_cells_or_the_values(
    read_text: ReadText, name: str, cell: str, celsius: float, basis: Basis
) -> None:
    table = read_text(f"time,{name},RH\n2026-05-03 09:00,{cell},52.1 %\n2026-05-03 09:10,{cell},52 %RH\n")
    assert table.temperature_c.tolist() == pytest.approx([celsius, celsius])
    assert table.humidity.tolist() == [52.1, 52.0]
    assert table.guess(LayoutField.TEMPERATURE_UNIT).basis is basis


def test_a_unit_in_a_cell_wins_over_the_unit_of_the_column(read_text: ReadText) -> None:
    table = read_text("time,temp °C\n2026-05-03 09:00,37.5\n2026-05-03 09:10,99.5 °F\n")
    assert table.temperature_c.tolist() == pytest.approx([37.5, 37.5])


def test_quoted_cells_may_hold_the_separator(read_text: ReadText) -> None:
    table = read_text(
        'time,remark,temp,hum\n"2026-05-03 09:00","lid, open","37,6","52,1"\n'
        '"2026-05-03 09:10","said ""hot"", then, off","37,7","52,2"\n'
    )
    assert table.layout.decimal is DecimalSign.COMMA
    assert table.temperature_c.tolist() == [37.6, 37.7]
    assert table.humidity.tolist() == [52.1, 52.2]


def test_numbers_in_odd_shapes_are_read_like_float_reads_them(read_text: ReadText) -> None:
    cells = ["37", "37.", "+37.25", "3.725e1", "037.5", "37.123456789012345678", " 37.5 ", "\u22123.5", ".5"]
    text = "\n".join(f"2026-05-03 09:{minute:02}:00;{cell};50.5" for minute, cell in enumerate(cells))
    expected = [float(cell.replace("\u2212", "-")) for cell in cells]
    assert read_text(text + "\n").temperature_c.tolist() == expected


def test_a_layout_that_was_returned_reads_the_file_the_same_way(read_text: ReadText) -> None:
    text = "when;temp;hum\n03.05.2026 09:00;99,5;52\n04.05.2026 09:00;99,5;52\n"
    first = read_text(text)
    again = read_text(text, layout=first.layout)
    assert again.layout == first.layout
    assert again.at.tolist() == first.at.tolist()
    assert {guess.basis for guess in again.guesses} == {Basis.GIVEN}
    celsius = read_text(text, layout=replace(first.layout, temperature_unit=TemperatureUnit.CELSIUS))
    assert [str(line.reason) for line in celsius.rejected] == ["temperature_too_high"] * 2


def test_a_chosen_separator_has_the_rest_guessed_around_it(read_text: ReadText) -> None:
    text = "2026-05-03 09:00|37,6;1|52\n2026-05-03 09:10|37,6;1|52\n"
    table = read_text(text, hints=LayoutHints(separator=Separator.BAR))
    assert table.guess(LayoutField.SEPARATOR).basis is Basis.GIVEN
    assert table.humidity.tolist() == [52.0, 52.0]


def test_chosen_columns_are_taken_as_they_are(read_text: ReadText) -> None:
    columns = (ColumnRole.DATE_TIME, ColumnRole.LEAVE_OUT, ColumnRole.TEMPERATURE)
    table = read_text("2026-05-03 09:00,36.6,37.7\n", hints=LayoutHints(columns=columns))
    assert table.temperature_c.tolist() == [37.7]
    assert np.isnan(table.humidity).all()


def test_without_a_date_the_error_carries_what_was_guessed(read_text: ReadText) -> None:
    with pytest.raises(NoDateColumn, match="Choose which column holds the date and time") as caught:
        read_text("step;temp;hum\nfirst;37,6;52,1\nsecond;37,7;52,2\n")
    assert caught.value.guess.separator is Separator.SEMICOLON
    assert caught.value.guess.columns == (ColumnRole.LEAVE_OUT, *VALUED)
    assert caught.value.column_names == ("step", "temp", "hum")
    assert caught.value.rows[0] == (2, ("first", "37,6", "52,1"))


def test_without_a_value_the_error_says_so(read_text: ReadText) -> None:
    with pytest.raises(NoValueColumn, match="temperature or a humidity"):
        read_text("time,door,count\n2026-05-03 09:00,open,900\n2026-05-03 09:10,shut,950\n")
