"""Copies of the whole record that do not depend on which database keeps it.

A backup is a ZIP file: the rows of each table as lines of JSON, the photographs as they are, and a manifest
with a checksum of each. The same rows, taken out and put in again, move a shop to another database.
"""
