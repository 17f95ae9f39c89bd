"""The demo ships' hull forms (invented ships)."""

from __future__ import annotations

from dataclasses import replace

from beltwright.hull.forms.parameters import BowForm, HullForm, SternForm

QUILLAN_FROSTMARK = HullForm(
    name="Quillan Frostmark",
    stem_x_m=95.0,
    beam_m=21.0,
    depth_m=10.4,
    draught_m=7.6,
    midship_coefficient=0.92,
    displaced_volume_m3=9384.0,
    bow=BowForm(
        station_aft_of_stem_m=(3.4, 10.2, 17.0, 23.8),
        waterline_angle_deg=(28.0, 23.0, 17.0, 12.0),
        buttock_angle_deg=(25.0, 29.0, 35.0, 42.0),
        length_m=27.2,
        stem_angle_deg=23.996,
        shoulder_buttock_angle_deg=52.0,
    ),
    stern=SternForm(
        parallel_side_end_x_m=28.0,
        transom_x_m=-3.0,
        transom_half_breadth_m=3.5,
        fineness=0.9,
        run_fraction=0.5,
    ),
)

_MERROW_BOW = BowForm(
    station_aft_of_stem_m=(3.0, 9.0, 15.0, 21.0),
    waterline_angle_deg=(24.0, 20.0, 15.0, 11.0),
    buttock_angle_deg=(38.0, 45.0, 53.0, 61.0),
    length_m=24.0,
    shoulder_buttock_angle_deg=70.0,
    forefoot_fraction=0.8,
    forefoot_lead=1.5,
)

MERROW_TARN = HullForm(
    name="Merrow Tarn",
    stem_x_m=81.5,
    beam_m=16.6,
    depth_m=8.0,
    draught_m=5.0,
    midship_coefficient=0.935,
    displaced_volume_m3=4240.0,
    bow=_MERROW_BOW,
    stern=SternForm(
        parallel_side_end_x_m=34.0,
        transom_x_m=-1.3,
        transom_half_breadth_m=3.4,
        transom_rake_deg=18.32,
    ),
)

MERROW_TARN_UPRIGHT = replace(
    MERROW_TARN,
    name="Merrow Tarn, upright stem",
    bow=replace(
        _MERROW_BOW,
        buttock_angle_deg=(84.0, 80.0, 76.0, 72.0),
        shoulder_buttock_angle_deg=65.0,
        forefoot_fraction=0.75,
        forefoot_lead=3.0,
    ),
    displaced_volume_m3=None,
    run_angle_deg=13.0,
)

OSTVIK_LARCH = HullForm(
    name="Ostvik Larch",
    stem_x_m=122.0,
    beam_m=18.9,
    depth_m=10.4,
    draught_m=7.4,
    midship_coefficient=0.975,
    displaced_volume_m3=12088.0,
    bow=BowForm(
        station_aft_of_stem_m=(3.0, 9.0, 15.0, 21.0),
        waterline_angle_deg=(27.0, 22.5, 17.5, 12.0),
        buttock_angle_deg=(40.0, 48.0, 55.0, 62.0),
        length_m=23.5,
        shoulder_buttock_angle_deg=72.0,
        forefoot_fraction=0.7,
        forefoot_lead=1.2,
    ),
    stern=SternForm(
        parallel_side_end_x_m=38.0,
        transom_x_m=-2.0,
        transom_half_breadth_m=5.0,
        fineness=0.85,
        transom_rake_deg=18.0,
    ),
)

DEMO_FORMS = {
    "quillan-frostmark": QUILLAN_FROSTMARK,
    "merrow-tarn": MERROW_TARN,
    "merrow-tarn-upright": MERROW_TARN_UPRIGHT,
    "ostvik-larch": OSTVIK_LARCH,
}
