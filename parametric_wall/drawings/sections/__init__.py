"""Views of a wall cut through."""
