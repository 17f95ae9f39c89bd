"""Where a class may take the ship, and how cold it gets there: ice regimes along a route, daily lows of a record."""

from beltwright.voyage.cold import ColdStudy, cold_study
from beltwright.voyage.study import RegimeStudy, RouteStudy, regime_study, study

__all__ = ["ColdStudy", "RegimeStudy", "RouteStudy", "cold_study", "regime_study", "study"]
