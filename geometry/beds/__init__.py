"""From measurements to the outline of the water."""
