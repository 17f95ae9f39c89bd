"""What the description says about its hull file, handed to the reader: every answer that the reader knows."""

from __future__ import annotations

from dataclasses import fields

from beltwright.hull.placing import HullSettings
from beltwright.ship.model import Ship


def settings_of(ship: Ship) -> HullSettings:
    """Return the answers in ``[hull]`` that say how the file is to be read."""
    return HullSettings(**{field.name: getattr(ship.hull, field.name) for field in fields(HullSettings)})
