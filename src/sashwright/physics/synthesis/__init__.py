"""The parts of a typical year made from monthly figures: how each kind of weather is drawn."""
