"""Where carried eggs come to lie."""

from __future__ import annotations

from hatchbook.desk.tray.carry import Place, TraySpace, displaced, landing


def space(trays: int = 1, rows: int = 3, columns: int = 4, **lying: Place) -> TraySpace:
    return TraySpace(trays, rows, columns, {place: uid for uid, place in lying.items()})


def test_one_egg_goes_where_it_is_put() -> None:
    tray = space(a=(1, 1, 1))
    assert landing(tray, {"a": (1, 1, 1)}, "a", (1, 3, 4)) == {"a": (1, 3, 4)}


def test_one_egg_may_come_onto_another() -> None:
    tray = space(a=(1, 1, 1), b=(1, 1, 2))
    plan = landing(tray, {"a": (1, 1, 1)}, "a", (1, 1, 2))
    assert plan == {"a": (1, 1, 2)}
    assert displaced(tray, {"a": (1, 1, 1)}, plan) == "b"
    assert displaced(tray, {"a": (1, 1, 1)}, {"a": (1, 3, 3)}) is None


def test_outside_of_the_trays_there_is_no_place() -> None:
    tray = space(a=(1, 1, 1))
    for outside in ((1, 4, 1), (1, 1, 5), (2, 1, 1), (1, 0, 1)):
        assert landing(tray, {"a": (1, 1, 1)}, "a", outside) is None


def test_several_eggs_keep_their_pattern() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2), "c": (1, 2, 1)}
    tray = space(a=(1, 1, 1), b=(1, 1, 2), c=(1, 2, 1))
    assert landing(tray, carried, "b", (1, 2, 4)) == {"a": (1, 2, 3), "b": (1, 2, 4), "c": (1, 3, 3)}


def test_they_may_move_over_their_own_places() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2)}
    tray = space(a=(1, 1, 1), b=(1, 1, 2))
    assert landing(tray, carried, "a", (1, 1, 2)) == {"a": (1, 1, 2), "b": (1, 1, 3)}


def test_where_the_pattern_does_not_fit_they_fill_the_free_places_from_there_on() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2), "c": (1, 1, 3)}
    tray = space(a=(1, 1, 1), b=(1, 1, 2), c=(1, 1, 3), d=(1, 3, 1))
    assert landing(tray, carried, "a", (1, 2, 4)) == {"a": (1, 2, 4), "b": (1, 3, 2), "c": (1, 3, 3)}


def test_eggs_without_a_place_fill_free_places() -> None:
    carried: dict[str, Place | None] = {"a": None, "b": None}
    tray = space(c=(1, 1, 2))
    assert landing(tray, carried, "a", (1, 1, 1)) == {"a": (1, 1, 1), "b": (1, 1, 3)}


def test_several_eggs_never_push_another_away() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2)}
    tray = space(a=(1, 1, 1), b=(1, 1, 2), c=(1, 2, 1))
    assert landing(tray, carried, "a", (1, 2, 1)) is None


def test_where_too_few_places_are_free_nothing_is_put_down() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2)}
    tray = space(a=(1, 1, 1), b=(1, 1, 2))
    assert landing(tray, carried, "a", (1, 3, 4)) is None


def test_the_pattern_reaches_over_to_the_next_tray() -> None:
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 2, 2)}
    tray = space(trays=2, a=(1, 1, 1), b=(1, 2, 2))
    assert landing(tray, carried, "a", (2, 2, 1)) == {"a": (2, 2, 1), "b": (2, 3, 2)}


def test_a_place_of_another_batch_is_neither_free_nor_taken_over() -> None:
    tray = TraySpace(1, 3, 4, {(1, 1, 1): "a", (1, 1, 2): "b"}, frozenset({(1, 2, 1), (1, 2, 2)}))
    assert landing(tray, {"a": (1, 1, 1)}, "a", (1, 2, 1)) is None
    carried: dict[str, Place | None] = {"a": (1, 1, 1), "b": (1, 1, 2)}
    assert landing(tray, carried, "a", (1, 2, 1)) is None
    assert landing(tray, carried, "a", (1, 2, 3)) == {"a": (1, 2, 3), "b": (1, 2, 4)}
