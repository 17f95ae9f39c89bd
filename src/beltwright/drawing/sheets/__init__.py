"""The sheets: shell expansion, profile with hull areas, body plan with hull angles."""
