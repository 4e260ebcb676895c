"""Whether rafts float, how deep, how level, and whether their pots reach the water."""
