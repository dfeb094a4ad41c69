"""Findings: limits, buildability, and what to look at."""
