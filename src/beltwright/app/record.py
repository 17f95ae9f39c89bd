"""The record of a ship folder, as the pages use it: the journal of its edits and the revisions that are kept."""

from __future__ import annotations

from beltwright.store.revisions import Revision, RevisionLine, ShipRecord

__all__ = ["Revision", "RevisionLine", "ShipRecord"]
