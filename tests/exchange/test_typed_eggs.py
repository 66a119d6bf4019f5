"""Lists of eggs as they are written on paper."""

from __future__ import annotations

import contextlib

import pytest
from hatchbook.exchange.typed_eggs import EggList, EggListError, EggListFault
from hatchbook.journal import Egg
from hypothesis import given
from hypothesis import strategies as st


def tray(rows: int = 4, columns: int = 6, *, missing: tuple[int, ...] = (), trays: int = 1) -> list[Egg]:
    """Eggs numbered row by row and tray by tray; the uid is the number."""
    eggs = []
    for number in range(1, rows * columns * trays + 1):
        at = number - 1
        which, rest = divmod(at, rows * columns)
        if number not in missing:
            eggs.append(Egg("b", number, which + 1, rest // columns + 1, rest % columns + 1, uid=str(number)))
    return eggs


def read(text: str, eggs: list[Egg] | None = None) -> list[int]:
    return [int(uid) for uid in EggList(tray() if eggs is None else eggs).read(text)]


@pytest.mark.parametrize(
    ("text", "numbers"),
    [
        ("3, 7, 12", [3, 7, 12]),
        ("3 7 12", [3, 7, 12]),
        ("3;7;\n12,", [3, 7, 12]),
        (" #3,#7 ", [3, 7]),
        ("A1", [1]),
        ("a 1, C2, d6", [1, 14, 24]),
        ("C2 D1 3", [14, 19, 3]),
        ("10-14", [10, 11, 12, 13, 14]),
        ("10 – 12, 3", [10, 11, 12, 3]),
        ("B2–B4", [8, 9, 10]),
        ("B2-4", [8, 9, 10]),
        ("5–5", [5]),
        ("7, 3, 7, A3", [7, 3]),
    ],
)
def test_a_list_names_its_eggs_in_its_order(text: str, numbers: list[int]) -> None:
    assert read(text) == numbers


def test_numbers_and_places_that_are_missing_in_a_range_are_no_trouble() -> None:
    eggs = tray(missing=(11, 9))
    assert read("10–13", eggs) == [10, 12, 13]
    assert read("B2–B6", eggs) == [8, 10, 12]


def test_on_several_trays_a_place_has_the_number_of_its_tray() -> None:
    eggs = tray(2, 3, trays=2)
    assert read("2 A 1, 1B3, 2 B 2–2 B 3", eggs) == [7, 6, 11, 12]
    with pytest.raises(EggListError, match="on which tray") as caught:
        read("A1", eggs)
    assert caught.value.fault is EggListFault.WHICH_TRAY


def test_rows_beyond_z_have_two_letters() -> None:
    assert read("AA1, AB1", tray(28, 1)) == [27, 28]


@pytest.mark.parametrize(
    ("text", "fault", "part", "sentence"),
    [
        ("", EggListFault.NOTHING, "", "There is no egg in this list."),
        (" , ;", EggListFault.NOTHING, "", "There is no egg in this list."),
        ("3, x", EggListFault.NOT_AN_EGG, "x", "“x” is neither the number nor the place of an egg."),
        ("3.5", EggListFault.NOT_AN_EGG, "3.5", "“3.5” is neither the number nor the place of an egg."),
        ("C", EggListFault.NOT_AN_EGG, "C", "“C” is neither the number nor the place of an egg."),
        ("3-", EggListFault.NOT_AN_EGG, "3-", "“3-” is neither the number nor the place of an egg."),
        ("3-5-7", EggListFault.NOT_AN_EGG, "3-5-7", "“3-5-7” is neither the number nor the place of an egg."),
        ("1 2–4", EggListFault.NOT_AN_EGG, "1 2–4", "“1 2–4” is neither the number nor the place of an egg."),
        ("99", EggListFault.NO_SUCH_NUMBER, "99", "There is no egg 99: the numbers go from 1 to 24."),
        ("0", EggListFault.NO_SUCH_NUMBER, "0", "There is no egg 0: the numbers go from 1 to 24."),
        ("20–30", EggListFault.NO_SUCH_NUMBER, "30", "There is no egg 30: the numbers go from 1 to 24."),
        ("E1", EggListFault.NO_EGG_THERE, "E1", "No egg of this batch lies in E1."),
        ("B2–B9", EggListFault.NO_EGG_THERE, "B9", "No egg of this batch lies in B9."),
        ("B2–9", EggListFault.NO_EGG_THERE, "B9", "No egg of this batch lies in B9."),
        ("14–10", EggListFault.BACKWARDS, "14–10", "“14–10” runs backwards."),
        ("B4–B2", EggListFault.BACKWARDS, "B4–B2", "“B4–B2” runs backwards."),
        (
            "B2–C2",
            EggListFault.NO_RANGE,
            "B2–C2",
            "“B2–C2”: a range goes from number to number, or along one row.",
        ),
        (
            "3–C2",
            EggListFault.NO_RANGE,
            "3–C2",
            "“3–C2”: a range goes from number to number, or along one row.",
        ),
    ],
)
def test_what_names_no_egg_is_told_plainly(text: str, fault: EggListFault, part: str, sentence: str) -> None:
    with pytest.raises(EggListError) as caught:
        read(text)
    assert (caught.value.fault, caught.value.text, str(caught.value)) == (fault, part, sentence)


def test_a_batch_without_eggs_has_no_numbers() -> None:
    with pytest.raises(EggListError) as caught:
        read("1", [])
    assert (caught.value.first, caught.value.last) == (0, 0)


@given(
    st.lists(st.integers(1, 24), min_size=1, max_size=20), st.sampled_from([", ", ";", " ", "\n"]), st.data()
)
def test_any_list_of_numbers_and_places_reads_as_it_was_written(
    numbers: list[int], separator: str, data: st.DataObject
) -> None:
    eggs = {egg.number: egg for egg in tray()}

    def written(number: int) -> str:
        egg = eggs[number]
        place = f"{chr(64 + (egg.tray_row or 0))}{egg.tray_column}"
        return data.draw(st.sampled_from([str(number), place, place.lower()]))

    assert read(separator.join(written(number) for number in numbers)) == list(dict.fromkeys(numbers))


@given(st.text(alphabet="0123456789abcABC,;-–# \n", max_size=12))
def test_whatever_is_typed_names_eggs_of_the_batch_or_is_refused(text: str) -> None:
    with contextlib.suppress(EggListError):
        numbers = read(text)
        assert numbers
        assert set(numbers) <= set(range(1, 25))
