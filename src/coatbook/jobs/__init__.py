"""Jobs: who asked for what on which aircraft, the plan, consent to start, and the diary."""
