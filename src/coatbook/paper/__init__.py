"""What leaves the shop: invoices as PDF, reminders as mail with a calendar file. Drawn from frozen records only.

Nothing here reads the database or a clock: the same record gives the same bytes.
"""
