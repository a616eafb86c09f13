"""One small module for each page: read the record, ask a chapter, show the answer."""
