"""Materials, purchases in lots, what is on hand, what a use costs, and the upkeep a coating product asks for."""
