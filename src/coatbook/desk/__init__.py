"""The work of the desk, one function each.

Only this room assembles sheets, calls the plug-in host and spans transactions.
"""
