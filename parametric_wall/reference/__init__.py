"""Published values and common practice: tables with unit, source and standing."""
