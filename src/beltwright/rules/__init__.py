"""Rule sets: published documents as pure functions, tables and chains, behind one protocol."""
