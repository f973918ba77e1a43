"""Files brought into the book: each row calls the very action that its command calls, so that all rules hold."""
