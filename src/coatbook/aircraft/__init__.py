"""Airframes, their marks and owners over time, and their surfaces."""
