"""Parts of pages that draw in the browser: the hull in three dimensions, and drawings."""
