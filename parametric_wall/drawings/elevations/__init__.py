"""Views from the face one stands at, and the gauge rod."""
