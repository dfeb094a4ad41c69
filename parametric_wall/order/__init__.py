"""From net quantities to what is bought, mixed, dug, hauled, paid for, and when."""
