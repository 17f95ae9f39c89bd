"""The committed hull files: what the script writes now, and the two formats of one hull agree."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

import make_demo_hulls
from beltwright.hull.forms.build import hull_patches
from beltwright.hull.forms.demo import DEMO_FORMS
from beltwright.hull.hydrostatics import hydrostatics
from beltwright.hull.levels import WaterLevel
from beltwright.hull.readers import read_hull
from beltwright.hull.spline_shell import SplineShell
from beltwright.hull.waterline import waterline

SHIPS = tuple(DEMO_FORMS)
FILES = (make_demo_hulls.STEP_NAME, make_demo_hulls.OFFSETS_NAME)


@pytest.mark.slow
@pytest.mark.parametrize("ship", SHIPS)
def test_committed_files_are_what_the_script_writes(ship: str, tmp_path: Path) -> None:
    make_demo_hulls.write(DEMO_FORMS[ship], tmp_path)
    for name in FILES:
        assert (make_demo_hulls.EXAMPLES / ship / name).read_bytes() == (tmp_path / name).read_bytes(), name


@pytest.mark.parametrize("ship", SHIPS)
def test_files_are_small_and_name_no_machine(ship: str) -> None:
    for name in FILES:
        text = (make_demo_hulls.EXAMPLES / ship / name).read_text()
        assert len(text) < 1_500_000
        assert "/tmp" not in text
        assert "/root" not in text


@pytest.mark.slow
@pytest.mark.parametrize("ship", SHIPS)
def test_offset_table_and_step_file_agree(ship: str) -> None:
    form = DEMO_FORMS[ship]
    level = WaterLevel.even_keel(form.draught_m)
    shells = []
    for name in FILES:
        raw = read_hull(make_demo_hulls.EXAMPLES / ship / name)
        assert raw.length_unit == "m"
        assert raw.notes == ()
        shells.append(SplineShell(raw.patches))
    volumes = [hydrostatics(shell, level).volume_m3 for shell in shells]
    assert volumes[1] == pytest.approx(volumes[0], rel=2e-5)
    if form.displaced_volume_m3 is not None:
        assert volumes[0] == pytest.approx(form.displaced_volume_m3, rel=5e-5)
    lines = [waterline(shell, level) for shell in shells]
    assert not lines[0].findings
    foot = float(hull_patches(form)[0].poles[0, 0, 0])  # where a raked transom meets the keel
    for fore, aft, within_deg in (
        (form.stem_x_m - 0.05, foot + 0.02, 0.05),
        (foot + 0.02, form.stern.transom_x_m + 0.005, 0.30),  # beside a raked transom
    ):
        x = np.linspace(fore, aft, 300)
        apart_mm = 1000.0 * np.abs(lines[0].half_breadth(x) - lines[1].half_breadth(x))
        assert apart_mm.max() < 1.0
        angles = [line.angles(x) for line in lines]
        assert np.nanmax(np.abs(angles[0].alpha_deg - angles[1].alpha_deg)) < within_deg
        assert np.nanmax(np.abs(angles[0].beta_prime_deg - angles[1].beta_prime_deg)) < within_deg
    stations = form.stem_x_m - np.array(form.bow.station_aft_of_stem_m)
    for line in lines:
        assert line.angles(stations).alpha_deg == pytest.approx(np.array(form.bow.waterline_angle_deg), abs=0.02)
        assert line.angles(stations).gamma_deg == pytest.approx(np.array(form.bow.buttock_angle_deg), abs=0.05)
