"""Sheets that show what was worked out: pressures, utilisation, days."""
