"""The calculators that come with coatbook. Each folder is one plug-in: code, formulas, and a README with sources."""
