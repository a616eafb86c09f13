"""Answers of the chapters about a year, air and seasons, in the words and units of the reader.

Each module takes a chapter's answer and gives what one template sets; none of them computes.
"""
