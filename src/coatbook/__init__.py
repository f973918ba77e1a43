"""The book of a surface-finish shop for general-aviation aircraft."""

__version__ = "0.1.0"
