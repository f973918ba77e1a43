"""Prices, tax, documents, payments and the journal."""
