"""Qt item models over the views of services."""
