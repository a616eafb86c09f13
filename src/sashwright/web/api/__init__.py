"""The JSON API: what the pages know, for programs with a token; described by itself in OpenAPI."""
