"""Hull steel: grades and their strength, plate stock and its tolerances."""
