"""What each job and month earned, derived from the same moves as the journal."""
