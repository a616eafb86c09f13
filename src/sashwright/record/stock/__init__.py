"""A table of houses from its file through many processes to its results: files, parts, workers.

Needs pyarrow, and dask[distributed] for a cluster: the extra ``stock``. No database.
"""

from sashwright.record.stock.run import Progress, StockError, run_stock

__all__ = ["Progress", "StockError", "run_stock"]
