"""Outside check of time and volume: a second, independent computation and the trees it is tried on."""
