"""Neutral sheets: lines, areas, texts and dimensions on layers. No file format."""
