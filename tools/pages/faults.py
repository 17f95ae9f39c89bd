"""The page of slips that are put in on purpose, from the table that the tests run."""

from __future__ import annotations

import sys
from pathlib import Path

from pages._modules import table

INTRO = """# Slips that are guarded against

The dangerous mistakes of this work give plausible numbers. Each slip below is put in on purpose by the tests, and
each case is also run without it, where the same sign must not appear. *Refused* ends in an error or a blocking finding;
*named* is a finding, or both figures side by side; *not possible* means that no input and no type lets the slip in.
What the program says is the part of its words that the test looks for.

"""


def page() -> str:
    """Give the page as Markdown."""
    sys.path.insert(0, str(Path(__file__).resolve().parent.parent.parent))
    from tests.faults.slips import FAULTS, SLIPS

    rows = [
        [f"{slip}: {SLIPS[slip]}", fault.injected, fault.how, f"`{fault.sign}`"]
        for slip in SLIPS
        for fault in FAULTS
        if fault.slip == slip
    ]
    return INTRO + table(["slip", "what is put in", "how it is met", "what the program says"], rows)
