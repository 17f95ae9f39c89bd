"""Readers are found by content, then by suffix; a clash is refused."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest
from tests.hull.readers.offset_hulls import flared

from beltwright.core.errors import InputError
from beltwright.hull.readers import read_hull, readers, register
from beltwright.hull.readers.registry import Reader, by_content, by_suffix

HEADS = {
    "step": b"ISO-10303-21;\nHEADER;\n",
    "iges": b" " * 72 + b"S      1\n",
    "3dm": b"3D Geometry File Format        5",
    "ply": b"ply\nformat ascii 1.0\n",
    "stl": b"solid hull\n facet normal 0 0 0\n",
    "offsets": b"# remark\nstation_m,height_m,half_breadth_m\n",
    "obj": b"# mesh\nv 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\n",
}


def test_every_format_has_a_head_here() -> None:
    assert {r.name for r in readers()} == set(HEADS)


@pytest.mark.parametrize("name", sorted(HEADS))
def test_content_tells_the_format(name: str) -> None:
    found = by_content(HEADS[name], len(HEADS[name]))
    assert found is not None
    assert found.name == name


@pytest.mark.parametrize("name", sorted(HEADS))
def test_no_other_reader_claims_the_same_content(name: str) -> None:
    claims = [r.name for r in readers() if r.recognises(HEADS[name], len(HEADS[name]))]
    assert claims == [name]


def test_binary_stl_is_told_by_its_length() -> None:
    head = bytes(80) + (2).to_bytes(4, "little") + bytes(100)
    found = by_content(head, 184)
    assert found is not None
    assert found.name == "stl"
    assert by_content(head, 185) is None


def test_suffixes_are_not_case_sensitive() -> None:
    for reader in readers():
        for suffix in reader.suffixes:
            assert by_suffix(suffix.upper()) is reader


@pytest.mark.parametrize("change", [{"suffixes": (".new",)}, {"name": "new"}])
def test_a_name_or_suffix_is_taken_once(change: dict[str, object]) -> None:
    step: Reader = next(r for r in readers() if r.name == "step")
    with pytest.raises(ValueError, match="clashes with 'step'"):
        register(replace(step, **change))  # type: ignore[arg-type]
    assert len(readers()) == len(HEADS)


def test_a_wrong_suffix_is_read_by_content_and_noted(tmp_path: Path) -> None:
    from beltwright.hull.readers.offsets import write_offsets

    path = tmp_path / "hull.stp"
    write_offsets(path, flared(8, 7))
    raw = read_hull(path)
    assert raw.format == "offsets"
    assert "named .stp but holds offset table data" in raw.notes[-1]


def test_an_unknown_kind_lists_the_known_ones(tmp_path: Path) -> None:
    path = tmp_path / "hull.xyz"
    path.write_text("nothing known")
    with pytest.raises(InputError, match=r"is not a hull file of a known kind; allowed: .step, .stp"):
        read_hull(path)


def test_the_users_unit_goes_before_the_files(tmp_path: Path) -> None:
    from beltwright.hull.readers.offsets import write_offsets

    path = tmp_path / "hull.csv"
    write_offsets(path, flared(8, 7), length_unit="mm")
    assert read_hull(path).length_unit == "mm"
    assert read_hull(path, length_unit="ft").length_unit == "ft"
