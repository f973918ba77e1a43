"""Coatings on aircraft, the upkeep that keeps their terms, and the notices about it."""
