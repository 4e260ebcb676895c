"""Short templates: fewer pages than the full set, each with the largest error it can make."""
