"""The business itself, customers, sites, workers and what an hour costs."""
