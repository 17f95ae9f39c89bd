"""The ship's outer surface: readers, one protocol, waterlines, angles, hydrostatics, parametric forms."""
