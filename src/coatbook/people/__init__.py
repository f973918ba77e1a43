"""The business itself, customers, sites, workers, what an hour costs, papers and exemptions."""
