"""Exit 0 if this interpreter imports Beltwright from this very folder; anything else means: set up again."""

import sys
from pathlib import Path

import beltwright

here = Path(__file__).resolve().parent.parent / "src" / "beltwright"
sys.exit(Path(beltwright.__path__[0]).resolve() != here)
