"""Views from above: site, footing, lines, courses, copings."""
