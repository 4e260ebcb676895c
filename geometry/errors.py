"""The errors that geometry raises when a value cannot exist."""


class GeometryError(ValueError):
    """A value that cannot exist; the message is one sentence a grower can act on."""


class LengthError(GeometryError):
    """A typed length that cannot be read."""


class WantedError(GeometryError):
    """A wanted number or density of plants that cannot be read."""


class OutlineError(GeometryError):
    """An outline that encloses nothing or crosses itself."""


class TooManyError(GeometryError):
    """More rafts or sites than a project may hold."""
