"""Which rafts come out of which sheet."""
