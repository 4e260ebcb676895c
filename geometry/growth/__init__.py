"""How leaves spread over a bed, and what a bed yields: published laws, never promises."""
