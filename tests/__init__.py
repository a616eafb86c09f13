"""The tests, as a package of this name of their own: some library brings one along too."""
