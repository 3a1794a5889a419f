"""Page data: finished words, numbers and pictures, with no arithmetic left for a template."""
