"""Rectangles and lengths cut from stock, in whole numbers; knows neither wood nor glass."""
