"""The icing allowance as an item of weight: by hand, in no sum of steel, printed and listed with what is not sure."""

from __future__ import annotations

import json

import jsonschema
import pytest
from tests.scantlings import ships

from beltwright.core.errors import InputError
from beltwright.report.booklet import booklet_files
from beltwright.report.from_design import material_of
from beltwright.report.result_json import result_text, schema
from beltwright.report.summary import summary
from beltwright.report.tables import csv_files
from beltwright.ship.parse import parse_ship
from beltwright.weights.icing import icing_of
from beltwright.weights.steel import steel_weight

ICING = {
    "decks": [
        {"name": "main deck", "area_m2": 300.0, "x_m": 20.0, "z_m": 6.0},
        {"name": "bridge wing", "area_m2": 20.0, "x_m": 30.0, "y_m": 4.0, "z_m": 12.0},
    ],
    "sides": [{"name": "side", "area_m2": 80.0, "x_m": 22.0, "z_m": 5.0}],
}


def test_mass_and_centre_by_hand_and_no_steel_moves() -> None:
    """kind: hand. Decks 30 kg/m2: 9.0 t and 0.6 t. Sides 7.5 kg/m2 on both, 5 % more area: 1.26 t; moment 10 % more.

    The side's centre rises to 5.0 x 1.10/1.05 = 5.238 m. Sum 10.86 t; x (180 + 18 + 27.72)/10.86 = 20.785 m;
    y 0.6 x 4/10.86 = 0.221 m; z (54 + 7.2 + 6.6)/10.86 = 6.243 m.
    """
    plain, iced = steel_weight(ships.baseline()), steel_weight(ships.redesigned(lambda doc: doc.update(icing=ICING)))
    assert iced.icing is not None
    assert iced.icing.mass_t == pytest.approx(10.86)
    assert iced.icing.centre_m == pytest.approx((20.785, 0.221, 6.243), abs=5e-4)
    assert plain.icing is None
    for name in ("modelled_t", "total_t", "centre_m", "allowances", "not_weighed_m2"):
        assert getattr(iced, name) == getattr(plain, name)


def test_it_is_printed_with_its_document_and_what_is_not_confirmed() -> None:
    design = ships.redesigned(lambda doc: doc.update(icing=ICING))
    weight = steel_weight(design)
    material = material_of(design, weight, "0" * 64)
    told = json.loads(result_text(material))
    jsonschema.validate(told, schema())
    assert told["weight"]["icing"]["mass_t"] == pytest.approx(10.86)
    assert told["icing"]["rows"] == 3
    assert "imo_msc385_94" in [document["id"] for document in told["provenance"]["documents"]]
    assert {"30", "7.5"} <= {f"{cell['value']:g}" for cell in told["provenance"]["unconfirmed_cells"]
                             if cell["table"].startswith("Polar Code")}  # fmt: skip
    assert "bridge wing,deck,20,0.6,30,4,12" in csv_files(material)["icing.csv"]
    assert any("icing allowance 10.9 t" in line for line in summary(design, weight))
    assert b"Icing allowance" in b"".join(booklet_files(material).values())


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ({"name": "d", "area_m2": 0.0, "x_m": 1.0, "z_m": 1.0}, r"icing\.decks\[1\]\.area_m2.*m2.*above 0"),
        ({"name": "d", "area_m2": 3.0, "x_m": 1.0}, r"icing\.decks\[1\]\.z_m: this key is missing"),
        ({"name": "d", "area_m2": 3.0, "x_m": 1.0, "z_m": float("nan")}, r"icing\.decks\[1\]\.z_m"),
    ],
)
def test_a_surface_that_is_none_is_refused(line: dict[str, object], told: str) -> None:
    with pytest.raises(InputError, match=told):
        parse_ship(ships.edited(lambda doc: doc.update(icing={"decks": [line]})))


def test_a_ship_without_surfaces_has_no_allowance() -> None:
    assert icing_of(parse_ship(ships.document())) is None
